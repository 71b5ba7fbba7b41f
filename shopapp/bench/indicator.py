"""What an indicator shows, over or under its zero, as it is typed; and how it was read, said back."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from shopapp.bench.errors import Asked
from shopapp.bench.quantities import WORTH, Quantity, length, show_length
from shopapp.bench.rounding import fixed

MINUS = "-−–"
# The least that is taken for a reading, in the unit of the indicator: half a tenth of an inch, half a micron.
_LEAST = {"thou": Fraction(5, 100), "tenth": Fraction(1, 2), "mm": Fraction(5, 10_000)}
_SAID = {"thou": "thou", "tenth": "tenths", "mm": "mm"}
_FINEST = 3  # places of a millimetre


def reading(text: str, reads: str) -> Quantity:
    """What an indicator shows, over or under its zero (common practice, no source).

    Formula: the figure in the unit that the indicator reads in; a minus before it is under the zero.

    text: what was typed, `-16`, `+3`, `.0018 in` [text]
    reads: thou, tenth or mm [word]

    Returns: the quantity, base in [mm].
    Limits: a bare figure finer than half a tenth (.00005 in) or half a micron is asked about: it was read in another
    unit; so is a bare one with more than three places of a millimetre.
    Raises: Asked for these; Refused or Asked as `length`.

    >>> reading("-16", "thou").amount, reading(".0018 in", "thou").amount
    (-0.4064, 0.04572)
    """
    said = text.strip()
    below = said[:1] in MINUS and bool(said)
    plain = said[1:].strip() if below or said[:1] == "+" else said
    found = length(plain, reads)
    if found.base and not any(char.isalpha() or char in "'\"′″’”" for char in plain):
        value = found.base / length("1", reads).base  # as the figure stands
        places = len(plain.replace(",", ".").partition(".")[2]) if reads == "mm" else 0
        if value < _LEAST[reads] or places > _FINEST:
            meant = fixed(value * WORTH["in"] / length("1", reads).base, _FINEST, strip=True)
            other = f" Otherwise type it with its unit, {plain} mm." if reads == "mm" else ""
            raise Asked(
                f"{plain} {_SAID[reads]}? Indicators seldom show that. If it is in inches, type {meant}.{other}"
            )
    return Quantity(said, -found.value, found.unit, -found.base) if below else found


def row(found: Sequence[Quantity | None], unit: str) -> str:
    """Readings round a piece said back in one unit (1 in = 25.4 mm: NIST SP 811, App. B).

    Formula: mm/25.4

    found: what the indicator showed in order, None where it was not read [mm]
    unit: in or mm [word]

    Returns: such as "+.0020, –, -.0016, .0000 in" [text].
    Limits: finer readings show the figures they need.
    Raises: nothing.

    >>> row([reading("20", "tenth"), None, reading("-16", "tenth")], "in")
    '+.0020, –, -.0016 in'
    """
    at = 0 if unit == "in" else 1
    said = ("–" if one is None else echo(one).split(" · ")[at].removesuffix(f" {unit}") for one in found)
    return f"{', '.join(said)} {unit}"


def echo(found: Quantity) -> str:
    """A reading said back in both units (1 in = 25.4 mm: NIST SP 811, App. B).

    Formula: mm/25.4

    found: what the indicator showed [mm]

    Returns: inches to the tenth and millimetres to the micron, with their sign [text].
    Limits: finer readings show the figures they need.
    Raises: nothing.

    >>> echo(reading("-16", "thou"))
    '-.0160 in · -0.406 mm'
    """
    sign = "-" if found.base < 0 else "+" if found.base > 0 else ""
    size = float(abs(found.base))
    places = 4 if (abs(found.base) / WORTH["in"] * 10_000).denominator == 1 else 5
    inches = show_length(size, "in", places).lstrip("0")
    return f"{sign}{inches} · {sign}{show_length(size, 'mm', 3)}"
