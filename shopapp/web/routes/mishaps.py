"""What goes another way: spoiled, put right, sent back, not come, called off; each with its form, nothing deleted."""

from zoneinfo import ZoneInfo

from fastapi import APIRouter
from starlette.responses import Response

from shopapp.office import jobs, letters, mishaps, papers, photos
from shopapp.office.database import Session
from shopapp.office.errors import InTheWay
from shopapp.office.jobs import PieceFacts
from shopapp.web.desk import At, Desk, Sent
from shopapp.web.forms import Form

router = APIRouter()
WHOSE = {"free": "ours: it is put right without charge", "priced": "theirs: it has its price"}
CAN = {
    "expected": ("not_come",), "rack": ("send_back", "spoil"), "chuck": ("spoil", "send_back"),
    "checked": ("spoil", "rework"), "shelf": ("rework", "spoil"), "gone": ("rework",),
}  # fmt: skip
"""Which of the ways a piece can go from where it is."""
FORMS = ("spoil", "settle", "rework", "send_back", "not_come")


@router.get("/jobs/{no}/{n:int}/other-way", name="mishaps.page")
def page(desk: At, no: int, n: int) -> Response:
    """What can be written down of a piece that does not go as planned."""
    return _page(desk, no, n)


@router.post("/jobs/{no}/{n:int}/spoiled", name="mishaps.spoil")
def spoil(desk: At, no: int, n: int, form: Sent) -> Response:
    """A customer's piece is spoiled."""

    def act(db: Session, by: int) -> str:
        told = {name: form.words(name) for name in ("story", "whom", "said", "who_pays")}
        called_at = form.moment("called_at", ZoneInfo(desk.shop.zone))
        form.check()
        sent = form.photos("photo")
        piece_id = jobs.piece(db, no, n).id
        mishaps.spoil(
            db, piece_id=piece_id, photo=sent[0] if sent else None, called_at=called_at, now=desk.now, by=by, **told
        )  # fmt: skip
        for photo in sent[1:]:
            photos.keep(db, what="damage", photo=photo, piece_id=piece_id, words=told["story"], now=desk.now, by=by)
        return desk.url("mishaps.page", no=no, n=n)

    return desk.submit(form, act, lambda: _page(desk, no, n, spoil=form))


@router.post("/jobs/{no}/{n:int}/settle", name="mishaps.settle")
def settle(desk: At, no: int, n: int, form: Sent) -> Response:
    """Who pays for what."""

    def act(db: Session, by: int) -> str:
        mishaps.settle(
            db, piece_id=jobs.piece(db, no, n).id, who_pays=form.words("who_pays"), now=desk.now, by=by
        )  # fmt: skip
        return desk.url("mishaps.page", no=no, n=n)

    return desk.submit(form, act, lambda: _page(desk, no, n, settle=form))


@router.post("/jobs/{no}/{n:int}/spoiled/print", name="mishaps.record")
def record(desk: At, no: int, n: int, form: Sent) -> Response:
    """The record of a spoiled piece as it stands now, on paper."""

    def act(db: Session, by: int) -> str:
        piece_id = jobs.piece(db, no, n).id
        number = letters.spoiled(db, piece_id=piece_id, address=desk.origin, now=desk.now, by=by)
        return desk.url("papers.pdf", kind="spoiled", number=number)

    return desk.submit(form, act, lambda: _page(desk, no, n, settle=form))


@router.post("/jobs/{no}/{n:int}/put-right", name="mishaps.rework")
def rework(desk: At, no: int, n: int, form: Sent) -> Response:
    """A finished piece is done again, in a job of its own."""

    def act(db: Session, by: int) -> str:
        whose = form.one_of("whose", WHOSE, "Say whose it is: ours, then it is free, or theirs, then it has its price.")
        reason = form.words("reason", "Write why it is done again; the customer reads it on the bill.")
        form.check()
        piece_id = jobs.piece(db, no, n).id
        new = mishaps.rework(db, piece_id=piece_id, reason=reason, free=whose == "free", now=desk.now, by=by)
        return desk.url("intake.page", no=new)

    return desk.submit(form, act, lambda: _page(desk, no, n, rework=form))


@router.post("/jobs/{no}/{n:int}/send-back", name="mishaps.send_back")
def send_back(desk: At, no: int, n: int, form: Sent) -> Response:
    """A piece goes home uncut."""

    def act(db: Session, by: int) -> str:
        mishaps.send_back(
            db, piece_id=jobs.piece(db, no, n).id, reason=form.words("reason"), now=desk.now, by=by
        )  # fmt: skip
        return desk.url("jobs.page", no=no)

    return desk.submit(form, act, lambda: _page(desk, no, n, send_back=form))


@router.post("/jobs/{no}/{n:int}/not-come", name="mishaps.not_come")
def not_come(desk: At, no: int, n: int, form: Sent) -> Response:
    """A piece that was expected does not come."""

    def act(db: Session, by: int) -> str:
        mishaps.does_not_come(
            db, piece_id=jobs.piece(db, no, n).id, reason=form.words("reason"), now=desk.now, by=by
        )  # fmt: skip
        return desk.url("jobs.page", no=no)

    return desk.submit(form, act, lambda: _page(desk, no, n, not_come=form))


@router.get("/jobs/{no}/call-off", name="mishaps.ending")
def ending(desk: At, no: int) -> Response:
    """The customer calls the whole job off."""
    return _ending(desk, no, Form())


@router.post("/jobs/{no}/call-off", name="mishaps.call_off")
def call_off(desk: At, no: int, form: Sent) -> Response:
    """Called off: what is here goes back uncut, and the minutes spent so far stay to be billed."""
    minutes: list[int] = []

    def act(db: Session, by: int) -> str:
        reason = form.words("reason", "Write why it ends here; the next quote is better for it.")
        form.check()
        minutes.append(mishaps.call_off(db, job_id=jobs.by_no(db, no).id, reason=reason, now=desk.now, by=by))
        return desk.url("jobs.page", no=no)

    def said() -> str:
        spent = minutes[0] if minutes else 0
        return f"Called off. {spent} min of set-up stay to be billed." if spent else "Called off."

    return desk.submit(form, act, lambda: _ending(desk, no, form), notice=said)


def _page(desk: Desk, no: int, n: int, **sent: Form) -> Response:
    piece = jobs.piece(desk.db, no, n)
    spoiled, reworks = mishaps.spoiled(desk.db, piece.id), mishaps.reworks(desk.db, [piece.id])
    mine = [paper for paper in papers.of_job(desk.db, piece.job_id)
            if paper.kind == "spoiled" and paper.number.startswith(f"{piece.number}-X")]  # fmt: skip
    return desk.page(
        "mishaps/page.html", sheet=piece.number, here="job", job_no=no, piece=piece, spoiled=spoiled, papers=mine,
        forms={name: sent.get(name) or Form() for name in FORMS}, whose=list(WHOSE.items()),
        can=_can(piece, reworks), problems=next((form.problems for form in sent.values() if form.problems), {}),
        fresh=lambda: Form().once, reworks=[_beside(desk, one) for one in reworks],
        photos=photos.of_piece(desk.db, piece.id),
    )  # fmt: skip


def _can(piece: PieceFacts, reworks: list[PieceFacts]) -> tuple[str, ...]:
    if piece.fate:
        return ("spoil",) if piece.custody == "shelf" and piece.fate == "sent_back" else ()
    goes_on = any(one.fate != "not_come" for one in reworks)
    return tuple(way for way in CAN[piece.custody] if not (way == "rework" and goes_on))


def _beside(desk: Desk, piece: PieceFacts) -> tuple[PieceFacts, list[photos.PhotoFacts]]:
    return piece, photos.of_piece(desk.db, piece.id)


def _ending(desk: Desk, no: int, form: Form) -> Response:
    job = jobs.by_no(desk.db, no)
    if job.ended:
        raise InTheWay(f"Job {no} has ended already.")
    pieces = [piece for piece in jobs.pieces(desk.db, job.id) if piece.custody in ("rack", "chuck", "expected")]
    return desk.page(
        "mishaps/call_off.html", sheet="Called off", here="job", job_no=no, job=job, form=form, pieces=pieces,
        minutes=jobs.spent_minutes(desk.db, job.id),
    )  # fmt: skip
