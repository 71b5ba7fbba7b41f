"""What would explain a weighing that does not agree: one input alone, changed until prediction and scale meet.

Each size, the density, a reading, the tags of twins: the value that would reconcile the two, and how many of its own
standard uncertainties that is away. Few is plausible, many is not; it is a list of where to look, not a finding.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from shopapp.bench.cuts import Body, Cut, taken_volume
from shopapp.bench.errors import BenchError, Impossible
from shopapp.bench.inputs import Input, Where, inputs, moved
from shopapp.bench.quantities import show_length
from shopapp.bench.rounding import fixed, significant
from shopapp.bench.together import Weighed
from shopapp.bench.uncertainty import Prediction, predict, rectangular, slope

_FAR = 60  # of its own uncertainties: beyond any error that is not a mistake of another kind
_CLOSE = 1e-11
_AGREES = 2  # standard uncertainties


@dataclass(frozen=True)
class Reading:
    """Removal weighed, division of the scale, what the piece weighed before and weighs now, all [g].

    `twins` are the pieces that were to be cut alike and lay on the same scale: before and after of each [g].
    """

    removed: Weighed
    division_g: float
    before_g: float | None = None
    after_g: float | None = None
    twins: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True)
class Explanation:
    """One input that alone would reconcile: its value now and then [mm, g/cm3 or g], in how many of its own u."""

    name: str
    value: float
    needed: float
    sigmas: float
    words: str


def reconciling(
    body: Body | None, cuts: Sequence[Cut], one: Input, wanted: float, grows: float
) -> float | None:
    """By how much one size would have to differ for the cuts to take a wanted volume: secant rule, from memory.

    Formula: h becomes h - (V(h) - V)(h - h') / (V(h) - V(h'))

    body: the part as drawn, None for the cuts alone [mm]
    cuts: in order [mm]
    one: the size [mm]
    wanted: the volume V [mm3]
    grows: by how much the volume grows with the size, to begin with [mm2]

    Returns: the difference, None where no such size can be [mm].
    Limits: the size nearest to the planned one, found in twelve steps or not at all.

    >>> turn = Cut("A", "turn", {"from": 20, "to": 10, "start": 0, "end": 4})
    >>> outer = inputs(None, [turn], 0.1)[0]
    >>> round(reconciling(None, [turn], outer, math.pi * (11**2 - 25) * 4, 125.7), 6)
    2.0
    """
    start = taken_volume(body, cuts) - wanted
    last, off = 0.0, start
    if not grows:
        return None
    by = -start / grows
    for _ in range(12):
        try:
            now = taken_volume(*moved(body, cuts, one, by)) - wanted
        except BenchError:
            return None
        if abs(now) <= _CLOSE * wanted:
            return by
        if now == off:
            return None
        last, off, by = by, now, by - now * (by - last) / (now - off)
        if not math.isfinite(by) or one.value + by <= 0:
            return None
    return None


def _apart(needed: float, value: float, unit: str) -> str:
    more = "more" if needed > value else "less"
    return f"{show_length(abs(needed - value), unit)} {more}"


def _times(sigmas: float) -> str:
    return f"{significant(sigmas, 2)} times its own uncertainty"


def _by_size(one: Input, by: float, unit: str) -> Explanation:
    own, needed = rectangular(one.half_width), one.value + by
    sigmas = abs(by) / own
    what = one.name[:1].upper() + one.name[1:]
    planned = "planned" if one.where[0][0] == "cut" else "drawn"
    words = f"{what} would have to be {show_length(needed, unit)}, {_apart(needed, one.value, unit)} than {planned}"
    return Explanation(one.name, one.value, needed, sigmas, f"{words}: {_times(sigmas)}.")


def _by_density(mass: float, nominal: float, low: float, high: float, removed: float) -> Explanation:
    needed, own = nominal * removed / mass, (high - low) / math.sqrt(12)
    sigmas = abs(needed - nominal) / own
    where = "within" if low <= needed <= high else "outside"
    words = (
        f"The density would have to be {fixed(needed, 2)} g/cm³, {where} the {fixed(low, 2)} to {fixed(high, 2)} "
        f"it honestly has: {_times(sigmas)}."
    )
    return Explanation("density of the material", nominal, needed, sigmas, words)


def _by_scale(reading: Reading, off: float) -> Explanation:
    steps, sigmas = abs(off) / reading.division_g, abs(off) / reading.removed.u
    way = "too much" if off > 0 else "too little"
    many = "1 division" if fixed(steps, 1, strip=True) == "1" else f"{fixed(steps, 1, strip=True)} divisions"
    words = f"The scale would have to show {many} {way}: {_times(sigmas)}."
    grams = reading.removed.grams
    return Explanation("the scale", grams, grams - off, sigmas, words)


def _by_tags(reading: Reading, predicted: Prediction) -> Explanation | None:
    """Tags exchanged with a twin explain it only where both pieces agree then: else the fault has only moved."""
    if reading.before_g is None or reading.after_g is None:
        return None
    u = math.hypot(reading.removed.u, predicted.u)
    found = []
    for before, after in reading.twins:
        mine, its = reading.before_g - after, before - reading.after_g
        off = max(abs(mine - predicted.mass), abs(its - predicted.mass)) / u
        if min(mine, its) >= 0 and off <= _AGREES:
            found.append((off, mine))
    if not found:
        return None
    sigmas, mine = min(found)
    words = "The tags of the twins may be swapped: with each other's weights both agree."
    return Explanation("the tags", reading.removed.grams, mine, sigmas, words)


def explain(
    body: Body | None,
    cuts: Sequence[Cut],
    density: tuple[float, float, float],
    half_width_mm: float,
    reading: Reading,
    unit: str = "in",
    half_widths: Mapping[Where, float] | None = None,
) -> tuple[Explanation, ...]:
    """What would each alone explain why prediction and weighing differ, the most plausible first (GUM 4.3.7, 5.1.3).

    Formula: rho V(x + h) = removed, solved for h of one size; plausible by |h| / u_x

    body: the part as drawn, None for the cuts alone [mm]
    cuts: in order [mm]
    density: nominal, the least and the most it honestly is [g/cm3]
    half_width_mm: how far a size may be off to either side, where nothing better is told [mm]
    reading: what was weighed, and on what [g]
    unit: in or mm, for the words [word]
    half_widths: as `half_width_mm`, for single sizes, by where they are typed [mm]

    Returns: value, needed value, how many of its own u, and a sentence for each [mm, g/cm3 or g].
    Limits: one input at a time; sizes that would need more than sixty of their own u, or cannot be, are left out.
    Raises: Impossible for a scale without division or nothing weighed off; else as `predict`.

    >>> turn = Cut("A", "turn", {"from": 200, "to": 190, "start": 0, "end": 10})
    >>> found = explain(None, [turn], (7.85, 7.82, 7.88), 0.05, Reading(Weighed(264.5, 2.0), 5.0), "mm")
    >>> found[0].words
    'The scale would have to show 4.8 divisions too much: 12 times its own uncertainty.'
    """
    nominal, low, high = density
    if not (reading.division_g > 0 and reading.removed.u > 0 and reading.removed.grams > 0):
        raise Impossible("To look for a reason, weigh the piece before and after on a scale whose division is known.")
    predicted = predict(body, cuts, nominal, low, high, half_width_mm, half_widths)
    off = reading.removed.grams - predicted.mass
    found = [_by_scale(reading, off)]
    if predicted.mass > 0 and high > low:
        found.append(_by_density(predicted.mass, nominal, low, high, reading.removed.grams))
    if tags := _by_tags(reading, predicted):
        found.append(tags)
    wanted = reading.removed.grams / nominal * 1000
    for one in inputs(body, cuts, half_width_mm, half_widths):
        if (own := rectangular(one.half_width)) > 0:
            grows = slope(body, cuts, one, own)
            if abs(off / nominal * 1000) > _FAR * own * abs(grows):
                continue
            if (by := reconciling(body, cuts, one, wanted, grows)) is not None and abs(by) <= _FAR * own:
                found.append(_by_size(one, by, unit))
    return tuple(sorted(found, key=lambda one: one.sigmas))
