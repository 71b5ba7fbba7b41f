"""The angle that a void misses from a ring of metal, integrated over a half-section: volume and moment at once.

Along the region's edges (Green's theorem), between the radii where the angle's formula changes. An edge that crosses
a whole stretch at one z is known in closed form; elsewhere r = m + h sin t makes the square roots at both ends of a
stretch smooth, and Gauss's rule does the rest. All for one void: the caller multiplies by how many there are.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from shopapp.bench.solids import Edge

Pair = tuple[float, float]  # with r for the volume, with r^3 for the moment


@dataclass(frozen=True)
class Stretch:
    """Radii between which an angle has one formula [mm], the angle of (r, (high-r)(r-low)), and the whole of it.

    `upto` is the angle times r, and times r^3, integrated up to a radius, but for a constant.
    """

    low: float
    high: float
    angle: Callable[[float, float], float]
    whole: Pair
    upto: Callable[[float], Pair]


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


_SLIVER = 0.05  # of a stretch: less of it is a small difference of two large figures
_NODES = gauss(32)
_HALF_TURN = tuple((math.sin(x * math.pi / 2), math.cos(x * math.pi / 2) * w * math.pi / 2) for x, w in _NODES)
_RIGHT_HALF = tuple((x, 2 * w) for x, w in _HALF_TURN if x > 0)  # for what is the same to either side


def _below(x: float, floor: float) -> Pair:
    """INT of acos(floor/x) times x, and times x^3, from the floor out to x."""
    s = math.sqrt(max(0.0, x * x - floor * floor))
    turn = math.acos(min(1.0, floor / x))
    return x * x / 2 * turn - floor / 2 * s, x**4 / 4 * turn - floor / 4 * (s**3 / 3 + floor * floor * s)


def _beside(x: float, w: float) -> Pair:
    """INT of asin(w/x) times x, and times x^3, up to x but for a constant."""
    s = math.sqrt(max(0.0, x * x - w * w))
    turn = math.asin(min(1.0, w / x))
    return x * x / 2 * turn + w / 2 * s, x**4 / 4 * turn + w / 4 * (s**3 / 3 + w * w * s)


def _apart(high: Pair, low: Pair, factor: float = 1.0) -> Pair:
    return factor * (high[0] - low[0]), factor * (high[1] - low[1])


def _lens(r: float, a: float, far: float) -> Pair:
    """Area, and second moment about the axis, of a hole's circle within the circle r: Green's theorem round the two."""
    k = math.sqrt(max(0.0, (far + a + r) * (far + a - r) * (r + far - a) * (r - far + a)))
    out, back = math.atan2(k, r * r + far * far - a * a), math.atan2(k, far * far + a * a - r * r)
    sine, cosine = k / 2, (far * far + a * a - r * r) / 2  # each times far a
    area = r * r * out + a * a * back - sine
    own = back * a * a * (a * a + 2 * far * far) - sine * (far * far + 3 * a * a) + sine * cosine
    return area, (r**4 * out + own) / 2


def drilled(a: float, far: float) -> tuple[Stretch, ...]:
    """The stretches of a hole along the axis: the cosine rule, from memory.

    Formula: angle = 2 acos((r^2 + R^2 - a^2) / (2 r R))

    a: radius of the hole [mm]
    far: radius of the circle it stands on, 0 for a hole on the axis [mm]

    Returns: one stretch, or two where the hole holds the axis [mm].
    Limits: r above nothing; a circle that holds the axis takes the whole turn near it.

    >>> [round(x, 6) for x in drilled(1, 5)[0].whole]
    [3.141593, 80.110613]
    """
    low, high = abs(far - a), far + a
    middle = Stretch(
        0.0, low, lambda r, q: math.tau, (math.pi * low * low, math.pi / 2 * low**4),
        lambda r: (math.pi * r * r, math.pi / 2 * r**4),
    )  # fmt: skip
    if far == 0:
        return (middle,)

    def angle(r: float, q: float) -> float:
        return 2 * math.atan2(math.sqrt(q * (high + r) * (r + low)), r * r + far * far - a * a)

    whole = (math.pi * a * a, math.pi * a * a * (far * far + a * a / 2))

    def upto(r: float) -> Pair:
        return _lens(r, a, far)

    if far >= a:
        return (Stretch(low, high, angle, whole, upto),)
    return middle, Stretch(low, high, angle, _apart(whole, middle.whole), upto)


def keyed(wall: float, floor: float, half: float) -> tuple[Stretch, ...]:
    """The stretches of a keyway: beside its flanks, then in the corners of its flat floor; geometry, from memory.

    Formula: angle = 2 asin(w/r), beyond the floor 2 asin(w/r) - 2 acos(floor/r)

    wall: radius of the bore [mm]
    floor: distance of the floor from the axis [mm]
    half: half the width [mm]

    Returns: two stretches [mm].
    Limits: a keyway narrower than its bore, its floor beyond the wall.

    >>> round(sum(one.whole[0] for one in keyed(20, 23.3, 6)), 6)
    43.250234
    """
    tip = math.hypot(floor, half)

    def beside(r: float) -> Pair:
        first, third = _beside(r, half)
        return 2 * first, 2 * third

    def cornered(r: float) -> Pair:
        (v1, j1), (v2, j2) = _beside(r, half), _below(r, floor)
        return 2 * (v1 - v2), 2 * (j1 - j2)

    flanks = _apart(_beside(floor, half), _beside(wall, half), 2)
    outward, under = _apart(_beside(tip, half), _beside(floor, half), 2), _below(tip, floor)
    corners = (outward[0] - 2 * under[0], outward[1] - 2 * under[1])
    return (
        Stretch(wall, floor, lambda r, q: 2 * math.asin(min(1.0, half / r)), flanks, beside),
        Stretch(floor, tip, lambda r, q: 2 * (math.asin(half / r) - math.acos(min(1.0, floor / r))), corners, cornered),
    )


def slotted(rim: float, floor: float, half: float) -> tuple[Stretch, ...]:
    """The stretches of a parallel-sided slot with a flat floor; geometry, from memory.

    Formula: angle = 2 acos(floor/r) out to the floor's corners, 2 asin(w/r) beyond

    rim: radius it is cut from [mm]
    floor: distance of the floor from the axis [mm]
    half: half the width [mm]

    Returns: two stretches [mm].
    Limits: a slot narrower than the rim; on the centreline the floor is nearest to the axis.

    >>> [one.high for one in slotted(10, 3, 4)]
    [5.0, 10]
    """
    edge = min(math.hypot(floor, half), rim)
    middle, flanks = _below(edge, floor), _apart(_beside(rim, half), _beside(edge, half), 2)
    nothing = (0.0, 0.0)
    return (
        Stretch(
            floor, edge, lambda r, q: 2 * math.acos(min(1.0, floor / r)), (2 * middle[0], 2 * middle[1]),
            lambda r: _apart(_below(r, floor), nothing, 2) if r else nothing,
        ),
        Stretch(
            edge, rim, lambda r, q: 2 * math.asin(min(1.0, half / r)), flanks,
            lambda r: _apart(_beside(r, half), nothing, 2),
        ),
    )  # fmt: skip


def _between(sides: Sequence[Edge], low: float, high: float) -> Iterator[Edge]:
    """The edges with z held between two planes: cut where they cross one, and lying in it beyond."""
    for z1, r1, z2, r2 in sides:
        if low <= z1 <= high and low <= z2 <= high:
            yield z1, r1, z2, r2
            continue
        if (z1 <= low and z2 <= low) or (z1 >= high and z2 >= high):
            z = low if z1 <= low else high
            yield z, r1, z, r2
            continue
        stops = sorted((z - z1) / (z2 - z1) for z in (low, high) if min(z1, z2) < z < max(z1, z2))
        here = (max(low, min(high, z1)), r1)
        for part in (*stops, 1.0):
            z = z1 + part * (z2 - z1) if part < 1 else z2
            there = (max(low, min(high, z)), r1 + part * (r2 - r1) if part < 1 else r2)
            yield *here, *there
            here = there


def _part(one: Stretch, a: float, b: float, line: Pair) -> Pair:
    """INT from a to b of z(r) angle(r) times r, and times r^3, where z = line[0] + line[1] r."""
    m, h = (one.low + one.high) / 2, (one.high - one.low) / 2
    ta, tb = (math.asin(max(-1.0, min(1.0, (x - m) / h))) for x in (a, b))
    middle, half = (ta + tb) / 2, (tb - ta) / 2
    first, third = [], []
    for x, w in _NODES:
        t = middle + half * x
        r, rest = m + h * math.sin(t), h * math.cos(t)
        value = w * half * rest * (line[0] + line[1] * r) * one.angle(r, rest * rest) * r
        first.append(value)
        third.append(value * r * r)
    return math.fsum(first), math.fsum(third)


def _stretch(one: Stretch, a: float, b: float) -> Pair:
    """INT from a to b of the angle times r, and times r^3: in closed form, but by nodes where that is a small rest."""
    if b - a < _SLIVER * (one.high - one.low):
        return _part(one, a, b, (1.0, 0.0))
    return _apart(one.upto(b), one.upto(a))


def along(sides: Sequence[Edge], stretches: Sequence[Stretch], start: float, end: float) -> Pair:
    """A void that is the same all along the axis, over a region; George Green's theorem, from memory.

    Formula: INT INT angle(r) r^p dz dr = loop integral of z angle(r) r^p dr, stretch by stretch, p = 1 and 3

    sides: edges of the region, metal on the left hand [mm]
    stretches: the angle's formulas [mm]
    start: where the void begins [mm]
    end: where it ends [mm]

    Returns: volume and moment of one void [mm3, mm5].
    Limits: exact but for Gauss's rule on each stretch.

    >>> square = [(0, 0, 2, 0), (2, 0, 2, 9), (2, 9, 0, 9), (0, 9, 0, 0)]
    >>> round(along(square, drilled(1, 5), 0, 1)[0], 6)
    3.141593
    """
    first, third = [], []
    known: dict[tuple[int, float, float], Pair] = {}
    inner, outer = stretches[0].low, stretches[-1].high
    near_by = [e for e in sides if e[1] != e[3] and not (e[1] <= inner >= e[3] or e[1] >= outer <= e[3])]
    for z1, r1, z2, r2 in _between(near_by, start, end):
        if r1 == r2 or z1 == z2 == 0:
            continue
        near, far, way = (r1, r2, 1) if r2 > r1 else (r2, r1, -1)
        for k, one in enumerate(stretches):
            a, b = max(one.low, near), min(one.high, far)
            if b <= a:
                continue
            if z1 != z2:
                slope = (z2 - z1) / (r2 - r1)
                value, scale = _part(one, a, b, (z1 - slope * r1, slope)), float(way)
            else:
                scale = way * z1
                value = one.whole if a == one.low and b == one.high else known.get((k, a, b), (0.0, 0.0))
                if value == (0.0, 0.0):
                    value = known[k, a, b] = _stretch(one, a, b)
            first.append(scale * value[0])
            third.append(scale * value[1])
    return math.fsum(first), math.fsum(third)


def _level(turns: tuple[float, float], line: Pair, a: float, floor: float, inside: bool) -> Pair:
    """INT of G dz between two turns of a pocket's mouth, along r = c + k x, on one side of the floor's corners.

    Inside of them G = 2 INT acos(floor/r) r dr from the floor. Beyond, with w half the width there,
    G = r^2 asin(w/r) + w sqrt(r^2 - w^2) - 2 floor w; with r^3 likewise, less 2 floor w (w^2 + floor^2) / 3.
    """
    c, k = line
    m, h = (turns[0] + turns[1]) / 2, (turns[1] - turns[0]) / 2
    first, third = [], []
    nodes = _RIGHT_HALF if k == m == 0 else _HALF_TURN
    for sine, weight in nodes:
        t = m + h * sine
        w, r = a * math.cos(t), c + k * a * math.sin(t)
        if inside:
            volume, moment = _below(r, floor) if r > floor else (0.0, 0.0)
        else:
            volume, moment = _beside(r, w)
            volume, moment = volume - floor * w, moment - floor * w * (w * w + floor * floor) / 3
        by = weight * w
        first.append(by * volume)
        third.append(by * moment)
    return 2 * h * math.fsum(first), 2 * h * math.fsum(third)


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


@lru_cache(1024)
def _mouth(x1: float, r1: float, x2: float, r2: float, a: float, floor: float) -> Pair:
    """INT of G dz along one edge across a pocket's round mouth, x = a sin t from its middle, G up to the edge."""
    k = (r2 - r1) / (x2 - x1)
    c = r1 - k * x1
    kinks = [*_roots(0, k, c - floor), *_roots(k * k + 1, 2 * k * c, c * c - floor * floor - a * a)]
    inner = sorted(x for x in kinks if min(x1, x2) < x < max(x1, x2))
    stops = [x1, *(inner if x2 > x1 else inner[::-1]), x2]
    turns = [math.asin(max(-1.0, min(1.0, x / a))) for x in stops]
    found = []
    for i in range(len(stops) - 1):
        middle = (stops[i] + stops[i + 1]) / 2
        r = c + k * middle
        inside = r * r - floor * floor <= a * a - middle * middle
        found.append(_level((turns[i], turns[i + 1]), (c, k), a, floor, inside))
    return math.fsum(v for v, _ in found), math.fsum(j for _, j in found)


def pocketed(sides: Sequence[Edge], at: float, a: float, floor: float, rim: float) -> Pair:
    """A flat-bottomed hole toward the axis, over a region; George Green's theorem, from memory.

    Formula: loop integral of -G(r, z) dz, where G is the angle integrated over r from the floor

    sides: edges of the region, metal on the left hand [mm]
    at: z of its middle [mm]
    a: its radius [mm]
    floor: distance of its floor from the axis [mm]
    rim: radius it starts from [mm]

    Returns: volume and moment of one hole [mm3, mm5].
    Limits: its radius is under the rim's; exact but for Gauss's rule on each stretch.

    >>> square = [(0, 0, 9, 0), (9, 0, 9, 500), (9, 500, 0, 500), (0, 500, 0, 0)]
    >>> round(pocketed(square, 5, 1, 400, 500)[0] / 100, 2)
    3.14
    """
    first, third = [], []
    turned = [(r1, z1, r2, z2) for z1, r1, z2, r2 in _between(sides, at - a, at + a) if z1 != z2]
    for r1, z1, r2, z2 in _between(turned, floor, rim):
        if z1 == z2 or max(r1, r2) <= floor:
            continue
        volume, moment = _mouth(z1 - at, r1, z2 - at, r2, a, floor)
        first.append(-volume)
        third.append(-moment)
    return math.fsum(first), math.fsum(third)
