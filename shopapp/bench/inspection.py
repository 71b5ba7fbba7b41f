"""A measured size against its limits: in, out, or the instrument can't tell."""

import math
from dataclasses import dataclass

from shopapp.bench.errors import Impossible
from shopapp.bench.quantities import show_length

IN, OUT, UNKNOWN = "in", "out", "can't tell"
_HAIR = 1e-9  # mm: a size on the very line counts as on it, whatever the floats say


@dataclass(frozen=True)
class Judged:
    """One of three words about a measured size, how far inside its limits it is [mm, negative outside], a sentence."""

    word: str
    inside: float
    words: str


def _two(mm: float) -> str:
    """Fine enough for an instrument: four decimals of an inch, three of a millimetre."""
    return f"{show_length(mm, 'in', 4)} ({show_length(mm, 'mm', 3)})"


def _sentence(word: str, measured: float, low: float, high: float, uncertainty: float) -> str:
    short = measured - low < high - measured
    edge, over = (low, low - measured) if short else (high, measured - high)
    name = "low" if short else "high"
    give, size = _two(uncertainty), _two(measured)
    if word == IN:
        return f"In: {size} is {_two(-over)} inside the {name} limit, and the instrument is good to ± {give}."
    if word == OUT:
        return f"Out: {size} is {_two(over)} beyond the {name} limit {_two(edge)}, more than the instrument's ± {give}."
    if 2 * uncertainty > high - low + _HAIR:
        return f"Can't tell: ± {give} is too coarse for limits {_two(high - low)} apart. Take a finer instrument."
    return (
        f"Can't tell: {size} is {_two(abs(over))} {'beyond' if over > 0 else 'inside'} the {name} limit, nearer than "
        f"the instrument's ± {give}. Measure again with a finer one."
    )


def judge(measured: float, low: float, high: float, uncertainty: float) -> Judged:
    """A measured size against its limits, with a guard band to either side of each (ISO 14253-1, from memory).

    Formula: in from low + U to high - U; out under low - U or over high + U; else the instrument can't tell

    measured: the reading [mm]
    low: the least it may be, -inf where there is none [mm]
    high: the most it may be, inf where there is none [mm]
    uncertainty: of the instrument, expanded, U [mm]

    Returns: the word, how far inside, a sentence [text, mm, text].
    Limits: U covers the whole measurement; nothing is added for the form of the part.
    Raises: Impossible for limits that are swapped or an uncertainty under nothing.

    >>> judge(25.01, 25.0, 25.021, 0.003).word, judge(25.02, 25.0, 25.021, 0.003).word
    ('in', "can't tell")
    """
    if not math.isfinite(measured):
        raise Impossible("Type what the instrument shows: a plain number.")
    if not low <= high or not (math.isfinite(low) or math.isfinite(high)):
        raise Impossible("Give the size a low or a high limit, the low one not above the high one.")
    if not (uncertainty >= 0 and math.isfinite(uncertainty)):
        raise Impossible("An instrument is good to some size, plus and minus: 0 or more.")
    inside = min(measured - low, high - measured)
    beyond = OUT if inside < -uncertainty - _HAIR else UNKNOWN
    word = IN if inside >= uncertainty - _HAIR else beyond
    return Judged(word, inside, _sentence(word, measured, low, high, uncertainty))
