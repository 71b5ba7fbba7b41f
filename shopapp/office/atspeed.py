"""What a part has to bear at a speed that the customer states: information only, no speed rating given."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from sqlmodel import Session

from shopapp.bench import cuts, quantities, spinning, unbalance
from shopapp.bench import turns as revolutions
from shopapp.bench.errors import BenchError
from shopapp.bench.outline import outline
from shopapp.bench.rounding import fixed, significant
from shopapp.bench.unitwords import with_unit
from shopapp.office import cutting, drawing, parts, workings
from shopapp.office.parts import VariantFacts
from shopapp.office.sheets.working import WorkingSheet

IRONS = ("grey_iron", "ductile_iron")
POISSON = {True: 0.26, False: 0.3}
GRADES = tuple(sorted(unbalance.GRADES, key=lambda name: (name != "G 6.3", -unbalance.GRADES[name].g)))
"""The balance grades, the one of general machinery first."""


@dataclass(frozen=True)
class AtSpeed:
    """Figures, sentences and cautions for a part at a speed; `over`: beyond the old limit for rims of cast iron."""

    figures: tuple[tuple[str, str, str], ...] = ()
    sentences: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    over: bool = False
    workings: tuple[WorkingSheet, ...] = ()
    problems: Mapping[str, str] = field(default_factory=dict)


def grades() -> list[tuple[str, str]]:
    """The balance grades with what commonly turns at each."""
    return [(name, f"{name}, {unbalance.GRADES[name].words}") for name in GRADES]


def of_variant(db: Session, *, variant_id: int, turns: str, off: str = "", grade: str = "") -> AtSpeed | None:
    """The drawn part at these revolutions, and a bore so far off its centre; nothing while no speed is typed."""
    variant = parts.variant(db, variant_id)
    _, typed = cutting.body_of(db, variant_id)
    drawn = drawing.read_body(typed)[0] if typed else None
    if not turns.strip() or drawn is None or drawn.body is None:
        return None
    try:
        rpm = revolutions.turns(turns).amount
    except BenchError as hint:
        return AtSpeed(problems={"turns": str(hint)})
    try:
        found = _spun(variant, drawn.body, rpm, turns)
        return _with_bore(variant, drawn.body, found, rpm, off, grade) if off.strip() else found
    except BenchError as hint:
        return AtSpeed(problems={"off" if off.strip() else "turns": str(hint)})


def _spun(variant: VariantFacts, body: cuts.Body, rpm: float, turns: str) -> AtSpeed:
    shape, iron = outline(body.parts), variant.material in IRONS
    _, bore, _, outside = (2 * edge for edge in shape.bounds)
    density = float(variant.density)
    told = spinning.spin(outside, bore, rpm, density, iron, POISSON[iron])
    rim, ring, peak = (significant(value, 3) for value in (told.rim_speed, told.ring, told.peaks.hoop))
    inputs = (
        ("turns, as the customer states", with_unit(turns, "rpm")),
        ("outside Ø", quantities.show_length(outside, variant.unit)),
        ("bore Ø", quantities.show_length(bore, variant.unit)), ("material", f"{variant.material_words} g/cm³"),
    )  # fmt: skip
    facts, rest = told.sentences[:2], told.sentences[2:]
    return AtSpeed(
        figures=(("rim speed", rim, "m/s"), ("that is", fixed(told.rim_speed / 0.3048, 0), "ft/s"),
                 ("thin ring", ring, "MPa"), ("flat disc, peak", peak, "MPa")),
        sentences=(rest[0], *facts) if told.over else facts, cautions=rest[1:] if told.over else rest,
        over=told.over,
        workings=(
            workings.of(spinning.rim_speed, figure="rim speed", value=f"{rim} m/s", inputs=inputs),
            workings.of(spinning.ring_stress, figure="thin ring", value=f"{ring} MPa"),
            workings.of(spinning.peaks, figure="flat disc, peak", value=f"{peak} MPa"),
            workings.of(spinning.spin, figure="limit for cast iron", value="over it" if told.over else ""),
        ),
    )  # fmt: skip


def _with_bore(variant: VariantFacts, body: cuts.Body, found: AtSpeed, rpm: float, off: str, grade: str) -> AtSpeed:
    mass, by = cuts.mass_of(body, float(variant.density)), quantities.length(off, variant.unit).amount
    told = unbalance.off_centre(mass, by, grade or GRADES[0], rpm)
    made, allowed = f"{significant(told.made, 3)} g·mm", f"{significant(told.allowed, 3)} g·mm"
    inputs = (
        ("weighs, as drawn", quantities.show_mass(mass, "lb" if variant.unit == "in" else "g")),
        ("bore off centre by", with_unit(off, variant.unit)), ("grade", grade or GRADES[0]),
    )  # fmt: skip
    return AtSpeed(
        figures=(*found.figures, ("the new bore leaves", *made.rsplit(" ", 1)), ("may stay", *allowed.rsplit(" ", 1))),
        sentences=(*found.sentences, *told.sentences[:2]),
        cautions=(*found.cautions, told.sentences[2]), over=found.over,
        workings=(
            *found.workings,
            workings.of(unbalance.off_centre, figure="the new bore leaves", value=made, inputs=inputs),
            workings.of(unbalance.unbalance_allowed, figure="may stay", value=allowed),
        ),
    )  # fmt: skip
