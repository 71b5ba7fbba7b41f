"""Taking in: a customer's property comes through the door, and the stub, the tags and the ticket go to the printer."""

from collections.abc import Callable
from datetime import datetime
from functools import partial
from zoneinfo import ZoneInfo

from fastapi import APIRouter
from starlette.responses import Response

from shopapp.office import condition, customers, floor_papers, history, intake, jobs, papers, parts, photos, weighing
from shopapp.office.database import Session
from shopapp.office.errors import TryAgain
from shopapp.office.jobs import PieceFacts
from shopapp.office.sheets.canon import sha256
from shopapp.office.sheets.stub import StubSheet
from shopapp.office.sheets.tags import TagsSheet
from shopapp.office.sheets.ticket import TicketSheet
from shopapp.papers.blank import blank_pdf
from shopapp.papers.stub import intake_pdf
from shopapp.web.desk import At, Desk, Sent
from shopapp.web.forms import Form
from shopapp.web.jobsheet import GOES
from shopapp.web.piececard import RISKS, SIDES, card, look_alikes, sign_photos
from shopapp.web.printing import POLICY, printed

router = APIRouter()
LOOK = "Look at the piece and choose the sign that you see on it."


@router.get("/jobs/{no}/in", name="intake.page")
def page(desk: At, no: int, all_kinds: str = "") -> Response:
    """Everything that is asked when the pieces of a job come in."""
    return _page(desk, no, Form(typed={"all_kinds": all_kinds}))


@router.post("/jobs/{no}/in", name="intake.keep")
def keep(desk: At, no: int, form: Sent) -> Response:
    """Write down what was seen, and print later."""
    warnings: list[str] = []

    def act(db: Session, by: int) -> str:
        warnings.extend(_take_in(desk, db, no, form, by))
        return desk.url("intake.page", no=no)

    return desk.submit(form, act, lambda: _page(desk, no, form), notice=lambda: " ".join(warnings))


@router.post("/jobs/{no}/in/print", name="intake.issue")
def issue(desk: At, no: int, form: Sent) -> Response:
    """Write down what was seen, and print stub, tags and job ticket of the pieces that are here."""
    warnings: list[str] = []

    def act(db: Session, by: int) -> str:
        warnings.extend(_take_in(desk, db, no, form, by))
        number = floor_papers.intake(
            db, job_id=jobs.by_no(db, no).id, address=desk.origin, came_at=_came_at(desk, form), now=desk.now, by=by
        )  # fmt: skip
        return desk.url("intake.pdf", no=no, number=number)

    return desk.submit(form, act, lambda: _page(desk, no, form), notice=lambda: " ".join(warnings))


@router.get("/jobs/{no}/in/{number}.pdf", name="intake.pdf")
def pdf(desk: At, no: int, number: str) -> Response:
    """Stub, tags and job ticket as one PDF."""
    kept = [papers.sheet(desk.db, kind, number) for kind in ("stub", "tags", "ticket")]
    stub, tags, ticket = (sheet for sheet, _ in kept)
    assert isinstance(stub, StubSheet)
    assert isinstance(tags, TagsSheet)
    assert isinstance(ticket, TicketSheet)
    digest = sha256("".join(mark for _, mark in kept))
    whom = customers.one(desk.db, jobs.by_no(desk.db, no).customer_id).name
    return printed(desk, f"Stub {number}", whom, digest, lambda: intake_pdf(stub, tags, ticket))


@router.get("/papers/blank.pdf", name="intake.blank")
def blank(desk: At) -> Response:
    """Blank tickets for a day without power."""
    sheet = floor_papers.blank(desk.db, now=desk.now, by=desk.by)
    return Response(blank_pdf(sheet), media_type="application/pdf", headers={"Content-Security-Policy": POLICY})


@router.post("/jobs/{no}/{n:int}/look", name="intake.look")
def look(desk: At, no: int, n: int, form: Sent) -> Response:
    """What was looked at on one piece."""

    def act(db: Session, by: int) -> str:
        piece_id = jobs.piece(db, no, n).id
        desk.stale(db, form, piece_id, by)
        condition.look(db, piece_id=piece_id, answers=_answers(form, ""), now=desk.now, by=by)
        return desk.url("pieces.page", no=no, n=n) + "#look"

    return desk.submit(form, act, lambda: card(desk, no, n, look=form))


@router.post("/jobs/{no}/{n:int}/came-along", name="intake.worth")
def worth(desk: At, no: int, n: int, form: Sent) -> Response:
    """What came along with one piece, what it is said to be worth, who carries the risk."""

    def act(db: Session, by: int) -> str:
        piece_id = jobs.piece(db, no, n).id
        desk.stale(db, form, piece_id, by)
        _worth(desk, db, piece_id, form, "", by)
        return desk.url("pieces.page", no=no, n=n) + "#worth"

    return desk.submit(form, act, lambda: card(desk, no, n, worth=form))


def _take_in(desk: Desk, db: Session, no: int, form: Form, by: int) -> list[str]:
    """Each piece of the form; gives the warnings. What wants mending is told of all pieces at once, and of which."""
    warnings: list[str] = []
    every = jobs.pieces(db, jobs.by_no(db, no).id)
    problems, now = _when(desk, form)
    here = [piece for piece in every if _may_come(piece)]
    for piece in here:
        mark, whose = f"_{piece.n}", f"{piece.number}: " if len(here) > 1 else ""
        desk.stale(db, form, piece.id, by)
        for step in _steps(desk, db, piece, form, mark, now, by):
            try:
                warnings.append(step() or "")
            except TryAgain as refusal:
                problems |= {name if name.endswith(mark) else f"{name}{mark}": f"{whose}{said}" for name, said in
                             refusal.problems.items()}  # fmt: skip
    if not any(piece.custody != "expected" or form[f"sign_{piece.n}"] for piece in here) and here:
        problems.setdefault(f"sign_{here[0].n}", f"{here[0].number}: {LOOK}" if len(here) > 1 else LOOK)
    form.problems |= problems
    form.check()
    return [words for words in warnings if words]


def _may_come(piece: PieceFacts) -> bool:
    """Whether a piece is here, or still to come, and nothing else was decided about it."""
    return piece.custody != "gone" and piece.fate is None


def _when(desk: Desk, form: Form) -> tuple[dict[str, str], datetime]:
    """What is wrong with the time told, and the time."""
    try:
        return {}, _came_at(desk, form) or desk.now
    except TryAgain as refusal:
        return refusal.problems, desk.now


def _steps(
    desk: Desk, db: Session, piece: PieceFacts, form: Form, mark: str, now: datetime, by: int
) -> tuple[Callable[[], str | None], ...]:  # fmt: skip
    """What is written of one piece, each step on its own: one that is refused keeps no other from being looked at."""

    def here() -> str:
        sign_id = form.key(f"sign{mark}")
        if piece.custody != "expected" or not (sign_id or _anything(form, mark)):
            return ""
        if not sign_id:
            raise TryAgain({"sign": LOOK})
        if form[f"goes_to{mark}"] not in dict(GOES):
            raise TryAgain({"goes_to": "Say where it goes: to the machine, or to their shelf."})
        told = {name: form.words(f"{name}{mark}") for name in ("place", "machine", "note")}
        return intake.take_in(
            db, piece_id=piece.id, sign_id=sign_id, goes_to=form[f"goes_to{mark}"], now=now, by=by, **told
        )  # fmt: skip

    def shown(name: str, words: str) -> None:
        what = "damage" if name == "damage" else "intake"
        for photo in form.photos(f"{name}{mark}"):
            photos.keep(db, what=what, photo=photo, piece_id=piece.id, words=words, now=now, by=by)

    return (
        here,
        *(partial(shown, side, side) for side in SIDES),
        partial(shown, "damage", form.words(f"damage_words{mark}")),
        lambda: condition.look(db, piece_id=piece.id, answers=_answers(form, mark), now=now, by=by),
        lambda: _worth(desk, db, piece.id, form, mark, by),
    )


def _anything(form: Form, mark: str) -> bool:
    """Whether something was told of a piece whose sign was not looked at."""
    told = ("bits", "declared", "risk", "damage_words")
    answered = any(said != "not_looked" for said in _answers(form, mark).values())
    return answered or any(form[f"{name}{mark}"].strip() for name in told) or any(
        f"{name}{mark}" in form.files for name in (*SIDES, "damage")
    )  # fmt: skip


def _answers(form: Form, mark: str) -> dict[str, str]:
    return {word: form[f"{word}{mark}"] for word in condition.WORDS if form[f"{word}{mark}"]}


def _worth(desk: Desk, db: Session, piece_id: int, form: Form, mark: str, by: int) -> None:
    lines = form.words(f"bits{mark}").splitlines()
    if any(line.strip() for line in lines):
        condition.add_bits(db, piece_id=piece_id, lines=lines, now=desk.now, by=by)
    amount, risk = form.words(f"declared{mark}"), form[f"risk{mark}"]
    if amount or risk:
        condition.declare(db, piece_id=piece_id, amount=amount, risk=risk, now=desk.now, by=by)


def _came_at(desk: Desk, form: Form) -> datetime | None:
    """When it really was, where it is entered afterwards, by the shop's own clock."""
    told = form.moment("came_at", ZoneInfo(desk.shop.zone))
    form.check()
    if told and told > desk.now:
        raise TryAgain({"came_at": "That time is still to come. Write when it came in."})
    return told


def _page(desk: Desk, no: int, form: Form) -> Response:
    job = jobs.by_no(desk.db, no)
    every = [piece for piece in jobs.pieces(desk.db, job.id) if _may_come(piece)]
    ids = [piece.id for piece in every]
    bits = condition.bits_of(desk.db, ids)
    for piece in every:
        told = {"goes_to": piece.goes_to, "machine": piece.machine, "place": piece.place, "note": piece.note}
        for name, text in told.items():
            form.typed.setdefault(f"{name}_{piece.n}", text)
    all_kinds = form["all_kinds"] == "yes"
    kinds = {
        piece.id: look_alikes(desk, parts.variant(desk.db, piece.variant_id) if piece.variant_id else None, all_kinds)
        for piece in every
    }
    return desk.page(
        "intake/page.html", sheet="Taking in", here="job", job_no=no, job=job, form=form, pieces=every, kinds=kinds,
        all_kinds=all_kinds,
        customer=customers.one(desk.db, job.customer_id), words=condition.WORDS, answers=condition.ANSWERS,
        looked={piece_id: condition.standing(desk.db, piece_id) for piece_id in ids}, goes=GOES, risks=RISKS,
        worth={piece_id: condition.declared(desk.db, piece_id) for piece_id in ids}, sides=SIDES,
        bits={piece_id: [bit for bit in bits if bit.piece_id == piece_id] for piece_id in ids},
        photos=photos.of_pieces(desk.db, ids),
        seen_photos=sign_photos(desk, [one for some in kinds.values() for one in some]),
        newest=max((history.newest_of_piece(desk.db, piece_id) for piece_id in ids), default=0),
        printed=[paper for paper in papers.of_job(desk.db, job.id) if paper.kind == "stub"],
        weighed=weighing.of_pieces(desk.db, every), job_photos=_of_the_job(desk, job.id), photo=Form(),
    )  # fmt: skip


def _of_the_job(desk: Desk, job_id: int) -> list[photos.PhotoFacts]:
    return [photo for photo in photos.of_job(desk.db, job_id) if photo.piece_id is None]
