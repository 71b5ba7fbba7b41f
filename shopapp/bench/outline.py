"""The half-section of a turned body, built from what a lathe hand would say.

A half-section is a polygon in (z, r), millimetres: z along the axis from the back face, r from the axis. Rings and
cones are laid together, hollows are taken out of them, and existing bevels are cut off the corners that are there.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from shapely import Geometry, Polygon, area, box, intersection, polygons, union_all

from shopapp.bench.errors import Impossible
from shopapp.bench.quantities import show_length

ALMOST = 1e-6  # mm: nearer than any shop can measure, farther than floats err


@dataclass(frozen=True)
class Ring:
    """Straight ring or disc: two diameters and two faces [mm]."""

    outside: float
    inside: float
    start: float
    end: float


@dataclass(frozen=True)
class Cone:
    """Ring whose diameters change evenly from start to end [mm]."""

    outside_start: float
    outside_end: float
    inside_start: float
    inside_end: float
    start: float
    end: float


@dataclass(frozen=True)
class Hollow(Ring):
    """Ring of air that the body already has: a groove, a recess, a counterbore [mm]."""


@dataclass(frozen=True)
class HollowCone(Cone):
    """Conical ring of air that the body already has [mm]."""


@dataclass(frozen=True)
class Corner:
    """Bevel at 45 degrees that the body already has: its size, on which diameter, how far from the back face [mm]."""

    size: float
    diameter: float
    at: float


@dataclass(frozen=True)
class Lump:
    """Metal that is not turned and that no cut reaches, a foot or a lug: a name and its volume [mm3]."""

    name: str
    volume: float


@lru_cache(4096)
def both(length: float) -> str:
    """A length in the two units that stand side by side in the shop; common practice, no source.

    Formula: mm / 25.4

    length: what to show [mm]

    Returns: words such as "8.875 in (225.43 mm)" [text].
    Limits: shows three decimals of an inch and two of a millimetre.

    >>> both(12.7)
    '0.500 in (12.7 mm)'
    """
    return f"{show_length(length, 'in')} ({show_length(length, 'mm')})"


def trapezoid(start: float, end: float, inner: tuple[float, float], outer: tuple[float, float], called: str) -> Polygon:
    """The section between two straight lines; common practice, no source.

    Formula: corners (start, r_in), (end, r_in), (end, r_out), (start, r_out), each radius half its diameter

    start: nearer face [mm]
    end: farther face [mm]
    inner: inside diameters at start and end [mm]
    outer: outside diameters at start and end [mm]
    called: the word used in a refusal [text]

    Returns: a polygon in (z, r) [mm].
    Limits: straight lines only; the diameters may meet at one end.
    Raises: Impossible if nothing or less than nothing is between the lines.

    >>> trapezoid(0, 10, (0, 0), (20, 20), "ring").area
    100.0
    """
    if not all(math.isfinite(x) for x in (start, end, *inner, *outer)):
        raise Impossible(f"The {called} needs a plain number for every size.")
    if end <= start:
        raise Impossible(f"The {called} ends at {both(end)} and starts at {both(start)}: it must end beyond its start.")
    if min(inner) < 0:
        raise Impossible(f"The {called} has an inside diameter under nothing. Type 0 if it is solid.")
    if any(o < i for i, o in zip(inner, outer, strict=True)) or inner == outer:
        small, large = both(max(inner)), both(min(outer))
        raise Impossible(f"The {called} has {small} for its smaller and {large} for its larger Ø: are they swapped?")
    if inner[0] == inner[1] and outer[0] == outer[1]:
        return box(start, inner[0] / 2, end, outer[0] / 2)
    points = [(start, inner[0] / 2), (end, inner[1] / 2), (end, outer[1] / 2), (start, outer[0] / 2)]
    return Polygon(points)


def section(part: Ring | Cone) -> Polygon:
    """The half-section of one ring or cone, of metal or of air; common practice, no source.

    Formula: corners (z, diameter / 2) in order round the section

    part: a ring, a cone or their hollows [mm]

    Returns: a polygon in (z, r) [mm].
    Limits: straight lines between its two ends.
    Raises: Impossible for sizes that cannot be.

    >>> section(Ring(outside=40, inside=20, start=0, end=5)).bounds
    (0.0, 10.0, 5.0, 20.0)
    """
    called = {"Ring": "ring", "Cone": "cone", "Hollow": "hollow", "HollowCone": "hollow cone"}[type(part).__name__]
    if isinstance(part, Ring):
        inner, outer = (part.inside, part.inside), (part.outside, part.outside)
    else:
        inner, outer = (part.inside_start, part.inside_end), (part.outside_start, part.outside_end)
    return trapezoid(part.start, part.end, inner, outer, called)


def corner(metal: Geometry, size: float, diameter: float, at: float) -> Polygon:
    """The 45 degree triangle that a bevel takes off the corner that is there; common practice, no source.

    Of the four triangles with their right angle at the point, a sharp corner fills exactly one with metal.

    Formula: right angle at (at, diameter / 2), legs of the bevel's size

    metal: half-section [mm]
    size: length of the bevel along z, and along r [mm]
    diameter: on which the corner stands [mm]
    at: how far from the back face [mm]

    Returns: a triangle in (z, r) [mm].
    Limits: the corner is near enough square.
    Raises: Impossible where there is no such corner.

    >>> corner(Polygon([(0, 0), (9, 0), (9, 5), (0, 5)]), size=1, diameter=10, at=9).bounds
    (8.0, 4.0, 9.0, 5.0)
    """
    if not (size > 0 and diameter > 0 and math.isfinite(size + diameter + at)):
        raise Impossible("A bevel needs a size and a diameter above nothing.")
    r = diameter / 2
    ways = polygons([[(at, r), (at + z * size, r), (at, r + y * size)] for z in (1, -1) for y in (-1, 1)])
    filled = sorted(((float(full), i) for i, full in enumerate(area(intersection(ways, metal)))), reverse=True)
    if filled[0][0] < size * size / 4 or filled[1][0] > filled[0][0] * 0.9:
        raise Impossible(
            f"There is no corner for a bevel of {both(size)} at Ø {both(diameter)}, {both(at)} from the back face."
        )
    found: Polygon = ways[filled[0][1]]
    return found


def outline(parts: Iterable[object]) -> Geometry:
    """The half-section of a body: rings and cones together, less hollows, less existing bevels.

    Common practice, no source. Metal typed twice is metal once.

    Formula: union of rings and cones, less the union of hollows, less each bevel's triangle

    parts: rings, cones, hollows, corners, in any order [mm]

    Returns: a polygon, or several, in (z, r) [mm].
    Limits: pieces that do not touch are kept as drawn.
    Raises: Impossible if no metal is left or a size cannot be.

    >>> outline([Ring(40, 0, 0, 10), Hollow(40, 30, 4, 6)]).area
    190.0
    """
    told = list(parts)
    solid = [section(p) for p in told if isinstance(p, (Ring, Cone)) and not isinstance(p, (Hollow, HollowCone))]
    air = [section(p) for p in told if isinstance(p, (Hollow, HollowCone))]
    if not solid:
        raise Impossible("There is no metal yet: give the first ring its outside, its inside, its start and end.")
    metal = union_all(solid).difference(union_all(air)) if air else union_all(solid)
    for bevel in (p for p in told if isinstance(p, Corner)):
        metal = metal.difference(corner(metal, bevel.size, bevel.diameter, bevel.at))
    if metal.area <= 0:
        raise Impossible("The hollows take all the metal away: check their diameters and where they start and end.")
    return metal
