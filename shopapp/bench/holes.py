"""Voids that the body already has and that do not go round: holes, keyways, pockets, slots.

Each is told as the angle that is missing from the ring of metal at (z, r). The angle is integrated over a region
exactly: along the region's edges, between the radii where the angle's formula changes, with r = m + h sin t so that
the square roots at both ends of a stretch become smooth, by Gauss's rule.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from shapely import Geometry, box

from shopapp.bench.errors import Impossible
from shopapp.bench.outline import both
from shopapp.bench.solids import edges

Stretch = tuple[float, float, Callable[[float, float], float]]  # from r, to r, angle of (r, (to-r)(r-from))
Extent = tuple[float, float, float, float]  # from z, from r, to z, to r


@dataclass(frozen=True)
class HoleCircle:
    """Holes along the axis: how many, their diameter, on which circle, from where to where [mm]."""

    count: int
    diameter: float
    circle: float
    start: float = -math.inf
    end: float = math.inf


@dataclass(frozen=True)
class Keyway:
    """Parallel key seat in a bore: its depth is taken on the centreline, from the bore wall [mm]."""

    width: float
    depth: float
    bore: float
    start: float = -math.inf
    end: float = math.inf


@dataclass(frozen=True)
class RadialHole:
    """Flat-bottomed holes or pockets toward the axis, from diameter `outside`, deep on their centreline, at z [mm]."""

    count: int
    diameter: float
    outside: float
    depth: float
    at: float


@dataclass(frozen=True)
class Slot:
    """Parallel-sided slots with a flat bottom, from diameter `outside` toward the axis [mm]."""

    count: int
    width: float
    depth: float
    outside: float
    start: float = -math.inf
    end: float = math.inf


Void = HoleCircle | Keyway | RadialHole | Slot


def gauss(n: int) -> tuple[tuple[float, float], ...]:
    """Nodes and weights of Gauss's rule on -1 to 1; Legendre's recurrence and Newton's steps, from memory.

    Formula: w = 2 / ((1 - x^2) P'(x)^2) at the roots of P

    n: how many nodes [count]

    Returns: (node, weight) pairs [1].
    Limits: n from 1 to some hundreds.

    >>> round(sum(w * x**4 for x, w in gauss(3)), 12)
    0.4
    """
    pairs = []
    for i in range(n):
        x = math.cos(math.pi * (i + 0.75) / (n + 0.5))
        slope = 1.0
        for _ in range(8):
            before, now = 1.0, x
            for k in range(2, n + 1):
                before, now = now, ((2 * k - 1) * x * now - (k - 1) * before) / k
            slope = n * (x * now - before) / (x * x - 1)
            x -= now / slope
        pairs.append((x, 2 / ((1 - x * x) * slope * slope)))
    return tuple(pairs)


_NODES = gauss(32)
_HALF_TURN = tuple((math.sin(x * math.pi / 2), math.cos(x * math.pi / 2) * w * math.pi / 2) for x, w in _NODES)


def _hole_stretches(void: HoleCircle) -> tuple[Stretch, ...]:
    a, far = void.diameter / 2, void.circle / 2
    low, high = abs(far - a), far + a
    whole: Stretch = (0.0, low if far else a, lambda r, q: math.tau)
    if far == 0:
        return (whole,)

    def angle(r: float, q: float) -> float:
        return void.count * 2 * math.atan2(math.sqrt(q * (high + r) * (r + low)), r * r + far * far - a * a)

    return ((low, high, angle),) if far >= a else (whole, (low, high, angle))


def _keyway_stretches(void: Keyway) -> tuple[Stretch, ...]:
    wall, half = void.bore / 2, void.width / 2
    floor = wall + void.depth
    return (
        (wall, floor, lambda r, q: 2 * math.asin(min(1.0, half / r))),
        (floor, math.hypot(floor, half), lambda r, q: 2 * (math.asin(half / r) - math.acos(min(1.0, floor / r)))),
    )


def _slot_stretches(void: Slot) -> tuple[Stretch, ...]:
    rim, half = void.outside / 2, void.width / 2
    floor = rim - void.depth
    edge = min(math.hypot(floor, half), rim)
    return (
        (floor, edge, lambda r, q: void.count * 2 * math.acos(min(1.0, floor / r))),
        (edge, rim, lambda r, q: void.count * 2 * math.asin(min(1.0, half / r))),
    )


def _refuse_hole(void: HoleCircle) -> None:
    crowded = void.circle * math.sin(math.pi / void.count) < void.diameter if void.count > 1 else False
    if void.circle < 0 or crowded:
        raise Impossible(
            f"{void.count} holes of Ø {both(void.diameter)} on a circle of Ø {both(void.circle)} run into each other: "
            "check the circle and how many there are."
        )


def _refuse_keyway(void: Keyway) -> None:
    if void.width > void.bore:
        raise Impossible(f"A keyway {both(void.width)} wide does not fit a bore of Ø {both(void.bore)}.")


def _refuse_inward(void: RadialHole | Slot) -> None:
    wide = void.diameter if isinstance(void, RadialHole) else void.width
    floor = void.outside / 2 - void.depth
    if floor < 0 or wide > void.outside:
        raise Impossible(
            f"{both(void.depth)} deep and {both(wide)} wide from Ø {both(void.outside)} goes past the axis: "
            "the depth is measured from that diameter toward the axis."
        )
    if void.count * math.atan2(wide / 2, floor) > math.pi:
        raise Impossible(f"{void.count} of them, {both(wide)} wide, run into each other at the bottom.")


def checked(void: Void) -> Void:
    """The same void, once its sizes can be; common practice, no source.

    void: a hole circle, keyway, radial hole or slot [mm]

    Returns: the void itself [mm].
    Raises: Impossible for sizes that cannot be.

    >>> checked(Keyway(width=12, depth=3.3, bore=40)).width
    12
    """
    sizes = [float(x) for name, x in vars(void).items() if name not in ("count", "at", "start", "end", "circle")]
    if min(sizes) <= 0 or not all(math.isfinite(x) for x in sizes):
        raise Impossible("A hole, keyway, pocket or slot needs every width, diameter and depth above nothing.")
    if not isinstance(void, RadialHole) and not void.end > void.start:
        raise Impossible(f"It ends at {both(void.end)} and starts at {both(void.start)}: it must end beyond its start.")
    if not isinstance(void, Keyway) and void.count < 1:
        raise Impossible("Say how many there are: 1 or more.")
    if isinstance(void, HoleCircle):
        _refuse_hole(void)
    elif isinstance(void, Keyway):
        _refuse_keyway(void)
    else:
        _refuse_inward(void)
    return void


def extent(void: Void) -> Extent:
    """From where to where a void reaches, lengthwise and from the axis; common practice, no source.

    void: a hole circle, keyway, radial hole or slot [mm]

    Returns: from z, from r, to z, to r [mm].

    >>> extent(RadialHole(count=6, diameter=4, outside=100, depth=8, at=30))
    (28.0, 42.0, 32.0, 50.0)
    """
    if isinstance(void, RadialHole):
        a = void.diameter / 2
        return void.at - a, void.outside / 2 - void.depth, void.at + a, void.outside / 2
    if isinstance(void, HoleCircle):
        far, a = void.circle / 2, void.diameter / 2
        return void.start, max(0.0, far - a), void.end, far + a
    if isinstance(void, Keyway):
        return void.start, void.bore / 2, void.end, math.hypot(void.bore / 2 + void.depth, void.width / 2)
    return void.start, void.outside / 2 - void.depth, void.end, void.outside / 2


def called(void: Void) -> str:
    """What a void is called in a sentence; common practice, no source.

    void: a hole circle, keyway, radial hole or slot [mm]

    Returns: words such as "the keyway in bore Ø 1.000 in (25.4 mm)" [text].

    >>> called(Slot(count=3, width=2, depth=2, outside=25.4))
    'the slots from Ø 1.000 in (25.4 mm)'
    """
    if isinstance(void, HoleCircle):
        return f"the holes Ø {both(void.diameter)} on Ø {both(void.circle)}"
    if isinstance(void, Keyway):
        return f"the keyway in bore Ø {both(void.bore)}"
    if isinstance(void, RadialHole):
        return f"the pockets from Ø {both(void.outside)}"
    return f"the slots from Ø {both(void.outside)}"


def _along(region: Geometry, stretches: tuple[Stretch, ...], power: int) -> float:
    """INT INT angle(r) r^power dz dr = loop integral of z angle(r) r^power dr, stretch by stretch."""
    sums = []
    for z1, r1, z2, r2 in edges(region):
        if r1 == r2:
            continue
        slope = (z2 - z1) / (r2 - r1)
        for low, high, angle in stretches:
            a, b = max(low, min(r1, r2)), min(high, max(r1, r2))
            if b <= a:
                continue
            m, h = (low + high) / 2, (high - low) / 2
            ta, tb = (math.asin(max(-1.0, min(1.0, (x - m) / h))) for x in (a, b))
            middle, half = (ta + tb) / 2, (tb - ta) / 2 * (1 if r2 > r1 else -1)
            for x, w in _NODES:
                t = middle + abs(half) * x
                r, rest = m + h * math.sin(t), h * math.cos(t)
                sums.append(w * half * rest * (z1 + slope * (r - r1)) * angle(r, rest * rest) * r**power)
    return math.fsum(sums)


def _up_to(r: float, w: float, floor: float, power: int) -> float:
    """INT of the pocket's angle times r^power from its floor out to r, where the pocket is 2 w wide; power 1 or 3."""
    if r <= floor:
        return 0.0

    def below(x: float) -> float:  # INT x^p acos(floor/x)
        s = math.sqrt(max(0.0, x * x - floor * floor))
        turn = math.acos(min(1.0, floor / x))
        if power == 1:
            return x * x / 2 * turn - floor / 2 * s
        return x**4 / 4 * turn - floor / 4 * (s**3 / 3 + floor * floor * s)

    def beside(x: float) -> float:  # INT x^p asin(w/x)
        s = math.sqrt(max(0.0, x * x - w * w))
        turn = math.asin(min(1.0, w / x))
        if power == 1:
            return x * x / 2 * turn + w / 2 * s
        return x**4 / 4 * turn + w / 4 * (s**3 / 3 + w * w * s)

    edge = math.hypot(floor, w)
    return 2 * below(r) if r <= edge else 2 * (below(edge) + beside(r) - beside(edge))


def _roots(a: float, b: float, c: float) -> Iterator[float]:
    """Where a x^2 + b x + c is nought."""
    if a == 0:
        if b:
            yield -c / b
    elif (inside := b * b - 4 * a * c) >= 0:
        q = -(b + math.copysign(math.sqrt(inside), b)) / 2
        yield q / a
        if q:
            yield c / q


def _across(region: Geometry, void: RadialHole, power: int) -> float:
    """Loop integral of -G(r, z) dz, where G is the integral over r and z runs round the pocket's mouth as a sin t."""
    a, floor = void.diameter / 2, void.outside / 2 - void.depth
    sums = []
    for z1, r1, z2, r2 in edges(region):
        if z1 == z2 or max(r1, r2) <= floor:
            continue
        x1, x2, k = z1 - void.at, z2 - void.at, (r2 - r1) / (z2 - z1)
        c = r1 - k * x1
        kinks = [*_roots(0, k, c - floor), *_roots(k * k + 1, 2 * k * c, c * c - floor * floor - a * a)]
        inner = sorted(x for x in kinks if min(x1, x2) < x < max(x1, x2))
        stops = [x1, *(inner if x2 > x1 else inner[::-1]), x2]
        turns = [math.asin(max(-1.0, min(1.0, x / a))) for x in stops]
        for ta, tb in zip(turns, turns[1:], strict=False):
            m, h = (ta + tb) / 2, (tb - ta) / 2
            for sine, weight in _HALF_TURN:
                t = m + h * sine
                x, w = a * math.sin(t), a * math.cos(t)
                sums.append(-weight * h * w * _up_to(c + k * x, w, floor, power))
    return void.count * math.fsum(sums)


def missing(region: Geometry, void: Void, power: int = 1) -> float:
    """What a void takes out of the metal that a region sweeps; by the cross-section's angle, from memory, exact.

    Formula: INT INT over the region of angle(r, z) r^power dr dz, where the angle of n holes of radius a on radius R is
    2 n acos((r^2 + R^2 - a^2) / (2 r R)) and that of a parallel-sided void 2 n asin(w / r), less what its floor keeps.

    region: half-section in (z, r) [mm]
    void: a hole circle, keyway, radial hole or slot [mm]
    power: 1 for volume, 3 for the moment about the axis [1]

    Returns: volume or moment [mm3 or mm5].
    Limits: nine figures or better; two voids at one place are each counted.
    Raises: Impossible for sizes that cannot be.

    >>> round(missing(box(0, 0, 25, 100), HoleCircle(count=6, diameter=10, circle=150)), 6)
    11780.972451
    """
    checked(void)
    if region.is_empty:
        return 0.0
    z1, r1, z2, r2 = extent(void)
    low, bottom, high, top = region.bounds
    met = box(max(z1, low), max(r1, bottom), min(z2, high), min(r2, top))
    if z1 >= high or z2 <= low or r1 >= top or r2 <= bottom:
        return 0.0
    inside = region.intersection(met)
    if isinstance(void, RadialHole):
        return _across(inside, void, power)
    if isinstance(void, HoleCircle):
        return _along(inside, _hole_stretches(void), power)
    return _along(inside, _keyway_stretches(void) if isinstance(void, Keyway) else _slot_stretches(void), power)


def overlaps(voids: tuple[Void, ...]) -> tuple[str, ...]:
    """Sentences about voids that may run into each other and be counted twice; common practice, no source.

    voids: all voids of a body [mm]

    Returns: one sentence for each pair that shares radius and length [text].
    Limits: where they stand round the circle is not known, so it asks and does not refuse.

    >>> overlaps((Keyway(12, 3.3, 40), HoleCircle(6, 10, 150)))
    ()
    """
    said = []
    for i, one in enumerate(voids):
        for other in voids[i + 1 :]:
            a, b = extent(one), extent(other)
            if max(a[0], b[0]) < min(a[2], b[2]) and max(a[1], b[1]) < min(a[3], b[3]):
                words = called(one)
                said.append(
                    f"{words[0].upper()}{words[1:]} and {called(other)} share radius and length. "
                    "If they run into each other, the part they share is counted twice."
                )
    return tuple(said)
