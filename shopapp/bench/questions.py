"""Unit words that want a question, and the unit that a bare number takes."""

from __future__ import annotations

from shopapp.bench.errors import Asked
from shopapp.bench.grammar import Reading, Size
from shopapp.bench.rounding import fixed
from shopapp.bench.unitwords import Kind

_METRIC = frozenset(("mm", "cm", "m", "um"))
_SMALL = frozenset(("thou", "thousandth", "tenth", "um"))  # written after ±, they are the tolerance's own
_QUESTIONS = {
    "mil": "A mil is .001 in to one hand and a millimetre to another. Type thou or mm.",
    "hundredth": "Hundredths of an inch, or of a millimetre? Type .01 in or 0.01 mm.",
    "gr": "Grams, or grains? Type g for grams.",
    "odd tenth": "A tenth is .0001 in at the lathe and 0.1 elsewhere. Type .0002 in or 0.2 mm, whichever it is.",
    "decimal tenth": "A part of a tenth (.0001 in), or tenths of an inch? Type it in thou or in inches.",
    "metric thousandth": "Thousandths of an inch, or of a millimetre? Type thou or mm.",
}


def question(part: Size, unit: str | None) -> str | None:
    """What to ask about a unit word that means different things to different hands (common practice, no source).

    Formula: none; a tenth is .0001 in, and asked about where millimetres are in sight.

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
    Raises: Asked when there is no unit, or when the word wants a question.

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
    key = part.unit or unit
    if key is None:
        shown = str(part.value) if part.form == "fraction" else fixed(part.value, 6, strip=True)
        raise Asked(kind.ask.format(shown))
    return key


def shared_unit(found: Reading) -> str | None:
    """The unit after a tolerance, which is the size's too in `25 ±0.1 mm` (common practice, no source).

    Formula: none; thou, tenths and microns after ± stay with the tolerance.

    found: what stands in the field [unit as written]

    Returns: the key of the unit, None when there is none to share [word].
    Limits: the last unit written counts.
    Raises: nothing.

    >>> from shopapp.bench.grammar import read
    >>> from shopapp.bench.unitwords import LENGTH
    >>> shared_unit(read("25 ±0.1 mm", LENGTH)), shared_unit(read("1.250 ± 5 thou", LENGTH))
    ('mm', None)
    """
    units = [side.unit for side in (found.plus, found.minus) if side is not None and side.unit is not None]
    return units[-1] if units and units[-1] not in _SMALL else None
