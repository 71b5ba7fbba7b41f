"""Typed figures to exact quantities, and quantities shown in both units.

Typed text goes to our own grammar; pint only says what a unit word of the closed list is worth, once, at import.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

import pint

from shopapp.bench.errors import Asked, Refused
from shopapp.bench.grammar import LONGEST, read
from shopapp.bench.questions import shared_unit, strays, unit_of
from shopapp.bench.rounding import exact, fixed, half_up, significant
from shopapp.bench.unitwords import LENGTH, MASS, MINUTES, PERCENT, PLAIN, SPEED, Kind

_BASES = {
    "millimeter": {"in": "inch", "ft": "foot", "mm": "millimeter", "m": "meter"},
    "gram": {"lb": "pound", "oz": "ounce", "g": "gram", "kg": "kilogram"},
    "minute": {"min": "minute", "h": "hour"},
    "meter/minute": {"ft/min": "foot/minute", "m/min": "meter/minute"},
}


def _worth() -> dict[str, Fraction]:
    """What one of each unit is worth in its base unit (mm, g, min, m/min), exact."""
    registry: pint.UnitRegistry[Fraction] = pint.UnitRegistry(non_int_type=Fraction)
    table = {
        word: Fraction(registry.Quantity(Fraction(1), name).to(base).magnitude)
        for base, names in _BASES.items()
        for word, name in names.items()
    }
    return table | {"rpm": Fraction(1), "%": Fraction(1, 100)}


WORTH = _worth()
# Words kept under another unit: the unit, and how many of it.
_KEPT = {
    "thou": ("in", Fraction(1, 1000)),
    "thousandth": ("in", Fraction(1, 1000)),
    "tenth": ("in", Fraction(1, 10_000)),
    "cm": ("mm", Fraction(10)),
    "um": ("mm", Fraction(1, 1000)),
}
_WORTH = WORTH | {key: WORTH[unit] * many for key, (unit, many) in _KEPT.items()}
_MONEY = re.compile(
    r"[$€£]?(?P<whole>[0-9]{1,3}(?:,[0-9]{3}){1,2}|[0-9]{1,3}(?: [0-9]{3}){1,2}|[0-9]{0,9})"
    r"(?:[.,](?P<part>[0-9]{0,2}))?"
)
_CLOCK = re.compile(r"(?P<hours>[0-9]{1,3}):(?P<minutes>[0-5][0-9])")


@dataclass(frozen=True)
class Quantity:
    """A figure as it was typed, and what it is worth, exactly."""

    text: str  # as typed, stripped
    value: Fraction  # in `unit`
    unit: str  # in mm ft m | lb oz g kg | rpm ft/min m/min | min h | cents
    base: Fraction  # mm, g, rpm or m/min, min, whole cents
    plus: Fraction | None = None  # how far it may stray up, in base units
    minus: Fraction | None = None  # how far down; below zero when even the low limit lies above the size

    @property
    def amount(self) -> float:
        """The worth in base units, as a float."""
        return float(self.base)


def _measured(text: str, unit: str | None, kind: Kind) -> Quantity:
    """Reads the text and folds it into one quantity of this kind."""
    if unit is not None and unit not in kind.words.values():
        raise ValueError(f"no field of {kind.name} shows the unit {unit!r}")
    typed = text.strip()
    found = read(typed, kind)
    first = found.sizes[0]
    key = unit_of(first, shared_unit(found, unit) or unit, kind)
    kept, many = _KEPT.get(key, (key, Fraction(1)))
    value = first.value * many
    base = value * WORTH[kept]
    if len(found.sizes) > 1:
        second = found.sizes[1]
        small, count = kind.pairs[key]
        base += second.value * WORTH[small]
        kept, value = (key, value + second.value / count) if kind is MASS else (small, value * count + second.value)
    if base > kind.most:
        raise Refused(f"{typed} is more than {kind.most_words}. Look at the point and the unit, and type it again.")
    return Quantity(typed, value, kept, base, *strays(found, kept, value, _WORTH, kind))


def length(text: str, unit: str | None = None) -> Quantity:
    """A length as a machinist types it, exact (1 in = 25.4 mm: NIST SP 811, App. B).

    Formula: value in its unit times the worth of the unit in mm.

    text: what was typed, `5-5/8`, `15 thou`, `12,7 mm`, `6'2"`, `1.250 ±.005` [text]
    unit: the unit visible on the field, None when none is [word]

    Returns: the quantity, base in [mm].
    Limits: 60 characters, zero to 100 m; a tenth is .0001 in (common practice, no source).
    Raises: Refused (thread sizes, sums, signs below zero), Asked (1,250; no unit; tenths on a millimetre field).

    >>> length("5-5/8", "in").base, length("two tenths", "in").value
    (Fraction(1143, 8), Fraction(1, 5000))
    """
    return _measured(text, unit, LENGTH)


def mass(text: str, unit: str | None = None) -> Quantity:
    """A weight as it is read off a scale, exact (1 lb = 453.59237 g: NIST SP 811, App. B; Handbook 44, App. C).

    Formula: value in its unit times the worth of the unit in g; 16 oz in a pound.

    text: what was typed, `8 lb 8 oz`, `9-1/4 lb`, `3.86 kg` [text]
    unit: the unit visible on the field, None when none is [word]

    Returns: the quantity, base in [g].
    Limits: 60 characters, zero to 10,000 kg.
    Raises: Refused (forces, volumes, signs below zero), Asked (tons, grains; no unit).

    >>> mass("8# 8oz").value, mass("9-1/4", "lb").amount
    (Fraction(17, 2), 4195.7294225)
    """
    return _measured(text, unit, MASS)


def speed(text: str, unit: str | None = None) -> Quantity:
    """A spindle or cutting speed, exact (1 ft = 0.3048 m: NIST SP 811, App. B).

    Formula: value times 0.3048 for ft/min; rpm and m/min as they are.

    text: what was typed, `120 rpm`, `100 sfm`, `30 m/min` [text]
    unit: the unit visible on the field, None when none is [word]

    Returns: the quantity, base in [rpm] or [m/min].
    Limits: 60 characters, zero to 100,000.
    Raises: Refused or Asked with the sentence for the person.

    >>> speed("100 sfm").base, speed("120", "rpm").unit
    (Fraction(762, 25), 'rpm')
    """
    return _measured(text, unit, SPEED)


def minutes(text: str, unit: str | None = "min") -> Quantity:
    """A working time as it is said (common practice, no source).

    Formula: hours times 60 and minutes; 1:30 is an hour and thirty minutes.

    text: what was typed, `90`, `1h 30`, `1:30`, `1.5 h`, `45 min` [text]
    unit: the unit visible on the field [word]

    Returns: the quantity, base in [min], not always whole.
    Limits: 60 characters, zero to 100,000 min.
    Raises: Refused or Asked with the sentence for the person.

    >>> minutes("1h 30").base, minutes("1:30").base, minutes("1.5 h").base
    (Fraction(90, 1), Fraction(90, 1), Fraction(90, 1))
    """
    clock = _CLOCK.fullmatch(text.strip())
    if clock:
        worth = Fraction(int(clock["hours"]) * 60 + int(clock["minutes"]))
        return Quantity(text.strip(), worth, "min", worth)
    if ":" in text[:LONGEST]:
        raise Refused("Hours and minutes are typed like 1:30, with two figures under 60 after the colon.")
    return _measured(text, unit, MINUTES)


def money(text: str) -> Quantity:
    """An amount of money in whole cents (common practice, no source).

    Formula: a comma or a space before three figures sets off thousands; a point, or a comma before the last one or
    two figures, starts the cents: 1,234.50 and 1 234,50 are the same.

    text: what was typed, `$1,234.50`, `138`, `138.5`, `1 234,50` [text]

    Returns: the quantity, value and base in whole [cents].
    Limits: below one thousand million; never below zero.
    Raises: Refused for more than two decimals, a minus, or anything else that is no amount.

    >>> money("$1,234.50").base, money("138.5").base, money("1,234").base
    (Fraction(123450, 1), Fraction(13850, 1), Fraction(123400, 1))
    """
    typed = text.strip()
    if len(typed) > LONGEST:
        raise Refused(f"That is longer than {LONGEST} characters. Type only the amount.")
    plain = " ".join(typed.split()).replace("$ ", "$").replace("€ ", "€").replace("£ ", "£")
    if not plain:
        raise Refused("Nothing stands here yet. Type an amount like 138.50.")
    if plain[0] in "-−–(":
        raise Refused("Below zero is not an amount here. Type it without the minus.")
    found = _MONEY.fullmatch(plain)
    if found is None or not (found["whole"] or found["part"]):
        if re.fullmatch(r"[$€£]?[0-9, ]{0,20}[.,][0-9]{3,60}", plain):
            raise Refused("Money stops at whole cents. Type no more than two figures after the point.")
        raise Refused("That is no amount of money. Type it like 138, 138.50 or 1,234.50.")
    whole_part = found["whole"].replace(",", "").replace(" ", "") or "0"
    cents = Fraction(int(whole_part) * 100 + int((found["part"] or "").ljust(2, "0")))
    return Quantity(typed, cents, "cents", cents)


def number(text: str) -> Fraction:
    """A bare number, decimal or fraction (common practice, no source).

    Formula: the shop's grammar without units.

    text: what was typed, `2.5`, `1/2`, `1-1/2` [text]

    Returns: the number [any].
    Limits: 60 characters, zero to a thousand million.
    Raises: Refused or Asked with the sentence for the person.

    >>> number("1-1/2"), number("2,5")
    (Fraction(3, 2), Fraction(5, 2))
    """
    value = read(text.strip(), PLAIN).sizes[0].value
    if value > PLAIN.most:
        raise Refused(f"That is more than {PLAIN.most_words}. Look at the point and type it again.")
    return value


def whole(text: str) -> int:
    """A count (common practice, no source).

    Formula: a number without a part.

    text: what was typed, `6` or `six` [text]

    Returns: the count [count].
    Limits: zero to a thousand million.
    Raises: Refused for 6.5 and for anything that is no number.

    >>> whole("6")
    6
    """
    value = number(text)
    if value.denominator != 1:
        raise Refused("Here goes a count. Type a whole number.")
    return int(value)


def percent(text: str) -> Fraction:
    """A percentage as a share of one (common practice, no source).

    Formula: number / 100; a bare part below one, `half` or `1/2`, is asked about.

    text: what was typed, `6.25`, `6.25 %`, `6-1/4` [text]

    Returns: the share, 6.25 % is 1/16 [share].
    Limits: zero to 500 %.
    Raises: Refused or Asked with the sentence for the person.

    >>> percent("6.25"), percent("35 %")
    (Fraction(1, 16), Fraction(7, 20))
    """
    said = read(text.strip(), PERCENT).sizes[0]
    if said.unit is None and said.form in ("fraction", "spoken") and 0 < said.value < 1:
        words = f"{said.value} %, or {fixed(said.value * 100, 1, strip=True)} %"
        raise Asked(f"{words}? Type the one that is meant, with its %.")
    value = said.value * WORTH["%"]
    if value > PERCENT.most:
        raise Refused(f"That is more than {PERCENT.most_words}. Type it in hundredths, like 6.25.")
    return value


def _inches(value: Fraction, typed: bool) -> str:
    """Inches to the thou, finer when they are small or were typed finer."""
    for places in range(3, 6):
        if typed and (value * 10**places).denominator == 1:
            return fixed(value, places)
    return fixed(value, 3 if value >= Fraction(1, 10) or not value else 4 if value >= Fraction(1, 100) else 5)


def _millimetres(value: Fraction, typed: bool) -> str:
    if typed:
        return fixed(value, 6, strip=True)
    return fixed(value, 3 if value >= Fraction(1, 10) else 4 if value >= Fraction(1, 100) else 5, strip=True)


def _sixty_fourth(inches: Fraction) -> str:
    """`= 7-3/8` on a 64th, `near 55/64 (.859)` beside one, nothing on whole inches or next to none."""
    near = Fraction(half_up(inches * 64), 64)
    over, part = divmod(near, 1)
    if not near or (inches == near and not part):
        return ""
    name = f"{over}-{part}" if over and part else str(near)
    return f" · = {name}" if near == inches else f" · near {name} ({fixed(near, 3).removeprefix('0')})"


def echo_length(q: Quantity) -> str:
    """A length said back in both units, with the nearest 64th (1 in = 25.4 mm: NIST SP 811, App. B).

    Formula: mm/25.4; the 64th is half_up(64·in)/64.

    q: a length as read [mm]

    Returns: inches, millimetres, the 64th, and the limits when there is a tolerance [text].
    Limits: the unit typed is shown as typed, the other half-up to the thou or 0.001 mm, small ones finer.
    Raises: nothing of its own.

    >>> echo_length(length("22 mm"))
    '0.866 in · 22 mm · near 55/64 (.859)'
    >>> echo_length(length("7 3/8", "in"))
    '7.375 in · 187.325 mm · = 7-3/8'
    """
    imperial = q.unit in ("in", "ft")
    inches = q.base / WORTH["in"]
    said = f"{_inches(inches, imperial)} in · {_millimetres(q.base, not imperial)} mm{_sixty_fourth(inches)}"
    if q.plus is None or q.minus is None:
        return said
    low, high = q.base - q.minus, q.base + q.plus
    if imperial:
        return f"{said} · {_inches(low / WORTH['in'], True)} to {_inches(high / WORTH['in'], True)} in"
    return f"{said} · {_millimetres(low, True)} to {_millimetres(high, True)} mm"


def echo_mass(q: Quantity) -> str:
    """A weight said back in both units (1 lb = 453.59237 g: NIST SP 811, App. B).

    Formula: g/453.59237, g/1000.

    q: a weight as read [g]

    Returns: pounds, then kilograms, or grams below one kilogram [text].
    Limits: half-up to 0.001 lb and 0.001 kg or 0.1 g.
    Raises: nothing of its own.

    >>> echo_mass(mass("8 lb 8 oz")), echo_mass(mass("360 g"))
    ('8.500 lb · 3.856 kg', '0.794 lb · 360 g')
    """
    metric = f"{fixed(q.base, 1, strip=True)} g" if q.base < 1000 else f"{fixed(q.base / 1000, 3)} kg"
    return f"{fixed(q.base / WORTH['lb'], 3)} lb · {metric}"


def _shown(value: Fraction, unit: str, places: int, strip: bool) -> str:
    """With so many places; two figures that count when those would show nothing of something."""
    text = fixed(value, places, strip)
    return f"{significant(value, 2) if value and not float(text) else text} {unit}"


def show_length(mm: float, unit: str, places: int | None = None) -> str:
    """A length as it is shown in one unit (1 in = 25.4 mm: NIST SP 811, App. B).

    Formula: mm over the worth of the unit, half-up.

    mm: the length [mm]
    unit: in, ft, mm or m [word]
    places: decimals; None is .001 in, .01 ft, up to 0.01 mm or 0.001 m [count]

    Returns: figures and unit [text].
    Limits: a length too small for the places is shown with two figures.
    Raises: Impossible for an endless length.

    >>> show_length(8.89, "in"), show_length(8.89, "mm"), show_length(22.0, "mm"), show_length(22.0, "mm", 2)
    ('0.350 in', '8.89 mm', '22 mm', '22.00 mm')
    """
    usual = {"in": 3, "ft": 2, "mm": 2, "m": 3}[unit]
    strip = places is None and unit in ("mm", "m")
    return _shown(exact(mm) / WORTH[unit], unit, usual if places is None else places, strip)


def show_mass(g: float, unit: str, places: int | None = None) -> str:
    """A weight as it is shown in one unit (1 lb = 453.59237 g: NIST SP 811, App. B).

    Formula: g over the worth of the unit, half-up.

    g: the weight [g]
    unit: lb, oz, g or kg [word]
    places: decimals; None is up to 0.01 lb, 0.1 oz, 1 g or 0.001 kg [count]

    Returns: figures and unit [text].
    Limits: a weight too small for the places is shown with two figures.
    Raises: Impossible for an endless weight.

    >>> show_mass(3855.535145, "lb"), show_mass(3841.2, "g"), show_mass(3841.2, "lb", 3)
    ('8.5 lb', '3841 g', '8.468 lb')
    """
    usual = {"lb": 2, "oz": 1, "g": 0, "kg": 3}[unit]
    return _shown(exact(g) / WORTH[unit], unit, usual if places is None else places, places is None)
