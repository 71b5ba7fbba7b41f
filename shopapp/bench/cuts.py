"""The removal: what each cut really takes off a body, in volume, mass and inertia, and what stays.

Metal really there, overlap counted once, voids counted where a cut meets them. Cuts are taken in order, each from
what the earlier ones left, so that the cuts add up to their sides and the sides to the piece.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from shapely import Geometry, Polygon, box, union_all

from shopapp.bench.angles import Pair
from shopapp.bench.errors import Impossible
from shopapp.bench.holes import Void, called, checked, extent, meets, missing_both
from shopapp.bench.kinds import CUT_KINDS, PART_KINDS, CutKind, PartKind, SizeSpec, build
from shopapp.bench.outline import ALMOST, Lump, both, outline
from shopapp.bench.overlap import overlaps
from shopapp.bench.regions import swept
from shopapp.bench.remains import Clearance, KeepOut, Least, clearances, covered, wall_refusals, web_refusals
from shopapp.bench.solids import Edge, edges, sums
from shopapp.bench.thickness import Survey, Thin

__all__ = [
    "CUT_KINDS", "PART_KINDS", "Body", "Clearance", "Cut", "CutKind", "CutTake", "KeepOut", "Least", "Lump", "PartKind",
    "Removal", "SizeSpec", "build", "mass_of", "metal", "removal", "taken_volume",
]

_AIR = 1e-6  # mm2: less than this of a cut in metal is none
_NONE = 1e-3  # mm3: what floats may err by


@dataclass(frozen=True)
class Body:
    """A part as drawn: its turned parts, its voids, its lumps [mm]."""

    parts: tuple[object, ...]
    voids: tuple[Void, ...] = ()
    lumps: tuple[Lump, ...] = ()


@dataclass(frozen=True)
class Cut:
    """One cut: side A (back) or B (front), its kind, its sizes by name [mm]."""

    side: str
    kind: str
    sizes: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True)
class CutTake:
    """What one cut takes of what the earlier ones left [mm3, g, g mm2]; `alone_mass` is what it takes by itself."""

    side: str
    kind: str
    volume: float
    mass: float
    alone_mass: float
    inertia: float
    region: Geometry


@dataclass(frozen=True)
class Removal:
    """What all cuts take and what stays; masses [g], lengths [mm], volume [mm3], inertia [g mm2]."""

    takes: tuple[CutTake, ...]
    sides: dict[str, float]
    mass: float
    volume: float
    inertia: float
    before: float | None
    after: float | None
    web_left: float | None
    wall_left: float | None
    clearances: tuple[Clearance, ...]
    stays: Geometry
    refusals: tuple[str, ...]
    hints: tuple[str, ...]


def metal(region: Geometry, voids: Sequence[Void] = (), power: int = 1) -> float:
    """Volume or moment of the metal that a region sweeps, less the voids where they meet it; exact, from memory.

    Formula: V or J of the full ring, less the integral of the missing angle.

    region: half-section [mm]
    voids: holes, keyways, pockets, slots [mm]
    power: 1 for volume, 3 for the moment about the axis [1]

    Returns: volume or moment [mm3 or mm5].
    Limits: voids that run into each other are each counted.

    >>> round(metal(Polygon([(0, 0), (1, 0), (1, 1), (0, 1)])), 6)
    3.141593
    """
    found = _net(list(edges(region)), [checked(void) for void in voids])
    return found[0 if power == 1 else 1]


def _net(sides: Sequence[Edge], voids: Sequence[Void]) -> Pair:
    """Volume and moment of the metal in a region, less the voids; those that cannot meet it cost nothing."""
    if not sides:
        return 0.0, 0.0
    zs, rs = [edge[0] for edge in sides], [edge[1] for edge in sides]
    bounds = (min(zs), min(rs), max(zs), max(rs))
    first, third = sums(sides)
    gone = [missing_both(sides, void) for void in voids if meets(bounds, void)]
    return first - math.fsum(v for v, _ in gone), third - math.fsum(j for _, j in gone)


def mass_of(body: Body, density: float) -> float:
    """Mass of a body as drawn; common practice, no source.

    Formula: m = rho (V of the rings - voids + lumps)

    body: parts, voids and lumps [mm]
    density: of its material [g/cm3]

    Returns: the mass [g].
    Limits: sizes as drawn; paint, rust and what a casting hides are not in it.
    Raises: Impossible for a body that cannot be.

    >>> from shopapp.bench.outline import Ring
    >>> round(mass_of(Body((Ring(20, 0, 0, 10),)), 7.85), 3)
    24.662
    """
    return _drawn_mass(body, outline(body.parts), density)


def _drawn_mass(body: Body, drawn: Geometry, density: float) -> float:
    return density / 1000 * (metal(drawn, body.voids) + math.fsum(lump.volume for lump in body.lumps))


def _alike(one: Geometry, other: Geometry) -> bool:
    """Whether a region and one that holds it are the same, by their areas."""
    return bool(other.area - one.area <= 1e-13 * other.area)


def _alone(shapes: Sequence[Polygon], regions: Sequence[Geometry], solid: Geometry) -> list[Geometry]:
    """The metal that each cut would take by itself: what it takes in turn, where no earlier cut comes near it."""
    found: list[Geometry] = []
    before: list[tuple[float, float, float, float]] = []
    for shape, region in zip(shapes, regions, strict=True):
        z1, r1, z2, r2 = here = shape.bounds
        near = any(z1 < b[2] and z2 > b[0] and r1 < b[3] and r2 > b[1] for b in before)
        alone = shape.intersection(solid) if near else region
        found.append(region if near and _alike(region, alone) else alone)
        before.append(here)
    return found


def _in_turn(shapes: Sequence[Polygon], solid: Geometry) -> tuple[list[Geometry], Geometry]:
    """The metal that each cut takes of what the earlier ones left, and what they leave together."""
    left, found = solid, []
    for shape in shapes:
        found.append(shape.intersection(left))
        left = left.difference(shape)
    return found, left


def _takes(
    cuts: Sequence[Cut], regions: Sequence[Geometry], alone: Sequence[Geometry], voids: Sequence[Void], rho: float
) -> list[CutTake]:
    found = []
    for cut, region, whole in zip(cuts, regions, alone, strict=True):
        size, turns = _net(list(edges(region)), voids)
        single = size if whole is region else _net(list(edges(whole)), voids)[0]
        found.append(CutTake(cut.side, cut.kind, size, size * rho, single * rho, turns * rho, region))
    return found


def _air(cuts: Sequence[Cut], alone: Sequence[Geometry]) -> list[str]:
    return [
        f"Cut {i}, side {cut.side}, {CUT_KINDS[cut.kind].words}, cuts air: look at its Ø and its lengths."
        for i, (cut, region) in enumerate(zip(cuts, alone, strict=True), 1)
        if region.area <= _AIR
    ]


def _left_over(cut: Cut, shape: Polygon, stays: Geometry) -> str | None:
    """Metal that would stay where the tool has to come from."""
    z1, r1, z2, r2 = shape.bounds
    low, _, high, top = stays.bounds
    face = (low - 1, z1) if cut.side == "A" else (z2, high + 1)
    way = {"turn": (z1, r2, z2, top + 1), "bore": (z1, 0, z2, r1), "face": (face[0], r1, face[1], r2)}.get(cut.kind)
    if way is None or way[0] >= way[2] or way[1] >= way[3] or top <= way[1] or low >= way[2] or high <= way[0]:
        return None
    if stays.intersection(box(*way)).area <= _AIR:
        return None
    words = {"turn": f"outside Ø {both(2 * r2)}", "bore": f"inside Ø {both(2 * r1)}", "face": "in front of the face"}
    return words[cut.kind]


def _hints(
    cuts: Sequence[Cut], shapes: list[Polygon], takes: list[CutTake], alone: list[Geometry], solid: Geometry,
    stays: Geometry,
) -> list[str]:
    said = []
    before, after = (len(getattr(region, "geoms", [region])) for region in (solid, stays))
    if before > 1:
        said.append(f"The part as drawn is in {before} pieces that do not touch.")
    for i, (cut, shape, take, single) in enumerate(zip(cuts, shapes, takes, alone, strict=True), 1):
        if take.region.area <= _AIR < single.area:
            said.append(f"Cut {i} takes nothing: the cuts before it have it all.")
        elif not stays.is_empty and (where := _left_over(cut, shape, stays)):
            said.append(f"Cut {i}: metal stays {where}. Check where the cut starts.")
    if after > 1 >= before:
        said.append(f"After the cuts it is in {after} pieces that do not hold together.")
    return said


def _sums(takes: list[CutTake]) -> tuple[dict[str, float], float, float, float]:
    used = sorted({t.side for t in takes})
    sides = {side: math.fsum(t.mass for t in takes if t.side == side) for side in used}
    volumes, turns = math.fsum(t.volume for t in takes), math.fsum(t.inertia for t in takes)
    return sides, math.fsum(t.mass for t in takes), volumes, turns


def removal(
    body: Body | None,
    cuts: Sequence[Cut],
    density: float,
    keep_outs: Sequence[KeepOut] = (),
    web: Least | None = None,
    wall: Least | None = None,
) -> Removal:
    """What cuts take off a body, one after the other, and what stays; common practice, no source.

    Formula: m = rho (2 pi INT r dA - INT missing angle r dA) over the region of each cut that is metal and not yet cut.

    body: the part as drawn; None takes the cut regions themselves as solid metal, each side from its own face [mm]
    cuts: in order [mm]
    density: of the material [g/cm3]
    keep_outs: edges that no cut may reach [mm]
    web: the least web that must stay, None sets no least [mm]
    wall: the least wall that must stay, None sets no least [mm]

    Returns: takes, sums, what stays, refusals and hints as sentences beside the sums [g, mm].
    Limits: web, wall and keep-outs are looked at only where a body is drawn.
    Raises: Refused for a size that is missing, Impossible for one that cannot be.

    >>> cut = Cut("A", "turn", {"from": 200, "to": 190, "start": 0, "end": 10})
    >>> round(removal(None, [cut], 7.85).mass, 3)
    240.45
    """
    _refuse_density(density)
    drawn = outline(body.parts) if body else None
    shapes = swept([(cut.side, cut.kind, cut.sizes) for cut in cuts], drawn)
    solid = drawn if drawn is not None else union_all(shapes)
    voids = tuple(checked(void) for void in body.voids) if body else ()
    regions, left = _in_turn(shapes, solid)
    alone = _alone(shapes, regions, solid)
    takes = _takes(cuts, regions, alone, voids, density / 1000)
    sides, mass, volumes, turns = _sums(takes)
    seen = _Seen(body, voids, cuts, shapes, solid) if body else None
    gaps, crossed = clearances(keep_outs, shapes) if body else ([], [])
    stays = left if body else Polygon()
    before = density / 1000 * seen.volume if seen else None
    refusals, hints = seen.said(web, wall, takes, stays) if seen else ((), ())
    loose = "Web, wall and keep-outs are looked at only where the part is drawn."
    return Removal(
        takes=tuple(takes), sides=sides, mass=mass, volume=volumes, inertia=turns,
        before=before, after=None if before is None else before - mass,
        web_left=seen.left("web", web) if seen else None, wall_left=seen.left("wall", wall) if seen else None,
        clearances=tuple(gaps), stays=stays, refusals=(*_air(cuts, alone), *refusals, *crossed),
        hints=(*hints, *_hints(cuts, shapes, takes, alone, solid, stays)) if body
        else (loose,) if keep_outs or web or wall else (),
    )  # fmt: skip


class _Seen:
    """A body looked through for what its cuts leave: webs, walls, the metal over its voids, voids in each other."""

    def __init__(
        self, body: Body, voids: Sequence[Void], cuts: Sequence[Cut], shapes: Sequence[Polygon], solid: Geometry
    ) -> None:
        self.voids, self.solid, self.section = voids, solid, list(edges(solid))
        self.kinds = [(cut.kind, list(edges(shape))) for cut, shape in zip(cuts, shapes, strict=True)]
        self.volume = _net(self.section, voids)[0] + math.fsum(lump.volume for lump in body.lumps)
        self.anywhere = {what: Survey(what, self.section, self.kinds) for what in ("web", "wall")}
        self.thin: dict[str, Thin | None] = {}

    def looked(self, what: str, least: Least | None) -> Thin | None:
        """The thinnest web or wall, at the place that is named or anywhere."""
        if what not in self.thin:
            named = least is not None and least.at is not None
            survey = Survey(what, self.section, self.kinds, least.at) if least and named else self.anywhere[what]
            self.thin[what] = survey.thinnest()
        return self.thin[what]

    def left(self, what: str, least: Least | None) -> float | None:
        """What stays of it [mm]."""
        thin = self.looked(what, least)
        return thin.after if thin else None

    def said(
        self, web: Least | None, wall: Least | None, takes: Sequence[CutTake], stays: Geometry
    ) -> tuple[list[str], list[str]]:
        """Refusals and hints: voids first, then web and wall."""
        met = overlaps(self.voids, self.solid)
        refusals, hints = [*met.certain, *_nothing(takes, self.volume, stays)], [*met.asked]
        places = [extent(void) for void in self.voids]
        for what, least, refuse in (("web", web, web_refusals), ("wall", wall, wall_refusals)):
            thin = self.looked(what, least)
            refusals += refuse(thin, least)
            covers = self.anywhere[what].covers(places)
            no, hint = covered(what, covers, lambda i: called(self.voids[i]), self._closed, thin, least)
            refusals, hints = [*refusals, *no], [*hints, *hint]
        return refusals, hints

    def _closed(self, i: int) -> bool:
        """Whether a void has metal all round."""
        low, _, high, top = self.solid.bounds
        z1, r1, z2, r2 = extent(self.voids[i])
        hair = max(z1, low) - ALMOST, max(r1 - ALMOST, 0.0), min(z2, high) + ALMOST, min(r2, top) + ALMOST
        return bool(self.solid.covers(box(*hair)))


def _nothing(takes: Sequence[CutTake], volume: float, stays: Geometry) -> list[str]:
    """Metal under nothing, and a part that is cut away altogether."""
    said = []
    if min([volume, *(take.volume for take in takes)]) < -_NONE:
        said.append("The holes take more than all the metal there is: look at how many there are and at their sizes.")
    if takes and stays.area <= _AIR:
        said.append("Nothing of the part would stay: look at the Ø and the lengths of the cuts.")
    return said


def _refuse_density(density: float) -> None:
    if not (density > 0 and math.isfinite(density)):
        raise Impossible("The density must be above nothing, in g/cm³: 7.85 for steel.")


def taken_volume(body: Body | None, cuts: Sequence[Cut]) -> float:
    """The volume of a removal and nothing else, for sums that need it many times; exact, from memory.

    Formula: 2 pi INT r dA - INT missing angle r dA over all the metal that the cuts meet together

    body: the part as drawn; None takes the cut regions themselves as solid metal [mm]
    cuts: in order [mm]

    Returns: the volume [mm3].
    Limits: the same figure as `removal(...).volume`; looks at no web, wall or keep-out.
    Raises: Refused for a size that is missing, Impossible for one that cannot be.

    >>> cut = Cut("A", "turn", {"from": 200, "to": 190, "start": 0, "end": 10})
    >>> round(taken_volume(None, [cut]), 3)
    30630.528
    """
    drawn = outline(body.parts) if body else None
    shapes = swept([(cut.side, cut.kind, cut.sizes) for cut in cuts], drawn)
    region = union_all(shapes)
    return metal(region if drawn is None else region.intersection(drawn), body.voids if body else ())
