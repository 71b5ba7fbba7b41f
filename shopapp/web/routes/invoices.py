"""Bills: drawn from what is finished, issued, paid, voided, credited, written off; and as other programs read them."""

from typing import Any

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.office import credits as notes
from shopapp.office import (
    customers,
    einvoice,
    invoices,
    jobs,
    ledger,
    papers,
    payments,
    quotes,
    takings,
    workings_money,
)
from shopapp.office.database import Session
from shopapp.office.errors import InTheWay, OfficeError
from shopapp.office.jobs import JobFacts
from shopapp.office.ledger import InvoiceFacts
from shopapp.office.sheets.credit import CreditSheet
from shopapp.office.sheets.invoice import InvoiceSheet
from shopapp.papers.invoice import invoice_with_data
from shopapp.web import billform, posting
from shopapp.web.desk import Asked, At, Desk, Sent
from shopapp.web.forms import Form
from shopapp.web.printing import printed

router = APIRouter()
DRAWN = {"HX-Trigger-After-Settle": "drawn"}
"""Tells the page that the lines were drawn anew, so that it asks for the sums."""


@router.get("/jobs/{no}/bill", name="invoices.draft")
def draft(desk: At, no: int) -> Response:
    """The bill as the agreed quote and the finished pieces would have it."""
    job = jobs.by_no(desk.db, no)
    return _draft(desk, job, billform.first(desk, job))


@router.get("/jobs/{no}/bill/sums", name="invoices.sums")
def sums(desk: At, no: int, form: Asked) -> Response:
    """What the bill comes to while it is typed."""
    job = jobs.by_no(desk.db, no)
    return desk.fragment("invoices/draft.html", "sums", **_sums(desk, job, form))


@router.get("/jobs/{no}/bill/lines", name="invoices.lines")
def lines(desk: At, no: int, form: Asked) -> Response:
    """The lines for the pieces that are ticked; lines that somebody has changed stay, and the page says so."""
    job = jobs.by_no(desk.db, no)
    fits, form = billform.drawn_anew(desk, job, form)
    shown = desk.fragment(
        "invoices/draft.html", "lines", job=job, form=form, lines=billform.shown_rows(form),
        other_ticks=not fits,
    )  # fmt: skip
    shown.headers.update(DRAWN)
    return shown


@router.post("/jobs/{no}/bill", name="invoices.issue")
def issue(desk: At, no: int, form: Sent) -> Response:
    """Issue the bill, with the order number that it wants; or show it with one more row, or with the lines drawn for
    the ticks, issuing nothing."""
    job = jobs.by_no(desk.db, no)
    if form["more"] == "draw":
        anew = _draft(desk, job, billform.drawn(desk, job, form))
        anew.headers.update(DRAWN)
        return anew
    if form["more"]:
        return _draft(desk, job, form)

    def act(db: Session, by: int) -> str:
        lines, order_number = billform.lines(form), form.words("order_number")
        form.check()
        billform.check_ticks(desk, job, form)
        if order_number:
            jobs.change(db, job_id=job.id, order_number=order_number, now=desk.now, by=by)
        ids = billform.ticked(desk, job, form)
        bill = invoices.issue(db, job_id=job.id, lines=lines, piece_ids=ids, now=desk.now, by=by)
        posting.with_it(db, desk, form, kind="invoice", number=str(bill), by=by)
        if form["then"] == "print":
            return desk.url("papers.pdf", kind="invoice", number=bill)
        return desk.url("invoices.one", no=bill)

    return desk.submit(form, act, lambda: _draft(desk, job, form), notice="The invoice is issued.")


@router.get("/invoices/{no}.xml", name="invoices.xml")
def xml(desk: At, no: int) -> Response:
    """The bill for other programs: EN 16931 in UBL 2.1."""
    sheet, _ = _live(desk, no)
    return _xml(einvoice.ubl(sheet), f"invoice-{no}")


@router.get("/credit-notes/{no}.xml", name="invoices.credit_xml")
def credit_xml(desk: At, no: int) -> Response:
    """A credit note for other programs."""
    sheet, _ = papers.sheet(desk.db, "credit", str(no))
    assert isinstance(sheet, CreditSheet)
    return _xml(einvoice.ubl(sheet), f"credit-note-{no}")


@router.get("/invoices/{no}/with-data.pdf", name="invoices.with_data")
def with_data(desk: At, no: int) -> Response:
    """The paper with the same bill inside for other programs; its own bytes, kept like those of every paper."""
    sheet, digest = _live(desk, no)
    data = einvoice.ubl(sheet)
    name, whom = f"Invoice {no} with data", sheet.party.name
    return printed(desk, name, whom, f"{digest}-data", lambda: invoice_with_data(sheet, data))


def _live(desk: Desk, no: int) -> tuple[InvoiceSheet, str]:
    """The frozen bill and its hash; a void one is no bill that another program may book."""
    if ledger.by_no(desk.db, no).void_on:
        raise InTheWay(f"Invoice {no} is void, so there is no data of it for other programs.")
    sheet, digest = papers.sheet(desk.db, "invoice", str(no))
    assert isinstance(sheet, InvoiceSheet)
    return sheet, digest


@router.get("/invoices/{no}", name="invoices.one")
def one(desk: At, no: int) -> Response:
    """An invoice, and what has become of it."""
    return _one(desk, ledger.by_no(desk.db, no))


@router.post("/invoices/{no}/void", name="invoices.void")
def void(desk: At, no: int, form: Sent) -> Response:
    """Strike the invoice through."""
    bill = ledger.by_no(desk.db, no)

    def act(db: Session, by: int) -> str:
        reason = form.words("void_reason")
        form.check()
        notes.void(db, no=no, reason=reason, now=desk.now, by=by)
        return desk.url("invoices.one", no=no)

    def again() -> Response:
        return _one(desk, bill, void=_beside(form, reason="void_reason"))

    return desk.submit(form, act, again, notice=f"Invoice {no} is void. Its pieces may be billed again.")


@router.post("/invoices/{no}/credit", name="invoices.credit")
def credit(desk: At, no: int, form: Sent) -> Response:
    """Take money back by a credit note."""
    bill = ledger.by_no(desk.db, no)

    def act(db: Session, by: int) -> str:
        amount, reason = form.words("credit_amount"), form.words("credit_reason")
        form.check()
        notes.credit(
            db, no=no, amount=amount, tax_only=form.ticked("tax_only"), reason=reason, now=desk.now, by=by
        )  # fmt: skip
        return desk.url("invoices.one", no=no)

    def again() -> Response:
        return _one(desk, bill, credit=_beside(form, amount="credit_amount", reason="credit_reason"))

    return desk.submit(form, act, again, notice="The credit note is issued.")


@router.post("/invoices/{no}/write-off", name="invoices.write_off")
def write_off(desk: At, no: int, form: Sent) -> Response:
    """What will not be paid any more: all that is due, or the amount that is typed."""
    bill = ledger.by_no(desk.db, no)

    def act(db: Session, by: int) -> str:
        amount, reason = form.words("off_amount"), form.words("off_reason")
        form.check()
        notes.write_off(db, no=no, amount=amount, reason=reason, now=desk.now, by=by)
        return desk.url("invoices.one", no=no)

    def again() -> Response:
        return _one(desk, bill, off=_beside(form, amount="off_amount", reason="off_reason"))

    return desk.submit(form, act, again, notice="It is written off, and stays in the book.")


@router.post("/write-offs/{write_off_id}/back", name="invoices.write_off_back")
def write_off_back(desk: At, write_off_id: int, form: Sent) -> Response:
    """What was written off is asked for again."""
    bill = ledger.by_no(desk.db, notes.bill_of_write_off(desk.db, write_off_id))

    def act(db: Session, by: int) -> str:
        reason = form.words("off_back_reason")
        form.check()
        notes.take_back_write_off(db, write_off_id=write_off_id, reason=reason, now=desk.now, by=by)
        return desk.url("invoices.one", no=bill.no)

    def again() -> Response:
        return _one(desk, bill, off_back=_beside(form, reason="off_back_reason"))

    return desk.submit(form, act, again, notice="It is asked for again. Take the payment here.")


@router.post("/invoices/{no}/use-credit", name="invoices.use_credit")
def use_credit(desk: At, no: int, form: Sent) -> Response:
    """Pay the bill with the customer's own money that no bill has used."""
    bill = ledger.by_no(desk.db, no)

    def act(db: Session, by: int) -> str:
        payments.use_credit(db, invoice_no=no, now=desk.now, by=by)
        return desk.url("invoices.one", no=no)

    return desk.submit(form, act, lambda: _one(desk, bill, off=form), notice="Their credit is used on it.")


def _draft(desk: Desk, job: JobFacts, form: Form) -> Response:
    customer = customers.one(desk.db, job.customer_id)
    billed = invoices.billed(desk.db, job.id)
    pieces = jobs.pieces(desk.db, job.id)
    billable = [piece for piece in pieces if piece in invoices.to_bill(desk.db, job.id)]
    return desk.page(
        "invoices/draft.html", sheet="Bill", job_no=job.no, here="job", job=job, customer=customer, form=form,
        lines=billform.shown_rows(form), billable=billable, problems=form.problems,
        price_is_wanted=invoices.price_is_wanted(desk.db, job.id),
        above_cents=invoices.billed_above_cents(desk.db, job.id, now=desk.now) if billable else 0,
        others=[piece for piece in pieces if piece not in billable and piece.id not in billed],
        already=[piece for piece in pieces if piece.id in billed],
        receipts=[paper for paper in papers.of_job(desk.db, job.id) if paper.kind == "hand_over"],
        agreed=quotes.agreed_quote(desk.db, job.id), past_papers=_past_papers(desk, job),
        held_cents=sum(payment.left_cents for payment in payments.held(desk.db, job.id)), **_sums(desk, job, form),
        **posting.offered(desk, job.customer_id),
    )  # fmt: skip


def _one(
    desk: Desk, bill: InvoiceFacts, *, void: Form | None = None, credit: Form | None = None, off: Form | None = None,
    off_back: Form | None = None,
) -> Response:  # fmt: skip
    sheet, _ = papers.sheet(desk.db, "invoice", str(bill.no))
    assert isinstance(sheet, InvoiceSheet)
    pay = Form(typed={"amount": f"{bill.due_cents / 100:.2f}", "paid_on": desk.today.isoformat()})
    word, overdue = bill.state(desk.today)
    refused = [form for form in (void, credit, off, off_back) if form]
    paid, taken_back = payments.on_invoice(desk.db, bill.id), notes.on_invoice(desk.db, bill.id)
    written_off = takings.written_off(desk.db, bill.id)
    counts = [one for one in paid if not one.reversed_because]
    taken = [
        *((f"paid {one.how}", one.cents) for one in counts if one.cents),
        *((f"credit note {one.no}", one.total_cents) for one in taken_back),
        *(("written off", one.cents) for one in written_off if not one.back_on),
    ]
    sheets = (
        *workings_money.of_sums(sheet.lines, sheet.totals, desk.shop.currency, sheet.exempt_reason),
        *workings_money.of_due(bill.due_cents, bill.total_cents, taken, desk.shop.currency),
    )
    return desk.page(
        "invoices/one.html", sheet=f"Invoice {bill.no}", job_no=bill.job_no, here="money", bill=bill, paper=sheet,
        job=jobs.by_id(desk.db, bill.job_id), paid=paid, credits=taken_back, written_off=written_off, word=word,
        overdue=overdue, form=pay, how_paid=payments.HOW_PAID, invoice_no=bill.no, bills=[], void=void or Form(),
        credit=credit or Form(), off=off or Form(), off_back=off_back or Form(), fresh=lambda: Form().once,
        problems={name: words for form in refused for name, words in form.problems.items()},
        sheets=sheets, can_void=notes.can_void(desk.db, bill), lets_go=bill.paid_cents,
        can_credit=not bill.void_on and bill.asked_cents > 0, tax_left=_tax_left(bill),
        not_readable=_not_readable(sheet),
        **_beside_the_bill(desk, bill), **posting.offered(desk, bill.customer_id),
    )  # fmt: skip


def _beside_the_bill(desk: Desk, bill: InvoiceFacts) -> dict[str, Any]:
    """The customer's money that this bill could use [cents], and their other jobs that are to be billed."""
    usable = payments.usable(desk.db, bill.job_id) if bill.due_cents > 0 else []
    more = [one for one in ledger.to_bill(desk.db) if one.customer == bill.customer and one.job_no != bill.job_no]
    return {"usable_cents": min(sum(one.left_cents for one in usable), max(bill.due_cents, 0)), "more_to_bill": more}


def _tax_left(bill: InvoiceFacts) -> int:
    """Tax of the bill that no credit note has taken back [cents]."""
    return bill.tax_cents - (bill.credited_cents - bill.credited_net_cents)


def _not_readable(sheet: InvoiceSheet) -> str:
    """Why other programs cannot read this bill; empty where they can."""
    try:
        einvoice.ubl(sheet)
    except InTheWay as refusal:
        return str(refusal)
    return ""


def _xml(made: bytes, name: str) -> Response:
    kept = {"Content-Disposition": f'attachment; filename="{name}.xml"', "Cache-Control": "private, no-cache"}
    return Response(made, media_type="application/xml", headers=kept)


def _beside(form: Form, **names: str) -> Form:
    """Put a verb's problems beside the fields as this page names them."""
    form.problems = {names.get(name, name): words for name, words in form.problems.items()}
    return form


def _past_papers(desk: Desk, job: JobFacts) -> list[customers.TaxPaperFacts]:
    """Certificates that do not free from tax today, where none does."""
    if customers.exempt_on(desk.db, job.customer_id, desk.today):
        return []
    return customers.tax_papers(desk.db, job.customer_id)


def _sums(desk: Desk, job: JobFacts, form: Form) -> dict[str, Any]:
    """The bill as typed so far; what wants mending is a hint here, for nothing was sent yet."""
    reading = Form(typed=form.typed)
    lines = billform.lines(reading)
    try:
        told = invoices.preview(desk.db, job_id=job.id, lines=lines, now=desk.now)
    except OfficeError as refusal:
        hints = list(getattr(refusal, "problems", {"": str(refusal)}).values())
        return {"told": None, "hints": [*reading.problems.values(), *hints]}
    sign = desk.shop.currency
    sheets = (
        *workings_money.of_sums(told.rows, told.totals, sign, told.exempt_reason),
        *workings_money.of_due(told.due_cents, told.totals.total_cents, told.deposits, sign),
    )
    return {"told": told, "hints": (), "sheets": sheets}
