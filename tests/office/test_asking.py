"""The caller's last jobs, while they are on the line."""

from datetime import timedelta

from sqlalchemy import event
from sqlmodel import Session

from shopapp.office import asking, invoices, jobs
from shopapp.office.credits import void
from shopapp.office.jobs import PieceAsk
from tests.cast import LIPPED, NOON, TODAY, WALK_IN
from tests.makers import (
    Shop,
    finished_job,
    make_customer,
    make_job,
    make_variant,
    quote,
    the_mill,
    the_plain_plate,
)


def test_the_last_jobs_tell_price_minutes_and_removal(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    jobs.spend(db, job_id=job.id, minutes=75, **shop.at())
    invoices.issue(db, job_id=job.id, lines=invoices.draft_lines(db, job.id, now=NOON), **shop.at())
    (told,) = asking.last_jobs(db, the_mill(db, shop))
    assert (told.no, told.title, told.opened_on, told.minutes) == (1001, "skim press plates", TODAY, 75)
    assert (told.net_cents, told.each_cents, told.quoted) == (7000, 3500, False)
    assert [(kind.name, kind.pieces, kind.off) for kind in told.kinds] == [("press plate, plain", 2, "3.5 lb off")]


def test_what_was_only_quoted_says_so_and_what_was_not_has_no_price(db: Session, shop: Shop) -> None:
    make_job(db, shop)
    quote(db, shop, make_job(db, shop))
    newest, oldest = asking.last_jobs(db, the_mill(db, shop))
    assert (newest.net_cents, newest.quoted, newest.minutes) == (7000, True, None)
    assert (oldest.net_cents, oldest.each_cents, oldest.kinds[0].off) == (None, None, "")


def test_a_void_bill_is_no_price(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    no = invoices.issue(db, job_id=job.id, lines=invoices.draft_lines(db, job.id, now=NOON), **shop.at())
    void(db, no=no, reason="twice", **shop.at())
    assert asking.last_jobs(db, the_mill(db, shop))[0].quoted


def test_kinds_stand_apart_and_three_jobs_are_enough(db: Session, shop: Shop) -> None:
    lipped = make_variant(db, shop, **LIPPED)
    for _ in range(3):
        make_job(db, shop)
    mixed = make_job(db, shop, pieces=(PieceAsk(the_plain_plate(db, shop)), PieceAsk(lipped), PieceAsk()))
    told = asking.last_jobs(db, the_mill(db, shop))
    assert [one.no for one in told] == [mixed.no, mixed.no - 1, mixed.no - 2]
    assert [kind.name for kind in told[0].kinds] == ["press plate, plain", "press plate, lipped", "not told apart yet"]


def test_a_new_caller_has_no_jobs(db: Session, shop: Shop) -> None:
    assert asking.last_jobs(db, make_customer(db, shop, **WALK_IN)) == []


def test_three_jobs_take_no_more_questions_than_one(db: Session, shop: Shop) -> None:
    customer = make_customer(db, shop, **WALK_IN)
    finished_job(db, shop, customer_id=customer)
    for _ in range(3):
        finished_job(db, shop, now=NOON + timedelta(days=1))
    asked: list[str] = []
    event.listen(db.connection(), "before_cursor_execute", lambda *told: asked.append(told[2]))
    asking.last_jobs(db, customer)
    one = len(asked)
    asking.last_jobs(db, the_mill(db, shop))
    assert len(asked) == 2 * one
