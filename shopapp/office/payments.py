"""Money received: a deposit is held until a bill uses it; what is over a bill stays the customer's.

What a payment went to is told by rows that are only added, each with its day: one above zero where a bill took so much,
one below where it was let go again. So what was held, and what was owed, on any day that is past stays as it was.
"""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlmodel import Session, and_, case, exists, func, or_, select

from shopapp.bench import money, quantities
from shopapp.bench.errors import BenchError
from shopapp.office import customers, history, jobs, ledger, papers, quotes, shopbook, sums
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.sheets.receipt import DepositSheet, ReceiptSheet
from shopapp.office.sums import AsOf
from shopapp.office.tables.invoices import Applied, Invoice, Payment, Reversal
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
    given_back_cents: int = 0

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
    cents = amount_of(amount)
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
        told = {"payment_id": row.id, "invoice_id": invoice.id, "by_id": by, "at": now}
        db.add(Applied(cents=used, day=max(day, invoice.issued_on), **told))
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
    """A payment that was wrong, or came back: it stays in the book, counts for nothing, and its bills ask again."""
    payment, shop = payment_row(db, payment_id), shopbook.the_shop(db)
    if not reason.strip():
        raise TryAgain({"reason": "Write why it counts for nothing, such as cheque came back."})
    told = one(db, payment_id)
    if told.reversed_because:
        raise InTheWay("That payment was reversed already.")
    if told.given_back_cents:
        shown = money.show(told.given_back_cents, shop.currency)
        raise InTheWay(f"{shown} of that payment was given back. If that is wrong too, take the giving back first.")
    db.add(Reversal(payment_id=payment_id, reason=reason.strip(), by_id=by, at=now))
    _let_go(db, _on_bills(db, Applied.payment_id == payment_id), now=now, by=by)
    day = f"{payment.paid_on.day} {payment.paid_on:%b %Y}"
    words = f"{money.show(payment.cents, shop.currency)} {payment.how} of {day} counts for nothing: {reason.strip()}"
    history.write(
        db, now=now, by=by, act="reversed", words=words, job_id=payment.job_id, customer_id=payment.customer_id
    )


def payment_row(db: Session, payment_id: int) -> Payment:
    """The row of a payment."""
    found = db.get(Payment, payment_id)
    if found is None:
        raise NotHere("That payment is not in the book.")
    return found


def job_of(db: Session, payment_id: int) -> jobs.JobFacts:
    """The job that a payment came in for."""
    return jobs.by_id(db, payment_row(db, payment_id).job_id)


def amount_of(text: str, ask: str = "Write the amount that came in, more than nothing.") -> int:
    """An amount as typed [cents], more than nothing."""
    try:
        cents = int(quantities.money(text).base)
    except BenchError as refusal:
        raise TryAgain({"amount": str(refusal)}) from refusal
    if cents <= 0:
        raise TryAgain({"amount": ask})
    return cents


def held(db: Session, job_id: int) -> list[Held]:
    """Payments of a job that are not used up, oldest first."""
    return _payments(db, and_(Payment.job_id == job_id, sums.left() > 0, ~sums.is_reversed()))


def of_job(db: Session, job_id: int) -> list[Held]:
    """Every payment of a job, oldest first; of one that was reversed nothing is left."""
    return _payments(db, Payment.job_id == job_id)


def one(db: Session, payment_id: int) -> Held:
    """One payment, and how much of it is left."""
    payment_row(db, payment_id)
    return _payments(db, Payment.id == payment_id)[0]


def of_customer(db: Session, customer_id: int) -> list[Held]:
    """Every payment of a customer, oldest first; of one that was reversed nothing is left."""
    return _payments(db, Payment.customer_id == customer_id)


def held_of_customer(db: Session, customer_id: int, *, as_of: AsOf) -> list[Held]:
    """The customer's money that no bill had used at the end of a day, as it was then, oldest first."""
    there = and_(Payment.paid_on <= as_of.day, sums.left(as_of) > 0, ~sums.is_reversed(as_of))
    return _payments(db, and_(Payment.customer_id == customer_id, there), as_of)


def credit_of(db: Session, customer_id: int, *, but_job: int | None = None) -> list[Held]:
    """Money of a customer that no bill of its own job will use: what was over a bill, or was left when a job ended or
    came to nothing, all its pieces spoiled, gone back uncut, or not come.

    A deposit is not among them while its job has pieces to bill, or none yet.
    """
    unbilled = ~sums.on_a_bill()
    coming = and_(Piece.custody.in_(("expected", "rack", "chuck")), Piece.fate.is_(None), Job.ended.is_(None))
    finished = and_(Piece.custody.in_(("checked", "shelf", "gone")), worked())
    waits = exists().where(Piece.job_id == Payment.job_id, or_(coming, finished), unbilled)
    begun = or_(exists().where(Piece.job_id == Payment.job_id), exists().where(Invoice.job_id == Payment.job_id))
    done = and_(or_(Job.ended.is_not(None), begun), ~waits)
    mine = and_(Payment.customer_id == customer_id, Payment.job_id != (but_job or 0), done)
    return _payments(db, and_(mine, sums.left() > 0, ~sums.is_reversed()))


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
    apply_held(db, ready, invoice_id=invoice.id, most=used, now=now, by=by)
    words = f"{money.show(used, shopbook.the_shop(db).currency)} of their credit used on invoice {invoice_no}"
    history.write(db, now=now, by=by, act="paid", words=words, job_id=invoice.job_id, customer_id=invoice.customer_id)
    return used


def _payments(db: Session, where: object, as_of: AsOf | None = None) -> list[Held]:
    gone = sums.is_reversed(as_of)
    left = case((gone, 0), else_=sums.left(as_of))
    rows = db.exec(
        select(
            Payment.id, Payment.cents, Payment.how, Payment.reference, Payment.paid_on, left, Job.no,
            case((gone, func.coalesce(Reversal.reason, "")), else_=""), sums.given_back(as_of),
        )
        .join(Job, Job.id == Payment.job_id)
        .outerjoin(Reversal, Reversal.payment_id == Payment.id)
        .where(where)
        .order_by(Payment.id)
    )  # fmt: skip
    return [Held(*row) for row in rows]


@dataclass(frozen=True)
class Paid:
    """A payment, or the part of one, that went to an invoice [cents]; a reversed one counts for nothing."""

    cents: int
    how: str
    reference: str
    paid_on: date
    payment_id: int = 0
    reversed_because: str = ""
    let_go_cents: int = 0
    was_held: bool = False


def on_invoice(db: Session, invoice_id: int) -> list[Paid]:
    """What was paid on an invoice, oldest first: of each payment what is on it, what was let go, or all where the
    payment was reversed."""
    into = func.sum(case((Applied.cents > 0, Applied.cents), else_=0))
    rows = db.exec(
        select(
            func.sum(Applied.cents), into, Payment.how, Payment.reference, Payment.paid_on, Payment.id,
            func.coalesce(Reversal.reason, ""), func.min(Applied.id), func.max(case((Applied.was_held, 1), else_=0)),
        )
        .join(Payment, Payment.id == Applied.payment_id)
        .outerjoin(Reversal, Reversal.payment_id == Payment.id)
        .where(Applied.invoice_id == invoice_id)
        .group_by(Payment.id, Payment.how, Payment.reference, Payment.paid_on, Reversal.reason)
        .order_by(func.min(Applied.id))
    ).all()  # fmt: skip
    return [
        Paid(
            int(came if why else left), how, reference, day, payment_id, why,
            0 if why else int(came - left), bool(was_held),
        )
        for left, came, how, reference, day, payment_id, why, _, was_held in rows
    ]  # fmt: skip


def apply_held(db: Session, payments: list[Held], *, invoice_id: int, most: int, now: datetime, by: int) -> None:
    """Use held money for an invoice, oldest first, up to what it asks [cents]."""
    day = shopbook.the_shop(db).today(now)
    for payment in payments:
        used = min(payment.left_cents, most)
        if used > 0:
            told = {"payment_id": payment.id, "invoice_id": invoice_id, "by_id": by, "at": now}
            db.add(Applied(cents=used, day=day, was_held=True, **told))
            most -= used
    db.flush()


def let_go(db: Session, *, invoice_id: int, cents: int, now: datetime, by: int) -> None:
    """Give money that a bill no longer asks back to the payments it came from, the newest first [cents]."""
    back = []
    for payment_id, _, on_it in reversed(_on_bills(db, Applied.invoice_id == invoice_id)):
        if part := min(on_it, cents):
            back.append((payment_id, invoice_id, part))
            cents -= part
    _let_go(db, back, now=now, by=by)


def _on_bills(db: Session, where: object) -> list[tuple[int, int, int]]:
    """What is on bills now: payment, invoice, cents; in the order in which it came there first."""
    on_it = func.sum(Applied.cents)
    rows = db.exec(
        select(Applied.payment_id, Applied.invoice_id, on_it)
        .where(where)
        .group_by(Applied.payment_id, Applied.invoice_id)
        .having(on_it > 0)
        .order_by(func.min(Applied.id))
    )
    return [(payment_id, invoice_id, int(cents)) for payment_id, invoice_id, cents in rows]


def _let_go(db: Session, back: list[tuple[int, int, int]], *, now: datetime, by: int) -> None:
    day = shopbook.the_shop(db).today(now)
    for payment_id, invoice_id, cents in back:
        db.add(Applied(payment_id=payment_id, invoice_id=invoice_id, cents=-cents, day=day, by_id=by, at=now))
    db.flush()


def receipt(db: Session, *, payment_id: int, now: datetime, by: int) -> tuple[str, str]:
    """Freeze the receipt of a payment: of a deposit while no bill has used it; gives the paper's kind and number.

    A payment has one receipt; asked for again, the one that was issued is given.
    """
    paid, shop, held_one = payment_row(db, payment_id), shopbook.the_shop(db), one(db, payment_id)
    job = jobs.by_id(db, paid.job_id)
    if held_one.reversed_because:
        raise InTheWay("That payment counts for nothing, so there is no receipt for it.")
    number = f"{job.no}-P{[each.id for each in of_job(db, job.id)].index(payment_id) + 1}"
    for kind in ("deposit", "receipt"):
        if papers.issued(db, kind, number):
            return kind, number
    used = _used_on(db, payment_id)
    told = {
        "letterhead": shop.letterhead(), "party": customers.one(db, paid.customer_id).party(), "number": number,
        "job_no": str(job.no), "title": job.title, "issued_on": str(shop.today(now)), "received_on": str(paid.paid_on),
        "drawn_by": history.initials(db, by), "cents": paid.cents, "amount": money.show(paid.cents, shop.currency),
        "how": paid.how, "reference": paid.reference,
    }  # fmt: skip
    sheet: ReceiptSheet | DepositSheet
    if used or held_one.given_back_cents:
        open_cents = sum(max(ledger.by_no(db, no).due_cents, 0) for no, _ in used)
        still = f"still to pay on it: {money.show(open_cents, shop.currency)}" if open_cents else "paid in full"
        sheet = ReceiptSheet(
            **told, rows=tuple((f"invoice {no}", cents) for no, cents in used), held_cents=held_one.left_cents,
            due_text=still if used else "",
            given_back_cents=held_one.given_back_cents,
        )  # fmt: skip
    else:
        is_credit = any(spare.id == payment_id for spare in credit_of(db, paid.customer_id))
        of_what = {"held_as": "credit"} if is_credit else _of_what(db, job.id, shop.currency)
        sheet = DepositSheet(**told, **of_what)
    papers.freeze(db, sheet, number=number, job_id=job.id, now=now, by=by)
    history.write(db, now=now, by=by, act="receipt", words=f"receipt {number}", job_id=job.id)
    return sheet.kind, number


def _used_on(db: Session, payment_id: int) -> list[tuple[int, int]]:
    """The bills that a payment is on: number and cents."""
    parts = _on_bills(db, Applied.payment_id == payment_id)
    return [(db.exec(select(Invoice.no).where(Invoice.id == bill)).one(), cents) for _, bill, cents in parts]


def _of_what(db: Session, job_id: int, currency: str) -> dict[str, Any]:
    """Of which total a deposit is a part, and what is left then: by the quote that was agreed."""
    quote = quotes.agreed_quote(db, job_id)
    if quote is None:
        return {}
    left = max(quote.total_cents - sum(one.left_cents for one in held(db, job_id)), 0)
    return {
        "of_text": f"total by quote {quote.revision}: {money.show(quote.total_cents, currency)}",
        "left_text": f"left after what is held: {money.show(left, currency)}",
    }
