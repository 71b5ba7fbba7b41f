"""What is billed, paid and owed."""

from datetime import UTC, datetime, timedelta

import pytest
from sqlmodel import Session

from shopapp.office import customers, invoices, ledger, payments
from shopapp.office.credits import credit, void
from shopapp.office.errors import NotHere
from shopapp.office.invoices_lines import LineTyped
from tests.cast import NOON, WALK_IN
from tests.makers import Shop, done_job, make_customer


def bill(db: Session, shop: Shop, price: str = "10", **told: object) -> int:
    job = done_job(db, shop, **told)
    return invoices.issue(db, job_id=job.id, lines=[LineTyped("work", "1", price)], **shop.at())


@pytest.mark.parametrize(
    ("late", "age"),
    [(-1, 0), (0, 0), (1, 1), (30, 1), (31, 2), (60, 2), (61, 3), (90, 3), (91, 4), (400, 4)],
)
def test_what_is_owed_ages_by_days_past_due(db: Session, shop: Shop, late: int, age: int) -> None:
    bill(db, shop)  # due in thirty days
    (owing,) = ledger.owing(db, now=NOON + timedelta(days=30 + late))
    assert owing.ages.index(1050) == age
    assert owing.total == sum(owing.ages) == 1050
    assert len(ledger.AGES) == len(owing.ages)


def test_a_bill_is_not_late_before_midnight_in_the_shop(db: Session, shop: Shop) -> None:
    bill(db, shop)  # due on the 3rd of April; the shop is then three hours west of Greenwich
    last_hour, first_minute = (datetime(2031, 4, 4, hour, 30, tzinfo=UTC) for hour in (2, 3))
    assert ledger.owing(db, now=last_hour)[0].ages[0] == 1050
    assert ledger.owing(db, now=first_minute)[0].ages[1] == 1050


def test_void_paid_and_credited_bills_are_not_owed(db: Session, shop: Shop) -> None:
    void(db, no=bill(db, shop), reason="x", **shop.at())
    paid = ledger.by_no(db, bill(db, shop))
    payments.pay(db, job_id=paid.job_id, amount="99", how="cash", invoice_no=paid.no, **shop.at())
    credit(db, no=bill(db, shop), amount="10", reason="x", **shop.at())
    assert ledger.owing(db, now=NOON) == []


def test_who_owes_most_stands_first(db: Session, shop: Shop) -> None:
    bill(db, shop)
    walk_in = customers.keep(db, **WALK_IN, **shop.at())
    bill(db, shop, "9", customer_id=walk_in)
    bill(db, shop, "9", customer_id=walk_in)
    assert [(one.customer, one.total) for one in ledger.owing(db, now=NOON)] == [
        ("Ysolde", 1890), ("Cobbet Cider Mill", 1050),
    ]  # fmt: skip


def test_bills_are_listed_newest_first_by_pages(db: Session, shop: Shop) -> None:
    numbers = [bill(db, shop) for _ in range(3)]
    assert [one.no for one in ledger.newest(db, most=2)] == [numbers[2], numbers[1]]
    assert [one.no for one in ledger.newest(db, before_no=numbers[1])] == [numbers[0]]


def test_a_bill_knows_its_job_and_its_customer(db: Session, shop: Shop) -> None:
    other = make_customer(db, shop, **WALK_IN)
    job = done_job(db, shop)
    no = invoices.issue(db, job_id=job.id, lines=[LineTyped("work", "1", "10")], **shop.at())
    found = ledger.by_no(db, no)
    assert (found.job_no, found.customer) == (job.no, job.customer)
    assert ledger.of_job(db, job.id) == ledger.of_customer(db, job.customer_id) == [found]
    assert ledger.of_customer(db, other) == []


def test_a_bill_that_was_never_written_is_not_here(db: Session) -> None:
    with pytest.raises(NotHere, match="no invoice 701"):
        ledger.by_no(db, 701)
