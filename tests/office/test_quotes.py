"""Quotes in revisions: issued, agreed, turned down, run out."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from sqlmodel import Session

from shopapp.office import customers, history, jobs, papers, parts, quotes, shopbook
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.jobs import JobFacts, PieceAsk
from shopapp.office.pricing import ExtraTyped, PricingTyped
from tests.cast import NOON, QUARRY, TODAY
from tests.makers import (
    AN_HOUR,
    Shop,
    agree,
    finished_job,
    keep_cuts,
    make_customer,
    make_job,
    quote,
    the_plain_plate,
)


def marks(db: Session, job_id: int, day: date = TODAY) -> list[str]:
    return [f"{one.revision} {one.mark(day)}" for one in quotes.of_job(db, job_id)]


def test_a_quote_is_drawn_up_issued_and_agreed(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    row = quotes.keep_draft(db, job_id=job.id, typed=AN_HOUR, **shop.at())
    said = marks(db, job.id)
    assert quotes.issue(db, quote_id=row, **shop.at()) == "1001 A"
    said += marks(db, job.id)
    quotes.go_ahead(db, job_id=job.id, said_by=" Marn ", how="in_writing", **shop.at())
    assert said + marks(db, job.id) == ["A draft", "A issued", "A agreed"]
    yes = quotes.yes_of_job(db, job.id)
    assert (yes.said_by, yes.how, yes.revision) == ("Marn", "in_writing", "A")
    assert quotes.agreed_quote(db, job.id).total_cents == 7350


def test_a_draft_is_written_over_until_it_is_issued(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    first = quotes.keep_draft(db, job_id=job.id, typed=AN_HOUR, **shop.at())
    longer = replace(AN_HOUR, pieces="3")
    assert quotes.keep_draft(db, job_id=job.id, typed=longer, **shop.at()) == first
    quotes.issue(db, quote_id=first, **shop.at())
    assert quotes.keep_draft(db, job_id=job.id, typed=AN_HOUR, **shop.at()) != first
    assert [(one.revision, one.pricing) for one in quotes.of_job(db, job.id)] == [("A", longer), ("B", AN_HOUR)]


def test_a_revision_is_issued_once(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    quote(db, shop, job)
    with pytest.raises(InTheWay, match="Revision A was issued already"):
        quotes.issue(db, quote_id=quotes.of_job(db, job.id)[0].id, **shop.at())


def test_an_issued_paper_stays_as_it_was_issued(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    keep_cuts(db, shop, job)
    issued = papers.sheet(db, "quote", quote(db, shop, job))
    later = shop.at(NOON + timedelta(days=2))
    shopbook.change(db, name="Another Name", not_done="", phone="1", minimum_cents=99900, **later)
    shopbook.add_rate(db, valid_from=TODAY, cents_per_hour=9900, **later)
    customers.keep(db, customer_id=job.customer_id, name="Cobbet & Sons", **later)
    jobs.change(db, job_id=job.id, title="something else", **later)
    assert papers.sheet(db, "quote", "1001 A") == issued
    assert quotes.of_job(db, job.id)[0].net_cents == 7000
    assert issued[0].removals[0].about == "3.34 lb"
    assert (issued[0].minutes_text, issued[0].not_done) == ("70 min at the bench", ("balancing", "crack test"))


def test_a_draft_is_issued_at_the_rate_of_that_day(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    row = quotes.keep_draft(db, job_id=job.id, typed=AN_HOUR, **shop.at())
    shopbook.add_rate(db, valid_from=date(2031, 3, 5), cents_per_hour=12000, **shop.at())
    quotes.issue(db, quote_id=row, **shop.at(NOON + timedelta(days=1)))
    assert quotes.of_job(db, job.id)[0].net_cents == 14000


@pytest.mark.parametrize(("after", "mark"), [(0, "issued"), (30, "issued"), (31, "run out")])
def test_a_quote_is_good_for_thirty_days_and_has_run_out_on_the_next(
    db: Session, shop: Shop, after: int, mark: str
) -> None:
    job = make_job(db, shop)
    quote(db, shop, job)
    assert marks(db, job.id, TODAY + timedelta(days=after)) == [f"A {mark}"]


def test_nobody_agrees_to_what_has_run_out(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    quote(db, shop, job)
    with pytest.raises(TryAgain, match="ran out on 2031-04-03"):
        quotes.go_ahead(db, job_id=job.id, said_by="M", how="phone", **shop.at(NOON + timedelta(days=31)))
    quotes.go_ahead(db, job_id=job.id, said_by="M", how="phone", **shop.at(NOON + timedelta(days=30)))


def test_a_yes_says_to_which_revision(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    quote(db, shop, job)
    quote(db, shop, job)
    with pytest.raises(TryAgain, match="Issued are A, B"):
        quotes.go_ahead(db, job_id=job.id, said_by="M", how="phone", **shop.at())
    quotes.go_ahead(db, job_id=job.id, said_by="M", how="phone", revision="B", **shop.at())
    assert marks(db, job.id) == ["A issued", "B agreed"]


def test_a_yes_to_a_revision_that_was_never_issued_is_refused(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    quote(db, shop, job)
    with pytest.raises(TryAgain) as refusal:
        quotes.go_ahead(db, job_id=job.id, said_by="M", how="phone", revision="C", **shop.at())
    assert set(refusal.value.problems) == {"revision"}


def test_a_yes_said_twice_leaves_one_revision(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    agree(db, shop, job)
    quotes.go_ahead(db, job_id=job.id, said_by="Marn again", how="phone", **shop.at())
    assert marks(db, job.id) == ["A agreed"]
    assert quotes.yes_of_job(db, job.id).said_by == "Marn again"


@pytest.mark.parametrize(("told", "field"), [({"said_by": " "}, "said_by"), ({"how": "by owl"}, "how")])
def test_a_yes_says_who_and_how(db: Session, shop: Shop, told: dict[str, str], field: str) -> None:
    with pytest.raises(TryAgain) as refusal:
        quotes.go_ahead(
            db, job_id=make_job(db, shop).id, **{"said_by": "M", "how": "phone", **told}, **shop.at()
        )  # fmt: skip
    assert set(refusal.value.problems) == {field}


def test_a_yes_may_bring_the_order_number_or_owe_it(db: Session, shop: Shop) -> None:
    quarry = make_customer(db, shop, **QUARRY)
    with_it, without = (make_job(db, shop, customer_id=quarry) for _ in range(2))
    told = {"said_by": "Gus", "how": "phone", **shop.at()}
    quotes.go_ahead(db, job_id=with_it.id, order_number=" K 77 ", **told)
    quotes.go_ahead(db, job_id=without.id, **told)
    assert jobs.by_id(db, with_it.id).order_number == "K 77"
    assert "still to come" not in history.of_job(db, with_it.id)[0].words
    assert "still to come" in history.of_job(db, without.id)[0].words


def test_a_revision_may_be_turned_down(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    quote(db, shop, job)
    quotes.turn_down(db, quote_id=quotes.of_job(db, job.id)[0].id, **shop.at())
    assert marks(db, job.id) == ["A turned down"]
    with pytest.raises(NotHere):
        quotes.turn_down(db, quote_id=99, **shop.at())


def test_a_job_that_has_ended_is_not_quoted(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    row = quotes.keep_draft(db, job_id=job.id, typed=AN_HOUR, **shop.at())
    jobs.end(db, job_id=job.id, how="not_taken_up", reason="too dear", **shop.at())
    with pytest.raises(InTheWay, match="has ended"):
        quotes.issue(db, quote_id=row, **shop.at())


def test_a_price_sheet_with_nothing_on_it_is_not_kept(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    with pytest.raises(TryAgain):
        quotes.keep_draft(db, job_id=job.id, typed=PricingTyped(), **shop.at())
    assert quotes.of_job(db, job.id) == []


def test_the_customers_deposit_stands_on_the_quote_in_words(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, customer_id=make_customer(db, shop, deposit_percent="40"))
    sheet, _ = papers.sheet(db, "quote", quote(db, shop, job))
    assert "$28.00 (40 %)" in sheet.deposit_text
    assert quotes.deposit_words(7000, "0", "$") == ""
    assert quotes.deposit_cents(1001, "50") == 501


def test_what_a_part_does_not_get_done_stands_behind_what_the_shop_does_not_do(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    part = parts.parts(db)[0][0]
    parts.keep_part(db, part_id=part.id, name=part.name, not_done="crack test\nplating", **shop.at())
    assert quotes.not_done(db, job.id) == ("balancing", "crack test", "plating")


def test_a_quote_that_ran_out_is_renewed_at_the_rate_of_that_day(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    first = papers.sheet(db, "quote", quote(db, shop, job))
    shopbook.add_rate(db, valid_from=date(2031, 4, 1), cents_per_hour=12000, **shop.at())
    late = shop.at(NOON + timedelta(days=31))
    assert quotes.renew(db, quote_id=quotes.of_job(db, job.id)[0].id, **late) == "1001 B"
    assert marks(db, job.id, TODAY + timedelta(days=31)) == ["A run out", "B issued"]
    assert [one.net_cents for one in quotes.of_job(db, job.id)] == [7000, 14000]
    assert papers.sheet(db, "quote", "1001 A") == first
    with pytest.raises(TryAgain, match="ran out"):
        quotes.go_ahead(db, job_id=job.id, said_by="M", how="phone", revision="A", **late)
    quotes.go_ahead(db, job_id=job.id, said_by="M", how="phone", revision="B", **late)


def test_a_draft_is_not_renewed_and_not_written_over(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    draft = quotes.keep_draft(db, job_id=job.id, typed=AN_HOUR, **shop.at())
    with pytest.raises(InTheWay, match="nothing to renew"):
        quotes.renew(db, quote_id=draft, **shop.at())
    quotes.issue(db, quote_id=draft, **shop.at())
    quotes.keep_draft(db, job_id=job.id, typed=replace(AN_HOUR, pieces="9"), **shop.at())
    with pytest.raises(InTheWay, match="Revision B is drawn up"):
        quotes.renew(db, quote_id=draft, **shop.at())
    assert quotes.of_job(db, job.id)[1].pricing.pieces == "9"


def test_an_issued_quote_keeps_rate_minimum_and_rush_whatever_is_written_later(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    quote(db, shop, job, replace(AN_HOUR, rush=True))
    shopbook.change(db, minimum_cents=99900, rush_percent="100", **shop.at())
    shopbook.add_rate(db, valid_from=TODAY, cents_per_hour=9900, **shop.at())
    (told,) = quotes.of_job(db, job.id)
    again = quotes.preview(db, job_id=job.id, typed=told.pricing, day=TODAY)
    assert again.totals.net_cents == told.net_cents == 10500
    fresh = quotes.preview(db, job_id=job.id, typed=replace(told.pricing, held=None), day=TODAY)
    assert fresh.totals.net_cents == 99900


@pytest.mark.parametrize("count", [1, 2, 4])
def test_the_preview_for_a_count_is_the_quote_of_that_count(db: Session, shop: Shop, count: int) -> None:
    job = make_job(db, shop)
    typed = replace(AN_HOUR, discount="3 %", discount_reason="cash", rush=True)
    told = quotes.at_counts(db, job_id=job.id, typed=typed, day=TODAY)[count]
    quote(db, shop, job, replace(typed, pieces=str(count)))
    assert quotes.of_job(db, job.id)[0].total_cents == told.totals.total_cents


def test_the_owner_sees_what_is_left_after_last_times_minutes(db: Session, shop: Shop) -> None:
    first = finished_job(db, shop)
    jobs.spend(db, job_id=first.id, minutes=90, **shop.at())
    job = make_job(db, shop)
    assert quotes.margin(db, job_id=first.id, typed=AN_HOUR, day=TODAY) is None  # nothing was timed before it
    told = quotes.margin(db, job_id=job.id, typed=AN_HOUR, day=TODAY)
    assert (told.minutes, told.last_minutes, told.work_cents, told.cost_cents) == (70, 90, 7000, 9000)
    assert told.left_cents == -2000
    dearer = replace(AN_HOUR, extras=(ExtraTyped("bar", "1", "500"),))
    assert quotes.margin(db, job_id=job.id, typed=dearer, day=TODAY).left_cents == -2000
    assert quotes.margin(db, job_id=make_job(db, shop, pieces=0).id, typed=AN_HOUR, day=TODAY) is None


def yes(db: Session, shop: Shop, job: JobFacts, revision: str | None = None, **later: float) -> None:
    quotes.go_ahead(
        db, job_id=job.id, said_by="M", how="phone", revision=revision, **shop.at(NOON + timedelta(**later))
    )  # fmt: skip


def test_the_latest_yes_says_which_revision_is_agreed(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    quote(db, shop, job)
    quote(db, shop, job, replace(AN_HOUR, words="B"))
    for revision in ("A", "B", "A"):
        yes(db, shop, job, revision)
        assert quotes.agreed_quote(db, job.id).revision == quotes.yes_of_job(db, job.id).revision == revision
    assert marks(db, job.id) == ["A agreed", "B issued"]
    quotes.turn_down(db, quote_id=quotes.of_job(db, job.id)[1].id, **shop.at())
    assert marks(db, job.id) == ["A agreed", "B turned down"]


def test_a_yes_to_what_was_turned_down_is_refused_until_it_is_renewed(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    quote(db, shop, job)
    first = quotes.of_job(db, job.id)[0].id
    quotes.turn_down(db, quote_id=first, **shop.at())
    for revision in (None, "A"):
        with pytest.raises(TryAgain, match="1001 A was turned down on 2031-03-04"):
            yes(db, shop, job, revision)
    quotes.renew(db, quote_id=first, **shop.at())
    yes(db, shop, job)  # the one that stands open is meant
    assert quotes.agreed_quote(db, job.id).revision == "B"


def test_a_yes_to_what_was_agreed_before_and_has_run_out_is_refused(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    agree(db, shop, job)
    with pytest.raises(TryAgain, match="ran out on 2031-04-03"):
        yes(db, shop, job, "A", days=200)
    quote(db, shop, job)
    with pytest.raises(TryAgain, match="No revision stands open any more"):
        yes(db, shop, job, days=200)


def test_a_yes_for_a_job_that_has_ended_is_refused(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    quote(db, shop, job)
    jobs.end(db, job_id=job.id, how="not_taken_up", reason="too dear", **shop.at())
    with pytest.raises(InTheWay, match="Job 1001 was not taken up"):
        yes(db, shop, job)


def test_the_pieces_of_a_quote_are_named_in_words_for_the_customer(db: Session, shop: Shop) -> None:
    plate = the_plain_plate(db, shop)
    asks = (PieceAsk(plate, "machine", "press 1"), PieceAsk(plate, "shelf"), PieceAsk(plate), PieceAsk(None))
    job = make_job(db, shop, pieces=asks)
    sheet, _ = papers.sheet(db, "quote", quote(db, shop, job))
    assert sheet.pieces == (
        "1001-1 press plate, plain, for press 1", "1001-2 press plate, plain, for your shelf",
        "1001-3 press plate, plain", "1001-4",
    )  # fmt: skip
