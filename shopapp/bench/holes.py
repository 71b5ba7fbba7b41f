"""Voids that the body already has and that do not go round: holes, keyways, pockets, slots.

Each is told as the angle that is missing from the ring of metal at (z, r), which `bench.angles` integrates. Where the
first of them stands round the circle, in degrees from one mark for all, may be said; it changes no mass.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from shapely import Geometry

from shopapp.bench.angles import Pair, Stretch, along, drilled, keyed, pocketed, slotted
from shopapp.bench.errors import Impossible
from shopapp.bench.outline import both
from shopapp.bench.solids import Edge, edges

Extent = tuple[float, float, float, float]  # from z, from r, to z, to r


@dataclass(frozen=True)
class HoleCircle:
    """Holes along the axis: how many, their diameter, on which circle, from where to where [mm]."""

    count: int
    diameter: float
    circle: float
    start: float = -math.inf
    end: float = math.inf
    first: float | None = None


@dataclass(frozen=True)
class Keyway:
    """Parallel key seat in a bore: its depth is taken on the centreline, from the bore wall [mm]."""

    width: float
    depth: float
    bore: float
    start: float = -math.inf
    end: float = math.inf
    first: float | None = None


@dataclass(frozen=True)
class RadialHole:
    """Flat-bottomed holes or pockets toward the axis, from diameter `outside`, deep on their centreline, at z [mm]."""

    count: int
    diameter: float
    outside: float
    depth: float
    at: float
    first: float | None = None


@dataclass(frozen=True)
class Slot:
    """Parallel-sided slots with a flat bottom, from diameter `outside` toward the axis [mm]."""

    count: int
    width: float
    depth: float
    outside: float
    start: float = -math.inf
    end: float = math.inf
    first: float | None = None


Void = HoleCircle | Keyway | RadialHole | Slot


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

    Formula: none; each size above nothing, inside the others that bound it

    void: a hole circle, keyway, radial hole or slot [mm]

    Returns: the void itself [mm].
    Limits: one void for itself; whether it lies in metal or in another void is not looked at.
    Raises: Impossible for sizes that cannot be.

    >>> checked(Keyway(width=12, depth=3.3, bore=40)).width
    12
    """
    apart = ("count", "at", "start", "end", "circle", "first")
    sizes = [float(x) for name, x in vars(void).items() if name not in apart]
    if min(sizes) <= 0 or not all(math.isfinite(x) for x in sizes):
        raise Impossible("A hole, keyway, pocket or slot needs every width, diameter and depth above nothing.")
    if not isinstance(void, RadialHole) and not void.end > void.start:
        raise Impossible(f"It ends at {both(void.end)} and starts at {both(void.start)}: it must end beyond its start.")
    if not isinstance(void, Keyway) and void.count < 1:
        raise Impossible("Say how many there are: 1 or more.")
    if void.first is not None and not math.isfinite(void.first):
        raise Impossible("The angle of the first one is a plain number of degrees, or left empty.")
    if isinstance(void, HoleCircle):
        _refuse_hole(void)
    elif isinstance(void, Keyway):
        _refuse_keyway(void)
    else:
        _refuse_inward(void)
    return void


def extent(void: Void) -> Extent:
    """From where to where a void reaches, lengthwise and from the axis; common practice, no source.

    Formula: R - a to R + a from the axis for holes on a circle; for the others from the floor or wall to the rim or the
    floor's corners

    void: a hole circle, keyway, radial hole or slot [mm]

    Returns: from z, from r, to z, to r [mm].
    Limits: the box around the void, not the void.

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


@lru_cache(256)
def _stretches(void: HoleCircle | Keyway | Slot) -> tuple[Stretch, ...]:
    """The stretches of radius over which the angle of one hole, keyway or slot has one formula."""
    if isinstance(void, HoleCircle):
        return drilled(void.diameter / 2, void.circle / 2)
    if isinstance(void, Keyway):
        return keyed(void.bore / 2, void.bore / 2 + void.depth, void.width / 2)
    return slotted(void.outside / 2, void.outside / 2 - void.depth, void.width / 2)


def meets(bounds: Extent, void: Void) -> bool:
    """Whether a void can reach into a region at all, by how far both extend; common practice, no source.

    Formula: both boxes share some of z and some of r

    bounds: from z, from r, to z, to r of the region [mm]
    void: a hole circle, keyway, radial hole or slot [mm]

    Returns: whether length and radius are shared [yes/no].
    Limits: a region may have no metal where the void is.

    >>> meets((0, 40, 10, 50), Keyway(width=12, depth=3.3, bore=40))
    False
    """
    z1, r1, z2, r2 = extent(void)
    return z1 < bounds[2] and z2 > bounds[0] and r1 < bounds[3] and r2 > bounds[1]


def called(void: Void) -> str:
    """What a void is called in a sentence; common practice, no source.

    Formula: none; its kind and the size that tells it from others

    void: a hole circle, keyway, radial hole or slot [mm]

    Returns: words such as "the keyway in bore Ø 1.000 in (25.4 mm)" [text].
    Limits: where it stands round the axis is not in the words.

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


def missing_both(sides: Sequence[Edge], void: Void) -> Pair:
    """What a void takes out of a region that is given by its edges: volume and moment at once; from memory, exact.

    Formula: INT INT over the region of angle(r, z) r dr dz and of angle(r, z) r^3 dr dz

    sides: edges of the region, metal on the left hand [mm]
    void: a hole circle, keyway, radial hole or slot, its sizes looked at already [mm]

    Returns: volume and moment [mm3, mm5].
    Limits: nine figures or better; two voids at one place are each counted.

    >>> from shapely import box
    >>> square = edges(box(0, 0, 25, 100))
    >>> round(missing_both(list(square), HoleCircle(count=6, diameter=10, circle=150))[0], 6)
    11780.972451
    """
    if isinstance(void, RadialHole):
        floor = void.outside / 2 - void.depth
        volume, moment = pocketed(sides, void.at, void.diameter / 2, floor, void.outside / 2)
        return void.count * volume, void.count * moment
    count = 1 if isinstance(void, Keyway) else void.count
    volume, moment = along(sides, _stretches(void), void.start, void.end)
    return count * volume, count * moment


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

    >>> from shapely import box
    >>> round(missing(box(0, 0, 25, 100), HoleCircle(count=6, diameter=10, circle=150)), 6)
    11780.972451
    """
    checked(void)
    if region.is_empty or not meets(region.bounds, void):
        return 0.0
    return missing_both(list(edges(region)), void)[0 if power == 1 else 1]
