"""What corrects an invoice without changing it: a void that keeps its number, a credit note with its own, a write-off
and the taking back of one."""

from dataclasses import dataclass, replace
from datetime import date, datetime

from sqlmodel import Session, func, select

from shopapp.bench import money, quantities
from shopapp.bench.errors import BenchError
from shopapp.office import (
    customers,
    history,
    jobs,
    ledger,
    mail,
    numbering,
    papers,
    payments,
    pricing,
    quotes,
    shopbook,
)
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.ledger import InvoiceFacts
from shopapp.office.sheets.credit import CreditSheet
from shopapp.office.sheets.money import LineRow, Totals
from shopapp.office.tables.invoices import Applied, CreditNote, Invoice, WriteOff, WriteOffBack


@dataclass(frozen=True)
class CreditFacts:
    """A credit note [cents]."""

    no: int
    reason: str
    issued_on: date
    total_cents: int
    net_cents: int


def on_invoice(db: Session, invoice_id: int) -> list[CreditFacts]:
    """The credit notes on an invoice, oldest first."""
    rows = db.exec(
        select(CreditNote.no, CreditNote.reason, CreditNote.issued_on, CreditNote.total_cents, CreditNote.net_cents)
        .where(CreditNote.invoice_id == invoice_id)
        .order_by(CreditNote.no)
    )
    return [CreditFacts(*row) for row in rows]


def void(db: Session, *, no: int, reason: str, now: datetime, by: int) -> None:
    """Strike an invoice through: its number stays used, its pieces may be billed again, a deposit that it used is held
    again, and a letter with it that waits to be sent is called back."""
    row = db.exec(select(Invoice).where(Invoice.no == no)).first()
    if row is None:
        raise NotHere(f"There is no invoice {no} in the book.")
    if not reason.strip():
        raise TryAgain({"reason": "Write why it is void; the number stays in the book with the reason."})
    if not can_void(db, ledger.by_no(db, no)):
        raise InTheWay(f"Invoice {no} is void already, or money has moved on it. Write a credit note instead.")
    row.void_on, row.void_reason = shopbook.the_shop(db).today(now), reason.strip()
    db.add(row)
    db.flush()
    words = f"invoice {no} void: {reason.strip()}"
    if held := ledger.by_no(db, no).paid_cents:
        payments.let_go(db, invoice_id=row.id, cents=held, now=now, by=by)
        words += f"; {money.show(held, shopbook.the_shop(db).currency)} that it had used is held again"
    told = {"job_id": row.job_id, "customer_id": row.customer_id}
    history.write(db, now=now, by=by, act="void", words=words, **told)
    mail.call_back_paper(db, kind="invoice", number=str(no), now=now, by=by)


def can_void(db: Session, bill: InvoiceFacts) -> bool:
    """Whether no money has moved on an invoice: none came in on it that stands, none was taken back or written off.

    What it used of a deposit or of credit is no such money; it is the customer's as before.
    """
    came_in = select(func.sum(Applied.cents)).where(Applied.invoice_id == bill.id, Applied.was_held.is_(False))
    taken = select(CreditNote.id).where(CreditNote.invoice_id == bill.id)
    moved = bill.written_off_cents or db.exec(came_in).one() or db.exec(taken).first()
    return not (bill.void_on or moved)


def credit(
    db: Session, *, no: int, amount: str = "", tax_only: bool = False, reason: str, now: datetime, by: int
) -> int:  # fmt: skip
    """Take money back from an invoice by a credit note with its own number; gives the number.

    An amount before tax comes with the invoice's tax on it; `tax_only` is an amount of tax alone, for a certificate
    that came later. Where no amount is told it is all that is left. What is taken back as a whole frees its pieces.
    """
    invoice, shop = ledger.by_no(db, no), shopbook.the_shop(db)
    totals = _taken(db, invoice, amount, tax_only=tax_only)
    if not reason.strip():
        raise TryAgain({"reason": "Write why the money is taken back; it stands on the credit note."})
    number, job, day = numbering.take(db, "credit"), jobs.by_id(db, invoice.job_id), shop.today(now)
    shown = money.show(totals.net_cents, shop.currency)
    words = f"tax taken back: {reason.strip()}" if tax_only else reason.strip()
    paper = CreditSheet(
        letterhead=shop.letterhead(), party=customers.one(db, invoice.customer_id).party(), number=number,
        invoice_number=no, job_no=str(job.no), title=job.title, reason=reason.strip(), issued_on=str(day),
        drawn_by=history.initials(db, by), lines=(LineRow(words, "1", shown, shown, totals.net_cents),),
        totals=totals, not_done=quotes.not_done(db, job.id),
    )  # fmt: skip
    paper_id = papers.freeze(db, paper, number=str(number), job_id=job.id, now=now, by=by)
    db.add(
        CreditNote(
            no=number, invoice_id=invoice.id, reason=reason.strip(), issued_on=day, net_cents=totals.net_cents,
            tax_cents=totals.tax_cents, total_cents=totals.total_cents, paper_id=paper_id,
        )
    )  # fmt: skip
    db.flush()
    words = f"credit note {number} on invoice {no}: {money.show(totals.total_cents, shop.currency)}"
    words += _after_credit(db, no, now=now, by=by)
    history.write(
        db, now=now, by=by, act="credited", words=words, job_id=job.id, customer_id=invoice.customer_id
    )  # fmt: skip
    return number


def _after_credit(db: Session, no: int, *, now: datetime, by: int) -> str:
    """What a credit note brings with it, in words: money held again, pieces that may be billed again."""
    bill, words = ledger.by_no(db, no), ""
    if (over := -bill.due_cents) > 0:
        payments.let_go(db, invoice_id=bill.id, cents=over, now=now, by=by)
        words = f"; {money.show(over, shopbook.the_shop(db).currency)} paid on it is held for the customer"
    if not bill.stands:
        words += "; it is taken back as a whole, and its pieces may be billed again"
    return words


def _taken(db: Session, invoice: InvoiceFacts, amount: str, *, tax_only: bool) -> Totals:
    """What a note takes back; net and tax are each bounded by what is left of them. The note that takes the rest of
    the net takes the rest of the tax, for each note before rounded its own."""
    sheet = papers.sheet(db, "invoice", str(invoice.no))[0]
    net_left, tax_left = invoice.kept_net_cents, invoice.tax_cents - _tax_back(invoice)
    whole = tax_left if tax_only else net_left
    if invoice.void_on or invoice.asked_cents <= 0 or (tax_only and not tax_left):
        raise TryAgain({"amount": f"Nothing {'of tax ' if tax_only else ''}is left on invoice {invoice.no} to take."})
    try:
        cents = int(quantities.money(amount).base) if amount.strip() else whole
    except BenchError as refusal:
        raise TryAgain({"amount": str(refusal)}) from refusal
    percent = sheet.totals.tax_percent
    totals = pricing.taxed(0 if tax_only else cents, 0 if tax_only else cents, percent, percent == "0")
    tax = cents if tax_only else tax_left if cents == net_left else min(totals.tax_cents, tax_left)
    totals = replace(totals, tax_cents=tax, total_cents=totals.net_cents + tax)
    if not (0 <= cents <= whole and 0 < totals.total_cents <= invoice.asked_cents):
        raise TryAgain({"amount": "More cannot be taken back than the invoice asked. Look at the amount again."})
    return totals


def _tax_back(invoice: InvoiceFacts) -> int:
    """Tax that was taken back from an invoice so far [cents]."""
    return invoice.credited_cents - invoice.credited_net_cents


def write_off(db: Session, *, no: int, reason: str, amount: str = "", now: datetime, by: int) -> int:
    """What will not be paid any more is written off, all that is due where no amount is told; gives the cents."""
    invoice, shop = ledger.by_no(db, no), shopbook.the_shop(db)
    problems = {} if reason.strip() else {"reason": "Write why it will not be paid; it stays in the book."}
    cents = invoice.due_cents
    try:
        cents = int(quantities.money(amount).base) if amount.strip() else cents
    except BenchError as refusal:
        problems["amount"] = str(refusal)
    if "amount" not in problems and not 0 < cents <= invoice.due_cents:
        due = money.show(max(invoice.due_cents, 0), shop.currency)
        problems["amount"] = f"Invoice {no} still asks {due}. Write off that or less."
    if problems:
        raise TryAgain(problems)
    db.add(WriteOff(invoice_id=invoice.id, cents=cents, reason=reason.strip(), by_id=by, at=now))
    db.flush()
    words = f"{money.show(cents, shop.currency)} of invoice {no} written off: {reason.strip()}"
    history.write(
        db, now=now, by=by, act="written off", words=words, job_id=invoice.job_id, customer_id=invoice.customer_id
    )
    return cents


def bill_of_write_off(db: Session, write_off_id: int) -> int:
    """The number of the bill of a write-off."""
    told = select(Invoice.no).join(WriteOff, WriteOff.invoice_id == Invoice.id).where(WriteOff.id == write_off_id)
    no = db.exec(told).first()
    if no is None:
        raise NotHere("That write-off is not in the book.")
    return no


def take_back_write_off(db: Session, *, write_off_id: int, reason: str, now: datetime, by: int) -> int:
    """What was written off is asked for again, for it was paid after all or will be; gives the number of its bill.

    The write-off stays in the book, and so does this.
    """
    bill = ledger.by_no(db, bill_of_write_off(db, write_off_id))
    row = db.get_one(WriteOff, write_off_id)
    if not reason.strip():
        raise TryAgain({"reason": "Write why it is asked for again, such as: they paid after all."})
    if db.exec(select(WriteOffBack.id).where(WriteOffBack.write_off_id == write_off_id)).first():
        raise InTheWay("That write-off was taken back already.")
    db.add(WriteOffBack(write_off_id=write_off_id, reason=reason.strip(), by_id=by, at=now))
    db.flush()
    shown = money.show(row.cents, shopbook.the_shop(db).currency)
    words = f"{shown} of invoice {bill.no} is asked for again: {reason.strip()}"
    told = {"job_id": bill.job_id, "customer_id": bill.customer_id}
    history.write(db, now=now, by=by, act="write-off taken back", words=words, **told)
    return bill.no
