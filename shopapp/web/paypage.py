"""The page of a job's money: what comes in, what is held, what is given back. Two subjects show it."""

from fastapi.responses import Response

from shopapp.office import ledger, payments, refunds
from shopapp.office.jobs import JobFacts
from shopapp.web.desk import Desk
from shopapp.web.forms import Form


def page(desk: Desk, job: JobFacts, form: Form) -> Response:
    """The page; `form` is that of a payment, or one beside the payment or the giving back that it names."""
    bills = [bill for bill in ledger.of_job(desk.db, job.id) if bill.due_cents > 0]
    return desk.page(
        "money/pay.html", sheet="Payment", job_no=job.no, here="money", job=job, form=form, bills=bills,
        paid=payments.of_job(desk.db, job.id), how_paid=payments.HOW_PAID, invoice_no=None, fresh=Form().once,
        given_back=refunds.of_job(desk.db, job.id),
    )  # fmt: skip
