"""Rounding: half-up in exact fractions, and no more figures than the spread deserves."""

from __future__ import annotations

import math
from fractions import Fraction

from shopapp.bench.errors import Impossible

Number = int | float | Fraction

_NEARLY = Fraction(1, 10**9)


def exact(value: Number) -> Fraction:
    """A number as the fraction that its shortest decimal names (common practice, no source).

    Formula: 0.1 becomes 1/10, not the binary neighbour of it.

    value: any finite number [any]

    Returns: the same number as a Fraction [any].
    Limits: a float carries about 15 figures, no more can come out.
    Raises: Impossible when the number is endless or is none.

    >>> exact(0.1)
    Fraction(1, 10)
    """
    if isinstance(value, float):
        if not math.isfinite(value):
            raise Impossible("A figure came out without end. Look at the sizes typed: one of them cannot be.")
        return Fraction(repr(float(value)))
    return Fraction(value)


def _ten(power: int) -> Fraction:
    return Fraction(10**power) if power >= 0 else Fraction(1, 10**-power)


def half_up(value: Fraction | int, to: int = 1) -> int:
    """Rounds to the nearest step, ties away from zero (EN 16931 examples: 365.125 becomes 365.13).

    Formula: sign(v)·floor(|v|/to + 1/2)·to

    value: what is rounded, exact [any]
    to: the step [any]

    Returns: the nearest multiple of the step [any].
    Limits: exact at any size; a credit rounds as the mirror of its debit.
    Raises: ZeroDivisionError for a step of nothing.

    >>> half_up(Fraction(5, 2)), half_up(Fraction(-5, 2)), half_up(13, to=5)
    (3, -3, 15)
    """
    part = Fraction(value if value >= 0 else -value) / to
    steps = (2 * part.numerator + part.denominator) // (2 * part.denominator)
    return steps * (to if value >= 0 else -to)


def fixed(value: Number, places: int, strip: bool = False) -> str:
    """A number written with so many decimals, half-up (common practice, no source).

    Formula: half_up(v·10^places) with the point put back.

    value: what is written [any]
    places: decimals after the point; negative rounds before it [count]
    strip: leave out zeros at the end [yes/no]

    Returns: the figures as text [text].
    Limits: ties go away from zero; a result of zero carries no minus.
    Raises: Impossible for an endless number.

    >>> fixed(Fraction(3665, 1000), 2), fixed(22.0, 3, strip=True), fixed(3841.4, -1)
    ('3.67', '22', '3840')
    """
    return _pointed(half_up(exact(value) * _ten(places)), places, strip)


def _pointed(whole: int, places: int, strip: bool = False) -> str:
    """So many units of the last place, as figures with a point."""
    sign, figures = ("-" if whole < 0 else ""), str(abs(whole))
    if places <= 0:
        return sign + (figures + "0" * -places if whole else "0")
    figures = figures.rjust(places + 1, "0")
    text = f"{figures[:-places]}.{figures[-places:]}"
    return sign + (text.rstrip("0").rstrip(".") if strip else text)


def _power(value: Fraction) -> int:
    """The power of ten of the first figure: 0 for 1 to 9.99, -1 for 0.1 to 0.999."""
    power = len(str(value.numerator)) - len(str(value.denominator))
    return power - 1 if value < _ten(power) else power


def significant(x: Number, n: int) -> str:
    """A number written with n figures that count, half-up (common practice, no source).

    Formula: places = n - 1 - floor(log10 |x|)

    x: what is written [any]
    n: figures that count, 1 or more [count]

    Returns: the figures as text, zeros at the end kept [text].
    Limits: zero is written as 0.
    Raises: Impossible for an endless number.

    >>> significant(0.866141, 3), significant(3841, 2), significant(0.99951, 3)
    ('0.866', '3800', '1.00')
    """
    value = abs(exact(x))
    if not value:
        return "0"
    places = n - 1 - _power(value)
    rounded = half_up(value * _ten(places)) / _ten(places)
    return fixed(exact(x), n - 1 - _power(rounded))


def about(value: Number, low: Number, high: Number) -> tuple[str, str, str]:
    """A figure and its range, with no more figures than the range deserves (GUM 7.2.6: one or two for the spread).

    Formula: the last place is that of the first figure of (high - low)/2, one place finer when that figure is 1 or 2.

    value: the best figure [any]
    low: the least it can be, written rounded down [any]
    high: the most it can be, written rounded up [any]

    Returns: value, low and high as text, all to the same place [text].
    Limits: with no range at all four figures are shown.
    Raises: Impossible when low is above high.

    >>> about(8.469, 8.046, 8.892)
    ('8.5', '8.0', '8.9')
    >>> about(3841, 3764, 3918)
    ('3840', '3760', '3920')
    """
    middle, least, most = exact(value), exact(low), exact(high)
    if least > most:
        raise Impossible("The least is above the most. Exchange the two.")
    half = (most - least) / 2
    if not half:
        text = significant(value, 4)
        return text, text, text
    power = _power(half)
    first = int(half / _ten(power))
    places = -power + (1 if first <= 2 else 0)
    scale = _ten(places)
    grain = _NEARLY * max(Fraction(1), abs(most) * scale)
    down = math.floor(least * scale + grain)
    up = math.ceil(most * scale - grain)
    return fixed(middle, places), _pointed(down, places), _pointed(up, places)
