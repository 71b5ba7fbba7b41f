"""Unit words that want a question, and the unit that a bare number takes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from shopapp.bench.errors import Asked, Refused
from shopapp.bench.grammar import Reading, Size
from shopapp.bench.rounding import fixed
from shopapp.bench.unitwords import MINUTES, Kind

_METRIC = frozenset(("mm", "cm", "m", "um"))
_SMALL = frozenset(("thou", "thousandth", "tenth", "um"))  # written after ±, they are the tolerance's own
_FINEST = Fraction(1, 20)  # of a thou
_HOURS = 24  # a bare fraction below this may be hours
_QUESTIONS = {
    "mil": "A mil is .001 in to one hand and a millimetre to another. Type thou or mm.",
    "hundredth": "Hundredths of an inch, or of a millimetre? Type .01 in or 0.01 mm.",
    "gr": "Grams, or grains? Type g for grams.",
    "odd tenth": "A tenth is .0001 in at the lathe and 0.1 elsewhere. Type .0002 in or 0.2 mm, whichever it is.",
    "decimal tenth": "A part of a tenth (.0001 in), or tenths of an inch? Type it in thou or in inches.",
    "fine thou": "That is finer than anything here is measured. Thou, or inches? Type .005 in or 5 thou.",
    "metric thousandth": "Thousandths of an inch, or of a millimetre? Type thou or mm.",
}


def question(part: Size, unit: str | None) -> str | None:
    """What to ask about a unit word that means different things to different hands (common practice, no source).

    Formula: none; a tenth is .0001 in, and asked about where millimetres are in sight; thou under half a tenth are
    asked about, as .005 thou.

    part: one size as written [unit as written]
    unit: the unit in sight, None when none is [word]

    Returns: the question, None when the word is plain [text].
    Limits: the words of the closed list.
    Raises: nothing.

    >>> from fractions import Fraction
    >>> question(Size(Fraction(2), "tenth", "whole"), "in") is None
    True
    """
    key = part.unit or ""
    if key == "tenth" and unit in _METRIC:
        key = "odd tenth"
    elif key == "tenth" and part.form == "decimal":
        key = "decimal tenth"
    elif key in ("thou", "thousandth") and 0 < part.value < _FINEST:
        key = "fine thou"
    elif key == "thousandth" and unit in _METRIC:
        key = "metric thousandth"
    return _QUESTIONS.get(key)


def unit_of(part: Size, unit: str | None, kind: Kind) -> str:
    """The unit of a size: the one typed, or else the one in sight (common practice, no source).

    Formula: none; never a unit that is not in sight.

    part: one size as written [unit as written]
    unit: the unit in sight, None when none is [word]
    kind: the closed list of unit words [list]

    Returns: the key of the unit [word].
    Limits: the words of the closed list.
    Raises: Asked when there is no unit, when the word wants a question, and for a bare part of an hour or a minute.

    >>> from fractions import Fraction
    >>> from shopapp.bench.unitwords import LENGTH
    >>> unit_of(Size(Fraction(5), None, "whole"), "mm", LENGTH)
    'mm'
    """
    asked = question(part, unit)
    if asked:
        raise Asked(asked)
    if part.unit is None and part.form == "spoken" and part.value.denominator != 1:
        raise Asked("A part of what? Type the unit too, like a quarter inch, or type it in figures.")
    if part.unit is None and part.form == "fraction" and kind is MINUTES and part.value < _HOURS:
        raise Asked("Part of an hour, or of a minute? Type the unit too, like 1/2 h or 1/2 min.")
    key = part.unit or unit
    if key is None:
        shown = str(part.value) if part.form == "fraction" else fixed(part.value, 6, strip=True)
        raise Asked(kind.ask.format(shown))
    return key


def shared_unit(found: Reading, unit: str | None = None) -> str | None:
    """The unit after a tolerance, which is the size's too in `25 ±0.1 mm` (common practice, no source).

    Formula: none; thou, tenths and microns after ± stay with the tolerance.

    found: what stands in the field [unit as written]
    unit: the unit visible on the field, None when none is [word]

    Returns: the key of the unit, None when there is none to share [word].
    Limits: the last unit written counts.
    Raises: Asked where the size is bare and the field shows another unit than the tolerance, or the size is a
    fraction and its tolerance metric.

    >>> from shopapp.bench.grammar import read
    >>> from shopapp.bench.unitwords import LENGTH
    >>> shared_unit(read("25 ±0.1 mm", LENGTH)), shared_unit(read("1.250 ± 5 thou", LENGTH))
    ('mm', None)
    """
    units = [side.unit for side in (found.plus, found.minus) if side is not None and side.unit is not None]
    if not units or units[-1] in _SMALL:
        return None
    first, last = found.sizes[0], units[-1]
    if first.unit is None and unit not in (None, last):
        raise Asked(f"The tolerance is in {last}. Is the size in {last} or in {unit}? Type its unit after it too.")
    if first.unit is None and first.form == "fraction" and last in _METRIC:
        raise Asked(f"A fraction of a {last}? Type the unit after the size too.")
    return last


def _bare(side: Size, found: Reading, kept: str, value: Fraction) -> Size:
    """A side of a tolerance without a unit of its own, where the size's may be meant for it."""
    others = {one.unit: one for one in (found.plus, found.minus) if one is not None and one.unit is not None}
    if others:
        (unit, other) = list(others.items())[-1]
        if (other.form == "decimal") != (side.form == "decimal"):
            raise Asked(f"Is the other side of the tolerance in {unit} too? Type the unit after both.")
        return replace(side, unit=unit)
    shown = fixed(side.value, 6, strip=True)
    if kept in ("in", "ft") and side.form != "fraction" and side.value.denominator == 1:
        raise Asked(f"A tolerance of {shown} {kept}, or of {shown} thou? Type the unit after it.")
    if abs(side.value) > value * (Fraction(1, 10) if side.form == "whole" else Fraction(1, 3)):
        raise Asked(f"A tolerance of {shown} is much beside the size. Type the unit after it, like {shown} {kept}.")
    return side


def strays(
    found: Reading, kept: str, value: Fraction, worth: Mapping[str, Fraction], kind: Kind
) -> tuple[Fraction | None, Fraction | None]:
    """How far a size may stray up and down (common practice, no source).

    Formula: the figure of each side times the worth of its unit; a side without a unit takes the other side's, then
    the size's.

    found: what stands in the field [unit as written]
    kept: the key of the size's unit [word]
    value: the size in that unit [unit as written]
    worth: what one of each unit is worth in the base unit [any]
    kind: the closed list of unit words [list]

    Returns: up and down in base units, None where no tolerance was typed [any].
    Limits: bare whole numbers beside inches, and bare ones that are much of the size, are asked about.
    Raises: Asked for these; Refused for a low limit below zero.

    >>> from shopapp.bench.grammar import read
    >>> from shopapp.bench.unitwords import LENGTH
    >>> inch, thou = Fraction(254, 10), Fraction(254, 10_000)
    >>> strays(read("1.25 +1/-2 thou", LENGTH), "in", Fraction(5, 4), {"in": inch, "thou": thou}, LENGTH)
    (Fraction(127, 5000), Fraction(127, 2500))
    """
    far: list[Fraction | None] = []
    for side in (found.plus, found.minus):
        if side is not None and side.unit is None and side.value:
            side = _bare(side, found, kept, value)
        far.append(None if side is None else side.value * worth[unit_of(side, kept, kind)])
    if far[1] is not None and far[1] > value * worth[kept]:
        raise Refused("The low limit would lie below zero. Look at the tolerance and its unit, and type it again.")
    return far[0], far[1]
