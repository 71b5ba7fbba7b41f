"""Money that goes out: what is held is given back, its receipt, and a giving back that was wrong."""

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.office import jobs, payments, refunds
from shopapp.office.database import Session
from shopapp.web import paypage
from shopapp.web.desk import At, Desk, Sent
from shopapp.web.forms import Form

router = APIRouter()


@router.post("/payments/{payment_id}/give-back", name="refunds.give")
def give(desk: At, payment_id: int, form: Sent) -> Response:
    """Give held money of a payment back: all of it, or the amount that is typed."""
    job = payments.job_of(desk.db, payment_id)

    def act(db: Session, by: int) -> str:
        amount, reason, reference = form.words("give_amount"), form.words("give_reason"), form.words("give_reference")
        day = form.day("give_on")
        form.check()
        refunds.give_back(
            db, payment_id=payment_id, amount=amount, how=form["give_how"], reference=reference, reason=reason,
            paid_on=day, now=desk.now, by=by,
        )  # fmt: skip
        return desk.url("payments.page", no=job.no)

    return desk.submit(form, act, lambda: _again(desk, job, form, "give", payment_id), notice="It is given back.")


@router.post("/refunds/{refund_id}/receipt", name="refunds.receipt")
def receipt(desk: At, refund_id: int, form: Sent) -> Response:
    """Freeze the receipt for what was given back, and show its paper."""

    def act(db: Session, by: int) -> str:
        kind, number = refunds.receipt(db, refund_id=refund_id, now=desk.now, by=by)
        return desk.url("papers.pdf", kind=kind, number=number)

    return desk.submit(form, act, lambda: paypage.page(desk, _job(desk, refund_id), form))


@router.post("/refunds/{refund_id}/back", name="refunds.back")
def back(desk: At, refund_id: int, form: Sent) -> Response:
    """It was not given back after all: it stays in the book and counts for nothing."""
    job = _job(desk, refund_id)

    def act(db: Session, by: int) -> str:
        reason = form.words("out_reason")
        form.check()
        refunds.take_back(db, refund_id=refund_id, reason=reason, now=desk.now, by=by)
        return desk.url("payments.page", no=job.no)

    return desk.submit(form, act, lambda: _again(desk, job, form, "out", refund_id), notice="It is held again.")


def _job(desk: Desk, refund_id: int) -> jobs.JobFacts:
    return jobs.by_no(desk.db, refunds.one(desk.db, refund_id).job_no)


def _again(desk: Desk, job: jobs.JobFacts, form: Form, fold: str, row: int) -> Response:
    """The page with the fold of this row open, each problem under the name of its field there."""
    names = {"amount": "give_amount", "how": "give_how", "paid_on": "give_on", "reason": f"{fold}_reason"}
    form.problems = {names.get(name, name): words for name, words in form.problems.items()}
    form.typed = {"paid_on": desk.today.isoformat(), **form.typed, fold: str(row)}
    return paypage.page(desk, job, form)
