"""The final check of a piece: sizes measured beside the plan, bevels and keep-outs ticked, the prediction run again.

What is to be measured comes from the cuts as typed; nothing measured is ever filled in from them.
"""

from dataclasses import dataclass, replace
from datetime import datetime
from fractions import Fraction

from sqlmodel import Session, func, select

from shopapp.bench import quantities, rounding
from shopapp.bench.cuts import Cut, removal
from shopapp.bench.errors import BenchError
from shopapp.bench.outline import ALMOST, outline
from shopapp.office import cutting, drawing, gate, history, jobs, parts, photos, removals, sizes, truing, weighing
from shopapp.office.cutting import PlanFacts
from shopapp.office.drawing import BodyTyped, CutsTyped, Drawn, Typed
from shopapp.office.errors import TryAgain
from shopapp.office.folding import folded
from shopapp.office.sheets.canon import to_json
from shopapp.office.sizes import SizeFacts
from shopapp.office.tables.cutrun import FinalTick
from shopapp.office.tables.cutting import CutPlan
from shopapp.office.tables.jobs import Piece
from shopapp.office.tables.parts import Body
from shopapp.office.weighing import Weighed

_SIZED = {
    "turn": (("outside", "to"),),
    "bore": (("bore", "to"),),
    "groove": (("groove bottom", "to"),),
    "taper": (("taper start", "start_diameter"), ("taper end", "end_diameter")),
}
"""What a cut leaves to be measured: the words, and the name of its size."""


_FINE, _COARSE = 0.01, 1.0
"""An instrument good to less than a hundredth of a millimetre is read to one place more; common practice, no source."""
USUAL = ".0005 in (0.013 mm), the usual"


@dataclass(frozen=True)
class CheckLine:
    """One line of the final check. `kind` is size, tick, photo or truing; a size names what it was planned to be."""

    kind: str
    words: str
    planned: str = ""
    measured: SizeFacts | None = None
    difference: str = ""
    done: bool = False


@dataclass(frozen=True)
class FinalCheck:
    """The final check of a piece, what is still missing, and the verdict by the plan and by the sizes as measured."""

    lines: tuple[CheckLine, ...]
    missing: tuple[str, ...]
    by_plan: Weighed
    by_measured: Weighed | None
    measured_about: str = ""


@dataclass(frozen=True)
class _Wanted:
    """A size to be measured: its words, what is planned [mm], which cut it belongs to, and the size's name there."""

    words: str
    mm: float
    cut: int | None = None
    size: str = ""


@dataclass(frozen=True)
class _Planned:
    """The cuts of a piece read again, on the drawing that they were planned on."""

    plan: PlanFacts
    typed: CutsTyped
    drawn: Drawn
    cuts: list[Cut]
    rows: list[Typed]
    web_named: bool
    left: float | None
    keeps: tuple[str, ...]
    body_id: int | None


def check(db: Session, piece_id: int) -> FinalCheck:
    """The final check of a piece as it stands now."""
    piece = jobs.piece_row(db, piece_id)
    planned = _planned(db, piece)
    measured = _measured(db, piece_id)
    lines: list[CheckLine] = []
    if planned:
        unit = planned.typed.unit
        good_to = sizes.instruments(db)
        lines += [_size_line(one, measured.get(folded(one.words)), unit, good_to) for one in _wanted(planned)]
    ticked = set(db.exec(select(FinalTick.what).where(FinalTick.piece_id == piece_id)))
    lines += [CheckLine("tick", words, done=words in ticked) for words in _ticks(planned)]
    lines.append(_truing_line(db, piece_id))
    shown = any(photo.what == "finished" for photo in photos.of_piece(db, piece_id))
    lines.append(CheckLine("photo", "photo of the finished piece", done=shown))
    again = cutting.measured_plan(db, piece_id)
    return FinalCheck(
        lines=tuple(lines),
        missing=tuple(line.words for line in lines if not line.done),
        by_plan=weighing.against(db, piece_id, planned.plan if planned else None),
        by_measured=weighing.against(db, piece_id, again) if again else None,
        measured_about=again.about if again else "",
    )


def tick(db: Session, *, piece_id: int, what: str, now: datetime, by: int) -> None:
    """Tick one line of a piece's final check; a second tick of the same line changes nothing."""
    piece = jobs.piece_row(db, piece_id)
    if what not in _ticks(_planned(db, piece)):
        raise TryAgain({"what": "That line is not on this piece's list. Look at the list again."})
    if db.exec(select(FinalTick.id).where(FinalTick.piece_id == piece_id, FinalTick.what == what)).first():
        return
    db.add(FinalTick(piece_id=piece_id, what=what, by_id=by, at=now))
    db.flush()
    history.write(db, now=now, by=by, act="ticked", words=what, job_id=piece.job_id, piece_id=piece_id)


def rerun(db: Session, *, piece_id: int, now: datetime, by: int) -> int:
    """Predict again with the sizes as measured, beside the first prediction; gives the row of the new one."""
    piece = jobs.piece_row(db, piece_id)
    planned = _planned(db, piece)
    measured = _measured(db, piece_id)
    met = [one for one in _wanted(planned) if folded(one.words) in measured] if planned else []
    if planned is None or not met:
        raise TryAgain("No size of the finished piece is measured yet. Measure one of the list first.")
    typed = _as_measured(planned, met, measured)
    cuts, rows, problems = drawing.read_cuts(typed)
    if problems:
        raise TryAgain(problems)
    variant = parts.variant(db, planned.plan.variant_id)
    try:
        taken, section = removals.sheets(variant, planned.drawn, cuts, rows, unit=typed.unit)
    except BenchError as refusal:
        raise TryAgain(str(refusal)) from refusal
    if not taken.grams > 0:
        raise TryAgain("By these sizes nothing came off. Look at them again.")
    same = CutPlan.job_id == piece.job_id, CutPlan.variant_id == variant.id
    last = db.exec(select(func.max(CutPlan.version)).where(*same)).one() or 0
    row = CutPlan(
        job_id=piece.job_id, variant_id=variant.id, version=last + 1, basis="measured", piece_id=piece_id,
        body_id=planned.body_id, unit=typed.unit, typed=typed.to_json(), grams=taken.grams,
        spread=taken.sure_g / taken.grams, about=taken.about, removal=to_json(taken),
        section=to_json(section), by_id=by, at=now,
    )  # fmt: skip
    db.add(row)
    db.flush()
    words = f"by the sizes as measured about {taken.about} off; planned was {planned.plan.about}"
    history.write(db, now=now, by=by, act="predicted", words=words, job_id=piece.job_id, piece_id=piece_id)
    return row.id


def _planned(db: Session, piece: Piece) -> _Planned | None:
    plan = cutting.plan(db, piece.job_id, piece.variant_id or 0)
    if plan is None:
        return None
    body_id = db.exec(select(CutPlan.body_id).where(CutPlan.id == plan.id)).one()
    body = BodyTyped.from_json(db.get_one(Body, body_id).typed) if body_id else None
    drawn = drawing.read_body(body)[0] if body else Drawn(None)
    cuts, rows, _ = drawing.read_cuts(plan.typed)
    keeps = tuple(edge.name.strip() for edge in body.keeps if edge.name.strip()) if body else ()
    named = drawn.web is not None or bool(plan.typed.web.strip())
    return _Planned(plan, plan.typed, drawn, cuts, rows, named, _left(drawn, cuts, named), keeps, body_id)


def _left(drawn: Drawn, cuts: list[Cut], named: bool) -> float | None:
    """What the faces leave [mm]: of the web where one is named, else of the whole length."""
    if drawn.body is None:
        return None
    if not cuts:
        low, _, high, _ = outline(drawn.body.parts).bounds
        return None if named else high - low
    found = removal(drawn.body, cuts, 1.0, web=drawn.web)
    low, _, high, _ = found.stays.bounds
    return found.web_left if named else high - low


def _wanted(planned: _Planned) -> list[_Wanted]:
    """The sizes to be measured: what each cut leaves, then the web or the length."""
    found = []
    for i, cut in enumerate(planned.cuts):
        for words, name in _SIZED.get(cut.kind, ()):
            found.append(_Wanted(f"{words} {cut.side}", cut.sizes[name], i, name))
        end = "end" if cut.side == "A" else "start"
        if cut.kind == "turn" and end in cut.sizes:
            found.append(_Wanted(f"shoulder {cut.side}", cut.sizes[end], i, end))
    counts: dict[str, int] = {}
    for i, one in enumerate(found):
        counts[one.words] = counts.get(one.words, 0) + 1
        if counts[one.words] > 1:
            found[i] = replace(one, words=f"{one.words} {counts[one.words]}")
    if planned.left is not None and any(_thins(planned, i) for i in range(len(planned.cuts))):
        found.append(_Wanted(f"{_what_thins(planned)} left", planned.left))
    return found


def _ticks(planned: _Planned | None) -> list[str]:
    """Bevels that were to be made, and edges that the tool had to stay clear of."""
    if planned is None:
        return []
    bevels = [f"bevel {row.side}: {row.as_said()}" for row in planned.rows if row.kind == "bevel"]
    return list(dict.fromkeys([*bevels, *(f"{name} untouched" for name in planned.keeps)]))


def _measured(db: Session, piece_id: int) -> dict[str, SizeFacts]:
    """The newest measurement of each size by its folded name; what was only told is none."""
    rows = (row for row in sizes.of_piece(db, piece_id) if row.instrument != gate.NOT_MEASURED)
    return {folded(row.name): row for row in rows}


def _size_line(wanted: _Wanted, measured: SizeFacts | None, unit: str, good_to: dict[str, float]) -> CheckLine:
    """Plan and difference in as many places as the instrument is good for, so that the sum on the screen adds up."""
    if measured is None:
        return CheckLine("size", wanted.words, quantities.show_length(wanted.mm, unit))
    fine = good_to.get(measured.instrument, _COARSE) < _FINE
    places = {"in": 4, "mm": 3}[unit] if fine else {"in": 3, "mm": 2}[unit]
    worth = quantities.WORTH[unit]
    planned, found = (
        rounding.half_up(rounding.exact(round(mm, 6)) / worth * 10**places) for mm in (wanted.mm, measured.mm)
    )
    apart = rounding.fixed(Fraction(abs(found - planned), 10**places), places)
    off = f"{'+' if found > planned else '−'}{apart} {unit}"
    said = "as planned" if found == planned else off
    shown = quantities.show_length(round(wanted.mm, 6), unit, places)
    return CheckLine("size", wanted.words, shown, measured, said, done=True)


def _truing_line(db: Session, piece_id: int) -> CheckLine:
    """The run-out as left, with its figure, and whether it is within what was allowed."""
    left = [row for row in truing.of_piece(db, piece_id) if row.stage == "left"]
    mine = {row.surface: row for row in left if row.setting_id == left[-1].setting_id}
    said = [
        f"{row.surface} {'within' if row.judged.within else 'over'} the run-out allowed "
        f"({row.typed.limit.strip() + ' ' + truing.READS[row.typed.reads] if row.typed.limit.strip() else USUAL})"
        for row in mine.values()
    ]
    words = "; ".join([truing.last_left(db, piece_id), *said]) if left else ""
    return CheckLine("truing", "runout as left", words, done=bool(left))


def _as_measured(planned: _Planned, met: list[_Wanted], measured: dict[str, SizeFacts]) -> CutsTyped:
    """The cuts as typed, with each size that was measured in the place of the planned one."""
    rows, what = list(planned.rows), _what_thins(planned)
    for one in met:
        size = measured[folded(one.words)]
        if one.cut is not None:
            rows = _bevels_along(planned, rows, one, size.mm)
            rows[one.cut] = _with(rows[one.cut], one.size, size.mm)
        else:
            before = next((told.mm for name, told in measured.items() if gate.is_before(name, what)), None)
            rows = _faces_by_what_is_left(planned, rows, size.mm, before)
    return replace(planned.typed, cuts=tuple(rows))


def _bevels_along(planned: _Planned, rows: list[Typed], one: _Wanted, mm: float) -> list[Typed]:
    """A bevel planned on a diameter that was measured otherwise stands on the measured one."""
    turned = planned.cuts[one.cut or 0]
    was = turned.sizes.get(one.size, 0.0)
    on = [
        cut.kind == "bevel" and cut.side == turned.side and abs(cut.sizes.get("diameter", 0.0) - was) < ALMOST
        for cut in planned.cuts
    ]
    return [_with(row, "diameter", mm) if along else row for row, along in zip(rows, on, strict=True)]


def _faces_by_what_is_left(
    planned: _Planned, rows: list[Typed], left: float, before: float | None
) -> list[Typed]:  # fmt: skip
    """Faces are made as deep as the web or length says: what it was, less what is left, shared among them."""
    mine = [i for i in range(len(planned.cuts)) if _thins(planned, i)]
    depths = sum(planned.cuts[i].sizes["depth"] for i in mine)
    total = ((planned.left or 0.0) + depths if before is None else before) - left
    if total <= 0:
        what = _what_thins(planned)
        raise TryAgain(f"The {what} left is no less than the {what} was. Measure both again.")
    told = list(rows)
    for i in mine:
        told[i] = _with(rows[i], "depth", planned.cuts[i].sizes["depth"] * total / depths)
    return told


def _what_thins(planned: _Planned) -> str:
    return "web" if planned.web_named else "length"


def _thins(planned: _Planned, i: int) -> bool:
    """Whether this cut is a face that takes from the web, or from the length."""
    if planned.cuts[i].kind != "face":
        return False
    without = [cut for j, cut in enumerate(planned.cuts) if j != i]
    return _left(planned.drawn, without, planned.web_named) != planned.left


def _with(row: Typed, name: str, mm: float) -> Typed:
    return Typed(row.kind, {**row.sizes, name: f"{mm:.6f} mm"}, row.side)
