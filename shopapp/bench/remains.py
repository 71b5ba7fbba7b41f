"""What is left beside the cuts: the web under a face, the wall beside a turn or a bore, the clearance to a keep-out.

A web is metal measured along the axis, a wall is metal measured across it. Both are measured on the half-section
itself, at the diameter or place that is named, or where they come out thinnest.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from shapely import Geometry, box

from shopapp.bench.outline import ALMOST, both
from shopapp.bench.solids import edges
from shopapp.bench.thickness import Cover, Survey, Thin

MOST_OF_A_WEB = 0.9
_WORTH_SAYING = 0.5  # of the thinnest web or wall: what stays over a hole is told where it is less


@dataclass(frozen=True)
class Least:
    """The least that must stay [mm]: its name, its size, and where: a web at a Ø, a wall so far from the back face.

    With no place given it is looked for where the cuts leave it thinnest.
    """

    name: str
    least: float
    at: float | None = None


@dataclass(frozen=True)
class KeepOut:
    """An edge that no cut may reach [mm]: metal is kept `from` z on, or up `to` z, over the diameters it spans.

    A `from` and a `to` beyond it, over the same diameters, keep the band between them.
    """

    name: str
    z: float
    side: str
    least: float
    inner: float | None = None
    outer: float | None = None


@dataclass(frozen=True)
class Clearance:
    """How far the nearest finished shoulder stays from a keep-out, under nothing if it is cut [mm]."""

    name: str
    left_mm: float
    least_mm: float
    ok: bool


def thinnest(
    what: str, metal: Geometry, shapes: Sequence[tuple[str, Geometry]], at: float | None = None
) -> Thin | None:
    """The web or wall that the cuts leave; common practice, no source.

    A web is looked for under the faces, in what the other cuts leave; a wall beside turns, bores, grooves and tapers,
    in what the faces leave. At a place that is named, all cuts count together.

    Formula: the shortest stretch of metal along the axis (web) or from it (wall) where a cut took some

    what: "web" or "wall" [text]
    metal: half-section of the body before the cuts [mm]
    shapes: kind and region of each cut [mm]
    at: diameter of the web, or distance of the wall from the back face; None looks everywhere [mm]

    Returns: the thinnest place, None where no such cut meets metal [mm].
    Limits: measured on the half-section; bevels are left out, holes are told by `covered`. Where the metal runs out
    along a sloping side, as on a casting's draft, the corner is thin by its shape and is neither web nor wall.

    >>> disc = box(0, 0, 16, 100)
    >>> thinnest("web", disc, [("face", box(0, 50, 8, 100))])
    Thin(before=16.0, after=8.0, part=0.5)
    """
    return Survey(what, list(edges(metal)), [(kind, list(edges(shape))) for kind, shape in shapes], at).thinnest()


def covered(
    what: str, covers: Sequence[Cover], name: Callable[[int], str], closed: Callable[[int], bool], thin: Thin | None,
    least: Least | None,
) -> tuple[list[str], list[str]]:  # fmt: skip
    """What is said where cuts come near a hole that the body already has; common practice, no source.

    A hole that is open elsewhere may be meant to come through: that is told and not refused. Less metal over it than
    must stay is refused, and so is breaking into a chamber that is closed all round.

    Formula: metal over a hole against the least that must stay

    what: "web" or "wall" [text]
    covers: the metal between voids and cuts [mm]
    name: what a void is called, by its place [text]
    closed: whether a void has metal all round, by its place [yes or no]
    thin: the thinnest web or wall of the turned metal [mm]
    least: what must stay, None where nothing is set [mm]

    Returns: refusals and hints [text].
    Limits: with a place named for the least, only what covers that place is refused.

    >>> covered("web", [Cover(0, 20, 0, 35, 45)], lambda i: "the holes", lambda i: False, None, None)[1]
    ['A face comes through into the holes: no metal stays between. Take less if they are to stay closed there.']
    """
    refusals, hints = [], []
    for cover in covers:
        cut = "face" if what == "web" else "cut"
        opened = cover.after <= ALMOST
        short = least is not None and _covers(cover, least.at, what) and cover.after < least.least - ALMOST
        if least and short and (not opened or closed(cover.void)):
            title = least.name[:1].upper() + least.name[1:]
            refusals.append(
                f"{title}: {_left(cover.after, least.least)} would be left between the {cut} and {name(cover.void)}, "
                f"and {both(least.least)} must stay. Take less."
            )
        elif opened:
            hints.append(
                f"A {cut} comes through into {name(cover.void)}: no metal stays between. "
                "Take less if they are to stay closed there."
            )
        elif thin is None or cover.after < thin.after * _WORTH_SAYING:
            hints.append(f"Between a {cut} and {name(cover.void)} {both(cover.after)} would be left.")
    return refusals, hints


def _covers(cover: Cover, at: float | None, what: str) -> bool:
    """Whether a place that is named, a Ø for a web, lies over a void; any does where none is named."""
    place = at if at is None or what == "wall" else at / 2
    return place is None or cover.start - ALMOST <= place <= cover.end + ALMOST


def web_refusals(thin: Thin | None, least: Least | None) -> list[str]:
    """Why a web may not be cut so thin: nine tenths of it taken, or too little left; common practice, no source.

    Formula: taken / before >= 9/10, or left < least

    thin: the thinnest web, None where no face meets metal [mm]
    least: what must stay, None where nothing is set [mm]

    Returns: sentences, none if the web is thick enough [text].
    Limits: the section alone; metal over holes is told by `covered`.

    >>> web_refusals(Thin(16.51, 8.89, 0.46), None)
    []
    """
    if thin is None:
        return []
    said = []
    if thin.part >= MOST_OF_A_WEB - 1e-9:
        percent = math.floor(thin.part * 100 + 0.5)
        said.append(
            f"{percent} % of the metal under the face would go, {both(thin.after)} would stay: "
            "90 % or more is refused. Measure the web again or take less."
        )
    return said + wall_refusals(thin, least)


def wall_refusals(thin: Thin | None, least: Least | None) -> list[str]:
    """Why a web or wall may not be cut so thin: less is left than must stay; common practice, no source.

    Formula: left < least

    thin: the thinnest place, None where no cut meets it [mm]
    least: what must stay, None where nothing is set [mm]

    Returns: sentences, none if enough stays [text].
    Limits: the section alone; metal over holes is told by `covered`.

    >>> len(wall_refusals(Thin(25.4, 1.27, 0.95), Least("rim wall", 6.35)))
    1
    """
    if thin is None or least is None or thin.after >= least.least - ALMOST:
        return []
    name = least.name[:1].upper() + least.name[1:]
    return [f"{name}: {_left(thin.after, least.least)} would be left and {both(least.least)} must stay. Take less."]


def _left(after: float, least: float) -> str:
    """What would be left, told apart from the least even where both are shown alike."""
    return f"a little less than {both(least)}" if both(after) == both(least) else both(after)


def _spans(one: KeepOut) -> tuple[float, float]:
    return (one.inner or 0.0) / 2, math.inf if one.outer is None else one.outer / 2


def _zone(one: KeepOut, keep_outs: Sequence[KeepOut]) -> tuple[float, float]:
    """The length that is kept: from the edge to the next opposite edge over the same diameters, else without end."""
    low, high = _spans(one)
    opposite = [
        other.z
        for other in keep_outs
        if other.side != one.side and max(low, _spans(other)[0]) < min(high, _spans(other)[1])
    ]
    if one.side == "from":
        return one.z, min((z for z in opposite if z >= one.z), default=math.inf)
    return max((z for z in opposite if z <= one.z), default=-math.inf), one.z


def _gap(one: KeepOut, zone: tuple[float, float], shapes: Sequence[Geometry]) -> float | None:
    """How far the nearest shoulder stays off the edge: under nothing if the kept length is cut, None if none comes."""
    inner, outer = _spans(one)
    gaps = []
    for shape in shapes:
        z1, r1, z2, r2 = shape.bounds
        if max(inner, r1) >= min(outer, r2):
            continue
        low, high = z1, z2
        if r1 < inner or r2 > outer:
            met = shape.intersection(box(z1, max(inner, r1), z2, min(outer, r2)))
            if met.area <= ALMOST:
                continue
            low, _, high, _ = met.bounds
        if low < zone[1] - ALMOST and high > zone[0] + ALMOST:
            gaps.append(zone[0] - high if one.side == "from" else low - zone[1])
        elif one.side == "from" and high <= zone[0] + ALMOST:
            gaps.append(zone[0] - high)
        elif one.side == "to" and low >= zone[1] - ALMOST:
            gaps.append(low - zone[1])
    return min(gaps, default=None)


def clearances(keep_outs: Sequence[KeepOut], shapes: Sequence[Geometry]) -> tuple[list[Clearance], list[str]]:
    """How far the finished shoulders stay off every keep-out, and why a cut is refused; common practice, no source.

    Formula: the keep-out's edge less the farthest that a cut comes toward it

    keep_outs: edges that no cut may reach [mm]
    shapes: what each cut sweeps [mm]

    Returns: the clearances, of those edges that a cut comes toward, and the refusals [mm, text].
    Limits: along the axis only.

    >>> clearances([KeepOut("teeth", z=10, side="from", least=0.5)], [box(0, 0, 9, 50)])[0]
    [Clearance(name='teeth', left_mm=1.0, least_mm=0.5, ok=True)]
    """
    found, said = [], []
    for one in keep_outs:
        gap = _gap(one, _zone(one, keep_outs), shapes)
        if gap is None:
            continue
        left = round(gap, 6)
        fine = left >= one.least - ALMOST
        found.append(Clearance(one.name, left, one.least, fine))
        if not fine:
            stop = one.z - one.least if one.side == "from" else one.z + one.least
            how = f"only {both(left)} would stay clear" if left >= 0 else f"a cut goes {both(-left)} into it"
            name = one.name[:1].upper() + one.name[1:]
            said.append(
                f"{name}: {how}, {both(one.least)} is the least. End the cut at {both(stop)} from the back face, "
                "or give the other edge if only a band is kept."
            )
    return found, said
