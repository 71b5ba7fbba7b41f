"""From stock to passes: equal depths that add up exactly, a finish pass, the dial, and passes that meet a void."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from shopapp.bench.errors import Impossible

RADIUS, DIAMETER = "radius", "diameter"
KINDS = ("turn", "bore", "face")
LEAST = Fraction(508, 10000)  # .002 in: thinner than this a tool rubs; common practice, no source

_GRAIN = Fraction(1, 10**9)
_ALMOST = 1e-9

Rectangle = tuple[float, float, float, float]  # from z, from r, to z, to r


@dataclass(frozen=True)
class Pass:
    """One pass [mm]: its depth, the depth of all up to it, what is dialled for it and in all, and if it finishes."""

    number: int
    depth: Fraction
    so_far: Fraction
    dial: Fraction
    dial_so_far: Fraction
    finish: bool


@dataclass(frozen=True)
class Meeting:
    """A void that passes go over, and the numbers of these passes."""

    name: str
    passes: tuple[int, ...]


@dataclass(frozen=True)
class Interrupted:
    """The voids that passes go over, and a sentence for each."""

    meetings: tuple[Meeting, ...]
    words: tuple[str, ...]


def depths(
    stock: Fraction | int, most: Fraction | int, finish: Fraction | int = 0, least: Fraction | int = LEAST
) -> tuple[Fraction, ...]:
    """Depths of the passes that take the stock: equal ones, then the finish pass (a tool maker's catalogue, p. 1069).

    Formula: n = ceil((s - f) / ap - 1e-9), each (s - f) / n, then f. Where the rough stock is under the least, the
    passes are s / n with n = ceil(s / ap - 1e-9) instead.

    stock: to be taken, radial or axial [mm]
    most: per pass [mm]
    finish: left for the last pass, 0 for none of its own [mm]
    least: the thinnest pass that still cuts [mm]

    Returns: the depths, their sum exactly the stock [mm].
    Limits: fractions, so that nothing is lost; a stock under the finish pass is one pass.
    Raises: Impossible for stock or a pass that is not above 0, or a finish pass over the most.

    >>> inch = Fraction("25.4")
    >>> [float(each / inch) for each in depths(Fraction("0.125") * inch, Fraction("0.06") * inch, inch / 100)]
    [0.0575, 0.0575, 0.01]
    """
    s, ap, f, thinnest = Fraction(stock), Fraction(most), Fraction(finish), Fraction(least)
    if s <= 0:
        raise Impossible("There is no stock to take: the size it has now and the size wanted are the same.")
    if ap <= 0 or f < 0 or thinnest < 0:
        raise Impossible("The most per pass has to be above 0, the finish pass 0 or more.")
    if f > ap:
        raise Impossible("The finish pass is more than the most per pass. Make it thinner or allow more.")
    rough = s - f
    if rough <= 0:
        return (s,)
    if f and rough < thinnest:
        shares = max(1, math.ceil(s / ap - _GRAIN))
        return (s / shares,) * shares
    count = max(1, math.ceil(rough / ap - _GRAIN))
    return (rough / count,) * count + ((f,) if f else ())


def dial(depth: Fraction, reads: str) -> Fraction:
    """What is dialled for a depth on this machine (common practice, no source).

    Formula: depth on a dial that reads radius, or for a face; twice the depth on one that reads diameter

    depth: of the cut [mm]
    reads: radius or diameter, a fact of the machine [word]

    Returns: the number on the dial [mm].
    Limits: backlash taken up.
    Raises: Impossible for a dial that reads neither.

    >>> dial(Fraction(1, 16), "diameter")
    Fraction(1, 8)
    """
    if reads not in (RADIUS, DIAMETER):
        raise Impossible("Say what the dial of this machine reads: radius or diameter.")
    return 2 * depth if reads == DIAMETER else depth


def plan(
    stock: Fraction | int,
    most: Fraction | int,
    finish: Fraction | int = 0,
    reads: str = RADIUS,
    least: Fraction | int = LEAST,
) -> tuple[Pass, ...]:
    """The passes one by one, with the number to dial (common practice, no source).

    Formula: depths as in `depths`, dial as in `dial`

    stock: to be taken, radial or axial [mm]
    most: per pass [mm]
    finish: left for the last pass [mm]
    reads: radius or diameter, a fact of the machine; radius for a face [word]
    least: the thinnest pass that still cuts [mm]

    Returns: the passes; the last one's depth so far is the stock exactly [mm].
    Limits: one surface.
    Raises: Impossible as for depths and dial.

    >>> [str(each.dial) for each in plan(Fraction("0.3125"), Fraction("0.07"), reads="diameter")]
    ['1/8', '1/8', '1/8', '1/8', '1/8']
    """
    each = depths(stock, most, finish, least)
    found, so_far = [], Fraction(0)
    for number, depth in enumerate(each, 1):
        so_far += depth
        last = bool(finish) and number == len(each)
        found.append(Pass(number, depth, so_far, dial(depth, reads), dial(so_far, reads), last))
    return tuple(found)


def bands(
    kind: str, passes: Sequence[Pass], surface: float, over: tuple[float, float], towards: int = -1
) -> tuple[Rectangle, ...]:
    """The metal that each pass takes, as a rectangle along the axis and from it (common practice, no source).

    Formula: turn inward from the surface, bore outward, face along z the way that `towards` says

    kind: turn, bore or face [word]
    passes: in order [mm]
    surface: where the first pass starts: a radius, for a face its z [mm]
    over: from and to z, for a face from and to radius [mm]
    towards: for a face, -1 towards lower z or 1 towards higher [1]

    Returns: from z, from r, to z, to r of each pass [mm].
    Limits: straight surfaces; a taper is taken as the cylinder round it.
    Raises: Impossible for a kind that is none of these or a turn past the centre.

    >>> bands("turn", plan(2, 1), 50.0, (0.0, 10.0))
    ((0.0, 49.0, 10.0, 50.0), (0.0, 48.0, 10.0, 49.0))
    """
    if kind not in KINDS:
        raise Impossible(f"Passes are planned for {', '.join(KINDS)}; “{kind}” is none of them.")
    sign = {"turn": -1, "bore": 1}.get(kind, 1 if towards > 0 else -1)
    low, high = sorted(over)
    found = []
    for each in passes:
        start, end = sorted((surface + sign * float(each.so_far - each.depth), surface + sign * float(each.so_far)))
        if kind == "turn" and start < -_ALMOST:
            raise Impossible("These passes go past the centre: there is not so much stock outside.")
        found.append((start, low, end, high) if kind == "face" else (low, start, high, end))
    return tuple(found)


def _meets(one: Rectangle, other: Rectangle) -> bool:
    return all(min(one[i + 2], other[i + 2]) - max(one[i], other[i]) > _ALMOST for i in (0, 1))


def _which(numbers: tuple[int, ...], count: int) -> str:
    if len(numbers) == count:
        return "Every pass goes" if count > 1 else "The pass goes"
    if len(numbers) == 1:
        return f"Pass {numbers[0]} goes"
    if len(numbers) == numbers[-1] - numbers[0] + 1:
        return f"Passes {numbers[0]} to {numbers[-1]} go"
    return f"Passes {', '.join(map(str, numbers[:-1]))} and {numbers[-1]} go"


def interrupted(cuts: Sequence[Rectangle], voids: Sequence[tuple[str, Rectangle]]) -> Interrupted:
    """Which passes meet a void, so that the cut is interrupted (common practice, no source).

    Formula: the rectangle of a pass and that of a void share some area

    cuts: from z, from r, to z, to r of each pass [mm]
    voids: each with its name and from z, from r, to z, to r [mm]

    Returns: the voids that are met, by which passes, and the sentences [count].
    Limits: a void counts with the rectangle round it.

    >>> interrupted([(0, 40, 5, 42), (0, 38, 5, 40)], [("holes", (0, 35, 5, 39))]).words
    ('Pass 2 goes over the holes: interrupted, go light.',)
    """
    found = []
    for name, void in voids:
        numbers = tuple(number for number, cut in enumerate(cuts, 1) if _meets(cut, void))
        if numbers:
            found.append(Meeting(name, numbers))
    words = tuple(f"{_which(m.passes, len(cuts))} over the {m.name}: interrupted, go light." for m in found)
    return Interrupted(tuple(found), words)
