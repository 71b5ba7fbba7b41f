"""Scratch sums about truing in the four-jaw: round, face, and which surface counts."""

from collections.abc import Mapping

from shopapp.bench import truing, truing_face, truing_order
from shopapp.bench.quantities import Quantity
from shopapp.bench.rounding import fixed
from shopapp.office.scratch_form import CHUCK_KEY, READS, Answer, Field, Group, Rose, Sum, Told

BY_HAND = "Read with the motor off and the spindle turned by hand; loosen one jaw before its opposite is tightened."
_PLACES = Field(
    "places", "Places read", "choice", fits="sizes", options=tuple((n, n) for n in ("4", "6", "8", "12"))
)  # fmt: skip
_WHERE = Field("where", "Indicator on the", "choice", options=(("outside", "outside"), ("inside", "bore")))
_LIMIT = Field("limit", "Run-out allowed", "reading", False, hint="in the indicator's unit; empty: .0005 in (0.013 mm)")


def _angles(typed: Mapping[str, str]) -> list[float]:
    told = typed.get("places", "")
    count = int(told) if told in dict(_PLACES.options) else 4
    return [360 * i / count for i in range(count)]


def _place(angle: float) -> str:
    jaw, past = divmod(angle, 90)
    if not past:
        return f"jaw {jaw + 1:.0f}"
    if past == 45:
        return f"between {jaw + 1:.0f} and {(jaw + 1) % 4 + 1:.0f}"
    return f"{angle:.0f}° from jaw 1"


def _readings(typed: Mapping[str, str]) -> tuple[Field, ...]:
    hint = "skip: not read there"
    return tuple(
        Field(f"r{i}", _place(angle).capitalize(), "reading", hint=hint if i == 0 else "")
        for i, angle in enumerate(_angles(typed))
    )  # fmt: skip


def _round_groups(typed: Mapping[str, str]) -> tuple[Group, ...]:
    pitch = Field("pitch", "Pitch of the jaw screw", needed=False, hint="how far a jaw goes in one turn of the key")
    return (Group((_WHERE, *_readings(typed), _LIMIT, pitch), head=(_PLACES,)),)


def _face_groups(typed: Mapping[str, str]) -> tuple[Group, ...]:
    at = Field("diameter", "Read at Ø")
    also = Field("at", "Run-out wanted at Ø", needed=False)
    return (Group((at, *_readings(typed), _LIMIT, also), head=(_PLACES,)),)


def _read(told: Told) -> tuple[list[float | None], list[float], tuple[tuple[float, str], ...]]:
    angles = _angles(told.texts)
    values = [told.values.get(f"r{i}") for i in range(len(angles))]
    numbers = [value.amount if isinstance(value, Quantity) else None for value in values]
    marks = tuple(
        (angle, told.texts.get(f"r{i}", "") if number is not None else "–")
        for i, (angle, number) in enumerate(zip(angles, numbers, strict=True))
    )  # fmt: skip
    return numbers, angles, marks


def _unit(told: Told) -> str:
    return "mm" if told.units["reads"] == "mm" else "in"


def _limit(told: Told) -> float:
    return told.num("limit", truing.USUAL_LIMIT)


def _names(angles: list[float]) -> tuple[str, ...]:
    return tuple(f"r{i}" for i in range(len(angles)))


def _true_up(told: Told) -> Answer:
    numbers, angles, marks = _read(told)
    inside, unit = told.word("where") == "inside", _unit(told)
    found = truing.true_up(numbers, angles, inside, _limit(told), told.maybe("pitch"), unit)
    ring = found.circle
    out = truing.thin(ring.run_out, unit)
    figures = [("run-out by the offset", out, ""), ("run-out as read", truing.thin(ring.read, unit), "")]
    if ring.out_of_round is not None:
        figures.append(("out-of-round", truing.thin(ring.out_of_round, unit), ""))
    if not found.centred:
        figures.append(("centre lies towards", f"{fixed(float(fixed(ring.direction, 0)) % 360, 0)}°", "from jaw 1"))
    jaws = {move.loosen: "loosen" for move in found.moves} | {
        move.tighten: f"tighten {truing.thin(move.by, unit).split(' (')[0]}" for move in found.moves
    }  # fmt: skip
    moved = "; ".join(f"jaw {jaw} {what}" for jaw, what in sorted(jaws.items())) or "none"
    names = ("where", *_names(angles))
    return Answer(
        figures=tuple(figures), sentences=found.words, tone="agree" if found.within else "plain",
        warnings=(CHUCK_KEY, BY_HAND), rose=Rose(
            marks, None if found.centred else ring.direction, tuple(jaws.items()), "its centre lies that way"
        ),
        workings=(
            told.shown(truing.circle, "run-out by the offset", out, *names),
            told.shown(truing.moves, "moves", moved),
            told.shown(truing.true_up, "whether true", "yes" if found.within else "not yet", "limit", "pitch"),
            told.shown(truing.blind, "what these places cannot see", f"{len(ring.places)} places read"),
        ),
    )  # fmt: skip


def _face(told: Told) -> Answer:
    numbers, angles, marks = _read(told)
    unit = _unit(told)
    found = truing_face.face(numbers, told.num("diameter"), angles, _limit(told), unit)
    out, names = truing.thin(found.run_out, unit), ("diameter", *_names(angles))
    figures = [("face run-out", out, ""), ("tilt", f"{fixed(found.tilt, 3)}°", "")]
    sheets = [told.shown(truing_face.face, "face run-out", out, *names, "limit")]
    if told.has("at"):
        there = truing.thin(truing_face.run_out_at(found.run_out, told.num("diameter"), told.num("at")), unit)
        figures.append(("run-out at the other Ø", there, ""))
        sheets.append(told.shown(truing_face.run_out_at, "run-out at the other Ø", there, "diameter", "at"))
    jaws = tuple((jaw, f"tap {truing.thin(by, unit).split(' (')[0]}") for jaw, by in found.taps)
    return Answer(
        figures=tuple(figures), sentences=found.words, tone="agree" if found.within else "plain",
        warnings=(CHUCK_KEY, BY_HAND), workings=tuple(sheets),
        rose=Rose(marks, found.high_at if found.taps else None, jaws, "it is high there"),
    )  # fmt: skip


def _datum(told: Told) -> Answer:
    counts = told.word("counts")
    found = truing_order.datum(told.num("outside"), told.num("bore"), _limit(told), counts or None, _unit(told))
    return Answer(
        sentences=(found.words,), tone="agree" if found.true else "look" if found.ask else "plain",
        warnings=(CHUCK_KEY,),
        workings=(told.shown(truing_order.datum, "which one counts", found.words, "outside", "bore", "counts"),),
    )  # fmt: skip


def _datum_groups(typed: Mapping[str, str]) -> tuple[Group, ...]:
    ways = (("", "not said"), ("outside", "outside"), ("bore", "bore"))
    counts = Field("counts", "The work is measured from the", "choice", options=ways)
    outs = (Field("outside", "Outside, run-out", "reading"), Field("bore", "Bore, run-out", "reading"))
    return (Group((*outs, counts, _LIMIT)),)


SUMS = (
    Sum(
        "truing", "Truing in the four-jaw", "Which jaw to loosen, which to tighten, by how much; out-of-round apart.",
        _round_groups, _true_up,
        {"reads": "thou", "places": "4", "where": "outside", "r0": "20", "r1": "4", "r2": "-16", "r3": "0"}, (READS,),
    ),
    Sum(
        "face", "Truing a face", "Tilt from readings at a diameter, and at which jaw to tap.",
        _face_groups, _face,
        {"reads": "thou", "places": "4", "diameter": "8", "r0": "3", "r1": "0", "r2": "-3", "r3": "0", "at": "10"},
        (READS,),
    ),
    Sum(
        "datum", "Bore or outside", "Both cannot run true unless they are round one another: which one counts.",
        _datum_groups, _datum, {"reads": "thou", "outside": ".3", "bore": "3", "counts": ""}, (READS,),
    ),
)  # fmt: skip
