"""The facts of the tracks, gathered from the book for many jobs at once."""

from datetime import UTC, datetime, timedelta

from sqlalchemy import event
from sqlmodel import Session

from shopapp.office import handover, invoices, payments, questions, quotes, standing
from shopapp.office.credits import credit, void
from shopapp.office.invoices_lines import LineTyped
from tests.cast import NOON
from tests.makers import Shop, agree, done_job, make_job, pieces_of, quote, ready_job, take_everything_in

TEN_DOLLARS = [LineTyped("deburring", "1", "10")]


def headline(db: Session, job_id: int, now: datetime = NOON) -> str:
    return standing.of_job(db, job_id, now=now).headline


def test_a_job_is_followed_from_the_call_to_the_paid_bill(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    said = [headline(db, job.id)]
    agree(db, shop, job)
    said.append(headline(db, job.id))
    take_everything_in(db, shop, job)
    said.append(headline(db, job.id))
    done = ready_job(db, shop)
    said.append(headline(db, done.id))
    no = invoices.issue(db, job_id=done.id, lines=TEN_DOLLARS, **shop.at())
    ids = [piece.id for piece in pieces_of(db, done)]
    handover.hand_over(db, job_id=done.id, piece_ids=ids, taken_by="Marn", **shop.at())
    said.append(headline(db, done.id))
    payments.pay(db, job_id=done.id, amount="10.50", how="cash", invoice_no=no, **shop.at())
    said.append(headline(db, done.id))
    assert said == [
        "asked", "agreed, part not here yet", "agreed, not started", "ready, not fetched", "gone and owing", "closed",
    ]  # fmt: skip


def test_a_question_holds_a_job_up_until_its_answer(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    row = questions.stop(db, job_id=job.id, waits_for="customer", question="13 mm?", **shop.at())
    assert headline(db, job.id, NOON + timedelta(days=3)) == "stopped 3 days, waiting on the customer"
    questions.answer(db, stop_id=row, words="yes", **shop.at())
    assert headline(db, job.id) == "asked"


def test_days_are_counted_on_the_shops_wall(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    evening = datetime(2031, 3, 5, 2, tzinfo=UTC)  # ten in the evening of the 4th in the shop
    questions.stop(db, job_id=job.id, waits_for="material", question="bar", **shop.at(evening))
    assert headline(db, job.id, evening).startswith("stopped today")
    assert headline(db, job.id, datetime(2031, 3, 5, 5, tzinfo=UTC)).startswith("stopped 1 day,")


def test_the_newest_quote_that_was_not_turned_down_counts(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    quote(db, shop, job)
    late = NOON + timedelta(days=31)
    assert (headline(db, job.id), headline(db, job.id, late)) == ("quoted", "quote ran out")
    quote(db, shop, job, now=late)
    assert headline(db, job.id, late) == "quoted"
    for revision in quotes.of_job(db, job.id):
        quotes.turn_down(db, quote_id=revision.id, **shop.at(late))
    assert headline(db, job.id, late) == "asked"


def test_a_void_bill_asks_for_nothing_and_a_credit_lowers_it(db: Session, shop: Shop) -> None:
    job = done_job(db, shop)
    first = invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at())
    void(db, no=first, reason="wrong job", **shop.at())
    assert standing.of_job(db, job.id, now=NOON).money == "nothing billed"
    second = invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at())
    credit(db, no=second, amount="4", reason="late", **shop.at())
    found = standing.of_job(db, job.id, now=NOON)
    assert (found.money, found.due_cents) == ("billed", 630)
    assert standing.bills_of(db, [job.id])[job.id][0].credited == 420


def test_a_deposit_is_held_until_a_bill_uses_it(db: Session, shop: Shop) -> None:
    job = done_job(db, shop)
    payments.pay(db, job_id=job.id, amount="15", how="card", **shop.at())
    assert standing.of_job(db, job.id, now=NOON).money == "deposit in hand"
    invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at())
    assert standing.held_of(db, [job.id]) == {job.id: 450}
    assert standing.of_job(db, job.id, now=NOON).money == "paid"


def test_many_jobs_take_no_more_questions_than_one(db: Session, shop: Shop) -> None:
    ids = [make_job(db, shop).id for _ in range(6)]
    asked: list[str] = []
    event.listen(db.connection(), "before_cursor_execute", lambda *told: asked.append(told[2]))
    standing.of_jobs(db, ids[:1], now=NOON)
    one = len(asked)
    standing.of_jobs(db, ids, now=NOON)
    assert len(asked) - one == one
