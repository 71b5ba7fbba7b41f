"""Whom to call: finished pieces that nobody fetched, by how long they wait, and the letter when calls did not help."""

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.office import handover, jobs, letters, papers, workings_money
from shopapp.office.database import Session
from shopapp.web import posting
from shopapp.web.desk import At, Desk, Sent
from shopapp.web.forms import Form

router = APIRouter()


@router.get("/calls", name="calls.page")
def page(desk: At) -> Response:
    """Everything on the pick-up shelf, what waits longest first, with what was tried."""
    return _page(desk)


@router.post("/jobs/{no}/letter", name="calls.letter")
def letter(desk: At, no: int, form: Sent) -> Response:
    """Freeze the letter about pieces that were not fetched, and show it; by mail too, where that is ticked."""
    job = jobs.by_no(desk.db, no)

    def act(db: Session, by: int) -> str:
        words = form.words("letter_words")
        form.check()
        number = letters.ready_letter(db, job_id=job.id, words=words, now=desk.now, by=by)
        posting.with_it(db, desk, form, kind="letter", number=number, by=by)
        return desk.url("papers.pdf", kind="letter", number=number)

    return desk.submit(form, act, lambda: _page(desk, no, form))


def _page(desk: Desk, no: int = 0, form: Form | None = None) -> Response:
    waiting = handover.uncollected(desk.db, now=desk.now)
    ready, written = (papers.newest(desk.db, kind, [one.job_no for one in waiting]) for kind in ("ready", "letter"))
    bands = [(days, [one for one in waiting if one.band == days]) for days in (*reversed(handover.BANDS), 0)]
    return desk.page(
        "calls/page.html", sheet="To call", here="sheet", waiting=waiting, bands=bands, outcomes=handover.OUTCOMES,
        ready=ready, written=written, fresh=lambda: Form().once, refused=no, refused_form=form or Form(),
        problems=form.problems if form else {}, mail_set=posting.is_set(desk),
        sheets=workings_money.of_waiting(handover.BANDS) if waiting else (),
    )  # fmt: skip
