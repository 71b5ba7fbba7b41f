"""Whether voids run into each other: decided where it is known where they stand, or wherever they stand; else asked.

Each void of a set takes an angle about its middle, at every radius and place; a keyway two in the corners of its flat
floor. Two voids share metal where their angles overlap, once they are turned to where their middles stand.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from shapely import Geometry, box

from shopapp.bench.holes import HoleCircle, Keyway, RadialHole, Slot, Void, called, extent

_GRID = 48
_NEARLY = 1e-9  # rad: nearer than this they touch and share nothing
_AREA = 1e-6  # mm2 of metal

Extent = tuple[float, float, float, float]  # from z, from r, to z, to r
Span = tuple[float, float]


@dataclass(frozen=True)
class Overlaps:
    """Sentences about voids that do run into each other, and questions about those that may."""

    certain: tuple[str, ...] = ()
    asked: tuple[str, ...] = ()


def spans(void: Void, z: float, r: float) -> tuple[Span, ...]:
    """The angles about its middle that a void takes at one place; geometry, from memory.

    Formula: a hole to acos((r^2 + R^2 - a^2) / (2 r R)); parallel sides to asin(w/r); a flat floor at f, seen from the
    axis, to acos(f/r), and of a keyway only from there on

    void: a hole circle, keyway, radial hole or slot [mm]
    z: how far from the back face [mm]
    r: from the axis, above nothing [mm]

    Returns: from and to of each, none beside the void, all round from -pi to pi [rad].
    Limits: straight walls and flat floors; a void is as wide as its drawing.

    >>> [round(math.degrees(x), 6) for x in spans(Keyway(width=20, depth=5, bore=40), 0, 20)[0]]
    [-30.0, 30.0]
    """
    z1, r1, z2, r2 = extent(void)
    if not (z1 <= z <= z2 and r1 <= r <= r2):
        return ()
    inner, half = 0.0, math.pi
    if isinstance(void, HoleCircle):
        a, far = void.diameter / 2, void.circle / 2
        if r > a - far:
            half = math.acos(max(-1.0, min(1.0, (r * r + far * far - a * a) / (2 * r * far)))) if far else 0.0
    elif isinstance(void, Keyway):
        floor = void.bore / 2 + void.depth
        inner, half = math.acos(min(1.0, floor / r)), math.asin(min(1.0, void.width / 2 / r))
    else:
        w = _half_width(void, z)
        half = min(math.asin(min(1.0, w / r)), math.acos(min(1.0, r1 / r)))
    if half <= inner:
        return ()
    return ((inner, half), (-half, -inner)) if inner > 0 else ((-half, half),)


def _half_width(void: RadialHole | Slot, z: float) -> float:
    if isinstance(void, Slot):
        return void.width / 2
    return math.sqrt(max(0.0, void.diameter**2 / 4 - (z - void.at) ** 2))


def _count(void: Void) -> int:
    return 1 if isinstance(void, Keyway) else void.count


def _shared(one: Void, other: Void, solid: Geometry) -> Iterator[Extent]:
    """Where both may be and where there is metal."""
    a, b, (low, _, high, top) = extent(one), extent(other), solid.bounds
    z1, r1 = max(a[0], b[0], low), max(a[1], b[1])
    z2, r2 = min(a[2], b[2], high), min(a[3], b[3], top)
    if z1 < z2 and r1 < r2:
        met = solid.intersection(box(z1, r1, z2, r2))
        yield from (piece.bounds for piece in getattr(met, "geoms", (met,)) if piece.area > _AREA)


def _places(voids: Sequence[Void], room: Extent) -> tuple[list[float], list[float]]:
    """Places along the axis and radii where the angles are looked at: a grid, and where a formula changes."""
    z1, r1, z2, r2 = room
    middles = {min(max(void.at, z1), z2) for void in voids if isinstance(void, RadialHole)}
    if len(middles) > 1:
        near, far = min(middles), max(middles)
        middles |= {near + (far - near) * i / _GRID for i in range(_GRID)}
    turns = {x for void in voids for x in _turns(void) if r1 < x < r2}
    grid = {r1 + (r2 - r1) * i / _GRID for i in range(_GRID + 1)}
    return sorted(middles or {(z1 + z2) / 2}), sorted(x for x in grid | turns if x > 0)


def _turns(void: Void) -> tuple[float, ...]:
    if isinstance(void, HoleCircle):
        a, far = void.diameter / 2, void.circle / 2
        return (abs(a - far), math.sqrt(abs(far * far - a * a)))
    if isinstance(void, Keyway):
        return (void.bore / 2 + void.depth,)
    wide = void.diameter if isinstance(void, RadialHole) else void.width
    return (math.hypot(void.outside / 2 - void.depth, wide / 2),)


def _most(value: Callable[[float, float], float], zs: Sequence[float], rs: Sequence[float]) -> float:
    """The most that a value comes to, on a grid and closed in on about the best radius of it."""
    best, z, i = max((value(z, r), z, i) for z in zs for i, r in enumerate(rs))
    low, high = rs[max(0, i - 1)], rs[min(len(rs) - 1, i + 1)]
    for _ in range(60):
        a, b = low + (high - low) / 3, high - (high - low) / 3
        low, high = (a, high) if value(z, a) < value(z, b) else (low, b)
    return max(best, value(z, low))


class _Pair:
    """Two voids and the places where both may be in metal."""

    def __init__(self, one: Void, other: Void, solid: Geometry) -> None:
        self.one, self.other = one, other
        self.places = [_places((one, other), room) for room in _shared(one, other, solid)]
        self.step = math.tau / math.lcm(_count(one), _count(other))

    def reach(self) -> float:
        """The most that half the angle of each come to together, at one place where each has one only."""

        def halves(z: float, r: float) -> float:
            a, b = spans(self.one, z, r), spans(self.other, z, r)
            return a[0][1] + b[0][1] if len(a) == len(b) == 1 else 0.0

        return max((_most(halves, zs, rs) for zs, rs in self.places), default=0.0)

    def shares(self, apart: float) -> bool:
        """Whether two whose middles stand so far apart overlap anywhere."""

        def overlap(z: float, r: float) -> float:
            others = spans(self.other, z, r)
            found = [
                min(b, d + apart) - max(a, c + apart) for a, b in spans(self.one, z, r) for c, d in others
            ]  # fmt: skip
            return max(found, default=-math.pi)

        return any(_most(overlap, zs, rs) > _NEARLY for zs, rs in self.places)

    def meet(self, first: float, second: float) -> bool:
        """Whether the two sets overlap, the first of each standing where it is said [degrees]."""
        apart = math.radians(second - first) % self.step
        turns = range(-math.ceil(math.pi / self.step) - 1, math.ceil(math.pi / self.step) + 1)
        every = sorted({apart + k * self.step for k in turns}, key=abs)
        return any(self.shares(each) for each in every if abs(each) <= math.pi + _NEARLY)


def _same(one: Void, other: Void) -> bool:
    return replace(one, first=None) == replace(other, first=None) and None in (one.first, other.first)


def _upper(words: str) -> str:
    return words[0].upper() + words[1:]


def _said(pair: _Pair, crowded: bool) -> tuple[str, str]:
    """What is certain of a pair, or else what is asked; both empty if they stay apart."""
    one, other = pair.one, pair.other
    names = f"{called(one)} and {called(other)}"
    if _same(one, other):
        return f"{_upper(called(one))} are drawn twice. Take one out, or type “first at” of both if they are two.", ""
    if one.first is not None and other.first is not None:
        runs = pair.meet(one.first, other.first)
    elif crowded:
        return f"{_upper(names)}, with the others there, take more than the whole circle.", ""
    elif not (runs := pair.reach() > pair.step / 2 + _NEARLY):
        return "", (
            f"Do {names} run into each other? Type “first at” of both on the drawing; until then they are taken to "
            "stand apart."
        )
    tail = "What they share would be counted twice: draw it in one of them only, and end the other where it begins."
    return (f"{_upper(names)} run into each other. {tail}" if runs else ""), ""


def _crowded(pair: _Pair, voids: Sequence[Void]) -> bool:
    """Whether all voids at one place come to more than the whole circle."""

    def all_round(z: float, r: float) -> float:
        return math.fsum(_count(void) * (b - a) for void in voids for a, b in spans(void, z, r))

    return len(voids) > 2 and any(_most(all_round, zs, rs) > math.tau + _NEARLY for zs, rs in pair.places)


def overlaps(voids: Sequence[Void], solid: Geometry) -> Overlaps:
    """Voids that run into each other, and those that may, as far as it is not said where they stand; from memory.

    Formula: two share metal where their angles overlap. Of sets of n1 and n2, each h to either side of its middle, the
    nearest two are never more than 180 degrees / lcm(n1, n2) apart, so with h1 + h2 over that it is certain; of several
    sets it is where SUM 2 n h > 360 degrees.

    voids: all voids of a body, each with the angle of its first one, where that is said [mm, deg]
    solid: half-section of the body, voids not taken out [mm]

    Returns: sentences for those that do, questions for those that may [text].
    Limits: angles are looked at on a grid of radii and closed in on between its points.

    >>> disc = box(0, 20, 25, 100)
    >>> overlaps((Keyway(12, 3.3, 40), HoleCircle(6, 10, 150)), disc)
    Overlaps(certain=(), asked=())
    >>> overlaps((HoleCircle(1, 10, 150, first=0), HoleCircle(1, 10, 150, first=7.65)), disc).certain
    ()
    """
    places = [extent(void) for void in voids]
    near = [
        (voids[i], voids[k])
        for i, a in enumerate(places)
        for k, b in enumerate(places[:i])
        if max(a[0], b[0]) < min(a[2], b[2]) and max(a[1], b[1]) < min(a[3], b[3])
    ]
    return _found(tuple((other, one) for one, other in near), tuple(voids), solid) if near else Overlaps()


@lru_cache(64)
def _found(near: tuple[tuple[Void, Void], ...], voids: tuple[Void, ...], solid: Geometry) -> Overlaps:
    """What is said of the pairs that are near each other; the same body is looked at many times."""
    certain, asked = [], []
    for one, other in near:
        pair = _Pair(one, other, solid)
        if pair.places:
            runs, question = _said(pair, _crowded(pair, voids))
            certain += [runs] if runs else []
            asked += [question] if question else []
    return Overlaps(tuple(dict.fromkeys(certain)), tuple(dict.fromkeys(asked)))
