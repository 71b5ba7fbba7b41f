"""Aim on the section board: one size of one cut, found for a wanted finished mass, mass removed or inertia."""

from collections.abc import Mapping
from dataclasses import dataclass

from sqlmodel import Session

from shopapp.bench import aim, quantities
from shopapp.bench.aim import Aimed
from shopapp.bench.cuts import CUT_KINDS, Cut
from shopapp.bench.errors import BenchError
from shopapp.bench.rounding import fixed
from shopapp.office import cutting, drawing, parts, workings
from shopapp.office.drawing import CutsTyped, Drawn, Typed
from shopapp.office.parts import VariantFacts
from shopapp.office.sheets.working import WorkingSheet

AIMS = aim.AIMS
"""What can be aimed for, with its words."""
INERTIA = "g·m²"
PLACES = {"in": 4, "mm": 3}


@dataclass(frozen=True)
class AimFacts:
    """What an aim comes to: the sentence, whether it is reached, and the text for each field that it sets."""

    reached: bool
    words: str
    fields: Mapping[str, str]
    workings: tuple[WorkingSheet, ...]


def unit_of(what: str, unit: str) -> str:
    """The unit that stands on the wanted figure: of mass, or of inertia."""
    return INERTIA if what == "inertia" else "lb" if unit == "in" else "g"


def choices(typed: CutsTyped) -> list[tuple[str, str]]:
    """The sizes that can be looked for: of each row that is typed into, those that make its cut larger."""
    found = []
    for i, row in enumerate(typed.cuts):
        if row.empty() or row.kind not in CUT_KINDS:
            continue
        spec = CUT_KINDS[row.kind]
        found += [
            (f"{i}.{size.name}", f"cut {i + 1}, {spec.words}: {size.label}")
            for size in spec.sizes if size.name in aim.FREE[row.kind]
        ]  # fmt: skip
    return found


def find(db: Session, *, variant_id: int, typed: CutsTyped, size: str, what: str, wanted: str) -> AimFacts | None:
    """The size that reaches what is wanted, or what stops it; nothing while the aim is not typed to its end."""
    if not (size and what in AIMS and wanted.strip()):
        return None
    try:
        return _found(parts.variant(db, variant_id), _drawn(db, variant_id), typed, size, what, wanted)
    except BenchError as refusal:
        return AimFacts(False, str(refusal), {}, ())


def _drawn(db: Session, variant_id: int) -> Drawn:
    _, body = cutting.body_of(db, variant_id)
    return drawing.read_body(body)[0] if body else Drawn(None)


def _wanted(text: str, what: str, unit: str) -> float:
    if what == "inertia":
        return float(quantities.number(text.replace(INERTIA, ""))) * 1e6
    return quantities.mass(text, unit_of(what, unit)).amount


def _found(variant: VariantFacts, drawn: Drawn, typed: CutsTyped, size: str, what: str, wanted: str) -> AimFacts | None:
    row, _, name = size.partition(".")
    which = int(row) if row.isdecimal() else len(typed.cuts)
    cuts, places = _cuts(typed, which, name)
    if which not in places:
        return None
    goal, at = _wanted(wanted, what, typed.unit), places.index(which)
    told = aim.aim(
        drawn.body, cuts, at, name, goal, what, float(variant.density), drawn.keeps, drawn.web, drawn.wall
    )  # fmt: skip
    text = _text(told.size, typed.unit)
    along = aim.followers(cuts, at, name)
    fields = {f"cut_{places[place]}_{other}": text for place, other in ((at, name), *along)}
    return AimFacts(told.reached, told.words, fields, _workings(variant, told, what, wanted, text))


def _cuts(typed: CutsTyped, which: int, name: str) -> tuple[list[Cut], list[int]]:
    """The cuts that can be read and the rows they stand in; the free size may still be empty."""
    cuts, places = [], []
    for i, row in enumerate(typed.cuts):
        free = i == which and not row.sizes.get(name, "").strip()
        filled = Typed(row.kind, {**row.sizes, name: "1"}, row.side) if free else row
        found, _, _ = drawing.read_cuts(CutsTyped(typed.unit, (filled,), typed.web))
        if found:
            sizes = {key: mm for key, mm in found[0].sizes.items() if not (free and key == name)}
            cuts.append(Cut(found[0].side, found[0].kind, sizes))
            places.append(i)
    return cuts, places


def _text(mm: float, unit: str) -> str:
    worth = float(quantities.WORTH[unit])
    return f"{fixed(mm / worth, PLACES[unit])} {unit}"


def _workings(variant: VariantFacts, told: Aimed, what: str, wanted: str, text: str) -> tuple[WorkingSheet, ...]:
    inputs: tuple[tuple[str, str], ...] = (
        (f"{AIMS[what]} wanted", wanted),
        ("material", f"{variant.material_words} g/cm³"),
    )
    if not told.reached:
        inputs = (*inputs, ("stopped by", told.limit))
    return (workings.of(aim.aim, figure="the size", value=text, inputs=inputs),)
