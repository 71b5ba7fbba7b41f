"""What holds a job up: asked, asked again, answered; the forms stand on the job's sheet."""

from fastapi import APIRouter
from starlette.responses import Response

from shopapp.office import jobs, letters, photos, questions
from shopapp.office.database import Session
from shopapp.office.tracks import WAITS_FOR
from shopapp.web.desk import At, Sent
from shopapp.web.forms import Form
from shopapp.web.jobsheet import job_page

router = APIRouter()
SAY_WHOM = "Say what it waits for: the customer, or material."
SAY_WHICH = "Choose the question that was answered."


@router.post("/jobs/{no}/stop", name="questions.stop")
def stop(desk: At, no: int, form: Sent) -> Response:
    """Stop the job with a question."""

    def act(db: Session, by: int) -> str:
        told = {
            "waits_for": form.one_of("waits_for", WAITS_FOR, SAY_WHOM), "question": form.words("question"),
            "whom": form.words("whom"),
        }  # fmt: skip
        again_on = form.day("ask_again_on")
        form.check()
        job_id = jobs.by_no(db, no).id
        questions.stop(db, job_id=job_id, ask_again_on=again_on, now=desk.now, by=by, **told)
        for photo in form.photos("photo"):
            words = form.words("photo_words")
            photos.keep(db, what="question", photo=photo, job_id=job_id, words=words, now=desk.now, by=by)
        return desk.url("jobs.page", no=no)

    return desk.submit(form, act, lambda: job_page(desk, no, stop=form))


@router.post("/jobs/{no}/answer", name="questions.answer")
def answer(desk: At, no: int, form: Sent) -> Response:
    """The answer, word for word."""

    def act(db: Session, by: int) -> str:
        words = form.words("answer")
        questions.answer(db, stop_id=_stop(db, no, form), words=words, now=desk.now, by=by)
        return desk.url("jobs.page", no=no)

    return desk.submit(form, act, lambda: job_page(desk, no, answer=form))


@router.post("/jobs/{no}/ask-again", name="questions.again")
def again(desk: At, no: int, form: Sent) -> Response:
    """Asked once more; when to ask the next time."""

    def act(db: Session, by: int) -> str:
        next_on, words = form.day("next_on"), form.words("words")
        questions.ask_again(db, stop_id=_stop(db, no, form), next_on=next_on, words=words, now=desk.now, by=by)
        return desk.url("jobs.page", no=no)

    return desk.submit(form, act, lambda: job_page(desk, no, again=form))


@router.post("/jobs/{no}/question-letter", name="questions.letter")
def letter(desk: At, no: int, form: Sent) -> Response:
    """An open question as a letter, with its photos."""

    def act(db: Session, by: int) -> str:
        number = letters.question(db, stop_id=_stop(db, no, form), words=form.words("words"), now=desk.now, by=by)
        return desk.url("papers.pdf", kind="question", number=number)

    return desk.submit(form, act, lambda: job_page(desk, no, letter=form))


def _stop(db: Session, no: int, form: Form) -> int:
    """The question of this job that the form is about."""
    stop_id = form.key("stop", SAY_WHICH)
    if stop_id not in {one.id for one in questions.stops(db, jobs.by_no(db, no).id)}:
        form.problems["stop"] = SAY_WHICH
    form.check()
    return int(stop_id or 0)
