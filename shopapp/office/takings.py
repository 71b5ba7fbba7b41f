"""What the shop has sold, what came in, and whose money it holds: for the owner, never for a customer's paper."""

from dataclasses import dataclass
from datetime import date

from sqlmodel import Session, func, select

from shopapp.office import payments, shopbook
from shopapp.office.tables.customers import Customer
from shopapp.office.tables.invoices import Applied, CreditNote, Invoice, Payment, Reversal, WriteOff
from shopapp.office.tables.jobs import Job


@dataclass(frozen=True)
class Sales:
    """Between two days, both included [cents]: what was billed before tax, less what was taken back; the tax on it;
    what came in. A deposit that no bill has used is money that came in, and no sale."""

    since: date
    until: date
    net_cents: int
    tax_cents: int
    came_in_cents: int


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
    """What of an invoice will not be paid any more, and why [cents]."""

    cents: int
    reason: str
    on: date


def sales(db: Session, *, since: date, until: date) -> Sales:
    """What was sold between two days: bills that are not void, less credit notes, by the days they were issued."""
    bills = select(func.sum(Invoice.net_cents), func.sum(Invoice.tax_cents)).where(
        Invoice.void_on.is_(None), Invoice.issued_on >= since, Invoice.issued_on <= until
    )
    notes = select(func.sum(CreditNote.net_cents), func.sum(CreditNote.tax_cents)).where(
        CreditNote.issued_on >= since, CreditNote.issued_on <= until
    )
    came_in = select(func.sum(Payment.cents)).where(
        Payment.paid_on >= since, Payment.paid_on <= until, Payment.id.not_in(select(Reversal.payment_id))
    )
    (net, tax), (net_back, tax_back) = db.exec(bills).one(), db.exec(notes).one()
    return Sales(
        since, until, int(net or 0) - int(net_back or 0), int(tax or 0) - int(tax_back or 0),
        int(db.exec(came_in).one() or 0),
    )  # fmt: skip


def held(db: Session) -> list[HeldMoney]:
    """Every payment of which something is left, by customer, oldest first."""
    used = select(Applied.payment_id, func.sum(Applied.cents).label("cents")).group_by(Applied.payment_id).subquery()
    left = Payment.cents - func.coalesce(used.c.cents, 0)
    rows = db.exec(
        select(Payment.id, Customer.id, Customer.name, Job.no, Payment.paid_on, Payment.how, left)
        .join(Customer, Customer.id == Payment.customer_id)
        .join(Job, Job.id == Payment.job_id)
        .outerjoin(used, used.c.payment_id == Payment.id)
        .where(left > 0, Payment.id.not_in(select(Reversal.payment_id)))
        .order_by(Customer.folded, Customer.id, Payment.id)
    ).all()
    credit = {one.id for customer_id in {row[1] for row in rows} for one in payments.credit_of(db, customer_id)}
    return [HeldMoney(*row[1:6], int(row[6]), row[0] in credit) for row in rows]


def written_off(db: Session, invoice_id: int) -> list[WrittenOff]:
    """What was written off of an invoice, oldest first."""
    shop = shopbook.the_shop(db)
    rows = db.exec(
        select(WriteOff.cents, WriteOff.reason, WriteOff.at)
        .where(WriteOff.invoice_id == invoice_id)
        .order_by(WriteOff.id)
    )
    return [WrittenOff(cents, reason, shop.today(at)) for cents, reason, at in rows]
