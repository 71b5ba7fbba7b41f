"""Ready, called, fetched."""

from datetime import timedelta

import pytest
from sqlmodel import Session, select

from shopapp.office import condition, handover, history, intake, invoices, jobs, mishaps, papers, payments
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.invoices_lines import LineTyped
from shopapp.office.tables.jobs import HandOver
from tests.cast import NOON, TODAY, WALK_IN, face
from tests.makers import (
    Shop,
    agree,
    cut,
    fetch,
    finished_job,
    keep_cuts,
    make_customer,
    make_job,
    pieces_of,
    quote,
    ready_job,
    send_back,
    spoil,
    take_everything_in,
    weigh,
)


def test_checked_pieces_go_to_the_shelf_with_a_notice(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    assert handover.announce(db, job_id=job.id, words="Mind the edge.", **shop.at()) == "1001-R1"
    assert {piece.custody for piece in pieces_of(db, job)} == {"shelf"}
    sheet, _ = papers.sheet(db, "ready", "1001-R1")
    (first, _) = sheet.pieces
    assert (first.before, first.after, first.off, first.verdict) == ("26.5 lb", "23 lb", "3.5 lb", "agrees")
    assert (first.state_words, first.scale_words) == ("on the pick-up shelf", "spring, shows 0.5 lb")
    assert (sheet.words, sheet.total_text) == ("Mind the edge.", "To pay: $73.50")
    assert (sheet.number, sheet.approved) == ("1001-R1", "Marn, quote A, 4 Mar 2031")


def test_a_second_notice_has_its_own_number(db: Session, shop: Shop) -> None:
    job = ready_job(db, shop)
    assert handover.announce(db, job_id=job.id, **shop.at()) == "1001-R2"


def test_nothing_is_announced_while_a_piece_is_unfinished(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    with pytest.raises(InTheWay, match="1001-1 is expected"):
        handover.announce(db, job_id=job.id, **shop.at())
    assert papers.of_job(db, job.id) == []


def test_what_goes_back_uncut_is_announced_as_that(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    agree(db, shop, job)
    send_back(db, shop, take_everything_in(db, shop, job)[0])
    sheet, _ = papers.sheet(db, "ready", handover.announce(db, job_id=job.id, **shop.at()))
    assert [piece.state_words for piece in sheet.pieces] == ["sent back uncut"]


def test_a_job_that_ended_asks_no_price_by_its_quote(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    agree(db, shop, job)
    take_everything_in(db, shop, job)
    mishaps.call_off(db, job_id=job.id, reason="found one", **shop.at())
    assert papers.sheet(db, "ready", handover.announce(db, job_id=job.id, **shop.at()))[0].total_text == ""


def test_nothing_is_announced_when_nothing_waits(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    send_back(db, shop, take_everything_in(db, shop, job)[0])
    fetch(db, shop, *pieces_of(db, job))
    with pytest.raises(InTheWay, match="nothing to announce"):
        handover.announce(db, job_id=job.id, **shop.at())


def test_the_notice_says_what_is_still_to_pay(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    payments.pay(db, job_id=job.id, amount="20", how="cash", **shop.at())
    handover.announce(db, job_id=job.id, **shop.at())
    said = [papers.sheet(db, "ready", "1001-R1")[0].total_text]
    invoices.issue(db, job_id=job.id, lines=[LineTyped("work", "1", "70")], **shop.at())
    handover.announce(db, job_id=job.id, **shop.at())
    said.append(papers.sheet(db, "ready", "1001-R2")[0].total_text)
    assert said == ["To pay: $53.50 ($73.50 less $20.00 held)", "To pay: $53.50"]


def test_with_a_piece_spoiled_the_notice_asks_what_the_bill_will_ask(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    spoil(db, shop, pieces_of(db, job)[0])
    payments.pay(db, job_id=job.id, amount="20", how="cash", **shop.at())
    sheet, _ = papers.sheet(db, "ready", handover.announce(db, job_id=job.id, **shop.at()))
    no = invoices.issue(db, job_id=job.id, lines=invoices.draft_lines(db, job.id, now=NOON), **shop.at())
    bill, _ = papers.sheet(db, "invoice", str(no))
    assert bill.due_cents == 3250  # one piece, 50 min at $60.00 an hour and 5 % tax, less $20.00
    assert sheet.total_text == "To pay: $32.50 ($52.50 less $20.00 held)"


@pytest.mark.parametrize(("rule", "asked"), [("fetched", "$52.50"), ("ready", "$73.50")])
def test_a_part_that_leaves_is_asked_for_as_its_bill_will_be(db: Session, shop: Shop, rule: str, asked: str) -> None:
    job = ready_job(db, shop, customer_id=make_customer(db, shop, bill_when=rule))
    one = pieces_of(db, job)[0].id
    told = handover.hand_over_many(db, leaving={job.id: [one]}, taken_by="Marn", **shop.at())
    sheet, _ = papers.sheet(db, "hand_over", told.number)
    no = invoices.issue(db, job_id=job.id, lines=invoices.draft_lines(db, job.id, now=NOON), **shop.at())
    bill, _ = papers.sheet(db, "invoice", str(no))
    assert f"job 1001: To pay: ${bill.due_cents / 100:.2f}" == sheet.due_text == f"job 1001: To pay: {asked}"


def test_what_is_owed_on_a_bill_and_what_leaves_unbilled_is_one_sum(db: Session, shop: Shop) -> None:
    job = ready_job(db, shop, customer_id=make_customer(db, shop, bill_when="fetched"))
    first, second = pieces_of(db, job)
    handover.hand_over(db, job_id=job.id, piece_ids=[first.id], taken_by="Marn", **shop.at())
    invoices.issue(db, job_id=job.id, lines=invoices.draft_lines(db, job.id, now=NOON), **shop.at())
    assert handover.to_pay(db, job.id, leaving=True, now=NOON) == "To pay: $52.50"
    handover.hand_over(db, job_id=job.id, piece_ids=[second.id], taken_by="Marn", **shop.at())
    assert handover.to_pay(db, job.id, leaving=True, now=NOON) == "To pay: $73.50"


def test_where_the_bill_cannot_be_known_no_sum_is_told(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    quote(db, shop, job)  # issued, and nobody has said yes to it
    (piece,) = take_everything_in(db, shop, job)
    intake.move(db, piece_id=piece.id, to="chuck", reason="he waits", **shop.at())
    intake.move(db, piece_id=piece.id, to="checked", reason="he waits", **shop.at())
    sheet, _ = papers.sheet(db, "ready", handover.announce(db, job_id=job.id, **shop.at()))
    assert (sheet.total_text, sheet.approved) == ("", "")


def test_the_receipt_has_the_words_of_the_weigh_slip(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    keep_cuts(db, shop, job, face(".030"))
    agree(db, shop, job)
    (piece,) = take_everything_in(db, shop, job)
    cut(db, shop, [piece], before="26.5", after="26")
    handover.announce(db, job_id=job.id, **shop.at())
    notice, _ = papers.sheet(db, "ready", "1001-R1")
    told = handover.hand_over_many(db, leaving={job.id: [piece.id]}, taken_by="Marn", **shop.at())
    (gone,) = papers.sheet(db, "hand_over", told.number)[0].pieces
    assert (gone.off, gone.scale_words, gone.verdict) == ("0.5 lb", "spring, shows 0.5 lb", "scale too coarse")
    words = ("before", "after", "off", "predicted", "scale_words", "verdict")
    assert [getattr(gone, name) for name in words] == [getattr(notice.pieces[0], name) for name in words]


def test_what_is_predicted_stands_in_the_unit_of_the_scale(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    keep_cuts(db, shop, job)  # an eighth of the disc: 3.34 lb, 1510 g
    (piece,) = take_everything_in(db, shop, job)
    agree(db, shop, job)
    weigh(db, shop, piece, "before", "12020", scale="counter")
    intake.move(db, piece_id=piece.id, to="chuck", **shop.at())
    weigh(db, shop, piece, "after", "10500", scale="counter")
    intake.move(db, piece_id=piece.id, to="checked", reason="no photo", **shop.at())
    (told,) = papers.sheet(db, "ready", handover.announce(db, job_id=job.id, **shop.at()))[0].pieces
    assert [text.split()[-1] for text in (told.before, told.after, told.off, told.predicted)] == ["g"] * 4
    assert 1400 < float(told.predicted.split()[0]) < 1620


def test_without_a_quote_the_notice_names_no_price(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    pieces = take_everything_in(db, shop, job)
    intake.move(db, piece_id=pieces[0].id, to="chuck", reason="he waits", **shop.at())
    intake.move(db, piece_id=pieces[0].id, to="checked", reason="seen by eye", **shop.at())
    sheet, _ = papers.sheet(db, "ready", handover.announce(db, job_id=job.id, **shop.at()))
    assert (sheet.total_text, sheet.pieces[0].before, sheet.pieces[0].verdict) == ("", "", "")


def test_calls_are_kept_newest_first(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    handover.call(db, job_id=job.id, outcome="no_answer", **shop.at())
    handover.call(db, job_id=job.id, outcome="someone_else", whom="the miller", words="from Friday", **shop.at())
    assert [(one.outcome, one.initials) for one in handover.calls(db, job.id)] == [
        ("someone_else", "MB"),
        ("no_answer", "MB"),
    ]
    assert history.of_job(db, job.id)[0].words == "told someone else the miller from Friday"


@pytest.mark.parametrize(("told", "field"), [({"outcome": "sang"}, "outcome"), ({"outcome": "someone_else"}, "whom")])
def test_a_call_says_what_came_of_it(db: Session, shop: Shop, told: dict[str, str], field: str) -> None:
    with pytest.raises(TryAgain) as refusal:
        handover.call(db, job_id=make_job(db, shop).id, **told, **shop.at())
    assert set(refusal.value.problems) == {field}


def test_pieces_leave_one_at_a_time(db: Session, shop: Shop) -> None:
    job = ready_job(db, shop)
    first, second = pieces_of(db, job)
    handover.hand_over(db, job_id=job.id, piece_ids=[first.id], taken_by="Marn", **shop.at())
    assert [piece.custody for piece in pieces_of(db, job)] == ["gone", "shelf"]
    handover.hand_over(db, job_id=job.id, piece_ids=[second.id], taken_by="the miller", **shop.at())
    assert history.of_job(db, job.id)[0].words == "1001-2 taken by the miller"


def test_a_spoiled_piece_may_be_taken_home_and_stays_spoiled(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    spoiled, good = pieces_of(db, job)
    spoil(db, shop, spoiled)
    handover.announce(db, job_id=job.id, **shop.at())
    handover.hand_over(db, job_id=job.id, piece_ids=[spoiled.id, good.id], taken_by="Marn", **shop.at())
    assert [piece.said for piece in pieces_of(db, job)] == ["spoiled, gone home", "gone home"]


def test_a_piece_that_is_not_on_the_shelf_does_not_leave(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    pieces = take_everything_in(db, shop, job)
    cut(db, shop, pieces[:0])
    with pytest.raises(TryAgain) as refusal:
        handover.hand_over(db, job_id=job.id, piece_ids=[pieces[0].id], taken_by=" ", **shop.at())
    assert "1001-1 is in the rack, not on the pick-up shelf" in refusal.value.problems["pieces"]
    assert set(refusal.value.problems) == {"pieces", "taken_by"}
    with pytest.raises(TryAgain, match="Tick the pieces"):
        handover.hand_over(db, job_id=job.id, piece_ids=[], taken_by="Marn", **shop.at())


STROKES = "M10 20 L30 40 L50 20"


def test_pieces_of_two_jobs_leave_in_one_go_signed_for_once(db: Session, shop: Shop) -> None:
    one, two = ready_job(db, shop), ready_job(db, shop)
    condition.add_bits(db, piece_id=pieces_of(db, one)[0].id, lines=["key", "two bolts"], **shop.at())
    key, _ = condition.bits_of(db, [pieces_of(db, one)[0].id])
    leaving = {one.id: [pieces_of(db, one)[0].id], two.id: [piece.id for piece in pieces_of(db, two)]}
    told = handover.hand_over_many(
        db, leaving=leaving, taken_by="Marn", how="signed", signature=STROKES, bit_ids=[key.id], stub_back=True,
        **shop.at(),
    )  # fmt: skip
    assert told.warning == "Still here: two bolts of 1001-1."
    sheet, _ = papers.sheet(db, "hand_over", told.number)
    assert (sheet.number, sheet.job_numbers, sheet.signature) == ("1001-H1", ("1001", "1002"), STROKES)
    assert [piece.number for piece in sheet.pieces] == ["1001-1", "1002-1", "1002-2"]
    assert sheet.signed_for[0] == "1001-1 press plate, plain"
    assert sheet.signed_for[-1] == "key of 1001-1"
    assert (sheet.bits_back, sheet.bits_here) == (("key of 1001-1",), ("two bolts of 1001-1",))
    assert sheet.left_here == ("1001-2 press plate, plain: on the pick-up shelf",)
    assert sheet.due_text == "job 1001: To pay: $73.50; job 1002: To pay: $73.50"
    for job in (one, two):
        assert [paper.number for paper in papers.of_job(db, job.id) if paper.kind == "hand_over"] == ["1001-H1"]
        assert "signed for" in history.of_job(db, job.id)[0].words
    kept = db.exec(select(HandOver.signature, HandOver.signed_for, HandOver.stub_back)).all()
    assert [tuple(row) for row in kept] == [(STROKES, "\n".join(sheet.signed_for), True)] * 2


def test_who_is_known_need_not_sign(db: Session, shop: Shop) -> None:
    job = ready_job(db, shop)
    told = handover.hand_over_many(
        db, leaving={job.id: [piece.id for piece in pieces_of(db, job)]}, taken_by="Marn", **shop.at()
    )  # fmt: skip
    sheet, _ = papers.sheet(db, "hand_over", told.number)
    assert (told.warning, sheet.how, sheet.signature, sheet.pieces[0].off) == ("", "known", "", "3.5 lb")


@pytest.mark.parametrize(
    "signature",
    ["", "10 20", "M10 20<script>", 'M1 1" onload="x', "M1 1 url(x)", "M" + "1 " * 10_001],
    ids=["none", "no start", "tag", "mark", "letters", "long"],
)
def test_a_signature_that_is_no_drawing_is_refused(db: Session, shop: Shop, signature: str) -> None:
    job = ready_job(db, shop)
    ids = [piece.id for piece in pieces_of(db, job)]
    with pytest.raises(TryAgain) as refusal:
        handover.hand_over_many(
            db, leaving={job.id: ids}, taken_by="Marn", how="signed", signature=signature, **shop.at()
        )  # fmt: skip
    assert set(refusal.value.problems) == {"signature"}
    assert {piece.custody for piece in pieces_of(db, job)} == {"shelf"}


def test_two_customers_pieces_are_handed_over_apart(db: Session, shop: Shop) -> None:
    one, two = ready_job(db, shop), ready_job(db, shop, customer_id=make_customer(db, shop, **WALK_IN))
    leaving = {job.id: [piece.id for piece in pieces_of(db, job)] for job in (one, two)}
    with pytest.raises(TryAgain, match="one customer at a time"):
        handover.hand_over_many(db, leaving=leaving, taken_by="Marn", **shop.at())


def test_a_spoiled_piece_leaves_once(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    spoiled = pieces_of(db, job)[0]
    spoil(db, shop, spoiled)
    handover.hand_over(db, job_id=job.id, piece_ids=[spoiled.id], taken_by="Marn", **shop.at())
    with pytest.raises(TryAgain, match="1001-1 is not here any more: spoiled, gone home"):
        handover.hand_over(db, job_id=job.id, piece_ids=[spoiled.id], taken_by="Marn", **shop.at())


@pytest.mark.parametrize("how", ["called_off", "not_taken_up"])
def test_what_lies_here_of_a_job_that_ended_is_fetched_with_name_signature_and_bits(
    db: Session, shop: Shop, how: str
) -> None:
    job = make_job(db, shop)
    first, second = take_everything_in(db, shop, job)
    (bit,) = condition.add_bits(db, piece_id=first.id, lines=["key"], **shop.at())
    mishaps.end(db, job_id=job.id, how=how, reason="found one", **shop.at())
    assert [piece.custody for piece in handover.waiting(db, job.customer_id)] == ["shelf", "shelf"]
    (wait,) = handover.uncollected(db, now=NOON + timedelta(days=90))
    assert (wait.job_no, wait.said, wait.band) == (job.no, "2 pieces, 2 uncut", 90)
    told = handover.hand_over_many(
        db, leaving={job.id: [first.id, second.id]}, taken_by="Marn", how="signed", signature=STROKES, bit_ids=[bit],
        **shop.at(),
    )  # fmt: skip
    sheet, _ = papers.sheet(db, "hand_over", told.number)
    assert sheet.signed_for == (
        "1001-1 press plate, plain, sent back uncut", "1001-2 press plate, plain, sent back uncut", "key of 1001-1",
    )  # fmt: skip
    assert [piece.state_words for piece in sheet.pieces] == ["sent back uncut"] * 2
    assert [piece.said for piece in pieces_of(db, job)] == ["sent back uncut"] * 2
    assert (handover.waiting(db, job.customer_id), handover.uncollected(db, now=NOON)) == ([], [])


def test_a_piece_that_is_to_be_put_right_leaves_under_its_new_number(db: Session, shop: Shop) -> None:
    job = ready_job(db, shop, pieces=1)
    (old,) = pieces_of(db, job)
    no = mishaps.rework(db, piece_id=old.id, reason="out of line", free=True, **shop.at())
    assert (handover.waiting(db, job.customer_id), handover.uncollected(db, now=NOON)) == ([], [])
    with pytest.raises(TryAgain, match="to be put right, under a new number"):
        handover.hand_over(db, job_id=job.id, piece_ids=[old.id], taken_by="Marn", **shop.at())
    with pytest.raises(InTheWay, match="nothing to announce"):
        handover.announce(db, job_id=job.id, **shop.at())
    new = jobs.by_no(db, no)
    take_everything_in(db, shop, new)
    assert [piece.said for piece in pieces_of(db, job)] == ["done again"]
    assert [piece.number for piece in invoices.to_bill(db, job.id)] == ["1001-1"]
    send_back(db, shop, pieces_of(db, new)[0])
    assert [piece.number for piece in handover.waiting(db, job.customer_id)] == [f"{no}-1"]


def test_a_piece_waits_again_when_it_is_not_to_be_put_right_after_all(db: Session, shop: Shop) -> None:
    job = ready_job(db, shop, pieces=1)
    (old,) = pieces_of(db, job)
    no = mishaps.rework(db, piece_id=old.id, reason="out of line", free=True, **shop.at())
    mishaps.call_off(db, job_id=jobs.by_no(db, no).id, reason="they take it as it is", **shop.at())
    assert [piece.number for piece in handover.waiting(db, job.customer_id)] == ["1001-1"]


def test_a_call_says_when_to_try_next(db: Session, shop: Shop) -> None:
    job, day = make_job(db, shop), TODAY + timedelta(days=3)
    handover.call(db, job_id=job.id, outcome="no_answer", next_on=day, **shop.at())
    assert handover.calls(db, job.id)[0].next_on == day
    assert history.of_job(db, job.id)[0].words == f"no answer; next try {day}"
    with pytest.raises(TryAgain, match="has passed"):
        handover.call(db, job_id=job.id, outcome="no_answer", next_on=TODAY - timedelta(days=1), **shop.at())


@pytest.mark.parametrize(
    ("days", "band"), [(0, 0), (13, 0), (14, 14), (29, 14), (30, 30), (59, 30), (60, 60), (89, 60), (90, 90), (400, 90)]
)
def test_what_is_not_fetched_comes_into_the_next_list_by_its_days(
    db: Session, shop: Shop, days: int, band: int
) -> None:
    job, now = ready_job(db, shop), NOON + timedelta(days=days)
    (told,) = handover.uncollected(db, now=now)
    assert (told.job_no, told.pieces, told.since, told.days, told.band) == (job.no, 2, TODAY, days, band)


def test_the_list_tells_the_calls_and_the_next_try_longest_wait_first(db: Session, shop: Shop) -> None:
    make_job(db, shop)
    first, second = ready_job(db, shop), ready_job(db, shop)
    handover.call(db, job_id=first.id, outcome="no_answer", next_on=TODAY + timedelta(days=9), **shop.at())
    handover.call(db, job_id=first.id, outcome="message", **shop.at(NOON + timedelta(days=2)))
    handover.hand_over(
        db, job_id=second.id, piece_ids=[pieces_of(db, second)[0].id], taken_by="Marn", **shop.at()
    )  # fmt: skip
    one, two = handover.uncollected(db, now=NOON + timedelta(days=15))
    assert (one.job_no, one.calls, one.last_outcome, one.last_called_on, one.next_on) == (
        first.no, 2, "message", TODAY + timedelta(days=2), None,
    )  # fmt: skip
    assert (two.job_no, two.pieces, two.calls, two.last_outcome, two.phone) == (second.no, 1, 0, "", "555-0311")


def test_what_a_customer_may_take_home_comes_from_all_their_jobs(db: Session, shop: Shop) -> None:
    first, second, other = ready_job(db, shop), ready_job(db, shop), make_job(db, shop)
    handover.hand_over(db, job_id=first.id, piece_ids=[pieces_of(db, first)[0].id], taken_by="Marn", **shop.at())
    told = [piece.number for piece in handover.waiting(db, first.customer_id)]
    assert told == [f"{first.no}-2", f"{second.no}-1", f"{second.no}-2"]
    assert other.customer_id == first.customer_id
