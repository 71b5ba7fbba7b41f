"""The piece card: the signs that tell it from its twin, its way through the shop, its sizes and its kind's history."""

from fastapi import APIRouter
from starlette.responses import Response

from shopapp.office import cutting, history, intake, jobs, lasttime, parts, sizes, weighing
from shopapp.office.database import Session
from shopapp.office.jobs import PieceFacts
from shopapp.office.parts import VariantFacts
from shopapp.office.tracks import CUSTODY, MOVES
from shopapp.web import nextstep
from shopapp.web.desk import At, Desk, Sent
from shopapp.web.forms import Form
from shopapp.web.jobsheet import GOES, VERDICTS

router = APIRouter()
UNITS = ("in", "mm")
WORDS = {
    "rack": "Back to the rack",
    "chuck": "Into the chuck",
    "checked": "It is checked",
    "shelf": "Onto the pick-up shelf",
    "spoiled": "It is spoiled",
    "sent_back": "Send it back uncut",
}
"""What the buttons say; taking in and handing over have forms of their own."""


@router.get("/jobs/{no}/{n:int}", name="pieces.page")
def page(desk: At, no: int, n: int, all_kinds: str = "") -> Response:
    """One piece, its whole life."""
    return _card(desk, no, n, all_kinds=bool(all_kinds))


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

    return desk.submit(form, act, lambda: _card(desk, no, n, take_in=form), notice=lambda: "".join(warning))


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

    return desk.submit(form, act, lambda: _card(desk, no, n, move=form))


@router.post("/jobs/{no}/{n:int}/sizes", name="pieces.measure")
def measure(desk: At, no: int, n: int, form: Sent) -> Response:
    """A size measured on the piece."""

    def act(db: Session, by: int) -> str:
        told = {"name": form.words("size_name"), "typed": form.words("size"), "note": form.words("size_note")}
        unit = form.one_of("unit", UNITS, "The unit is in or mm.")
        form.check()
        piece_id = jobs.piece(db, no, n).id
        desk.stale(db, form, piece_id, by)
        sizes.measure(
            db, piece_id=piece_id, unit=unit, instrument=form["instrument"], now=desk.now, by=by, **told
        )  # fmt: skip
        return desk.url("pieces.page", no=no, n=n) + "#sizes"

    return desk.submit(form, act, lambda: _card(desk, no, n, measure=form))


def _card(desk: Desk, no: int, n: int, *, all_kinds: bool = False, **sent: Form) -> Response:
    piece = jobs.piece(desk.db, no, n)
    weighed = weighing.of_pieces(desk.db, [piece])[piece.id]
    lines = history.of_piece(desk.db, piece.id)
    own = parts.variant(desk.db, piece.variant_id) if piece.variant_id else None
    planned = frozenset(variant_id for _, variant_id in cutting.newest_plans(desk.db, {piece.job_id}))
    last = lasttime.of_variant(desk.db, own.id, most=6) if own else []
    forms = {name: sent.get(name) or Form(typed=_typed(name, piece)) for name in ("take_in", "move", "measure")}
    return desk.page(
        "pieces/page.html", sheet=piece.number, here="job", job_no=no, piece=piece, job=jobs.by_no(desk.db, no),
        own=own, weighed=weighed, readings=weighing.readings(desk.db, piece.id), lines=lines, forms=forms,
        sizes=sizes.of_piece(desk.db, piece.id), unit=own.unit if own else desk.shop.unit, goes=GOES,
        instruments=[(name, name) for name in sizes.INSTRUMENTS], custody=CUSTODY, verdicts=VERDICTS,
        kinds=_look_alikes(desk, own, all_kinds), all_kinds=all_kinds, moves=_moves(piece),
        missing=_missing(desk, piece), last=[time for time in last if time.number != piece.number][:5],
        warnings=[line.words for line in lines if line.act == "look-alike"],
        step=nextstep.of_piece(piece, weighed, planned), fresh=lambda: Form().once,
        problems=next((form.problems for form in sent.values() if form.problems), {}),
        newest=history.newest_of_piece(desk.db, piece.id),
    )  # fmt: skip


def _typed(name: str, piece: PieceFacts) -> dict[str, str]:
    if name == "take_in":
        return {"goes_to": piece.goes_to, "machine": piece.machine, "place": piece.place, "note": piece.note}
    return {"place": piece.place} if name == "move" else {}


def _look_alikes(desk: Desk, own: VariantFacts | None, all_kinds: bool) -> list[tuple[str, list[VariantFacts]]]:
    """Those that can be mistaken for each other, by part: the look-alikes of the part asked for, or all."""
    if own and not all_kinds:
        return [(own.part, parts.variants(desk.db, own.part_id))]
    groups: dict[str, list[VariantFacts]] = {}
    for variant in parts.all_variants(desk.db):
        groups.setdefault(variant.part, []).append(variant)
    return list(groups.items())


def _moves(piece: PieceFacts) -> list[tuple[str, str]]:
    if piece.custody == "expected":
        return []
    return [(to, WORDS[to]) for to in MOVES[piece.custody] if to in WORDS]


def _missing(desk: Desk, piece: PieceFacts) -> list[str]:
    """What is still wanted before the first chip, while the piece is in the rack."""
    if piece.custody != "rack":
        return []
    return intake.missing_before_cutting(desk.db, jobs.piece_row(desk.db, piece.id))
