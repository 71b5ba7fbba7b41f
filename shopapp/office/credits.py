"""What corrects an invoice without changing it: a void that keeps its number, a credit note with its own."""

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
from shopapp.office.tables.invoices import Applied, BilledPiece, CreditNote, Invoice, Reversal, WriteOff


@dataclass(frozen=True)
class CreditFacts:
    """A credit note [cents]."""

    no: int
    reason: str
    issued_on: date
    total_cents: int


def on_invoice(db: Session, invoice_id: int) -> list[CreditFacts]:
    """The credit notes on an invoice, oldest first."""
    rows = db.exec(
        select(CreditNote.no, CreditNote.reason, CreditNote.issued_on, CreditNote.total_cents)
        .where(CreditNote.invoice_id == invoice_id)
        .order_by(CreditNote.no)
    )
    return [CreditFacts(*row) for row in rows]


def void(db: Session, *, no: int, reason: str, now: datetime, by: int) -> None:
    """Strike an invoice through: its number stays used, its pieces may be billed again."""
    row = db.exec(select(Invoice).where(Invoice.no == no)).first()
    if row is None:
        raise NotHere(f"There is no invoice {no} in the book.")
    if not reason.strip():
        raise TryAgain({"reason": "Write why it is void; the number stays in the book with the reason."})
    if row.void_on or _moved(db, row.id):
        raise InTheWay(f"Invoice {no} is void already, or money has moved on it. Write a credit note instead.")
    row.void_on, row.void_reason = shopbook.the_shop(db).today(now), reason.strip()
    db.add(row)
    for piece in db.exec(select(BilledPiece).where(BilledPiece.invoice_id == row.id)).all():
        db.delete(piece)
    history.write(db, now=now, by=by, act="void", words=f"invoice {no} void: {reason.strip()}", job_id=row.job_id)


def _moved(db: Session, invoice_id: int) -> bool:
    """Whether money has moved on an invoice: paid and not reversed, taken back, or written off."""
    paid = select(Applied.id).where(
        Applied.invoice_id == invoice_id, Applied.payment_id.not_in(select(Reversal.payment_id))
    )
    taken = select(CreditNote.id).where(CreditNote.invoice_id == invoice_id)
    off = select(WriteOff.id).where(WriteOff.invoice_id == invoice_id)
    return any(db.exec(query).first() for query in (paid, taken, off))


def credit(db: Session, *, no: int, amount: str, reason: str, now: datetime, by: int) -> int:
    """Take money back from an invoice by a credit note with its own number and the invoice's tax; gives the number."""
    invoice, shop = ledger.by_no(db, no), shopbook.the_shop(db)
    try:
        net = int(quantities.money(amount).base)
    except BenchError as refusal:
        raise TryAgain({"amount": str(refusal)}) from refusal
    sheet = papers.sheet(db, "invoice", str(no))[0]
    totals = _with_the_last_cent(
        pricing.taxed(net, net, sheet.totals.tax_percent, sheet.totals.tax_percent == "0"), invoice, _back(db, invoice)
    )
    if not reason.strip():
        raise TryAgain({"reason": "Write why the money is taken back; it stands on the credit note."})
    if invoice.void_on or not 0 < totals.total_cents <= invoice.asked_cents:
        raise TryAgain({"amount": "More cannot be taken back than the invoice asked. Look at the amount again."})
    number, job, day = numbering.take(db, "credit"), jobs.by_id(db, invoice.job_id), shop.today(now)
    shown = money.show(net, shop.currency)
    paper = CreditSheet(
        letterhead=shop.letterhead(), party=customers.one(db, invoice.customer_id).party(), number=number,
        invoice_number=no, job_no=str(job.no), title=job.title, reason=reason.strip(), issued_on=str(day),
        drawn_by=history.initials(db, by), lines=(LineRow(reason.strip(), "1", shown, shown, net),), totals=totals,
        not_done=quotes.not_done(db, job.id),
    )  # fmt: skip
    paper_id = papers.freeze(db, paper, number=str(number), job_id=job.id, now=now, by=by)
    db.add(
        CreditNote(
            no=number, invoice_id=invoice.id, reason=reason.strip(), issued_on=day, net_cents=net,
            tax_cents=totals.tax_cents, total_cents=totals.total_cents, paper_id=paper_id,
        )
    )  # fmt: skip
    db.flush()
    words = f"credit note {number} on invoice {no}: {money.show(totals.total_cents, shop.currency)}"
    if (over := -ledger.by_no(db, no).due_cents) > 0:
        payments.let_go(db, invoice_id=invoice.id, cents=over)
        words += f"; {money.show(over, shop.currency)} paid on it is held for the customer"
    history.write(db, now=now, by=by, act="credited", words=words, job_id=job.id)
    return number


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


def _back(db: Session, invoice: InvoiceFacts) -> tuple[int, int]:
    """Net and tax that were taken back from an invoice so far [cents]."""
    sums = select(func.sum(CreditNote.net_cents), func.sum(CreditNote.tax_cents))
    net, tax = db.exec(sums.where(CreditNote.invoice_id == invoice.id)).one()
    return int(net or 0), int(tax or 0)


def _with_the_last_cent(totals: Totals, invoice: InvoiceFacts, back: tuple[int, int]) -> Totals:
    """Each note rounds its own tax; the one that takes the rest takes the rest of the tax, and none takes more."""
    net, tax = back
    rest = invoice.tax_cents - tax
    if net + totals.net_cents == invoice.net_cents or totals.tax_cents > rest:
        return replace(totals, tax_cents=rest, total_cents=totals.net_cents + rest)
    return totals
