"""Theoretical roughness: what feed and nose radius leave, if nothing else does."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shopapp.bench.errors import Impossible
from shopapp.bench.rounding import significant


@dataclass(frozen=True)
class Roughness:
    """Depth and average of the cusps [mm], whether the nose alone makes them, and the sentence."""

    depth: float
    average: float
    valid: bool
    words: str


def _proved(feed: float, nose: float) -> None:
    if not (feed > 0 and nose > 0):
        raise Impossible("Feed and nose radius have to be above 0.")
    if feed >= 2 * nose:
        raise Impossible("The feed is wider than the nose of the tool: it would leave a thread. Feed slower.")


def cusp_depth(feed: float, nose: float) -> float:
    """Theoretical depth of the cusps, Rt or Rz (a tool maker's catalogue of 2021, p. 952).

    Formula: Rt = f² / (8 r), the parabola in place of the nose's circle

    feed: per revolution [mm]
    nose: radius of the tool's nose [mm]

    Returns: the depth [mm].
    Limits: theoretical; only while the nose's arc alone makes the cusp.
    Raises: Impossible for a feed as wide as the nose.

    >>> round(cusp_depth(0.2, 0.8), 6)
    0.00625
    """
    _proved(feed, nose)
    return feed * feed / (8 * nose)


def cusp_average(feed: float, nose: float) -> float:
    """Theoretical average roughness, Ra of parabolic cusps (integral of the profile; definition of Ra: ISO 4287).

    Formula: Ra = f² / (18·sqrt(3)·r), that is f² / (31.18 r). Shops also use f² / (32 r), 2.6 % lower;
    the exact one is taken here.

    feed: per revolution [mm]
    nose: radius of the tool's nose [mm]

    Returns: the average [mm].
    Limits: theoretical; only while the nose's arc alone makes the cusp.
    Raises: Impossible for a feed as wide as the nose.

    >>> round(cusp_average(0.2, 0.8), 6)
    0.001604
    """
    _proved(feed, nose)
    return feed * feed / (18 * math.sqrt(3) * nose)


def feed_for(average: float, nose: float) -> float:
    """The feed that leaves a wanted theoretical average (the same formula turned round; Ra: ISO 4287).

    Formula: f = sqrt(18·sqrt(3)·r·Ra)

    average: Ra wanted [mm]
    nose: radius of the tool's nose [mm]

    Returns: the feed per revolution [mm].
    Limits: theoretical; a real surface is rougher.
    Raises: Impossible for sizes that are not above 0 or a feed that comes out as wide as the nose.

    >>> round(feed_for(0.0016, 0.8), 3)
    0.2
    """
    if not (average > 0 and nose > 0):
        raise Impossible("The average wanted and the nose radius have to be above 0.")
    feed = math.sqrt(18 * math.sqrt(3) * nose * average)
    _proved(feed, nose)
    return feed


def roughness(feed: float, nose: float, end_angle: float = 5.0) -> Roughness:
    """What feed and nose radius leave, and whether the formula holds (a tool maker's catalogue of 2021, p. 952).

    Formula: Rt = f² / (8 r), Ra = f² / (18·sqrt(3)·r), valid up to f = 2 r sin(end-cutting-edge angle)

    feed: per revolution [mm]
    nose: radius of the tool's nose [mm]
    end_angle: end-cutting-edge angle of the tool [deg]

    Returns: depth and average, whether the nose alone makes the cusps, a sentence [mm].
    Limits: theoretical: built-up edge, wear and chatter come on top.
    Raises: Impossible for a feed as wide as the nose or an angle that is none.

    >>> roughness(0.1, 0.8).words
    'Theoretical Ra 0.40 µm (16 µin), depth 1.6 µm (62 µin).'
    """
    if not 0 < end_angle < 90:
        raise Impossible("The end-cutting-edge angle lies between 0 and 90 degrees.")
    depth, average = cusp_depth(feed, nose), cusp_average(feed, nose)
    valid = feed <= 2 * nose * math.sin(math.radians(end_angle)) * (1 + 1e-9)
    ra, rt = (f"{significant(mm * 1000, 2)} µm ({significant(mm / 25.4e-6, 2)} µin)" for mm in (average, depth))
    more = "" if valid else " The feed is so wide that the end edge of the tool marks too: expect it rougher."
    return Roughness(depth, average, valid, f"Theoretical Ra {ra}, depth {rt}.{more}")
