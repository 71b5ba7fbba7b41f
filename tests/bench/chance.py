"""Bodies and cuts by chance, from a seed, and the same shapes as bare polygons for sums written another way.

Nothing here asks the bench for a shape: a part or a cut is told as the corners of a convex polygon in (z, r), and a
section is made by slicing those and by adding and taking away intervals.
"""

import math
import random
from collections.abc import Iterator
from dataclasses import replace

from shopapp.bench.cuts import Body, Cut, mass_of, taken_volume
from shopapp.bench.errors import BenchError
from shopapp.bench.holes import HoleCircle, Keyway, RadialHole, Slot, Void, checked
from shopapp.bench.outline import Cone, Hollow, HollowCone, Ring

Point = tuple[float, float]
Shape = list[Point]
Interval = tuple[float, float]


def some(dice: random.Random, low: float, high: float) -> float:
    """Half of all sizes are on whole quarters, so that edges meet as they do on drawings."""
    x = dice.uniform(low, high)
    return round(x * 4) / 4 if dice.random() < 0.5 else x


def parts(dice: random.Random) -> Iterator[Ring | Cone]:
    z, bore = 0.0, dice.choice([0.0, some(dice, 10, 40)])
    for _ in range(dice.randint(2, 4)):
        long, wide = some(dice, 8, 40), some(dice, 60, 240)
        if dice.random() < 0.3:
            yield Cone(wide, some(dice, 60, 240), bore, bore, z, z + long)
        else:
            yield Ring(wide, bore, z, z + long)
        z += long
    if dice.random() < 0.5:
        start = some(dice, 1, z / 2)
        yield Hollow(some(dice, 45, 120), some(dice, 0, 40), start, start + some(dice, 2, 12))
    if dice.random() < 0.3:
        wide, small = [some(dice, 45, 60) for _ in "12"], [some(dice, 0, 40) for _ in "12"]
        yield HollowCone(*wide, *small, 0, some(dice, 2, 9))


def cut(dice: random.Random, long: float) -> Cut:
    side, kind = dice.choice("AB"), dice.choice(["turn", "face", "bore", "groove", "taper"])
    start = some(dice, -2, long * 0.7)
    end = start + some(dice, 3, long * 0.5)
    wide, small = some(dice, 30, 230), some(dice, 0, 28)
    if kind == "turn":
        return Cut(side, kind, {"from": 260, "to": wide, "start": start, "end": end})
    if kind == "face":
        return Cut(side, kind, {"depth": end - start, "from": wide + 3, "to": small, "at": start})
    if kind == "bore":
        return Cut(side, kind, {"from": small, "to": some(dice, 30, 90), "start": start, "end": end})
    if kind == "taper":
        ends = {"start_diameter": wide, "end_diameter": some(dice, 30, 230)}
        return Cut(side, kind, {"from": 260, **ends, "start": start, "end": end})
    inset = (end - start) * dice.uniform(0, 0.45)
    bottom = {"bottom_start": start + inset, "bottom_end": end - inset}
    return Cut(side, kind, {"from": 260, "to": wide, "start": start, "end": end, **bottom})


def void(dice: random.Random, long: float, bore: float) -> Void:
    through = {} if dice.random() < 0.5 else {"start": some(dice, 0, long / 2), "end": some(dice, long / 2 + 1, long)}
    kind = dice.choice(["holes", "holes", "pocket", "slot", "keyway" if bore else "holes"])
    if kind == "keyway":
        return Keyway(some(dice, 2, 9), some(dice, 1, 6), bore, **through)
    if kind == "pocket":
        at, wide = some(dice, 2, long), some(dice, 50, 230)
        return RadialHole(dice.randint(1, 4), some(dice, 3, 18), wide, some(dice, 3, wide / 3), at)
    if kind == "slot":
        wide = some(dice, 50, 230)
        return Slot(dice.randint(1, 4), some(dice, 3, 18), some(dice, 3, wide / 3), wide, **through)
    return HoleCircle(dice.randint(1, 6), some(dice, 3, 26), some(dice, 45, 220), **through)


def drawn(seed: int, voids: int) -> tuple[Body, list[Cut]]:
    """A body and cuts that take at least a hundredth of it and meet its voids, if it has any; the seed says which."""
    dice = random.Random(seed)
    while True:
        shapes = tuple(parts(dice))
        long = max(one.end for one in shapes)
        bore = shapes[0].inside if isinstance(shapes[0], Ring) else 0.0
        cuts = [cut(dice, long) for _ in range(dice.randint(1, 4))]
        try:
            body = Body(shapes, tuple(checked(void(dice, long, bore)) for _ in range(voids)))
            taken, solid = taken_volume(body, cuts), taken_volume(replace(body, voids=()), cuts)
            if taken > mass_of(body, 1000.0) / 100 and (not voids or taken < solid * 0.9999):
                return body, cuts
        except BenchError:
            continue


def quad_of(start: float, end: float, inner: Point, outer: Point) -> Shape:
    return [(start, inner[0] / 2), (end, inner[1] / 2), (end, outer[1] / 2), (start, outer[0] / 2)]


def part_shape(part: object) -> Shape:
    if isinstance(part, Ring):
        return quad_of(part.start, part.end, (part.inside,) * 2, (part.outside,) * 2)
    assert isinstance(part, Cone)
    inner, outer = (part.inside_start, part.inside_end), (part.outside_start, part.outside_end)
    return quad_of(part.start, part.end, inner, outer)


def cut_shape(one: Cut) -> Shape:
    has = one.sizes
    if one.kind == "face":
        z = (has["at"], has["at"] + has["depth"]) if one.side == "A" else (has["at"] - has["depth"], has["at"])
        return quad_of(*z, (has["to"],) * 2, (has["from"],) * 2)
    if one.kind == "taper":
        ends = (has["start_diameter"], has["end_diameter"])
        return quad_of(has["start"], has["end"], ends, (has["from"],) * 2)
    if one.kind == "groove":
        bottom, top = has["to"] / 2, has["from"] / 2
        return [(has["start"], top), (has["end"], top), (has["bottom_end"], bottom), (has["bottom_start"], bottom)]
    low, high = sorted((has["from"], has["to"]))
    return quad_of(has["start"], has["end"], (low, low), (high, high))


def sliced(shape: Shape, axis: int, at: float) -> Interval | None:
    """Where a convex polygon meets the line on which coordinate `axis` is `at`."""
    met = []
    for p, q in zip(shape, shape[1:] + shape[:1], strict=True):
        if (p[axis] <= at) != (q[axis] <= at):
            part = (at - p[axis]) / (q[axis] - p[axis])
            met.append(p[1 - axis] + part * (q[1 - axis] - p[1 - axis]))
    return (min(met), max(met)) if met else None


def together(pieces: list[Interval]) -> list[Interval]:
    found: list[Interval] = []
    for low, high in sorted(pieces):
        if found and low <= found[-1][1]:
            found[-1] = (found[-1][0], max(high, found[-1][1]))
        else:
            found.append((low, high))
    return found


def without(pieces: list[Interval], air: list[Interval]) -> list[Interval]:
    for low, high in air:
        pieces = [x for a, b in pieces for x in ((a, min(b, low)), (max(a, high), b)) if x[1] > x[0]]
    return pieces


def common(one: list[Interval], other: list[Interval]) -> list[Interval]:
    return [(max(a, c), min(b, d)) for a, b in one for c, d in other if min(b, d) > max(a, c)]


class Section:
    """What the cuts meet of a body, as slices along either coordinate."""

    def __init__(self, body: Body, cuts: list[Cut]) -> None:
        hollow = [isinstance(part, (Hollow, HollowCone)) for part in body.parts]
        shapes = [part_shape(part) for part in body.parts]
        self.metal = [s for s, h in zip(shapes, hollow, strict=True) if not h]
        self.air = [s for s, h in zip(shapes, hollow, strict=True) if h]
        self.cuts = [cut_shape(one) for one in cuts]

    def at(self, axis: int, at: float) -> list[Interval]:
        metal, air, gone = (
            together([x for shape in group if (x := sliced(shape, axis, at))])
            for group in (self.metal, self.air, self.cuts)
        )
        return common(without(metal, air), gone)

    def stops(self, axis: int) -> list[float]:
        """Every corner, and every place where two edges cross: between them a slice changes evenly."""
        shapes = [*self.metal, *self.air, *self.cuts]
        edges = [(p, q) for s in shapes for p, q in zip(s, s[1:] + s[:1], strict=True)]
        found = {p[axis] for p, _ in edges}
        for i, (p, q) in enumerate(edges):
            for s, t in edges[i + 1 :]:
                d = (q[0] - p[0]) * (t[1] - s[1]) - (q[1] - p[1]) * (t[0] - s[0])
                if d:
                    part = ((s[0] - p[0]) * (t[1] - s[1]) - (s[1] - p[1]) * (t[0] - s[0])) / d
                    if 0 <= part <= 1:
                        found.add(p[axis] + part * (q[axis] - p[axis]))
        ordered = sorted(found)
        return [ordered[0], *(b for a, b in zip(ordered, ordered[1:], strict=False) if b - a > 1e-10)]


def angle(one: HoleCircle | Keyway | Slot, r: float) -> float:
    """The angle a void misses at radius r: cosine rule, or between its flanks and its floor."""
    if isinstance(one, HoleCircle):
        far, a = one.circle / 2, one.diameter / 2
        x = (r * r + far * far - a * a) / (2 * r * far)
        return one.count * 2 * math.acos(min(1.0, max(-1.0, x)))
    w = one.width / 2
    if isinstance(one, Keyway):
        floor = one.bore / 2 + one.depth
        return 2 * max(0.0, math.asin(min(1.0, w / r)) - math.acos(min(1.0, floor / r))) if r > one.bore / 2 else 0.0
    floor = one.outside / 2 - one.depth
    inside = floor < r < one.outside / 2
    return one.count * 2 * min(math.asin(min(1.0, w / r)), math.acos(floor / r)) if inside else 0.0


def kinks(one: HoleCircle | Keyway | Slot) -> list[float]:
    """Radii where that angle begins, ends or changes its formula."""
    if isinstance(one, HoleCircle):
        return [abs(one.circle - one.diameter) / 2, (one.circle + one.diameter) / 2]
    if isinstance(one, Keyway):
        wall, floor = one.bore / 2, one.bore / 2 + one.depth
    else:
        wall, floor = one.outside / 2, one.outside / 2 - one.depth
    return [wall, floor, math.hypot(floor, one.width / 2)]
