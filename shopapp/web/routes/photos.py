"""Photos: taken with the phone's camera, kept small, shown among others; none is ever replaced."""

from fastapi import APIRouter
from starlette.responses import Response

from shopapp.office import jobs, parts, photos
from shopapp.office.database import Session
from shopapp.office.errors import NotHere, TryAgain
from shopapp.web.desk import At, Desk, Sent
from shopapp.web.forms import Form
from shopapp.web.piececard import card

router = APIRouter()
OF_A_PIECE = ("intake", "damage", "trouble", "finished", "paper_back")
OF_A_JOB = ("question", "paper_back")
NONE_SENT = "No photo came along. Take one, or choose one that the phone has."
FOREVER = "private, max-age=31536000, immutable"
"""A photo under its number never changes."""


@router.get("/photos/{photo_id}.jpg", name="photos.jpeg")
def jpeg(desk: At, photo_id: int) -> Response:
    """A photo as it is kept."""
    return _picture(desk, photo_id)


@router.get("/photos/{photo_id}/small.jpg", name="photos.small")
def small(desk: At, photo_id: int) -> Response:
    """A photo as it is shown among others."""
    return _picture(desk, photo_id, is_small=True)


@router.post("/jobs/{no}/{n:int}/photos", name="photos.piece")
def piece(desk: At, no: int, n: int, form: Sent) -> Response:
    """Photos of a piece, each kept beside those that are there."""

    def act(db: Session, by: int) -> str:
        piece_id = jobs.piece(db, no, n).id
        _keep(desk, db, form, by, OF_A_PIECE, piece_id=piece_id)
        return desk.url("pieces.page", no=no, n=n) + "#photos"

    return desk.submit(form, act, lambda: card(desk, no, n, photo=form))


@router.post("/jobs/{no}/photos", name="photos.job")
def job(desk: At, no: int, form: Sent) -> Response:
    """Photos of the whole job: with a question, or the back of a paper ticket with its grease notes."""

    def act(db: Session, by: int) -> str:
        _keep(desk, db, form, by, OF_A_JOB, job_id=jobs.by_no(db, no).id)
        return desk.url("intake.page", no=no) + "#papers"

    return desk.submit(form, act, lambda: _refused(desk, form))


@router.post("/variants/{variant_id}/signs/{sign_id}/photos", name="photos.sign")
def sign(desk: At, variant_id: int, sign_id: int, form: Sent) -> Response:
    """A reference photo of a sign: what to look for on the piece."""

    def act(db: Session, by: int) -> str:
        if sign_id not in {one.id for one in parts.variant(db, variant_id).signs}:
            raise NotHere("That sign is not in the book.")
        form.typed["what"] = "sign"
        _keep(desk, db, form, by, ("sign",), sign_id=sign_id)
        return desk.url("variants.one", variant_id=variant_id) + "#signs"

    return desk.submit(form, act, lambda: _refused(desk, form))


def _keep(desk: Desk, db: Session, form: Form, by: int, whats: tuple[str, ...], **of: int) -> None:
    what = form.one_of("what", whats, "Say what the photo shows.")
    words, sent = form.words("words"), form.photos("photo")
    if not sent:
        form.problems["photo"] = NONE_SENT
    form.check()
    for photo in sent:
        photos.keep(db, what=what, photo=photo, words=words, now=desk.now, by=by, **of)


def _refused(desk: Desk, form: Form) -> Response:
    """Where the form stands on somebody else's page: the sentence, and the way back."""
    words = str(TryAgain(form.problems))
    return desk.page("errors/refused.html", sheet="Photo", title="The photo was not kept", words=words, status=422)


def _picture(desk: Desk, photo_id: int, *, is_small: bool = False) -> Response:
    raw, digest = photos.jpeg(desk.db, photo_id)
    mark = f'"{digest}{"-small" if is_small else ""}"'
    headers = {"ETag": mark, "Cache-Control": FOREVER}
    if mark in desk.request.headers.get("if-none-match", ""):
        return Response(status_code=304, headers=headers)
    return Response(photos.small(raw) if is_small else raw, media_type="image/jpeg", headers=headers)
