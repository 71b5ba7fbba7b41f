"""Weighings made of several readings: a box taken off, several pieces at once, between the sides, over two scales.

Every reading is uniform over a division (GUM F.2.2.1) and rounded for itself, also that of the empty scale or box; so
each adds d^2/12. Calibration is common to readings on one scale and is left out; over two scales it is not, and the
two should be tried with one piece first.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shopapp.bench.errors import Impossible
from shopapp.bench.weighing import reading_uncertainty

_NEARLY = 1 + 1e-9


@dataclass(frozen=True)
class Weighed:
    """A mass made of readings, and its standard uncertainty [g]."""

    grams: float
    u: float

    @property
    def expanded(self) -> float:
        """Twice the standard uncertainty [g]."""
        return 2 * self.u


@dataclass(frozen=True)
class Scale:
    """A scale: its name, its division and what it can carry [g]; None where that is not known."""

    name: str
    division_g: float
    capacity_g: float | None = None


@dataclass(frozen=True)
class Way:
    """One way to weigh a removal: in words, on which scale, how many at once, U of each piece's removal [g]."""

    words: str
    scale: str
    at_once: int
    expanded_g: float


def read(grams: float, division_g: float) -> Weighed:
    """One reading of one scale (GUM F.2.2.1).

    Formula: u = d / sqrt(12)

    grams: what the scale shows [g]
    division_g: of the scale [g]

    Returns: the mass with its u [g].
    Limits: resolution alone.
    Raises: Impossible for a scale without division.

    >>> round(read(1000, 5).u, 6)
    1.443376
    """
    if not division_g > 0:
        raise Impossible("Give the scale its division first: the step from one reading to the next.")
    return Weighed(grams, reading_uncertainty(division_g))


def less(one: Weighed, other: Weighed) -> Weighed:
    """What is left when one weighing is taken off another: box and piece less the box, before less after (GUM 5.1.2).

    Formula: m = m1 - m2; u^2 = u1^2 + u2^2

    one: the larger, as a rule [g]
    other: what is taken off: the box, or the piece afterwards, also on another scale [g]

    Returns: the difference with its u [g].
    Limits: the two share no reading.

    >>> round(less(read(12345, 5), read(10565, 5)).expanded, 3)
    4.082
    """
    return Weighed(one.grams - other.grams, math.hypot(one.u, other.u))


def removed(before: Weighed, after: Weighed, empty_each_time: bool = False) -> Weighed:
    """What came off, of two weighings, also over two scales (GUM F.2.2.1, GUM 5.1.2).

    Formula: u^2 = u1^2 + u2^2; twice that where the empty scale was set to nothing, and so rounded, before each

    before: first weighing [g]
    after: second weighing [g]
    empty_each_time: whether the scale was set to nothing before each of the two [yes/no]

    Returns: the removal with its u [g].
    Limits: over two scales what sets one apart from the other is not in it.

    >>> round(removed(read(9000, 5), read(8000, 5), empty_each_time=True).u / (5 / math.sqrt(3)), 9)
    1.0
    """
    found = less(before, after)
    return Weighed(found.grams, found.u * math.sqrt(2)) if empty_each_time else found


def each(total: Weighed, pieces: int) -> Weighed:
    """One piece's part of a weighing of several alike at once (GUM 5.1.2).

    Formula: m / n, u / n

    total: all together [g]
    pieces: how many [count]

    Returns: the mean of the pieces with its u [g].
    Limits: says nothing of how the pieces differ among themselves.
    Raises: Impossible for less than one piece.

    >>> round(each(less(read(9000, 0.5), read(8000, 0.5)), 2).expanded, 3)
    0.204
    """
    if pieces < 1:
        raise Impossible("Say how many pieces are on the scale: 1 or more.")
    return Weighed(total.grams / pieces, total.u / pieces)


def sides(before: Weighed, between: Weighed, after: Weighed) -> tuple[Weighed, Weighed, Weighed]:
    """What each side took, weighed between them, and both together (GUM 5.1.2).

    Formula: A = before - between, B = between - after, A + B = before - after: the reading between cancels

    before: first weighing [g]
    between: after the first side [g]
    after: after the second side [g]

    Returns: first side, second side, both, each with its u [g].
    Limits: the two sides share a reading: what one has too much by it the other has too little.

    >>> [one.grams for one in sides(read(900, 5), read(700, 5), read(650, 5))]
    [200, 50, 250]
    """
    return less(before, between), less(between, after), less(before, after)


def ways(pieces: int, each_g: float, scales: Sequence[Scale]) -> tuple[Way, ...]:
    """How a removal from several alike pieces can be weighed, the sharpest first; GUM F.2.2.1, GUM 5.1.2.

    Formula: U of each piece = 2 d / (n sqrt(6)) for n at once

    pieces: how many alike pieces there are [count]
    each_g: what one weighs before the cut [g]
    scales: those of the shop [g]

    Returns: the ways that the scales can carry [g].
    Limits: at once tells the mean alone; single weighings also tell the pieces apart.
    Raises: Impossible for less than one piece.

    >>> dial = Scale("DIAL", 226.796, 22679.6)
    >>> [way.words for way in ways(2, 8000, [dial])]
    ['all 2 at once on DIAL', 'one by one on DIAL']
    """
    found = []
    for scale in scales:
        for n in sorted({1, pieces}):
            if scale.capacity_g is None or n * each_g <= scale.capacity_g * _NEARLY:
                reading = read(0.0, scale.division_g)
                words = f"all {n} at once on {scale.name}" if n > 1 else f"one by one on {scale.name}"
                found.append(Way(words, scale.name, n, each(less(reading, reading), n).expanded))
    if pieces < 1:
        raise Impossible("Say how many pieces are on the scale: 1 or more.")
    return tuple(sorted(found, key=lambda way: way.expanded_g))
