"""Whether voids run into each other: decided where it is known where they stand, or wherever they stand; else asked.

Each void of a set takes half an angle to either side of its middle, at every radius and place. Two of them share metal
where the two halves together are more than the angle between their middles.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from shapely import Geometry, box

from shopapp.bench.holes import HoleCircle, Keyway, RadialHole, Void, called, extent

_GRID = 48
_NEARLY = 1e-9  # rad: nearer than this they touch and share nothing
_AREA = 1e-6  # mm2 of metal

Extent = tuple[float, float, float, float]  # from z, from r, to z, to r


@dataclass(frozen=True)
class Overlaps:
    """Sentences about voids that do run into each other, and questions about those that may."""

    certain: tuple[str, ...] = ()
    asked: tuple[str, ...] = ()


def half_angle(void: Void, z: float, r: float) -> float:
    """The angle to either side of its middle that a void takes at one place; geometry, from memory.

    Formula: a hole acos((r^2 + R^2 - a^2) / (2 r R)); parallel sides asin(w/r), by a flat floor at f acos(f/r)

    void: a hole circle, keyway, radial hole or slot [mm]
    z: how far from the back face [mm]
    r: from the axis, above nothing [mm]

    Returns: half the angle of one of them, 0 beside it, pi where it goes all round [rad].

    >>> round(math.degrees(half_angle(Keyway(width=20, depth=5, bore=40), 0, 20)), 6)
    30.0
    """
    z1, r1, z2, r2 = extent(void)
    if not (z1 <= z <= z2 and r1 <= r <= r2):
        return 0.0
    if isinstance(void, HoleCircle):
        a, far = void.diameter / 2, void.circle / 2
        if r <= a - far:
            return math.pi
        return math.acos(max(-1.0, min(1.0, (r * r + far * far - a * a) / (2 * r * far)))) if far else 0.0
    if isinstance(void, Keyway):
        floor = void.bore / 2 + void.depth
        corner = math.acos(floor / r) if r > floor else 0.0
        return max(0.0, math.asin(min(1.0, void.width / 2 / r)) - corner)
    if isinstance(void, RadialHole):
        w = math.sqrt(max(0.0, void.diameter**2 / 4 - (z - void.at) ** 2))
    else:
        w = void.width / 2
    return min(math.asin(min(1.0, w / r)), math.acos(min(1.0, r1 / r)))


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


def _together(one: Void, other: Void, solid: Geometry) -> tuple[float, float, float]:
    """The most that two half angles come to at one place where there is metal, and that place."""
    best = (0.0, 0.0, 0.0)

    def both(z: float, r: float) -> float:
        return half_angle(one, z, r) + half_angle(other, z, r)

    for room in _shared(one, other, solid):
        zs, rs = _places((one, other), room)
        found, z, i = max((both(z, r), z, i) for z in zs for i, r in enumerate(rs))
        low, high = rs[max(0, i - 1)], rs[min(len(rs) - 1, i + 1)]
        for _ in range(60):
            a, b = low + (high - low) / 3, high - (high - low) / 3
            low, high = (a, high) if both(z, a) < both(z, b) else (low, b)
        best = max(best, (found, z, rs[i]), (both(z, low), z, low))
    return best


def _same(one: Void, other: Void) -> bool:
    return replace(one, first=None) == replace(other, first=None) and None in (one.first, other.first)


def _upper(words: str) -> str:
    return words[0].upper() + words[1:]


def _said(one: Void, other: Void, most: float) -> tuple[str, str]:
    """What is certain of a pair, or else what is asked; both empty if they stay apart."""
    names = f"{called(one)} and {called(other)}"
    if _same(one, other):
        return f"{_upper(called(one))} are drawn twice. Take one out, or type “first at” of both if they are two.", ""
    step = math.tau / math.lcm(_count(one), _count(other))
    if one.first is not None and other.first is not None:
        apart = math.radians(abs(one.first - other.first)) % step
        runs = most > min(apart, step - apart) + _NEARLY
    else:
        runs = most > step / 2 + _NEARLY
        if not runs:
            return "", (
                f"Do {names} run into each other? They share radius and length. Type “first at … °” of both on the "
                "drawing; until then they are taken to stand apart."
            )
    tail = "What they share would be counted twice: draw it in one of them only, and end the other where it begins."
    return (f"{_upper(names)} run into each other. {tail}" if runs else ""), ""


def overlaps(voids: Sequence[Void], solid: Geometry) -> Overlaps:
    """Voids that run into each other, and those that may, as far as it is not said where they stand; geometry.

    Formula: two share metal where h1 + h2 > the angle between the nearest two. Of sets of n1 and n2 that is never more
    than 180 degrees / lcm(n1, n2); several sets run into each other where SUM 2 n h > 360 degrees.

    voids: all voids of a body, each with the angle of its first one, where that is said [mm, degrees]
    solid: half-section of the body, voids not taken out [mm]

    Returns: sentences for those that do, questions for those that may [text].
    Limits: the half angles are looked at on a grid and closed in on between its points.

    >>> disc = box(0, 20, 25, 100)
    >>> overlaps((Keyway(12, 3.3, 40), HoleCircle(6, 10, 150)), disc)
    Overlaps(certain=(), asked=())
    >>> overlaps((HoleCircle(1, 10, 150, first=0), HoleCircle(1, 10, 150, first=7.65)), disc).certain
    ()
    """
    certain, asked = [], []
    for i, one in enumerate(voids):
        for other in voids[i + 1 :]:
            a, b = extent(one), extent(other)
            if max(a[0], b[0]) >= min(a[2], b[2]) or max(a[1], b[1]) >= min(a[3], b[3]):
                continue
            most, z, r = _together(one, other, solid)
            if not most:
                continue
            runs, question = _said(one, other, most)
            if question and math.fsum(2 * _count(void) * half_angle(void, z, r) for void in voids) > math.tau + _NEARLY:
                runs, question = f"{_upper(called(one))} and others there take more than the whole circle.", ""
            certain += [runs] if runs else []
            asked += [question] if question else []
    return Overlaps(tuple(dict.fromkeys(certain)), tuple(dict.fromkeys(asked)))
