"""Invented bodies that several tests of the bench share, and facet factors for meshes of them."""

import math
from collections.abc import Mapping

from shapely import Polygon

from shopapp.bench.cuts import Body, Cut
from shopapp.bench.holes import HoleCircle, Keyway, RadialHole
from shopapp.bench.outline import Ring

INCH = 25.4
POUND = 453.59237

# A stepped flange, in mm as (r, z): 200 x 25 with a hub 90 to z = 60, bore 40, bevels 2, 1.5 and 1.
FLANGE_RZ = [
    (21, 0), (98, 0), (100, 2), (100, 23), (98, 25), (45, 25), (45, 58.5), (43.5, 60), (21, 60), (20, 59), (20, 1),
]
FLANGE = Polygon([(z, r) for r, z in FLANGE_RZ])
FLANGE_VOLUME = 7102549 * math.pi / 24
FLANGE_MOMENT = 418849348377 * math.pi / 320


def inches(**sizes: float) -> Mapping[str, float]:
    """Sizes typed in inches; a name that Python keeps for itself is written with an underscore behind it."""
    return {name.rstrip("_"): size * INCH for name, size in sizes.items()}


def ring(outside: float, inside: float, start: float, end: float) -> Ring:
    return Ring(outside * INCH, inside * INCH, start * INCH, end * INCH)


# An invented wheel, in inches: a rim, a web flush with its back, a hub; four holes, six pockets in the rim, a keyway.
WHEEL_RINGS = (ring(9.5, 7.5, 0, 2.5), ring(7.5, 3.25, 0, 0.65), ring(3.25, 1.75, 0, 2.1))
WHEEL = Body(
    parts=WHEEL_RINGS,
    voids=(
        HoleCircle(4, 0.53 * INCH, 5.5 * INCH),
        RadialHole(6, 0.375 * INCH, 9.5 * INCH, 0.3 * INCH, 1.25 * INCH),
        Keyway(0.375 * INCH, 0.1875 * INCH, 1.75 * INCH),
    ),
)
WHEEL_CUTS = (
    Cut("A", "turn", inches(to=8.875, end=1.0505)),
    Cut("A", "face", inches(depth=0.3, to=4.25)),
    Cut("A", "bevel", inches(corner=1 / 32, diameter=8.875)),
    Cut("B", "turn", inches(to=8.875, start=1.4495)),
    Cut("B", "bevel", inches(corner=1 / 32, diameter=8.875)),
)


def facet_volume(n: int) -> float:
    """The volume of an n-sided turned solid over that of the round one."""
    return n / math.tau * math.sin(math.tau / n)


def facet_moment(n: int) -> float:
    """The moment of an n-sided turned solid over that of the round one."""
    return facet_volume(n) * (2 + math.cos(math.tau / n)) / 3
