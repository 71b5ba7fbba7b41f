"""Money received."""

from datetime import timedelta

import pytest
from sqlmodel import Session

from shopapp.office import history, invoices, ledger, payments
from shopapp.office.credits import void
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.invoices import LineTyped
from tests.cast import TODAY
from tests.makers import Shop, make_job

TEN_DOLLARS = [LineTyped("work", "1", "10")]


def bill(db: Session, shop: Shop) -> ledger.InvoiceFacts:
    job = make_job(db, shop)
    return ledger.by_no(db, invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at()))


def pay(db: Session, shop: Shop, one: ledger.InvoiceFacts, amount: str, **told: object) -> int:
    facts = {"job_id": one.job_id, "amount": amount, "how": "cheque", "invoice_no": one.no, **told}
    return payments.pay(db, **facts, **shop.at())


def test_a_bill_may_be_paid_in_parts(db: Session, shop: Shop) -> None:
    one = bill(db, shop)
    pay(db, shop, one, "4.50")
    pay(db, shop, one, "$6")
    assert ledger.by_no(db, one.no).due_cents == 0
    assert [row.cents for row in payments.of_job(db, one.job_id)] == [450, 600]
    assert payments.held(db, one.job_id) == []


def test_what_is_over_a_bill_is_held_and_pays_the_next(db: Session, shop: Shop) -> None:
    one = bill(db, shop)
    pay(db, shop, one, "15", reference=" no. 12 ")
    (held,) = payments.held(db, one.job_id)
    assert (held.left_cents, held.reference, ledger.by_no(db, one.no).due_cents) == (450, "no. 12", 0)
    second = invoices.issue(db, job_id=one.job_id, lines=TEN_DOLLARS, **shop.at())
    assert (ledger.by_no(db, second).due_cents, payments.held(db, one.job_id)) == (600, [])


def test_money_before_a_bill_is_held_as_a_deposit(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    payments.pay(db, job_id=job.id, amount="20", how="cash", **shop.at())
    assert payments.held(db, job.id)[0].left_cents == 2000
    assert history.of_job(db, job.id)[0].words == "$20.00 cash held as a deposit"


def test_the_oldest_money_is_used_first(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    for amount in ("6", "7"):
        payments.pay(db, job_id=job.id, amount=amount, how="cash", **shop.at())
    invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at())
    assert [row.left_cents for row in payments.of_job(db, job.id)] == [0, 250]


@pytest.mark.parametrize(
    ("told", "field"),
    [
        ({"amount": "0"}, "amount"), ({"amount": "some"}, "amount"), ({"how": "in kind"}, "how"),
        ({"paid_on": TODAY + timedelta(days=1)}, "paid_on"),
    ],
)  # fmt: skip
def test_a_payment_that_cannot_be_is_refused(db: Session, shop: Shop, told: dict[str, object], field: str) -> None:
    one = bill(db, shop)
    with pytest.raises(TryAgain) as refusal:
        pay(db, shop, one, **{"amount": "5", **told})
    assert set(refusal.value.problems) == {field}


def test_money_that_came_earlier_keeps_its_day(db: Session, shop: Shop) -> None:
    one = bill(db, shop)
    pay(db, shop, one, "5", paid_on=TODAY - timedelta(days=3))
    assert payments.of_job(db, one.job_id)[0].paid_on == TODAY - timedelta(days=3)


def test_a_void_bill_takes_no_money(db: Session, shop: Shop) -> None:
    one = bill(db, shop)
    void(db, no=one.no, reason="x", **shop.at())
    with pytest.raises(InTheWay, match="on the invoice that stands"):
        pay(db, shop, one, "5")


def test_a_bill_is_paid_in_its_own_job(db: Session, shop: Shop) -> None:
    one = bill(db, shop)
    with pytest.raises(InTheWay, match="belongs to job 1001"):
        pay(db, shop, one, "5", job_id=make_job(db, shop).id)
