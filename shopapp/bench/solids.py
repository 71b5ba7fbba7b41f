"""Volume and moment of what a half-section sweeps out when it turns once round the axis.

Exact line integrals round the edges: no facets, no centroid rules, no small-ring shortcuts. Holes in the section stay
holes.
"""

import math
from collections.abc import Iterator

from shapely import Geometry, Polygon
from shapely.geometry.polygon import orient

Edge = tuple[float, float, float, float]  # z, r to z, r


def edges(region: Geometry) -> Iterator[Edge]:
    """Every edge of a section, metal always on the left hand; George Green's theorem, from memory.

    region: half-section in (z, r) [mm]

    Returns: z1, r1, z2, r2 of each, one by one [mm].
    Limits: lines and points without area have no edges here.

    >>> len(list(edges(Polygon([(0, 0), (1, 0), (1, 1)]))))
    3
    """
    for piece in getattr(region, "geoms", [region]):
        if isinstance(piece, Polygon) and not piece.is_empty:
            whole = orient(piece, 1.0)
            for ring in (whole.exterior, *whole.interiors):
                points = list(ring.coords)
                for (z1, r1), (z2, r2) in zip(points, points[1:], strict=False):
                    yield z1, r1, z2, r2


def volume(region: Geometry) -> float:
    """Volume swept by a half-section: a sum of frusta (Machinery's Handbook 31, pp. 89-93).

    Formula: V = 2 pi INT r dA = -(pi/3) SUM (z2 - z1)(r1^2 + r1 r2 + r2^2), metal on the left hand.

    region: half-section in (z, r), r from 0 up [mm]

    Returns: the volume, nought for an empty section [mm3].
    Limits: exact but for the last places of a float.

    >>> round(volume(Polygon([(0, 0), (20, 0), (20, 1.25), (0, 1.25)])), 2)
    98.17
    """
    return -math.pi / 3 * math.fsum((z2 - z1) * (r1 * r1 + r1 * r2 + r2 * r2) for z1, r1, z2, r2 in edges(region))


def moment(region: Geometry) -> float:
    """Second moment of the swept volume about its axis; times the density it is the moment of inertia.

    Formula: J = INT r^2 dV = 2 pi INT r^3 dA = -(pi/10) SUM (z2 - z1)(r1^4 + r1^3 r2 + r1^2 r2^2 + r1 r2^3 + r2^4);
    the frustum's radius of gyration in Machinery's Handbook 31, pp. 236-237, is its special case.

    region: half-section in (z, r), r from 0 up [mm]

    Returns: the moment, nought for an empty section [mm5].
    Limits: exact but for the last places of a float.

    >>> round(moment(Polygon([(0, 0), (1, 0), (1, 2), (0, 2)])) / (8 * math.pi), 12)
    1.0
    """

    def term(z1: float, r1: float, z2: float, r2: float) -> float:
        return (z2 - z1) * (r1**4 + r1**3 * r2 + r1 * r1 * r2 * r2 + r1 * r2**3 + r2**4)

    return -math.pi / 10 * math.fsum(term(*edge) for edge in edges(region))


def gyration(region: Geometry) -> float:
    """Radius of gyration about the axis (Machinery's Handbook 31, pp. 236-237).

    Formula: k = sqrt(J / V)

    region: half-section in (z, r), not empty [mm]

    Returns: the radius [mm].
    Raises: ZeroDivisionError for an empty section.

    >>> round(gyration(Polygon([(0, 0), (1, 0), (1, 2), (0, 2)])) / 2, 4)
    0.7071
    """
    return math.sqrt(moment(region) / volume(region))
