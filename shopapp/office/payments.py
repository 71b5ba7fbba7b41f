"""Money received: a deposit is held until a bill uses it; what is over a bill stays the customer's."""

from dataclasses import dataclass
from datetime import date, datetime

from sqlmodel import Session, func, select

from shopapp.bench import money, quantities
from shopapp.bench.errors import BenchError
from shopapp.office import history, jobs, ledger, shopbook
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.tables.invoices import Applied, Payment

HOW_PAID = ("cash", "card", "cheque", "transfer")


@dataclass(frozen=True)
class Held:
    """A payment, and how much of it no invoice has used yet [cents]."""

    id: int
    cents: int
    how: str
    reference: str
    paid_on: date
    left_cents: int


def pay(
    db: Session, *, job_id: int, amount: str, how: str, reference: str = "", invoice_no: int | None = None,
    paid_on: date | None = None, now: datetime, by: int,
) -> int:  # fmt: skip
    """Write a payment down. With an invoice it goes to that one, up to what is due; without, it is held."""
    shop = shopbook.the_shop(db)
    cents = _amount(amount)
    if how not in HOW_PAID:
        raise TryAgain({"how": "Say how it was paid: cash, card, cheque or transfer."})
    day = paid_on or shop.today(now)
    if day > shop.today(now):
        raise TryAgain({"paid_on": "That day is still to come. Write the day the money came in."})
    invoice = ledger.by_no(db, invoice_no) if invoice_no is not None else None
    if invoice and invoice.void_on:
        raise InTheWay(f"Invoice {invoice.no} is void. Take the payment on the invoice that stands.")
    job = jobs.by_id(db, job_id)
    if invoice and invoice.job_id != job_id:
        raise InTheWay(f"Invoice {invoice.no} belongs to job {invoice.job_no}. Take its payment there.")
    row = Payment(
        customer_id=job.customer_id, job_id=job_id, cents=cents, how=how, reference=reference.strip(), paid_on=day,
        by_id=by, at=now,
    )  # fmt: skip
    db.add(row)
    db.flush()
    if invoice and (used := min(cents, invoice.due_cents)) > 0:
        db.add(Applied(payment_id=row.id, invoice_id=invoice.id, cents=used))
        db.flush()
    for_what = f"on invoice {invoice.no}" if invoice else "held as a deposit"
    words = f"{money.show(cents, shop.currency)} {how} {reference.strip()} {for_what}".replace("  ", " ")
    history.write(db, now=now, by=by, act="paid", words=words, job_id=job_id, customer_id=job.customer_id)
    return row.id


def _amount(text: str) -> int:
    try:
        cents = int(quantities.money(text).base)
    except BenchError as refusal:
        raise TryAgain({"amount": str(refusal)}) from refusal
    if cents <= 0:
        raise TryAgain({"amount": "Write the amount that came in, more than nothing."})
    return cents


def held(db: Session, job_id: int) -> list[Held]:
    """Payments of a job that are not used up, oldest first."""
    return [payment for payment in of_job(db, job_id) if payment.left_cents > 0]


def of_job(db: Session, job_id: int) -> list[Held]:
    """Every payment of a job, oldest first."""
    used = select(Applied.payment_id, func.sum(Applied.cents).label("cents")).group_by(Applied.payment_id).subquery()
    rows = db.exec(
        select(
            Payment.id, Payment.cents, Payment.how, Payment.reference, Payment.paid_on,
            Payment.cents - func.coalesce(used.c.cents, 0),
        )
        .outerjoin(used, used.c.payment_id == Payment.id)
        .where(Payment.job_id == job_id)
        .order_by(Payment.id)
    )  # fmt: skip
    return [Held(*row[:5], int(row[5])) for row in rows]


@dataclass(frozen=True)
class Paid:
    """A payment, or the part of one, that went to an invoice [cents]."""

    cents: int
    how: str
    reference: str
    paid_on: date


def on_invoice(db: Session, invoice_id: int) -> list[Paid]:
    """What was paid on an invoice, oldest first."""
    rows = db.exec(
        select(Applied.cents, Payment.how, Payment.reference, Payment.paid_on)
        .join(Payment, Payment.id == Applied.payment_id)
        .where(Applied.invoice_id == invoice_id)
        .order_by(Applied.id)
    )
    return [Paid(*row) for row in rows]


def apply_held(db: Session, payments: list[Held], *, invoice_id: int, most: int) -> None:
    """Use held money for an invoice, oldest first, up to what it asks [cents]."""
    for payment in payments:
        used = min(payment.left_cents, most)
        if used > 0:
            db.add(Applied(payment_id=payment.id, invoice_id=invoice_id, cents=used))
            most -= used
    db.flush()
