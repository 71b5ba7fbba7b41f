"""Money received: a deposit is held until a bill uses it; what is over a bill stays the customer's."""

from dataclasses import dataclass
from datetime import date, datetime

from sqlmodel import Session, and_, case, exists, func, or_, select

from shopapp.bench import money, quantities
from shopapp.bench.errors import BenchError
from shopapp.office import customers, history, jobs, ledger, papers, quotes, shopbook
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.sheets.receipt import DepositSheet, ReceiptSheet
from shopapp.office.tables.invoices import Applied, BilledPiece, Invoice, Payment, Reversal
from shopapp.office.tables.jobs import Job, Piece, worked

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
    job_no: int = 0
    reversed_because: str = ""

    def words(self, job_no: int) -> str:
        """How a bill of a job names it: a deposit, or the customer's credit from another job."""
        day = f"{self.paid_on.day} {self.paid_on:%b %Y}"
        return f"deposit {self.how}, {day}" if self.job_no == job_no else f"credit from job {self.job_no}, {day}"


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
    job, invoice = jobs.by_id(db, job_id), _open_bill(db, job_id, invoice_no)
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
    if invoice and (over := cents - min(cents, max(invoice.due_cents, 0))):
        for_what += f"; {money.show(over, shop.currency)} of it is over the bill and held"
    words = f"{money.show(cents, shop.currency)} {how} {reference.strip()} {for_what}".replace("  ", " ")
    history.write(db, now=now, by=by, act="paid", words=words, job_id=job_id, customer_id=job.customer_id)
    return row.id


def _open_bill(db: Session, job_id: int, no: int | None) -> ledger.InvoiceFacts | None:
    """The bill that is paid, held still until this transaction has ended, so that two payments do not both fill it."""
    if no is None:
        return None
    db.exec(select(Invoice.id).where(Invoice.no == no).with_for_update()).first()
    invoice = ledger.by_no(db, no)
    if invoice.void_on:
        raise InTheWay(f"Invoice {no} is void. Take the payment on the invoice that stands.")
    if invoice.job_id != job_id:
        raise InTheWay(f"Invoice {no} belongs to job {invoice.job_no}. Take its payment there.")
    return invoice


def reverse(db: Session, *, payment_id: int, reason: str, now: datetime, by: int) -> None:
    """A payment that was wrong, or came back: it stays in the book and counts for nothing."""
    payment, shop = db.get(Payment, payment_id), shopbook.the_shop(db)
    if payment is None:
        raise NotHere("That payment is not in the book.")
    if not reason.strip():
        raise TryAgain({"reason": "Write why it counts for nothing, such as cheque came back."})
    if db.exec(select(Reversal.id).where(Reversal.payment_id == payment_id)).first():
        raise InTheWay("That payment was reversed already.")
    db.add(Reversal(payment_id=payment_id, reason=reason.strip(), by_id=by, at=now))
    db.flush()
    day = f"{payment.paid_on.day} {payment.paid_on:%b %Y}"
    words = f"{money.show(payment.cents, shop.currency)} {payment.how} of {day} counts for nothing: {reason.strip()}"
    history.write(
        db, now=now, by=by, act="reversed", words=words, job_id=payment.job_id, customer_id=payment.customer_id
    )


def job_of(db: Session, payment_id: int) -> jobs.JobFacts:
    """The job that a payment came in for."""
    payment = db.get(Payment, payment_id)
    if payment is None:
        raise NotHere("That payment is not in the book.")
    return jobs.by_id(db, payment.job_id)


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
    """Every payment of a job, oldest first; of one that was reversed nothing is left."""
    return _payments(db, Payment.job_id == job_id)


def of_customer(db: Session, customer_id: int) -> list[Held]:
    """Every payment of a customer, oldest first; of one that was reversed nothing is left."""
    return _payments(db, Payment.customer_id == customer_id)


def credit_of(db: Session, customer_id: int, *, but_job: int | None = None) -> list[Held]:
    """Money of a customer that no bill of its own job will use: what was over a bill, or was left when a job ended or
    came to nothing, all its pieces spoiled, gone back uncut, or not come.

    A deposit is not among them while its job has pieces to bill.
    """
    waits = exists().where(
        Piece.job_id == Payment.job_id,
        worked(),
        ~exists().where(BilledPiece.piece_id == Piece.id),
    )
    billed = exists().where(Invoice.job_id == Payment.job_id, Invoice.void_on.is_(None))
    pieces = exists().where(Piece.job_id == Payment.job_id)
    done = or_(Job.ended.is_not(None), and_(or_(billed, pieces), ~waits))
    mine = and_(Payment.customer_id == customer_id, Payment.job_id != (but_job or 0), done)
    return [payment for payment in _payments(db, mine) if payment.left_cents > 0]


def usable(db: Session, job_id: int) -> list[Held]:
    """What the next bill of a job uses: its own deposits first, then the customer's credit from other jobs."""
    customer_id = jobs.by_id(db, job_id).customer_id
    return [*held(db, job_id), *credit_of(db, customer_id, but_job=job_id)]


def use_credit(db: Session, *, invoice_no: int, now: datetime, by: int) -> int:
    """Pay an open bill with the customer's credit, as far as it goes; gives the cents used."""
    facts = ledger.by_no(db, invoice_no)
    invoice = _open_bill(db, facts.job_id, invoice_no) or facts
    ready = usable(db, invoice.job_id)
    used = min(sum(payment.left_cents for payment in ready), max(invoice.due_cents, 0))
    if not used:
        raise InTheWay(f"There is no credit to use, or invoice {invoice_no} asks for nothing.")
    apply_held(db, ready, invoice_id=invoice.id, most=used)
    words = f"{money.show(used, shopbook.the_shop(db).currency)} of their credit used on invoice {invoice_no}"
    history.write(db, now=now, by=by, act="paid", words=words, job_id=invoice.job_id, customer_id=invoice.customer_id)
    return used


def _payments(db: Session, where: object) -> list[Held]:
    used = select(Applied.payment_id, func.sum(Applied.cents).label("cents")).group_by(Applied.payment_id).subquery()
    left = Payment.cents - func.coalesce(used.c.cents, 0)
    rows = db.exec(
        select(
            Payment.id, Payment.cents, Payment.how, Payment.reference, Payment.paid_on,
            case((Reversal.id.is_(None), left), else_=0), Job.no, func.coalesce(Reversal.reason, ""),
        )
        .join(Job, Job.id == Payment.job_id)
        .outerjoin(used, used.c.payment_id == Payment.id)
        .outerjoin(Reversal, Reversal.payment_id == Payment.id)
        .where(where)
        .order_by(Payment.id)
    )  # fmt: skip
    return [Held(*row[:5], int(row[5]), *row[6:]) for row in rows]


@dataclass(frozen=True)
class Paid:
    """A payment, or the part of one, that went to an invoice [cents]; a reversed one counts for nothing."""

    cents: int
    how: str
    reference: str
    paid_on: date
    payment_id: int = 0
    reversed_because: str = ""


def on_invoice(db: Session, invoice_id: int) -> list[Paid]:
    """What was paid on an invoice, oldest first."""
    rows = db.exec(
        select(
            Applied.cents, Payment.how, Payment.reference, Payment.paid_on, Payment.id,
            func.coalesce(Reversal.reason, ""),
        )
        .join(Payment, Payment.id == Applied.payment_id)
        .outerjoin(Reversal, Reversal.payment_id == Payment.id)
        .where(Applied.invoice_id == invoice_id)
        .order_by(Applied.id)
    )  # fmt: skip
    return [Paid(*row) for row in rows]


def apply_held(db: Session, payments: list[Held], *, invoice_id: int, most: int) -> None:
    """Use held money for an invoice, oldest first, up to what it asks [cents]."""
    for payment in payments:
        used = min(payment.left_cents, most)
        if used > 0:
            db.add(Applied(payment_id=payment.id, invoice_id=invoice_id, cents=used))
            most -= used
    db.flush()


def let_go(db: Session, *, invoice_id: int, cents: int) -> None:
    """Give money that a bill no longer asks back to the payments it came from, the newest first [cents]."""
    rows = db.exec(
        select(Applied)
        .where(Applied.invoice_id == invoice_id, Applied.payment_id.not_in(select(Reversal.payment_id)))
        .order_by(Applied.id.desc())
    ).all()
    for row in rows:
        back = min(row.cents, cents)
        cents -= back
        if back == row.cents:
            db.delete(row)
        elif back:
            row.cents -= back
            db.add(row)
    db.flush()


def receipt(db: Session, *, payment_id: int, now: datetime, by: int) -> tuple[str, str]:
    """Freeze the receipt of a payment: of a deposit while no bill has used it; gives the paper's kind and number.

    A payment has one receipt; asked for again, the one that was issued is given.
    """
    row, shop = db.get(Payment, payment_id), shopbook.the_shop(db)
    if row is None:
        raise NotHere("That payment is not in the book.")
    job = jobs.by_id(db, row.job_id)
    (held_one,) = _payments(db, Payment.id == payment_id)
    if held_one.reversed_because:
        raise InTheWay("That payment counts for nothing, so there is no receipt for it.")
    number = f"{job.no}-P{[one.id for one in of_job(db, job.id)].index(payment_id) + 1}"
    for kind in ("deposit", "receipt"):
        if papers.issued(db, kind, number):
            return kind, number
    used = _used_on(db, payment_id)
    told = {
        "letterhead": shop.letterhead(), "party": customers.one(db, row.customer_id).party(), "number": number,
        "job_no": str(job.no), "title": job.title, "issued_on": str(shop.today(now)), "received_on": str(row.paid_on),
        "drawn_by": history.initials(db, by), "cents": row.cents, "amount": money.show(row.cents, shop.currency),
        "how": row.how, "reference": row.reference,
    }  # fmt: skip
    sheet: ReceiptSheet | DepositSheet
    if used:
        open_cents = sum(max(ledger.by_no(db, no).due_cents, 0) for no, _ in used)
        sheet = ReceiptSheet(
            **told, rows=tuple((f"invoice {no}", cents) for no, cents in used), held_cents=held_one.left_cents,
            due_text=f"still to pay on it: {money.show(open_cents, shop.currency)}" if open_cents else "paid in full",
        )  # fmt: skip
    else:
        sheet = DepositSheet(**told, **_of_what(db, job.id, shop.currency))
    papers.freeze(db, sheet, number=number, job_id=job.id, now=now, by=by)
    history.write(db, now=now, by=by, act="receipt", words=f"receipt {number}", job_id=job.id)
    return sheet.kind, number


def _used_on(db: Session, payment_id: int) -> list[tuple[int, int]]:
    """The bills that a payment went to: number and cents."""
    rows = db.exec(
        select(Invoice.no, Applied.cents)
        .join(Invoice, Invoice.id == Applied.invoice_id)
        .where(Applied.payment_id == payment_id)
        .order_by(Applied.id)
    )
    return [(no, cents) for no, cents in rows]


def _of_what(db: Session, job_id: int, currency: str) -> dict[str, str]:
    """Of which total a deposit is a part, and what is left then: by the quote that was agreed."""
    quote = quotes.agreed_quote(db, job_id)
    if quote is None:
        return {}
    left = max(quote.total_cents - sum(one.left_cents for one in held(db, job_id)), 0)
    return {
        "of_text": f"total by quote {quote.revision}: {money.show(quote.total_cents, currency)}",
        "left_text": f"left after what is held: {money.show(left, currency)}",
    }
