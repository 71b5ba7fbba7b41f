"""Figures that look like a slip of the unit or of a radius: held against last time's, and against the drawing."""

from collections.abc import Iterator

from sqlmodel import Session, col, func, select

from shopapp.bench import clash, quantities
from shopapp.bench.cuts import CUT_KINDS
from shopapp.bench.errors import BenchError
from shopapp.office import cutting, drawing, workings
from shopapp.office.drawing import CutsTyped, Typed
from shopapp.office.sheets.working import WorkingSheet
from shopapp.office.tables.jobs import Job, Piece
from shopapp.office.tables.weighing import Size

NEAR = 0.05
"""How near a Ø must be to a drawn one to be taken for it, as a part of it; common practice, no source."""
DEEPEST = 0.20
"""How much of a drawn Ø a cut may take before its half is looked at as a radius; common practice, no source."""


def of_size(db: Session, *, piece_id: int, name: str, mm: float) -> str:
    """A question where a measured size is a suspicious multiple of the last one of that name on that variant."""
    variant_id = db.exec(select(Piece.variant_id).where(Piece.id == piece_id)).first()
    if variant_id is None:
        return ""
    row = db.exec(
        select(Size.mm, Size.typed, Size.unit, Job.no, Piece.n)
        .join(Piece, Piece.id == Size.piece_id)
        .join(Job, Job.id == Piece.job_id)
        .where(Piece.variant_id == variant_id, func.lower(func.trim(Size.name)) == name.strip().lower())
        .order_by(col(Size.id).desc())
        .limit(1)
    ).first()
    if row is None or not (words := clash.ratio_watch(mm, row[0])):
        return ""
    was = row[1] if any(letter.isalpha() for letter in row[1]) else f"{row[1]} {row[2]}"
    return f"{words[0].upper()}{words[1:]} The last {name.strip()} was {was}, on {row[3]}-{row[4]}."


def of_cuts(db: Session, *, variant_id: int, job_id: int, typed: CutsTyped) -> tuple[str, ...]:
    """What looks like a slip in typed cuts: against last time's cuts, then against the drawing."""
    last = cutting.last_plan(db, variant_id, but_job=job_id)
    was = dict(_sizes(last.typed)) if last else {}
    _, body = cutting.body_of(db, variant_id)
    drawn = [mm for mm in _diameters(body) if mm > 0] if body else []
    said = []
    for (i, row, name), mm in _sizes_by_row(typed):
        label = next(size.label for size in CUT_KINDS[row.kind].sizes if size.name == name)
        before = was.get(_key(typed, i, name))
        words = clash.ratio_watch(mm, before) if before else None
        if words := words or _against_drawing(row, name, mm, drawn):
            said.append(f"Cut {i + 1}, {label}: {words}")
    if last and (words := _web(typed, last.typed)):
        said.append(f"Web: {words}")
    return tuple(said)


def working(said: tuple[str, ...]) -> tuple[WorkingSheet, ...]:
    """How such a slip is seen."""
    return (workings.of(clash.ratio_watch, figure="looks like a slip"),) if said else ()


def _web(typed: CutsTyped, last: CutsTyped) -> str:
    now, before = _read(typed.web, typed.unit), _read(last.web, last.unit)
    return (clash.ratio_watch(now, before) or "") if now and before else ""


def _against_drawing(row: Typed, name: str, mm: float, drawn: list[float]) -> str:
    """A Ø that is no drawn one, and half or twice or 25.4 times of one; or whose double is what a cut would leave."""
    kinds = {size.name: size.kind for size in CUT_KINDS[row.kind].sizes}
    if kinds[name] != "diameter" or not drawn or any(abs(mm - one) <= NEAR * one for one in drawn):
        return ""
    for one in drawn:
        if words := clash.ratio_watch(mm, one):
            return words.replace("last time's", "the drawing's")
    outside = max(drawn)
    if row.kind == "turn" and name == "to" and (1 - DEEPEST) * outside <= 2 * mm <= outside:
        return f"twice of it is near the drawn {quantities.show_length(outside, 'in')} outside: a radius?"
    return ""


def _diameters(body: drawing.BodyTyped) -> Iterator[float]:
    drawn, _ = drawing.read_body(body)
    for part in drawn.body.parts if drawn.body else ():
        for name, value in vars(part).items():
            if name.startswith(("outside", "inside", "diameter")):
                yield float(value)


def _sizes_by_row(typed: CutsTyped) -> Iterator[tuple[tuple[int, Typed, str], float]]:
    for i, row in enumerate(typed.cuts):
        if row.kind not in CUT_KINDS:
            continue
        for name, text in row.sizes.items():
            if mm := _read(text, typed.unit):
                yield (i, row, name), mm


def _sizes(typed: CutsTyped) -> Iterator[tuple[tuple[str, str, int, str], float]]:
    for (i, _, name), mm in _sizes_by_row(typed):
        yield _key(typed, i, name), mm


def _key(typed: CutsTyped, i: int, name: str) -> tuple[str, str, int, str]:
    """The same cut of two lists: side, kind, the how-manieth of that kind on that side, and the size's name."""
    row = typed.cuts[i]
    before = sum((one.side, one.kind) == (row.side, row.kind) for one in typed.cuts[:i])
    return row.side, row.kind, before, name


def _read(text: str, unit: str) -> float | None:
    if not text.strip():
        return None
    try:
        return quantities.length(text, unit).amount
    except BenchError:
        return None
