"""Money that comes in: on a bill, or before there is one."""

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.office import jobs, ledger, payments
from shopapp.office.database import Session
from shopapp.office.errors import TryAgain
from shopapp.office.jobs import JobFacts
from shopapp.web.desk import Asked, At, Desk, Sent
from shopapp.web.forms import Form

router = APIRouter()


@router.get("/jobs/{no}/pay", name="payments.page")
def page(desk: At, no: int, asked: Asked) -> Response:
    """The form for a payment; `invoice` in the address names the bill."""
    job = jobs.by_no(desk.db, no)
    return _page(desk, job, Form(typed={"invoice": asked["invoice"], "paid_on": desk.today.isoformat()}))


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

    return desk.submit(form, act, lambda: _page(desk, job, form), notice="The payment is written down.")


def _bill(db: Session, job: JobFacts, form: Form) -> int | None:
    """The bill that the form names; one of another job is refused."""
    number = form.key("invoice")
    if number is not None and ledger.by_no(db, number).job_id != job.id:
        raise TryAgain({"invoice": f"Invoice {number} is not a bill of job {job.no}. Open that invoice and pay there."})
    return number


def _page(desk: Desk, job: JobFacts, form: Form) -> Response:
    bills = [bill for bill in ledger.of_job(desk.db, job.id) if bill.due_cents > 0]
    return desk.page(
        "money/pay.html", sheet="Payment", job_no=job.no, here="money", job=job, form=form, bills=bills,
        held=payments.held(desk.db, job.id), how_paid=payments.HOW_PAID, invoice_no=None,
    )  # fmt: skip
