"""What a setting card works out: the stop sum, passes with dial numbers, speed, minutes, what interrupts the cut."""

import json
import math
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass
from fractions import Fraction

from shapely import Geometry, box

from shopapp.bench import passplan, power, quantities, speeds
from shopapp.bench.cuts import CUT_KINDS, Cut, removal
from shopapp.bench.errors import BenchError
from shopapp.bench.holes import called, extent
from shopapp.bench.passes import stop_clearance
from shopapp.bench.quantities import Quantity, show_length
from shopapp.bench.rounding import fixed
from shopapp.office.drawing import Drawn, Typed
from shopapp.office.equipment import DIALS, MachineFacts
from shopapp.office.parts import VariantFacts

MOST_PASSES = 60
_A_TURN = re.compile(r"\s*(?:/|per)\s*(?:rev|turn)\.?$", re.IGNORECASE)
_INCH = Fraction(254, 10)
_NEARLY = Fraction(1, 10**9)
_GRAIN = 10**7
_SCRAP = 1e-6  # mm2: less metal than this is none

Read = Mapping[str, Quantity]
"""Typed sizes of a card by field name, those that were typed."""


@dataclass(frozen=True)
class CardTyped:
    """A setting card as typed: which variants go through it, and its sizes in the unit that stood on the fields."""

    variants: tuple[int, ...] = ()
    back_off: str = ""
    extra_feed: str = ""
    least: str = ""
    most_per_pass: str = ""
    finish: str = ""
    speed: str = ""
    feed: str = ""

    def to_json(self) -> str:
        """The document as kept."""
        return json.dumps(asdict(self), ensure_ascii=False, sort_keys=True)

    @classmethod
    def from_json(cls, text: str) -> "CardTyped":
        """A kept document read back."""
        told = json.loads(text)
        return cls(variants=tuple(told.pop("variants", ())), **told)

    def as_said(self) -> str:
        """The sizes in words: "back-off .020, extra feed .008"."""
        told = ((name, getattr(self, name).strip()) for name in SIZES)
        return ", ".join(f"{SIZES[name]} {text}" for name, text in told if text)


SIZES = {
    "back_off": "back-off", "extra_feed": "extra feed", "least": "least clearance",
    "most_per_pass": "most per pass", "finish": "last pass", "speed": "cutting speed", "feed": "feed",
}  # fmt: skip
"""What a card asks for, in words."""


@dataclass(frozen=True)
class StopSum:
    """Back-off less extra feed, against the least clearance; `ok` is False where it is under it."""

    clearance: str
    words: str
    ok: bool


@dataclass(frozen=True)
class PassLine:
    """One pass: its depth, and what the dial shows for it and in all; no dial while no machine is chosen."""

    number: int
    depth: str
    dial: str
    dial_so_far: str
    finish: bool


@dataclass(frozen=True)
class CutLines:
    """One cut of a card: its sizes as typed, its stock, its passes, its speed, and what has to be watched.

    `across` is the diameter that its speed holds for, `way` how far the tool goes; `motor` is what the `deepest` of its
    passes asks of the motor, where that can be told.
    """

    words: str
    sizes: str
    stock: str = ""
    passes: tuple[PassLine, ...] = ()
    rpm: str = ""
    speed: str = ""
    minutes: float = 0.0
    notes: tuple[str, ...] = ()
    across: str = ""
    way: str = ""
    motor: str = ""
    deepest: str = ""

    @property
    def is_face(self) -> bool:
        """Whether it is cut across, not along."""
        return self.words == CUT_KINDS["face"].words

    @property
    def minutes_text(self) -> str:
        """The time in the cut, in words."""
        return f"about {fixed(self.minutes, 0 if self.minutes >= 10 else 1)} min in the cut" if self.minutes else ""


def figures(mm: Fraction | float, unit: str) -> str:
    """A small length as a dial shows it: ".0625", ".012", "0.30"; to the tenth, or to a thousandth of a millimetre."""
    if unit == "mm":
        text = fixed(mm, 3)
        return text.removesuffix("0")
    return fixed(Fraction(mm) / _INCH, 4).removesuffix("0").removeprefix("0")


def read(typed: CardTyped, unit: str) -> tuple[dict[str, Quantity], dict[str, str]]:
    """The sizes as far as they can be read, and what wants mending by field."""
    found: dict[str, Quantity] = {}
    problems: dict[str, str] = {}
    surface = "m/min" if unit == "mm" else "ft/min"
    readers: dict[str, Callable[[str], Quantity]] = {
        "speed": lambda text: quantities.speed(text, surface),
        "feed": lambda text: quantities.length(_A_TURN.sub("", text), unit),
    }
    for name in SIZES:
        text = getattr(typed, name).strip()
        if not text:
            continue
        try:
            found[name] = readers[name](text) if name in readers else quantities.length(text, unit)
        except BenchError as refusal:
            problems[name] = str(refusal)
    for name in ("most_per_pass", "speed", "feed"):
        if name in found and found[name].base <= 0:
            problems[name] = f"The {SIZES[name]} is more than nothing. Leave it empty if it is not known."
    if {"most_per_pass", "finish"} <= found.keys() and found["finish"].base > found["most_per_pass"].base:
        problems["finish"] = "The last pass is more than the most per pass. Make it thinner or allow more."
    return {name: value for name, value in found.items() if name not in problems}, problems


def stop_sum(told: Read, unit: str, drawn_least: float | None = None) -> StopSum | None:
    """What the stop leaves, once the back-off is typed; the least is as typed, else as the drawing has it."""
    if "back_off" not in told:
        return None
    back, extra = told["back_off"].base, told["extra_feed"].base if "extra_feed" in told else Fraction(0)
    clear = back - extra
    left = stop_clearance(float(back), float(extra))
    least = told["least"].base if "least" in told else exact(drawn_least or 0.0)
    whose = "" if "least" in told else " by the drawing"
    taken = figures(extra, unit) if extra else "0"
    said = f"{figures(back, unit)} − {taken} = {_signed(clear, unit)} {unit}"
    if clear + _NEARLY < least or left < 0:
        under = f"under the least of {figures(least, unit)}{whose}" if least else "the tool goes into the edge"
        return StopSum(_signed(clear, unit), f"{said}: {under}. Back off more, or feed less.", False)
    rest = f"least is {figures(least, unit)}{whose}" if least else "no least is named"
    return StopSum(_signed(clear, unit), f"{said} clear; {rest}.", True)


def _signed(mm: Fraction, unit: str) -> str:
    return f"−{figures(-mm, unit)}" if mm < 0 else figures(mm, unit)


def exact(mm: float) -> Fraction:
    """A length that came through a drawing, without the noise of floats [mm]."""
    return Fraction(mm).limit_denominator(_GRAIN)


@dataclass(frozen=True)
class _Where:
    """Where the metal of a cut lies: from and to along the axis, from and to from the axis [mm]; is it cut outward."""

    z1: float
    r1: float
    z2: float
    r2: float
    kind: str
    side: str
    outward: bool
    region: Geometry

    @property
    def stock(self) -> Fraction:
        """How much comes off, across the surface that is cut [mm]."""
        return exact(self.z2 - self.z1 if self.kind == "face" else self.r2 - self.r1)

    def way(self, unit: str) -> str:
        """How far the tool goes in one pass, in words."""
        if self.kind == "face":
            return f"Ø {show_length(2 * self.r2, unit)} to Ø {show_length(2 * self.r1, unit)}"
        return show_length(self.z2 - self.z1, unit)

    def bands(self, passes: Sequence[passplan.Pass]) -> tuple[passplan.Rectangle, ...]:
        """The metal of each pass."""
        if self.kind == "face":
            start, towards = (self.z1, 1) if self.side == "A" else (self.z2, -1)
            return passplan.bands("face", passes, start, (self.r1, self.r2), towards)
        kind, start = ("bore", self.r1) if self.outward else ("turn", self.r2)
        return passplan.bands(kind, passes, start, (self.z1, self.z2))

    def minutes(self, feed: float, rpm: float, passes: Sequence[passplan.Pass]) -> float:
        """The time in the cut [min], each pass where it meets metal; a plunged groove is not worked out."""
        if self.kind == "groove":
            return 0.0
        runs = [run for band in self.bands(passes) for run in self._runs(band)]
        if self.kind == "face":
            return math.fsum(speeds.facing_minutes(2 * far, 2 * near, feed, rpm) for near, far in runs)
        return math.fsum(speeds.turning_minutes(far - near, feed, rpm, 1) for near, far in runs)

    def _runs(self, band: passplan.Rectangle) -> list[tuple[float, float]]:
        """From where to where the tool of one pass is in metal: along the axis, for a face across it."""
        met = self.region.intersection(box(*band))
        at = 1 if self.kind == "face" else 0
        pieces = sorted(
            (piece.bounds[at], piece.bounds[at + 2])
            for piece in getattr(met, "geoms", (met,)) if piece.area > _SCRAP
        )  # fmt: skip
        runs: list[tuple[float, float]] = []
        for near, far in pieces:
            if runs and near <= runs[-1][1]:
                runs[-1] = (runs[-1][0], max(far, runs[-1][1]))
            else:
                runs.append((near, far))
        return runs


def cut_lines(
    variant: VariantFacts, drawn: Drawn, cuts: list[Cut], rows: list[Typed], side: str, told: Read, unit: str,
    machine: MachineFacts | None,
) -> tuple[CutLines, ...]:  # fmt: skip
    """The cuts of one side, each with its passes; stock is the metal that is really there when its turn comes."""
    found = removal(drawn.body, cuts, float(variant.density))
    lines = []
    for take, row, cut in zip(found.takes, rows, cuts, strict=True):
        if take.side != side:
            continue
        plain = CutLines(CUT_KINDS[row.kind].words, row.as_said())
        if row.kind == "bevel":
            lines.append(plain)
        elif take.region.is_empty or take.region.area < _SCRAP:
            lines.append(_noted(plain, "Takes nothing: the cuts before it have it all."))
        else:
            lines.append(_worked(plain, _where(take.region, cut), variant, drawn, told, unit, machine))
    return tuple(lines)


def _where(region: Geometry, cut: Cut) -> _Where:
    s = cut.sizes
    farthest = max((s[name] for name in ("to", "start_diameter", "end_diameter") if name in s), default=0.0)
    outward = cut.kind == "bore" or (cut.kind in ("taper", "groove") and s.get("from", math.inf) < farthest)
    return _Where(*region.bounds, cut.kind, cut.side, outward, region)


def _noted(line: CutLines, *notes: str) -> CutLines:
    return CutLines(**{**vars(line), "notes": (*line.notes, *notes)})


def _worked(
    line: CutLines, where: _Where, variant: VariantFacts, drawn: Drawn, told: Read, unit: str,
    machine: MachineFacts | None,
) -> CutLines:  # fmt: skip
    stock = where.stock
    notes: list[str] = []
    passes: tuple[passplan.Pass, ...] = ()
    if "most_per_pass" in told:
        most, last = told["most_per_pass"].base, told["finish"].base if "finish" in told else Fraction(0)
        if stock / most > MOST_PASSES:
            notes.append(f"That would be over {MOST_PASSES} passes. Allow more per pass.")
        else:
            reads = machine.dial if machine and where.kind != "face" else passplan.RADIUS
            passes = passplan.plan(stock, most, last, reads)
    notes += _interrupted(where, passes, drawn)
    rpm, speed = _speed(where, told, variant, machine)
    minutes = where.minutes(told["feed"].amount, rpm, passes) if rpm and passes and "feed" in told else 0.0
    asked = _asked_of_motor(where, passes, told, rpm, variant, machine)
    notes += [asked.words] if asked and asked.enough is False else []
    dial = "face" if where.kind == "face" else machine.dial if machine else ""
    return CutLines(
        line.words, line.sizes, stock=_stock_words(stock, dial, unit),
        passes=tuple(_pass_line(one, unit, bool(dial)) for one in passes), rpm=fixed(rpm, 0) if rpm else "",
        speed=speed, minutes=minutes, notes=tuple(notes), across=f"Ø {show_length(2 * where.r2, unit)}",
        way=where.way(unit), motor=f"{fixed(asked.motor, 2)} kW" if asked else "",
        deepest=f"{figures(max(one.depth for one in passes), unit)} {unit}" if passes else "",
    )  # fmt: skip


def _pass_line(one: passplan.Pass, unit: str, has_dial: bool) -> PassLine:
    dial, so_far = (figures(x, unit) if has_dial else "" for x in (one.dial, one.dial_so_far))
    return PassLine(one.number, figures(one.depth, unit), dial, so_far, one.finish)


def _stock_words(stock: Fraction, dial: str, unit: str) -> str:
    said = f"stock {figures(stock, unit)} {unit}"
    if dial == "face":
        return f"{said} deep"
    if not dial:
        return f"{said} on the radius; choose the machine, then the dial is told"
    return f"{said} on the radius; the dial reads {DIALS[dial]}: {figures(passplan.dial(stock, dial), unit)} in all"


def _interrupted(where: _Where, passes: tuple[passplan.Pass, ...], drawn: Drawn) -> tuple[str, ...]:
    """What the tool passes over, said of each pass; of the whole cut while no passes are planned."""
    voids = [(called(void).removeprefix("the "), extent(void)) for void in (drawn.body.voids if drawn.body else ())]
    planned = passes or passplan.plan(where.stock, where.stock)
    return passplan.interrupted(where.bands(planned), voids).words


def _speed(
    where: _Where, told: Read, variant: VariantFacts, machine: MachineFacts | None
) -> tuple[float, str]:  # fmt: skip
    """The revolutions to set and what is said of them; without a cutting speed, what the sources recommend."""
    if "speed" not in told:
        try:
            return 0.0, speeds.recommended(variant.material).words
        except BenchError:
            return 0.0, ""
    speed = told["speed"]
    wanted = speed.amount if speed.unit == "rpm" else speeds.revolutions(speed.amount, 2 * where.r2)
    try:
        choice = speeds.choose(wanted, machine.speeds if machine else (), machine.chuck_limit if machine else None)
    except BenchError as refusal:
        return 0.0, str(refusal)
    return choice.rpm, choice.words


def _asked_of_motor(
    where: _Where, passes: tuple[passplan.Pass, ...], told: Read, rpm: float, variant: VariantFacts,
    machine: MachineFacts | None,
) -> power.Load | None:  # fmt: skip
    """What the deepest pass asks of the motor, where the motor and the cut are known."""
    if not (machine and machine.kilowatts and passes and rpm and "feed" in told):
        return None
    deepest = float(max(one.depth for one in passes))
    speed = speeds.cutting_speed(rpm, 2 * where.r2)
    try:
        return power.load(variant.material, deepest, told["feed"].amount, speed, rating=machine.kilowatts)
    except BenchError:
        return None
