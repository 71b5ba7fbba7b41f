"""What each cut sweeps, as a region of the half-section, from the sizes that were typed.

With a body drawn, a size may be left out: then all the metal that is there counts. With no body drawn the region
itself is metal, and lengths run inward from the face of the side that is cut.
"""

from collections.abc import Callable, Mapping, Sequence

from shapely import Geometry, Polygon, union_all

from shopapp.bench.errors import Impossible, Refused
from shopapp.bench.kinds import CUT_KINDS, told
from shopapp.bench.outline import ALMOST, both, corner, trapezoid
from shopapp.bench.solids import Edge, edges

Sizes = Mapping[str, float]
_NOTHING = Polygon()


def crossings(sides: Sequence[Edge], axis: str, at: float) -> list[tuple[float, float]]:
    """Where a straight line meets a region that is given by its edges; even-odd rule, from memory.

    Formula: the places where the line crosses an edge, sorted and taken in pairs

    sides: edges of the region [mm]
    axis: "z" for a line along the axis at radius `at`, "r" for one across it [text]
    at: radius, or distance from the back face [mm]

    Returns: from and to of each stretch in metal, in order [mm].
    Limits: on an edge itself the answer may be either side's.

    >>> crossings([(0, 0, 9, 0), (9, 0, 9, 5), (9, 5, 0, 5), (0, 5, 0, 0)], "z", 2)
    [(0.0, 9.0)]
    """
    if axis == "z":
        met = [z1 + (z2 - z1) * (at - r1) / (r2 - r1) for z1, r1, z2, r2 in sides if (r1 <= at) is not (r2 <= at)]
    else:
        met = [r1 + (r2 - r1) * (at - z1) / (z2 - z1) for z1, r1, z2, r2 in sides if (z1 <= at) is not (z2 <= at)]
    met.sort()
    found: list[tuple[float, float]] = []
    for low, high in zip(met[::2], met[1::2], strict=False):
        if found and low - found[-1][1] <= ALMOST:
            found[-1] = (found[-1][0], high)
        else:
            found.append((low, high))
    return [(low, high) for low, high in found if high - low > ALMOST]


def chord(region: Geometry, axis: str, at: float) -> list[tuple[float, float]]:
    """Where a straight line meets a region; common practice, no source.

    Formula: `crossings` over the edges of the region

    region: half-section in (z, r) [mm]
    axis: "z" for a line along the axis at radius `at`, "r" for one across it [text]
    at: radius, or distance from the back face [mm]

    Returns: from and to of each stretch in metal, in order [mm].
    Limits: on an edge itself the answer may be either side's.

    >>> chord(Polygon([(0, 0), (9, 0), (9, 5), (0, 5)]), "z", 2)
    [(0.0, 9.0)]
    """
    return crossings(list(edges(region)), axis, at)


def reach(sides: Sequence[Edge], axis: str, low: float, high: float) -> tuple[float, float] | None:
    """From where to where a region reaches, looked at between two places only; geometry, from memory.

    Formula: the least and the greatest of the edges' ends, each edge cut off at the two places

    sides: edges of the region [mm]
    axis: "z" for its reach along the axis between two radii, "r" for its reach from the axis between two places [text]
    low: one place [mm]
    high: the other place [mm]

    Returns: the least and the most, None where the region has no area between the two [mm].
    Limits: the edges of one region; what lies between the least and the most need not all be in it.

    >>> reach([(0, 0, 9, 0), (9, 0, 9, 5), (9, 5, 0, 0)], "r", 0, 4.5)
    (0.0, 2.5)
    """
    found: list[float] = []
    for z1, r1, z2, r2 in sides:
        x1, y1, x2, y2 = (r1, z1, r2, z2) if axis == "z" else (z1, r1, z2, r2)
        if x1 == x2 or (x1 <= low and x2 <= low) or (x1 >= high and x2 >= high):
            continue
        slope = (y2 - y1) / (x2 - x1)
        for x, y in ((x1, y1), (x2, y2)):
            found.append(y if low <= x <= high else y1 + slope * (max(low, min(high, x)) - x1))
    return (float(min(found)), float(max(found))) if found else None


class _Section:
    """A half-section with its bounds and its edges, each found once."""

    def __init__(self, region: Geometry) -> None:
        self.region, self.bounds, self.sides = region, region.bounds, list(edges(region))


def _run(sizes: Sizes, metal: _Section | None, words: str) -> tuple[float, float]:
    """From where to where, along the axis; left out, from end to end of the metal."""
    if metal is None:
        if "end" not in sizes:
            raise Refused(f"Type how far the {words} goes: no part is drawn, so nothing else says it.")
        start, end = sizes.get("start", 0.0), sizes["end"]
    else:
        low, _, high, _ = metal.bounds
        start, end = sizes.get("start", low), sizes.get("end", high)
    if end <= start:
        raise Impossible(f"The {words} starts at {both(start)} and ends at {both(end)}: it must end beyond its start.")
    return start, end


def _outer(sizes: Sizes, metal: _Section | None, run: tuple[float, float] | None, words: str, floor: float) -> float:
    """The diameter a cut starts from; left out, the largest there is along its length."""
    if "from" in sizes:
        return sizes["from"]
    if metal is None:
        raise Refused(f"Type the diameter the {words} starts from: no part is drawn, so nothing else says it.")
    if run is None:
        return max(2 * float(metal.bounds[3]), floor + 1)
    there = reach(metal.sides, "r", *run)
    return max(0.0 if there is None else 2 * there[1], floor + 1)


def _turn(sizes: Sizes, side: str, metal: _Section | None) -> Polygon:
    run = _run(sizes, metal, "turn")
    outer = _outer(sizes, metal, run, "turn", sizes["to"])
    if outer <= sizes["to"]:
        raise Impossible(f"Turning from Ø {both(outer)} to Ø {both(sizes['to'])} takes nothing: are they swapped?")
    return trapezoid(*run, (sizes["to"],) * 2, (outer,) * 2, "turn")


def _bore(sizes: Sizes, side: str, metal: _Section | None) -> Polygon:
    run = _run(sizes, metal, "bore")
    if metal is None and "from" not in sizes:
        raise Refused("Type the bore Ø now, 0 if it is solid: no part is drawn, so nothing else says it.")
    inner = sizes.get("from", 0.0)
    if inner >= sizes["to"]:
        raise Impossible(f"Boring from Ø {both(inner)} to Ø {both(sizes['to'])} takes nothing: are they swapped?")
    return trapezoid(*run, (inner,) * 2, (sizes["to"],) * 2, "bore")


def _face(sizes: Sizes, side: str, metal: _Section | None) -> Polygon:
    depth, inner = sizes["depth"], sizes.get("to", 0.0)
    outer = _outer(sizes, metal, None, "face", inner)
    if depth <= 0 or outer <= inner:
        raise Impossible(f"A face {both(depth)} deep from Ø {both(outer)} in to Ø {both(inner)} takes nothing.")
    back = side == "A" or metal is None
    at = sizes.get("at", 0.0)
    if "at" not in sizes and metal is not None:
        rings = reach(metal.sides, "z", inner / 2 + ALMOST, outer / 2 - ALMOST)
        at = rings[0 if back else 1] if rings else 0.0
    run = (at, at + depth) if back else (at - depth, at)
    return trapezoid(*run, (inner,) * 2, (outer,) * 2, "face")


def _groove(sizes: Sizes, side: str, metal: _Section | None) -> Polygon:
    start, end = _run(sizes, metal, "groove")
    outer, bottom = _outer(sizes, metal, (start, end), "groove", sizes["to"]), sizes["to"]
    low, high = sizes.get("bottom_start", start), sizes.get("bottom_end", end)
    if outer == bottom or low > high:
        said = f"from Ø {both(outer)} to Ø {both(bottom)}, bottom {both(low)} to {both(high)}"
        raise Impossible(f"A groove {said} has nothing in it: check its sizes.")
    shape = Polygon([(start, outer / 2), (end, outer / 2), (high, bottom / 2), (low, bottom / 2)])
    if not shape.is_valid:
        raise Impossible("The sides of the groove cross each other: check where its bottom starts and ends.")
    return shape


def _taper(sizes: Sizes, side: str, metal: _Section | None) -> Polygon:
    run = _run(sizes, metal, "taper")
    ends = (sizes["start_diameter"], sizes["end_diameter"])
    other = _outer(sizes, metal, run, "taper", max(ends))
    if min(ends) < other < max(ends):
        raise Impossible(f"The taper runs through Ø {both(other)}, its outside Ø: give one that clears both ends.")
    if other >= max(ends):
        return trapezoid(*run, ends, (other, other), "taper")
    return trapezoid(*run, (other, other), ends, "taper")


_SHAPES: dict[str, Callable[[Sizes, str, _Section | None], Polygon]] = {
    "turn": _turn, "face": _face, "bore": _bore, "groove": _groove, "taper": _taper,
}


def _finished(left: Geometry, side: str, diameter: float) -> float:
    """Where the finished face of a side stands at a diameter: just inside it, or just outside for a bore."""
    for r in (diameter / 2 - ALMOST, diameter / 2 + ALMOST):
        if met := chord(left, "z", r):
            return met[0][0] if side == "A" else met[-1][1]
    raise Impossible(f"There is no metal at Ø {both(diameter)} for a bevel: check the diameter.")


def _loose_bevel(size: float, diameter: float, at: float | None, taken: Geometry, bored: bool) -> Polygon:
    """A bevel with no body drawn: on the edge that the other cuts of the side leave."""
    r, way = diameter / 2, 1 if bored else -1
    if at is None:
        at = 0.0
        for low, high in chord(taken, "z", r + way * ALMOST):
            at = max(at, high) if low <= at + ALMOST else at
    return Polygon([(at, r), (at + size, r), (at, r + way * size)])


def bevel(sizes: Sizes, side: str, left: Geometry | None, taken: Geometry, bored: bool = False) -> Polygon:
    """The triangle a bevel cut sweeps, on the corner the other cuts leave; common practice, no source.

    Formula: right angle at (at, diameter / 2), legs of the bevel's size, in the metal that is left

    sizes: corner, diameter, and `at` if it is not the finished face [mm]
    side: A for the back, B for the front [text]
    left: half-section after all other cuts, None where no part is drawn [mm]
    taken: what the other cuts of this side sweep [mm]
    bored: with no part drawn, whether the diameter is a bore's [yes/no]

    Returns: a triangle in (z, r) [mm].
    Limits: the corner is near enough square; one corner for each bevel.
    Raises: Impossible where there is no such corner.

    >>> wheel = Polygon([(0, 0), (9, 0), (9, 5), (0, 5)])
    >>> bevel({"corner": 1, "diameter": 10}, "B", wheel, Polygon()).bounds
    (8.0, 4.0, 9.0, 5.0)
    """
    size, diameter = sizes["corner"], sizes["diameter"]
    if size <= 0 or diameter <= 0:
        raise Impossible("A bevel needs a size and a diameter above nothing.")
    if left is None:
        if 2 * size > diameter:
            raise Impossible(f"A bevel of {both(size)} does not fit on Ø {both(diameter)}.")
        return _loose_bevel(size, diameter, sizes.get("at"), taken, bored)
    at = sizes["at"] if "at" in sizes else _finished(left, side, diameter)
    return corner(left, size, diameter, at)


def swept(cuts: Sequence[tuple[str, str, Sizes]], metal: Geometry | None) -> list[Polygon]:
    """What each cut sweeps, metal or not; bevels last, on the corners the others leave; common practice, no source.

    Formula: for each kind the region between its sizes and the side that it is cut from

    cuts: side, kind and sizes of each, in order [mm]
    metal: half-section of the body, None where no part is drawn [mm]

    Returns: one polygon in (z, r) for each cut, in the same order [mm].
    Limits: with no part drawn each side has its own face, and the two never meet.
    Raises: Refused for a size that is missing, Impossible for sizes that cannot be; the sentence names the cut.

    >>> swept([("A", "turn", {"from": 50, "to": 40, "start": 0, "end": 10})], None)[0].area
    50.0
    """
    shapes: dict[int, Polygon] = {}
    section = None if metal is None else _Section(metal)
    bevels = any(kind == "bevel" for _, kind, _ in cuts)
    for late in (False, True):
        rough = dict(shapes)
        left = metal.difference(union_all(list(rough.values()))) if late and metal is not None and bevels else metal
        for i, (side, kind, _) in enumerate(cuts):
            if (kind == "bevel") is not late:
                continue
            try:
                shapes[i] = _one(i, cuts, rough, left, section)
            except (Refused, Impossible) as error:
                raise type(error)(f"Cut {i + 1}, side {side}: {error}") from error
    ordered = [shapes[i] for i in range(len(cuts))]
    return ordered if metal is not None else _side_by_side(ordered, [side for side, _, _ in cuts])


def _one(
    i: int, cuts: Sequence[tuple[str, str, Sizes]], rough: dict[int, Polygon], metal: Geometry | None,
    section: _Section | None,
) -> Polygon:  # fmt: skip
    side, kind, sizes = cuts[i]
    if kind not in CUT_KINDS:
        raise Refused(f"there is no cut of the kind {kind}. There are: {', '.join(CUT_KINDS)}.")
    if side not in ("A", "B"):
        raise Refused("the side is A, the back, or B, the front.")
    have = told(CUT_KINDS[kind], sizes)
    if kind != "bevel":
        return _SHAPES[kind](have, side, section)
    if metal is None:
        mine = [(cuts[k][1], shape) for k, shape in rough.items() if cuts[k][0] == side]
        bored = any(kind == "bore" and abs(2 * shape.bounds[3] - have["diameter"]) < ALMOST for kind, shape in mine)
        return bevel(have, side, None, union_all([shape for _, shape in mine]), bored)
    return bevel(have, side, metal, _NOTHING)


def _side_by_side(shapes: list[Polygon], sides: list[str]) -> list[Polygon]:
    """Side B turned round and set behind side A, so that the two are drawn as one part and never overlap."""
    reach = {"A": 0.0, "B": 0.0}
    for shape, side in zip(shapes, sides, strict=True):
        reach[side] = max(reach[side], shape.bounds[2])
    total = reach["A"] + reach["B"]
    return [
        Polygon([(total - z, r) for z, r in shape.exterior.coords]) if side == "B" else shape
        for shape, side in zip(shapes, sides, strict=True)
    ]
