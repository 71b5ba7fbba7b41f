"""Same again: a new job made from an earlier one, with one press."""

from fastapi import APIRouter
from starlette.responses import Response

from shopapp.office import again, jobs
from shopapp.office.database import Session
from shopapp.web.desk import At, Sent
from shopapp.web.jobsheet import job_page

router = APIRouter()


@router.post("/jobs/{no}/same-again", name="again.same")
def same(desk: At, no: int, form: Sent) -> Response:
    """Open the same job again, and go on to taking its pieces in."""

    def act(db: Session, by: int) -> str:
        new = again.same_again(db, job_id=jobs.by_no(db, no).id, now=desk.now, by=by)
        return desk.url("intake.page", no=new)

    return desk.submit(form, act, lambda: job_page(desk, no, again_job=form))
