"""Spindle speeds, cutting speeds, cutting minutes and removal rates; recommended speeds with their sources."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shopapp.bench.errors import Impossible, Refused
from shopapp.bench.rounding import fixed
from shopapp.bench.speed_table import FOOT, GROUP_OF, GROUPS, SPEEDS, SpeedRow

WANTED, CHUCK, LIST, SLOWEST = "cutting speed", "chuck", "list of speeds", "slowest speed"

_NEARLY = 1 + 1e-9


@dataclass(frozen=True)
class Choice:
    """The speed to set [rpm], the one that was wanted, what held it back, and the sentence."""

    rpm: float
    wanted: float
    held_by: str
    words: str


@dataclass(frozen=True)
class Facing:
    """A facing cut at constant surface speed [min, mm]: its time, and the diameter under which a cap bites, if any."""

    minutes: float
    cap_from: float | None


@dataclass(frozen=True)
class Recommended:
    """All rows for one group, the shop's own first, the range they span together [m/min], and the sentence."""

    rows: tuple[SpeedRow, ...]
    low: float
    high: float
    words: str


def _above(**sizes: float) -> None:
    for name, size in sizes.items():
        if not (size > 0 and math.isfinite(size)):
            raise Impossible(f"The {name.replace('_', ' ')} has to be above 0.")


def revolutions(speed: float, diameter: float) -> float:
    """Spindle speed from cutting speed and diameter (F. D. Jones, Turning and Boring; Handbook from memory).

    Formula: n = 1000 V / (π D); in inches 12 V / (π D). The rule of the bench 4·CS/D is always 4.7 % higher than this,
    3.82·CS/D agrees to .01 %.

    speed: cutting speed [m/min]
    diameter: that is cut [mm]

    Returns: the spindle speed [rpm].
    Limits: at one diameter; V is lower nearer to the centre.
    Raises: Impossible for a speed or diameter that is not above 0.

    >>> round(revolutions(60 * 0.3048, 5 * 25.4), 3)
    45.837
    """
    _above(cutting_speed=speed, diameter=diameter)
    return 1000 * speed / (math.pi * diameter)


def cutting_speed(rpm: float, diameter: float) -> float:
    """Cutting speed at a diameter (circumference; common practice, no source).

    Formula: V = π D n / 1000; in inches π D n / 12 ft/min

    rpm: of the spindle [rpm]
    diameter: that is cut [mm]

    Returns: the cutting speed [m/min].
    Limits: at one diameter.
    Raises: Impossible for a speed or diameter that is not above 0.

    >>> round(cutting_speed(400, 12.5), 3)
    15.708
    """
    _above(spindle_speed=rpm, diameter=diameter)
    return math.pi * diameter * rpm / 1000


def _chosen(rpm: float, wanted: float, held: str) -> Choice:
    reason = {
        WANTED: "", CHUCK: ", held back by the chuck", LIST: ", the nearest not above",
        SLOWEST: ": it is the slowest there is, so the cutting speed is over",
    }[held]  # fmt: skip
    return Choice(rpm, wanted, held, f"{fixed(rpm, 0)} rpm for {fixed(wanted, 0)} wanted{reason}.")


def choose(wanted: float, speeds: Sequence[float] = (), chuck_limit: float | None = None) -> Choice:
    """The speed to set on this machine: the nearest of its speeds not above the wanted (common practice, no source).

    Formula: the greatest of the list up to min(wanted, chuck limit); without a list that least itself

    wanted: by cutting speed and diameter [rpm]
    speeds: that the machine has; none if it is stepless [rpm]
    chuck_limit: the most the chuck may turn, if it has a limit [rpm]

    Returns: the speed, what held it back, a sentence [rpm].
    Limits: knows nothing of balance or of how the piece is held.
    Raises: Impossible when even the slowest speed is over the limit of the chuck.

    >>> choose(764, [70, 200, 460, 800], 1200).rpm
    460
    """
    _above(wanted_speed=wanted, **({} if chuck_limit is None else {"limit_of_the_chuck": chuck_limit}))
    most = wanted if chuck_limit is None else min(wanted, chuck_limit)
    for each in speeds:
        _above(machine_speed=each)
    if not speeds:
        return _chosen(most, wanted, CHUCK if most < wanted else WANTED)
    slowest = min(speeds)
    if chuck_limit is not None and slowest > chuck_limit * _NEARLY:
        slow, least = fixed(slowest, 0), fixed(chuck_limit, 0)
        raise Impossible(f"The slowest speed is {slow} rpm, the chuck allows {least}: use another chuck.")
    if slowest > most * _NEARLY:
        return _chosen(slowest, wanted, SLOWEST)
    picked, free = (max(each for each in speeds if each <= top * _NEARLY) for top in (most, wanted))
    return _chosen(picked, wanted, CHUCK if picked < free else LIST if picked < wanted / _NEARLY else WANTED)


def turning_minutes(length: float, feed: float, rpm: float, passes: int = 1) -> float:
    """Time along a cylinder at constant revolutions (a tool maker's catalogue of 2021, p. 1069).

    Formula: t = L N / (f n)

    length: of the cut, run-in and run-out with it [mm]
    feed: per revolution [mm]
    rpm: of the spindle [rpm]
    passes: how many [count]

    Returns: minutes in the cut [min].
    Limits: the way back is not in it.
    Raises: Impossible for a size that is not above 0.

    >>> turning_minutes(100, 0.2, 500)
    1.0
    """
    _above(length=length, feed=feed, spindle_speed=rpm, number_of_passes=passes)
    return length * passes / (feed * rpm)


def turning_minutes_at_speed(length: float, feed: float, speed: float, diameter: float, passes: int = 1) -> float:
    """Time along a cylinder at constant surface speed (a tool maker's catalogue of 2021, p. 1069).

    Formula: t = π L D N / (1000 f V), D the mean of the diameters before and after

    length: of the cut [mm]
    feed: per revolution [mm]
    speed: cutting speed [m/min]
    diameter: mean of before and after all passes [mm]
    passes: how many [count]

    Returns: minutes in the cut [min].
    Limits: equal passes; exact then, for the mean is the mean of all.
    Raises: Impossible for a size that is not above 0.

    >>> round(60 * turning_minutes_at_speed(100, 0.2, 150, 100), 6)
    62.831853
    """
    return turning_minutes(length, feed, revolutions(speed, diameter), passes)


def _across(outer: float, inner: float) -> float:
    if not (0 <= inner < outer and math.isfinite(outer)):
        raise Impossible("A face goes from an outer diameter to a smaller one; the smaller may be 0.")
    return (outer - inner) / 2


def facing_minutes(outer: float, inner: float, feed: float, rpm: float) -> float:
    """Time across a face at constant revolutions (a tool maker's catalogue of 2021, p. 1069).

    Formula: t = (D1 - D2) / (2 f n)

    outer: diameter [mm]
    inner: diameter, 0 to the centre [mm]
    feed: per revolution [mm]
    rpm: of the spindle [rpm]

    Returns: minutes of one pass [min].
    Limits: either way, in or out.
    Raises: Impossible for a feed or speed that is not above 0 or an inner diameter not below the outer.

    >>> round(60 * facing_minutes(200, 40, 0.2, 159.154943), 4)
    150.7964
    """
    _above(feed=feed, spindle_speed=rpm)
    return _across(outer, inner) / (feed * rpm)


def facing_at_speed(outer: float, inner: float, feed: float, speed: float, cap: float | None = None) -> Facing:
    """Time across a face at constant surface speed, revolutions capped (a tool maker's catalogue of 2021, p. 1069).

    Formula: t = π (D1² - D2²) / (4000 f V) down to Dc = 1000 V / (π cap), then (Dc - D2) / (2 f cap)

    outer: diameter [mm]
    inner: diameter, 0 to the centre [mm]
    feed: per revolution [mm]
    speed: cutting speed [m/min]
    cap: the most revolutions of spindle or chuck, if there is one [rpm]

    Returns: minutes of one pass, and the diameter under which the cap bites [min, mm].
    Limits: the part under the cap is ours, by the same integral of dr / (f n).
    Raises: Impossible for a size that is not above 0 or an inner diameter not below the outer.

    >>> round(60 * facing_at_speed(200, 0, 0.2, 100, cap=800).minutes, 6)
    97.977974
    """
    _above(feed=feed, cutting_speed=speed)
    _across(outer, inner)
    held = 0.0
    if cap is not None:
        _above(most_revolutions=cap)
        held = 1000 * speed / (math.pi * cap)
    bend = min(max(held, inner), outer)
    free = math.pi * (outer * outer - bend * bend) / (4000 * feed * speed)
    slow = facing_minutes(bend, inner, feed, cap) if cap is not None and bend > inner else 0.0
    return Facing(free + slow, bend if bend > inner else None)


def removal_rate(speed: float, feed: float, depth: float) -> float:
    """Metal removed in a minute (a tool maker's catalogue, p. 28; in inches 12 V f d, p. 68 of another).

    Formula: Q = 1000 V f ap

    speed: cutting speed at the mean of the diameters before and after [m/min]
    feed: per revolution [mm]
    depth: of cut, radial or axial [mm]

    Returns: the rate [mm3/min].
    Limits: exact with the mean diameter; with the outer one too high by depth / (D - depth).
    Raises: Impossible for a size that is not above 0.

    >>> round(removal_rate(100, 0.25, 2))
    50000
    """
    _above(cutting_speed=speed, feed=feed, depth=depth)
    return 1000 * speed * feed * depth


def rate_between(outer: float, inner: float, feed: float, rpm: float) -> float:
    """Metal removed in a minute between two diameters (area of the ring, common practice, no source).

    Formula: Q = π/4 (D² - d²) f n

    outer: diameter of the ring of metal [mm]
    inner: its other diameter [mm]
    feed: along the axis, per revolution [mm]
    rpm: of the spindle [rpm]

    Returns: the rate [mm3/min].
    Limits: along a cylinder, outside or in a bore.
    Raises: Impossible for a size that is not above 0 or an inner diameter not below the outer.

    >>> round(rate_between(12.5, 12.0, 0.5, 400), 3)
    1924.226
    """
    _above(feed=feed, spindle_speed=rpm)
    _across(outer, inner)
    return math.pi / 4 * (outer * outer - inner * inner) * feed * rpm


def recommended(key: str, own: Sequence[SpeedRow] = ()) -> Recommended:
    """What the sources recommend for a material; each row names its own (common practice, no source for all of them).

    Formula: the range runs from the least low to the greatest high of the rows; m/min = 0.3048 ft/min

    key: a material of the shop's table, or a group of the table of speeds [text]
    own: the shop's own rows, which go before all others [ft/min]

    Returns: the rows, their range, and a sentence [m/min].
    Limits: plain tools of high-speed steel unless a row says otherwise. The shop's own row alone makes the range.
    Raises: Refused for a material without a row.

    >>> recommended("grey_iron").words
    'Grey cast iron, soft: 40 to 250 ft/min by 4 sources. They differ: start low.'
    """
    group = GROUP_OF.get(key, key)
    ours = tuple(row for row in own if row.group == group)
    rows = ours + tuple(row for row in SPEEDS if row.group == group)
    mine = [row for row in ours if not row.ceiling]
    counted = mine or [row for row in rows if not row.ceiling]
    if not counted:
        raise Refused(f"No speed is on record for {key}. Add the shop's own, or pick one of: {', '.join(GROUPS)}.")
    for row in ours:
        _above(low_end=row.low_ft, high_end=row.high_ft)
    below = [row for row in rows if row.ceiling]
    low = min(row.low_ft for row in counted)
    high = min([max(row.high_ft for row in counted), *(row.high_ft for row in below)])
    said = fixed(high, 0) if low >= high else f"{fixed(low, 0)} to {fixed(high, 0)}"
    several = not mine and len(counted) > 1
    by = "by the shop's own row" if mine else f"by {len(counted)} sources" if several else f"by {counted[0].source}"
    more = " They differ: start low." if several else ""
    more += "".join(f" Keep below {fixed(row.high_ft, 0)} ft/min: {row.source}." for row in below)
    words = GROUPS.get(group, rows[0].words)
    told = f"{words[0].upper()}{words[1:]}: {said} ft/min {by}.{more}"
    return Recommended(rows, min(low, high) * FOOT, high * FOOT, told)
