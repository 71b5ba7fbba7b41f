"""Money that comes in: on a bill, or before there is one; its receipt, and a payment that was wrong."""

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.bench.money import show
from shopapp.office import jobs, ledger, payments, quotes
from shopapp.office.database import Session
from shopapp.office.errors import TryAgain
from shopapp.office.jobs import JobFacts
from shopapp.web import paypage
from shopapp.web.desk import Asked, At, Desk, Sent
from shopapp.web.forms import Form

router = APIRouter()


@router.get("/jobs/{no}/pay", name="payments.page")
def page(desk: At, no: int, asked: Asked) -> Response:
    """The form for a payment; `invoice` in the address names the bill, and where one alone is open it is that one."""
    job = jobs.by_no(desk.db, no)
    still_open = [str(bill.no) for bill in ledger.of_job(desk.db, job.id) if bill.due_cents > 0]
    bill = asked["invoice"] or (still_open[0] if len(still_open) == 1 else "")
    typed = {"invoice": bill, "amount": _asked(desk, job, bill), "paid_on": desk.today.isoformat()}
    return paypage.page(desk, job, Form(typed=typed))


@router.post("/jobs/{no}/pay", name="payments.take")
def take(desk: At, no: int, form: Sent) -> Response:
    """Write the payment down."""
    job = jobs.by_no(desk.db, no)

    def act(db: Session, by: int) -> str:
        amount, reference, day = form.words("amount"), form.words("reference"), form.day("paid_on")
        bill = _bill(db, job, form)
        form.check()
        payments.pay(
            db, job_id=job.id, amount=amount, how=form["how"], reference=reference, paid_on=day,
            invoice_no=bill, now=desk.now, by=by,
        )  # fmt: skip
        return desk.url("invoices.one", no=bill) if bill else desk.url("quotes.page", no=no)

    return desk.submit(form, act, lambda: paypage.page(desk, job, form), notice="The payment is written down.")


def _bill(db: Session, job: JobFacts, form: Form) -> int | None:
    """The bill that the form names; one of another job is refused."""
    number = form.key("invoice")
    if number is not None and ledger.by_no(db, number).job_id != job.id:
        raise TryAgain({"invoice": f"Invoice {number} is not a bill of job {job.no}. Open that invoice and pay there."})
    return number


@router.post("/payments/{payment_id}/receipt", name="payments.receipt")
def receipt(desk: At, payment_id: int, form: Sent) -> Response:
    """Freeze the receipt of a payment, of a deposit while no bill has used it, and show its paper."""

    def act(db: Session, by: int) -> str:
        kind, number = payments.receipt(db, payment_id=payment_id, now=desk.now, by=by)
        return desk.url("papers.pdf", kind=kind, number=number)

    job = payments.job_of(desk.db, payment_id)
    return desk.submit(form, act, lambda: paypage.page(desk, job, form))


@router.post("/payments/{payment_id}/reverse", name="payments.reverse")
def reverse(desk: At, payment_id: int, form: Sent) -> Response:
    """A payment was wrong, or came back: it stays in the book and counts for nothing."""
    job = payments.job_of(desk.db, payment_id)

    def act(db: Session, by: int) -> str:
        payments.reverse(db, payment_id=payment_id, reason=form.words("reason"), now=desk.now, by=by)
        return desk.url("payments.page", no=job.no)

    return desk.submit(form, act, lambda: paypage.page(desk, job, form), notice="The payment counts for nothing now.")


def _asked(desk: Desk, job: JobFacts, invoice_no: str) -> str:
    """What is still asked: of the bill that is named, or of the deposit; empty where nothing is."""
    bills = {str(bill.no): bill.due_cents for bill in ledger.of_job(desk.db, job.id)}
    due = bills.get(invoice_no, 0)
    if not invoice_no and not bills:
        held = sum(one.left_cents for one in payments.held(desk.db, job.id))
        due = quotes.deposit_asked(desk.db, job.id) - held
    return show(due, "").replace(",", "") if due > 0 else ""
