"""What a scale can say: readings on its divisions, a removal judged by its uncertainty, twins compared.

A reading is uniform over a division (GUM F.2.2.1), so one reading has the standard uncertainty d/sqrt(12), a difference
of two d/sqrt(6), a difference of two differences d/sqrt(3); twice that is called U.
"""

import math
from dataclasses import dataclass
from fractions import Fraction

from shopapp.bench.errors import Asked, Impossible, Refused
from shopapp.bench.quantities import show_mass

AGREES, LOOK, NOT, COARSE = "agrees", "look again", "does not add up", "scale too coarse"
YES, NO, UNKNOWN = "yes", "no", "this scale cannot tell"

_SHOWS = {
    Fraction(1, 2): "halves", Fraction(1, 4): "quarters", Fraction(1, 5): "fifths",
    Fraction(1, 8): "eighths", Fraction(1, 10): "tenths", Fraction(1, 20): "twentieths", Fraction(1, 50): "fiftieths",
    Fraction(1, 100): "hundredths", Fraction(1): "ones", Fraction(2): "twos", Fraction(5): "fives",
    Fraction(10): "tens", Fraction(20): "twenties", Fraction(50): "fifties", Fraction(100): "hundreds",
}
_WHOLE = {"lb": "a pound", "kg": "a kilogram", "oz": "an ounce", "g": "a gram"}
_NEARLY = 1 + 1e-9  # a reading on the very limit counts as within it


@dataclass(frozen=True)
class Verdict:
    """One of four words about a removal, and the masses behind it [g]."""

    word: str
    removed_g: float
    predicted_g: float
    uncertainty_g: float
    difference_g: float


@dataclass(frozen=True)
class TwinTest:
    """Did the same come off both, are both the same now: yes, no, or this scale cannot tell; tags swapped, perhaps."""

    removal: str
    finish: str
    words: str
    swapped: bool


def _places(division: Fraction) -> int:
    return next((n for n in range(7) if (division * 10**n).denominator == 1), 6)


def _figures(value: Fraction, places: int) -> str:
    scaled = round(value * 10**places)
    return f"{scaled / 10**places:.{places}f}"


def shows(division: Fraction, unit: str = "") -> str:
    """What the divisions of a scale are called at the bench; common practice, no source.

    division: of the scale, in its unit [lb, oz, g or kg]
    unit: lb, oz, g or kg; without it the whole is not named [word]

    Returns: such as "halves", "fives", "tenths of a pound" [text].
    Limits: tenths are .0001 in elsewhere in the shop, so parts from tenths down name their whole.

    >>> shows(Fraction(1, 2)), shows(Fraction(1, 10), "lb")
    ('halves', 'tenths of a pound')
    """
    word = _SHOWS.get(division)
    if word is None:
        return f"steps of {_figures(division, _places(division))}"
    return f"{word} of {_WHOLE[unit]}" if unit in _WHOLE and division <= Fraction(1, 10) else word


def snap(value: Fraction, division: Fraction, unit: str = "") -> Fraction:
    """A reading, if the scale can show it; common practice, no source.

    value: as typed, in the unit of the scale [lb, oz, g or kg]
    division: of the scale, in its unit [lb, oz, g or kg]
    unit: lb, oz, g or kg, for the words alone [word]

    Returns: the same reading, exact [lb, oz, g or kg].
    Raises: Asked with both neighbours for a reading between two divisions, Refused under nothing.

    >>> snap(Fraction(53, 2), Fraction(1, 2))
    Fraction(53, 2)
    """
    if division <= 0:
        raise Impossible("Give the scale its division first: the step from one reading to the next.")
    if value < 0:
        raise Refused("A weight is 0 or more. Zero the scale and read it again.")
    steps = value / division
    if steps.denominator == 1:
        return value
    low = math.floor(steps) * division
    places = _places(division) or (0 if division >= 1 else 1)
    neighbours = f"{_figures(low, places)} or {_figures(low + division, places)}?"
    raise Asked(f"This scale shows {shows(division, unit)}. {neighbours}")


def reading_uncertainty(division_g: float) -> float:
    """Standard uncertainty of one reading by the scale's resolution (GUM F.2.2.1).

    Formula: u = d / sqrt(12)

    division_g: of the scale [g]

    Returns: u [g].
    Limits: resolution alone; calibration and repeatability are not in it.

    >>> round(reading_uncertainty(5.0), 6)
    1.443376
    """
    return division_g / math.sqrt(12)


def difference_uncertainty(division_g: float) -> float:
    """Expanded uncertainty, k = 2, of a difference of two readings on one scale (GUM F.2.2.1, two readings).

    Formula: U = 2 d / sqrt(6)

    division_g: of the scale [g]

    Returns: U [g].
    Limits: both readings on the same scale; resolution alone.

    >>> round(difference_uncertainty(5.0), 6)
    4.082483
    """
    return 2 * division_g / math.sqrt(6)


def can_judge(predicted_g: float, division_g: float) -> bool:
    """Whether a scale can judge a removal at all; common practice, no source.

    Formula: 2 d / sqrt(6) <= prediction / 2

    predicted_g: the removal foreseen [g]
    division_g: of the scale [g]

    Returns: whether it can [yes or no].

    >>> can_judge(360.0, 5.0), can_judge(360.0, 226.8)
    (True, False)
    """
    return difference_uncertainty(division_g) <= predicted_g / 2 * _NEARLY


def verdict(
    before_g: float, after_g: float, division_g: float, predicted_g: float, spread: Fraction | float
) -> Verdict:
    """A weighed removal against the predicted one; uncertainty by GUM F.2.2.1, limits U and 2 U by common practice.

    Formula: U = sqrt((2 d / sqrt(6))^2 + (spread x prediction)^2); up to U agrees, up to 2 U look again. A piece that
    got heavier, or is off by more than 2 U, does not add up on any scale; a scale that cannot judge never agrees.

    before_g: reading before [g]
    after_g: reading after, on the same scale [g]
    division_g: of the scale [g]
    predicted_g: the removal foreseen [g]
    spread: part by which the prediction may be off [1]

    Returns: the word, removed, predicted, U, removed less predicted [g].
    Raises: Impossible for a division or prediction under nothing.

    >>> verdict(11793.4, 7937.9, 226.796, 3841.3, Fraction(1, 20)).word
    'agrees'
    """
    if division_g <= 0 or predicted_g < 0:
        raise Impossible("A verdict needs the division of the scale and a removal foreseen, neither under nothing.")
    removed = before_g - after_g
    u = math.hypot(difference_uncertainty(division_g), float(spread) * predicted_g)
    off = removed - predicted_g
    if removed < 0 or abs(off) > 2 * u * _NEARLY:
        word = NOT
    elif not can_judge(predicted_g, division_g):
        word = COARSE
    else:
        word = AGREES if abs(off) <= u * _NEARLY else LOOK
    return Verdict(word, removed, predicted_g, u, off)


def _same_removal(a: float, b: float, division_g: float) -> str:
    if min(a, b) < 0 or abs(a - b) > 2 * division_g / math.sqrt(3) * _NEARLY:
        return NO
    return YES if can_judge((a + b) / 2, division_g) else UNKNOWN


def _same_finish(apart: float, division_g: float) -> str:
    if apart > division_g * _NEARLY:
        return NO
    return YES if apart < division_g / 2 else UNKNOWN


def twins(
    a_before: float, a_after: float, b_before: float, b_after: float, division_g: float, unit: str = "g"
) -> TwinTest:
    """Two pieces that should be alike, on one scale: the same off, the same left; GUM F.2.2.1, limits common practice.

    Formula: removals differ beyond U = 2 d / sqrt(3); the true difference of two readings is |difference| +- d at most.
    Tags are thought swapped when the removals differ and exchanging the after-weights makes them equal.

    a_before: first piece before [g]
    a_after: first piece after [g]
    b_before: second piece before [g]
    b_after: second piece after [g]
    division_g: of the scale [g]
    unit: in which the words are, lb, oz, g or kg [word]

    Returns: the two answers, a sentence, and whether the tags seem swapped [text].
    Limits: all four readings on the same scale.

    >>> twins(26.6, 17.4, 25.8, 18.2, 0.2).swapped
    True
    """
    a, b, apart = a_before - a_after, b_before - b_after, abs(a_after - b_after)
    removal, finish = _same_removal(a, b, division_g), _same_finish(apart, division_g)
    swapped = removal == NO and _same_removal(a_before - b_after, b_before - a_after, division_g) != NO
    low, high = show_mass(max(0.0, apart - division_g), unit), show_mass(apart + division_g, unit)
    off = f"{show_mass(a, unit)} and {show_mass(b, unit)} came off"
    said = f"Same off both? {removal.capitalize()}: {off}. Same now? {finish.capitalize()}: {low} to {high} apart."
    if swapped:
        said = f"Does not add up: tags swapped? {off}; with the after-weights exchanged they agree. {said}"
    return TwinTest(removal, finish, said, swapped)
