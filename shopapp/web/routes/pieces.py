"""The piece card: the signs that tell it from its twin, its way through the shop, its sizes and its kind's history."""

from fastapi import APIRouter
from starlette.responses import Response

from shopapp.office import intake, jobs, sizes, weighing
from shopapp.office.database import Session
from shopapp.office.tracks import CUSTODY
from shopapp.web.desk import Asked, At, Sent
from shopapp.web.jobsheet import GOES
from shopapp.web.piececard import UNITS, card

router = APIRouter()


@router.get("/jobs/{no}/{n:int}", name="pieces.page")
def page(desk: At, no: int, n: int, all_kinds: str = "") -> Response:
    """One piece, its whole life."""
    return card(desk, no, n, all_kinds=bool(all_kinds))


@router.get("/pieces/{no:int}-{n:int}", name="pieces.tag")
def tag(desk: At, no: int, n: int) -> Response:
    """What the code on a tag opens: the scale where the piece waits for it, else its card."""
    piece = jobs.piece(desk.db, no, n)
    weighed = weighing.of_pieces(desk.db, [piece])[piece.id]
    waits = weighed.before is None if piece.custody == "rack" else weighed.before and weighed.after is None
    to = "weighing.page" if waits and piece.custody in ("rack", "chuck") else "pieces.page"
    return desk.lead_on(desk.url(to, no=no, n=n))


@router.post("/jobs/{no}/{n:int}/take-in", name="pieces.take_in")
def take_in(desk: At, no: int, n: int, form: Sent) -> Response:
    """The piece is here; the sign that was seen says which it is."""
    warning: list[str] = []

    def act(db: Session, by: int) -> str:
        told = {"place": form.words("place"), "machine": form.words("machine"), "note": form.words("note")}
        sign_id = form.key("sign", "Look at the piece and choose the sign that you see on it.")
        goes_to = form.one_of("goes_to", dict(GOES), "Say where it goes: to the machine, or to their shelf.")
        form.check()
        piece_id = jobs.piece(db, no, n).id
        desk.stale(db, form, piece_id, by)
        said = intake.take_in(
            db, piece_id=piece_id, sign_id=sign_id or 0, goes_to=goes_to, now=desk.now, by=by, **told
        )  # fmt: skip
        warning.append(said)
        return desk.url("pieces.page", no=no, n=n) if said else desk.url("jobs.page", no=no)

    return desk.submit(form, act, lambda: card(desk, no, n, take_in=form), notice=lambda: "".join(warning))


@router.post("/jobs/{no}/{n:int}/move", name="pieces.move")
def move(desk: At, no: int, n: int, form: Sent) -> Response:
    """The piece goes on along its track, or back."""

    def act(db: Session, by: int) -> str:
        reason, place = form.words("reason"), form.words("place") if "place" in form.typed else None
        to = form.one_of("to", CUSTODY, "Say where it goes: press one of the buttons.")
        form.check()
        piece_id = jobs.piece(db, no, n).id
        desk.stale(db, form, piece_id, by)
        intake.move(db, piece_id=piece_id, to=to, reason=reason, place=place, now=desk.now, by=by)
        return desk.url("jobs.page", no=no)

    return desk.submit(form, act, lambda: card(desk, no, n, move=form))


@router.post("/jobs/{no}/{n:int}/sizes", name="pieces.measure")
def measure(desk: At, no: int, n: int, form: Sent) -> Response:
    """A size measured on the piece."""

    def act(db: Session, by: int) -> str:
        told = {"name": form.words("size_name"), "typed": form.words("size"), "note": form.words("size_note")}
        unit, sure = form.one_of("unit", UNITS, "The unit is in or mm."), form.ticked("size_sure")
        form.check()
        piece_id = jobs.piece(db, no, n).id
        desk.stale(db, form, piece_id, by)
        sizes.measure(
            db, piece_id=piece_id, unit=unit, instrument=form["instrument"], sure=sure, now=desk.now, by=by, **told
        )  # fmt: skip
        return desk.url("pieces.page", no=no, n=n) + "#sizes"

    return desk.submit(form, act, lambda: card(desk, no, n, measure=form))


@router.get("/jobs/{no}/{n:int}/sizes/clash", name="pieces.clash")
def clash(desk: At, no: int, n: int, form: Asked) -> Response:
    """Two sizes told of one thing, held against each other while the second is typed."""
    told = {name: form[name] for name in ("unit", "instrument")}
    question = sizes.asks(desk.db, typed=form["size"], note=form["size_note"], **told)
    return desk.fragment("pieces/_sizes.html", "clash", question=question)
