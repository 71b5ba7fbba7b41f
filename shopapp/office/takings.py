"""What the shop has sold, what came in, and whose money it holds: for the owner, never for a customer's paper."""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from sqlmodel import Session, func, select

from shopapp.office import payments, shopbook, sums
from shopapp.office.tables.customers import Customer
from shopapp.office.tables.invoices import (
    CreditNote,
    Invoice,
    Payment,
    Refund,
    RefundBack,
    Reversal,
    WriteOff,
    WriteOffBack,
)
from shopapp.office.tables.jobs import Job


@dataclass(frozen=True)
class Sales:
    """Between two days, both included [cents]: what was billed before tax, less what was taken back; the tax on it;
    what came in, and what was given back to customers. A deposit that no bill has used is money that came in, and no
    sale; a payment that came back is taken off on the day on which it did."""

    since: date
    until: date
    net_cents: int
    tax_cents: int
    came_in_cents: int
    out_cents: int = 0


@dataclass(frozen=True)
class HeldMoney:
    """A customer's money that no bill has used: a deposit of a job that is still to be billed, or credit."""

    customer_id: int
    customer: str
    job_no: int
    paid_on: date
    how: str
    left_cents: int
    is_credit: bool


@dataclass(frozen=True)
class WrittenOff:
    """What of an invoice will not be paid any more, and why [cents]; or that it is asked for again since a day."""

    cents: int
    reason: str
    on: date
    id: int = 0
    back_because: str = ""
    back_on: date | None = None


def sales(db: Session, *, since: date, until: date) -> Sales:
    """What was sold between two days, each figure on its own day: a bill when it is issued, and the taking back of it
    when it is voided or credited; money when it comes in, and when it goes out again. A month that is over stays."""
    shop = shopbook.the_shop(db)
    begin, end = (datetime.combine(day, time(), ZoneInfo(shop.zone)) for day in (since, until + timedelta(days=1)))
    net, tax = (
        _between(db, column, Invoice.issued_on, since, until) - _between(db, column, Invoice.void_on, since, until)
        for column in (Invoice.net_cents, Invoice.tax_cents)
    )
    net -= _between(db, CreditNote.net_cents, CreditNote.issued_on, since, until)
    tax -= _between(db, CreditNote.tax_cents, CreditNote.issued_on, since, until)
    came_in = _between(db, Payment.cents, Payment.paid_on, since, until)
    out = _between(db, Refund.cents, Refund.paid_on, since, until)
    gone = select(func.sum(Payment.cents)).join(Reversal, Reversal.payment_id == Payment.id)
    again = select(func.sum(Refund.cents)).join(RefundBack, RefundBack.refund_id == Refund.id)
    came_in -= _one(db, gone.where(Reversal.at >= begin, Reversal.at < end))
    out -= _one(db, again.where(RefundBack.at >= begin, RefundBack.at < end))
    return Sales(since, until, net, tax, came_in, out)


def _between(db: Session, cents: object, day: Any, since: date, until: date) -> int:
    return _one(db, select(func.sum(cents)).where(day >= since, day <= until))


def _one(db: Session, query: Any) -> int:
    return int(db.exec(query).one() or 0)


def held(db: Session) -> list[HeldMoney]:
    """Every payment of which something is left, by customer, oldest first."""
    rows = db.exec(
        select(Payment.id, Customer.id, Customer.name, Job.no, Payment.paid_on, Payment.how, sums.left())
        .join(Customer, Customer.id == Payment.customer_id)
        .join(Job, Job.id == Payment.job_id)
        .where(sums.left() > 0, ~sums.is_reversed())
        .order_by(Customer.folded, Customer.id, Payment.id)
    ).all()
    credit = {one.id for customer_id in {row[1] for row in rows} for one in payments.credit_of(db, customer_id)}
    return [HeldMoney(*row[1:7], row[0] in credit) for row in rows]


def written_off(db: Session, invoice_id: int) -> list[WrittenOff]:
    """What was written off of an invoice, oldest first, those that were taken back among them."""
    shop = shopbook.the_shop(db)
    rows = db.exec(
        select(WriteOff.id, WriteOff.cents, WriteOff.reason, WriteOff.at, WriteOffBack.reason, WriteOffBack.at)
        .outerjoin(WriteOffBack, WriteOffBack.write_off_id == WriteOff.id)
        .where(WriteOff.invoice_id == invoice_id)
        .order_by(WriteOff.id)
    )
    return [
        WrittenOff(cents, reason, shop.today(at), row, why or "", shop.today(back) if back else None)
        for row, cents, reason, at, why, back in rows
    ]
