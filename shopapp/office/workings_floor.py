"""The working behind what stands at the machine: stop, passes, speed and power of a card; readings in the chuck."""

import re
from collections.abc import Sequence

from shopapp.bench import passes, passplan, power, speeds, truing, truing_face
from shopapp.office import runcard, workings
from shopapp.office.equipment import DIALS, MachineFacts
from shopapp.office.runcard import SIZES, CardTyped, CutLines, StopSum
from shopapp.office.sheets.working import WorkingSheet
from shopapp.office.truing import READS, SURFACES, Judged, TruingTyped

_HAS_UNIT = re.compile(r"[a-z\"'″′]", re.IGNORECASE)

Pairs = tuple[tuple[str, str], ...]


def of_card(
    typed: CardTyped, unit: str, stop: StopSum | None, cuts: Sequence[CutLines], machine: MachineFacts | None
) -> tuple[WorkingSheet, ...]:
    """Every figure of a setting card, with its sizes as typed."""
    found = []
    if stop:
        inputs = _typed(typed, unit, "back_off", "extra_feed", "least")
        value = f"{stop.clearance} {unit}"
        found.append(workings.of(passes.stop_clearance, figure="clear at the stop", value=value, inputs=inputs))
    for cut in cuts:
        name = f"{cut.words}, {cut.sizes}" if cut.sizes else cut.words
        found += [*_passes(cut, name, typed, unit, machine), *_speed(cut, name, typed, unit, machine)]
        found += [*_minutes(cut, name, typed, unit), *_motor(cut, name, typed, unit, machine)]
    return tuple(found)


def of_truing(surface: str, typed: TruingTyped, judged: Judged | None) -> tuple[WorkingSheet, ...]:
    """Every figure of readings round a surface, with the readings as typed; none while some are still to read."""
    if judged is None:
        return ()
    unit = "mm" if typed.reads == "mm" else "in"
    readings = " ".join(typed.readings)
    inputs: Pairs = ((f"{SURFACES[surface]}, round from jaw 1", f"{readings} {READS[typed.reads]}"),)
    if surface == "face":
        inputs = (*inputs, ("read at Ø", _with_unit(typed.diameter, unit)))
        said = f"{truing.thin(judged.offset_mm, unit)} at Ø {_with_unit(typed.diameter, unit)}"
        first = workings.of(truing_face.face, figure="face tilt", value=said, inputs=inputs)
    else:
        off = truing.thin(judged.offset_mm / 2, unit)
        first = workings.of(truing.circle, figure="eccentricity", value=off, inputs=inputs)
    return (first, *_move(judged, typed), *_left_over(surface, judged, unit, inputs))


def _move(judged: Judged, typed: TruingTyped) -> tuple[WorkingSheet, ...]:
    """What the jaws do, if they do anything."""
    if not judged.jaws:
        return ()
    allowed = _with_unit(typed.limit, READS[typed.reads]) if typed.limit.strip() else ".0005 in (0.013 mm), the usual"
    inputs = (*((f"jaw {jaw}", words) for jaw, words in judged.jaws), ("run-out allowed", allowed))
    return (workings.of(truing.moves, figure="the move", inputs=inputs),)


def _left_over(surface: str, judged: Judged, unit: str, inputs: Pairs) -> tuple[WorkingSheet, ...]:
    """What no jaw can help; three readings cannot tell it."""
    if judged.oval_mm is None:
        return ()
    figure = "not flat" if surface == "face" else "out-of-round"
    return (workings.of(truing.circle, figure=figure, value=truing.thin(judged.oval_mm, unit), inputs=inputs),)


def _passes(
    cut: CutLines, name: str, typed: CardTyped, unit: str, machine: MachineFacts | None
) -> tuple[WorkingSheet, ...]:
    """How the stock was parted into passes, and what the dial shows for them."""
    if not cut.passes:
        return ()
    stock = (("stock", cut.stock.split(";")[0].removeprefix("stock ")),)
    depths = ", ".join(one.depth for one in cut.passes)
    inputs = (*stock, *_typed(typed, unit, "most_per_pass", "finish"))
    planned = workings.of(passplan.depths, figure=f"passes, {name}", value=f"{depths} {unit}", inputs=inputs)
    last = cut.passes[-1]
    if not last.dial:
        return (planned,)
    reads = "the depth, for a face" if cut.is_face or machine is None else DIALS[machine.dial]
    told = (("depth of each", depths), ("the dial reads", reads))
    figure, value = f"on the dial in all, {name}", f"{last.dial_so_far} {unit}"
    return (planned, workings.of(passplan.dial, figure=figure, value=value, inputs=told))


def _speed(
    cut: CutLines, name: str, typed: CardTyped, unit: str, machine: MachineFacts | None
) -> tuple[WorkingSheet, ...]:
    """How the revolutions were found; what the sources recommend, where no speed is typed."""
    if not typed.speed.strip():
        if not cut.speed:
            return ()
        return (workings.of(speeds.recommended, figure=f"cutting speed, {name}", inputs=(("sources", cut.speed),)),)
    if not cut.rpm:
        return ()
    asked = _typed(typed, unit, "speed")
    figure, value = f"revolutions to set, {name}", f"{cut.rpm} rpm"
    chosen = workings.of(speeds.choose, figure=figure, value=value, inputs=(*asked, *_machine(machine)))
    if runcard.read(typed, unit)[0]["speed"].unit == "rpm":
        return (chosen,)
    inputs = (*asked, ("outermost", cut.across))
    return (workings.of(speeds.revolutions, figure=f"revolutions wanted, {name}", inputs=inputs), chosen)


def _machine(machine: MachineFacts | None) -> Pairs:
    if machine is None:
        return ()
    return (("chuck bears", f"{machine.chuck_limit} rpm"), ("its speeds", machine.speeds_text or "any"))


def _minutes(cut: CutLines, name: str, typed: CardTyped, unit: str) -> tuple[WorkingSheet, ...]:
    if not cut.minutes:
        return ()
    inputs = (
        *_typed(typed, unit, "feed"), ("each pass", cut.way), ("passes", str(len(cut.passes))),
        ("revolutions", f"{cut.rpm} rpm"),
    )  # fmt: skip
    function = speeds.facing_minutes if cut.is_face else speeds.turning_minutes
    return (workings.of(function, figure=f"minutes, {name}", value=cut.minutes_text, inputs=inputs),)


def _motor(
    cut: CutLines, name: str, typed: CardTyped, unit: str, machine: MachineFacts | None
) -> tuple[WorkingSheet, ...]:
    """What the deepest pass asks of the motor, where that was told."""
    if not cut.motor or machine is None:
        return ()
    inputs = (
        ("deepest pass", cut.deepest), *_typed(typed, unit, "feed"), ("revolutions", f"{cut.rpm} rpm at {cut.across}"),
        ("the motor has", f"{machine.motor_kw} kW"),
    )  # fmt: skip
    return (workings.of(power.load, figure=f"asked of the motor, {name}", value=cut.motor, inputs=inputs),)


def _typed(typed: CardTyped, unit: str, *names: str) -> Pairs:
    """Sizes of a card as typed, with the unit that stood on the field where none was typed."""
    surface = "m/min" if unit == "mm" else "ft/min"
    told = ((name, getattr(typed, name).strip()) for name in names)
    return tuple((SIZES[name], _with_unit(text, surface if name == "speed" else unit)) for name, text in told if text)


def _with_unit(text: str, unit: str) -> str:
    said = text.strip()
    return said if _HAS_UNIT.search(said) else f"{said} {unit}"
