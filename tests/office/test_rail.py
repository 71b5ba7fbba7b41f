"""The first screen: what hangs, and what is to be done."""

from datetime import date, timedelta

import pytest
from sqlmodel import Session

from shopapp.office import handover, invoices, jobs, ledger, mishaps, questions, rail
from shopapp.office.invoices_lines import LineTyped
from tests.cast import NOON, QUARRY, TODAY
from tests.makers import (
    Shop,
    fetch,
    finished_job,
    keep_cuts,
    make_customer,
    make_job,
    pieces_of,
    ready_job,
    send_back,
    spoil,
    take_everything_in,
    weigh,
)

TEN_DOLLARS = [LineTyped("work", "1", "10")]


def everything_gone(db: Session, shop: Shop, **told: object) -> jobs.JobFacts:
    job = ready_job(db, shop, **told)
    ids = [piece.id for piece in pieces_of(db, job)]
    handover.hand_over(db, job_id=job.id, piece_ids=ids, taken_by="Marn", **shop.at())
    return job


def test_jobs_hang_by_their_promised_day_and_the_unpromised_last(db: Session, shop: Shop) -> None:
    days = (None, date(2031, 3, 20), date(2031, 3, 10))
    for day in days:
        make_job(db, shop, promised_on=day)
    hanging = rail.rail(db, now=NOON).tickets
    assert [ticket.promised_on for ticket in hanging] == [date(2031, 3, 10), date(2031, 3, 20), None]


def test_a_call_with_no_piece_hangs_and_what_has_ended_does_not(db: Session, shop: Shop) -> None:
    call = make_job(db, shop, pieces=0)
    ended = make_job(db, shop)
    jobs.end(db, job_id=ended.id, how="not_taken_up", reason="too dear", **shop.at())
    assert [ticket.no for ticket in rail.rail(db, now=NOON).tickets] == [call.no]


def test_a_job_that_is_billed_and_gone_leaves_the_rail(db: Session, shop: Shop) -> None:
    job = everything_gone(db, shop)
    invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at())
    shown = rail.rail(db, now=NOON)
    assert (shown.tickets, shown.to_bill, rail.count_to_bill(db)) == ((), (), 0)


@pytest.mark.parametrize("bill_when", ["ready", "fetched"])
def test_what_has_gone_home_unbilled_is_still_to_bill(db: Session, shop: Shop, bill_when: str) -> None:
    job = everything_gone(db, shop, customer_id=make_customer(db, shop, bill_when=bill_when))
    assert [todo.no for todo in rail.rail(db, now=NOON).to_bill] == [job.no]
    assert rail.count_to_bill(db) == 1


def test_who_is_billed_when_fetched_is_not_to_bill_while_it_lies_on_the_shelf(db: Session, shop: Shop) -> None:
    ready_job(db, shop, customer_id=make_customer(db, shop, bill_when="fetched"))
    assert (rail.rail(db, now=NOON).to_bill, rail.count_to_bill(db)) == ((), 0)


def test_a_missing_order_number_is_said_where_the_bill_waits_for_it(db: Session, shop: Shop) -> None:
    job = ready_job(db, shop, customer_id=make_customer(db, shop, **QUARRY))
    assert "order number missing" in rail.rail(db, now=NOON).to_bill[0].words
    jobs.change(db, job_id=job.id, order_number="K 7", **shop.at())
    assert "order number missing" not in rail.rail(db, now=NOON).to_bill[0].words


@pytest.mark.parametrize(
    ("after", "note", "late"),
    [
        (0, "today", False),
        (1, "tomorrow", False),
        (3, "Friday", False),
        (-1, "a day late", True),
        (-4, "4 days late", True),
    ],
)
def test_a_ticket_says_when_it_is_due(db: Session, shop: Shop, after: int, note: str, late: bool) -> None:
    make_job(db, shop, promised_on=TODAY + timedelta(days=after))
    (ticket,) = rail.rail(db, now=NOON).tickets
    assert (ticket.note, ticket.late) == (note, late)


def test_a_ring_for_each_piece_tells_where_it_is(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    (first, _) = take_everything_in(db, shop, job)
    send_back(db, shop, first)
    (ticket,) = rail.rail(db, now=NOON).tickets
    assert ticket.rings == (("shelf", "1001-1"), ("rack", "1001-2"))
    fetch(db, shop, pieces_of(db, job)[0])
    (ticket,) = rail.rail(db, now=NOON).tickets
    assert ticket.rings == (("sent_back", "1001-1"), ("rack", "1001-2"))


def test_a_job_that_ended_hangs_until_its_pieces_are_taken_home(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    first = take_everything_in(db, shop, job)[0]
    mishaps.end(db, job_id=job.id, how="not_taken_up", reason="too dear", **shop.at())
    told = rail.rail(db, now=NOON + timedelta(days=90))
    (ticket,) = told.tickets
    assert (ticket.tracks.headline, [code for code, _ in ticket.rings]) == ("not taken up", ["left_behind"] * 2)
    assert [(row.no, row.words) for row in told.to_call] == [(job.no, "to be fetched, 2 on the shelf")]
    assert [(row.no, row.figure) for row in told.left_behind] == [(job.no, "90 days")]
    fetch(db, shop, *pieces_of(db, job))
    assert (rail.rail(db, now=NOON).tickets, first.number) == ((), "1001-1")


def test_a_job_without_pieces_that_ended_hangs_no_more(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=0)
    mishaps.end(db, job_id=job.id, how="not_taken_up", reason="too dear", **shop.at())
    assert rail.rail(db, now=NOON).tickets == ()


def test_a_spoiled_piece_that_went_home_is_not_to_bill(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop, pieces=1)
    spoil(db, shop, pieces_of(db, job)[0])
    fetch(db, shop, *pieces_of(db, job))
    assert (rail.to_bill(db), rail.count_to_bill(db), ledger.to_bill(db)) == ((), 0, [])
    assert invoices.to_bill(db, job.id) == []


def test_the_stub_shows_what_came_off_or_else_what_it_weighs(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    said = [rail.rail(db, now=NOON).tickets[0].weights]
    keep_cuts(db, shop, job)
    first, second = take_everything_in(db, shop, job)
    for piece in (first, second):
        weigh(db, shop, piece, "before", "26.5")
    said.append(rail.rail(db, now=NOON).tickets[0].weights)
    weigh(db, shop, first, "after", "23")
    said.append(rail.rail(db, now=NOON).tickets[0].weights)
    assert said == ["not weighed yet", "26.5 lb 26.5 lb", "3.5 lb off"]


def test_who_is_ready_and_was_not_told_is_to_call(db: Session, shop: Shop) -> None:
    job = ready_job(db, shop)
    (todo,) = rail.rail(db, now=NOON).to_call
    assert (todo.no, todo.who, todo.phone) == (job.no, "Cobbet Cider Mill", "555-0311")
    handover.call(db, job_id=job.id, outcome="no_answer", **shop.at())
    assert len(rail.rail(db, now=NOON).to_call) == 1
    handover.call(db, job_id=job.id, outcome="told", **shop.at())
    assert rail.rail(db, now=NOON).to_call == ()


def test_a_question_is_to_call_when_its_day_has_come(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    questions.stop(
        db, job_id=job.id, waits_for="customer", question="13 mm?", ask_again_on=TODAY + timedelta(days=2), **shop.at()
    )
    assert rail.rail(db, now=NOON + timedelta(days=1)).to_call == ()
    (todo,) = rail.rail(db, now=NOON + timedelta(days=2)).to_call
    assert "asked 2 days ago" in todo.words


@pytest.mark.parametrize(("days", "count"), [(30, 0), (31, 1)])
def test_what_lies_too_long_is_left_behind(db: Session, shop: Shop, days: int, count: int) -> None:
    ready_job(db, shop)
    shown = rail.rail(db, now=NOON + timedelta(days=days))
    assert len(shown.left_behind) == count
    assert len(shown.to_call) == 1 - count


def test_a_bill_for_a_part_says_how_many_are_left(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    first = pieces_of(db, job)[0]
    invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, piece_ids=[first.id], **shop.at())
    handover.announce(db, job_id=job.id, **shop.at())
    assert rail.rail(db, now=NOON).to_bill[0].words == "1 of 2 not billed"


def test_more_jobs_than_fit_are_counted(db: Session, shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rail, "MOST", 2)
    for _ in range(3):
        make_job(db, shop)
    shown = rail.rail(db, now=NOON)
    assert (len(shown.tickets), shown.more) == (2, 1)


def test_who_is_to_be_tried_on_a_later_day_is_not_called_before(db: Session, shop: Shop) -> None:
    job = ready_job(db, shop)
    handover.call(db, job_id=job.id, outcome="no_answer", next_on=TODAY + timedelta(days=3), **shop.at())
    assert rail.rail(db, now=NOON + timedelta(days=2)).to_call == ()
    (todo,) = rail.rail(db, now=NOON + timedelta(days=3)).to_call
    assert (todo.no, todo.is_ready) == (job.no, True)
    handover.call(db, job_id=job.id, outcome="message", **shop.at(NOON + timedelta(days=1)))
    assert len(rail.rail(db, now=NOON + timedelta(days=2)).to_call) == 1
