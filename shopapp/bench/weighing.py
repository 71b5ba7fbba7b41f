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

    @property
    def normalised(self) -> float:
        """The normalised error of the removal: 1 is the limit of what the two uncertainties explain."""
        sure = self.uncertainty_g
        return self.difference_g / sure if sure else math.copysign(math.inf, self.difference_g)


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

    Formula: none; a division of 1/2 is halves, of 5 fives, of 0.1 tenths of the unit

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

    Formula: value / division is whole

    value: as typed, in the unit of the scale [lb, oz, g or kg]
    division: of the scale, in its unit [lb, oz, g or kg]
    unit: lb, oz, g or kg, for the words alone [word]

    Returns: the same reading, exact [lb, oz, g or kg].
    Limits: a dial that is read between its divisions is not known here.
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
    Limits: resolution alone; calibration and repeatability are not in it. Nor is what a verified scale may be off by:
    of a removal it cancels but for its slope, and the rules part. Above 4000 divisions NIST Handbook 44 allows 2.5 d at
    acceptance, OIML R 76 1.5 e up to 10 000; the first step of class II, 20 000 e in the web text of UK SI 1995/1907,
    is 5000 e in OIML and by its own next row. Weights here are for the shop's own check, not for trade.

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
    Limits: two readings on one scale, one before and one after; calibration and a moved zero are not in it.

    >>> can_judge(360.0, 5.0), can_judge(360.0, 226.8)
    (True, False)
    """
    return difference_uncertainty(division_g) <= predicted_g / 2 * _NEARLY


def can_judge_by(predicted_g: float, removed_expanded_g: float) -> bool:
    """Whether a weighing of whatever readings can judge a removal at all; common practice, no source.

    Formula: U <= prediction / 2

    predicted_g: the removal foreseen [g]
    removed_expanded_g: U of the weighed removal, k = 2 [g]

    Returns: whether it can [yes/no].
    Limits: U holds all readings; half of the prediction is the shop's own rule.

    >>> can_judge_by(360.0, 185.2), can_judge_by(360.0, 92.6)
    (False, True)
    """
    return removed_expanded_g <= predicted_g / 2 * _NEARLY


def normalised_error(x: float, x_expanded: float, reference: float, reference_expanded: float) -> float:
    """How far two values are apart in units of their common uncertainty (ISO 13528, E_n; clause from memory).

    Formula: En = (x - X) / sqrt(U_x^2 + U_X^2)

    x: the one value [any]
    x_expanded: its U, k = 2 [any]
    reference: X, the other value [any]
    reference_expanded: its U, k = 2 [any]

    Returns: En; up to 1 either way the two agree [1].
    Limits: both uncertainties expanded with the same k, the two values independent.
    Raises: Impossible where neither value is uncertain.

    >>> round(normalised_error(1.05, 0.03, 1.00, 0.04), 9)
    1.0
    """
    common = math.hypot(x_expanded, reference_expanded)
    if not common > 0:
        raise Impossible("Two values can be compared only where at least one says how sure it is.")
    return (x - reference) / common


def verdict_by(
    removed_g: float, removed_expanded_g: float, predicted_g: float, predicted_expanded_g: float, judges: bool
) -> Verdict:
    """A weighed removal against the predicted one, each with its own U (ISO 13528, E_n; clause from memory).

    Formula: En = (removed - predicted) / sqrt(U_removed^2 + U_predicted^2); up to 1 agrees, up to 2 look again, beyond
    does not add up. A piece that got heavier does not add up on any scale; a scale that cannot judge never agrees.

    removed_g: what the scale says came off, of whatever readings [g]
    removed_expanded_g: its U, k = 2 [g]
    predicted_g: the removal foreseen [g]
    predicted_expanded_g: its U, k = 2 [g]
    judges: whether the scale can judge this removal at all [yes/no]

    Returns: the word, removed, predicted, U of both, removed less predicted [g].
    Limits: the two independent; look again up to 2 is common practice, not the standard's.
    Raises: Impossible for an uncertainty or a prediction under nothing.

    >>> verdict_by(1780.0, 4.082, 1787.5, 32.215, True).word
    'agrees'
    """
    if min(removed_expanded_g, predicted_expanded_g, predicted_g) < 0:
        raise Impossible("A verdict needs a removal foreseen and two uncertainties, none of them under nothing.")
    off = normalised_error(removed_g, removed_expanded_g, predicted_g, predicted_expanded_g)
    if removed_g < 0 or abs(off) > 2 * _NEARLY:
        word = NOT
    elif not judges:
        word = COARSE
    else:
        word = AGREES if abs(off) <= _NEARLY else LOOK
    both = math.hypot(removed_expanded_g, predicted_expanded_g)
    return Verdict(word, removed_g, predicted_g, both, removed_g - predicted_g)


def verdict(
    before_g: float, after_g: float, division_g: float, predicted_g: float, spread: Fraction | float
) -> Verdict:
    """A removal weighed on one scale against a prediction with a flat spread; GUM F.2.2.1, limits as of `verdict_by`.

    Formula: U = sqrt((2 d / sqrt(6))^2 + (spread x prediction)^2)

    before_g: reading before [g]
    after_g: reading after, on the same scale [g]
    division_g: of the scale [g]
    predicted_g: the removal foreseen [g]
    spread: part by which the prediction may be off [1]

    Returns: the word, removed, predicted, U, removed less predicted [g].
    Limits: both readings on one scale; the spread is taken as U of the prediction, k = 2.
    Raises: Impossible for a division or prediction under nothing.

    >>> verdict(11793.4, 7937.9, 226.796, 3841.3, Fraction(1, 20)).word
    'agrees'
    """
    if division_g <= 0 or predicted_g < 0:
        raise Impossible("A verdict needs the division of the scale and a removal foreseen, neither under nothing.")
    scale, judges = difference_uncertainty(division_g), can_judge(predicted_g, division_g)
    return verdict_by(before_g - after_g, scale, predicted_g, float(spread) * predicted_g, judges)


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
    # A microgram is nothing here; without the rounding one division apart would leave a float's dust as its low end.
    low, high = show_mass(max(0.0, round(apart - division_g, 6)), unit), show_mass(apart + division_g, unit)
    off = f"{show_mass(a, unit)} and {show_mass(b, unit)} came off"
    said = f"Same off both? {removal.capitalize()}: {off}. Same now? {finish.capitalize()}: {low} to {high} apart."
    if swapped:
        said = f"Does not add up: tags swapped? {off}; with the after-weights exchanged they agree. {said}"
    return TwinTest(removal, finish, said, swapped)
