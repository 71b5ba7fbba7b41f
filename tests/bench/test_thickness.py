"""Thickness from the edges alone: against chords laid by a geometry library, lips at slopes, metal over voids."""

import math
import random

import pytest
from shapely import LineString, Polygon, box, union_all

from shopapp.bench.outline import Cone, Hollow, HollowCone, Ring, outline
from shopapp.bench.solids import edges
from shopapp.bench.thickness import Chord, Cover, Strip, Survey, Thin, lines, strips

KINDS = ("face", "turn", "bore", "groove")


def survey(what: str, metal: Polygon, cuts: list[tuple[str, Polygon]], at: float | None = None) -> Survey:
    return Survey(what, list(edges(metal)), [(kind, list(edges(shape))) for kind, shape in cuts], at)


def stretches(region: Polygon, what: str, x: float) -> list[tuple[float, float]]:
    line = LineString([(-999, x), (999, x)] if what == "web" else [(x, -999), (x, 999)])
    met = region.intersection(line)
    found = [piece.bounds for piece in getattr(met, "geoms", [met]) if piece.length > 1e-7]
    return sorted((one[0], one[2]) if what == "web" else (one[1], one[3]) for one in found)


def by_hand(what: str, metal: Polygon, cuts: list[tuple[str, Polygon]]) -> tuple[float, float] | None:
    """The least that stays and the most that goes, half way between all corners, with shapely's own overlay."""
    along = ("face",) if what == "web" else ("turn", "bore", "groove")
    taken = union_all([shape for kind, shape in cuts if kind in along])
    base = metal.difference(union_all([shape for kind, shape in cuts if kind not in along]))
    at = 1 if what == "web" else 0
    corners = sorted({round(p[at], 6) for g in (metal, taken, base) for p in rings(g)})
    found = []
    for x in ((a + b) / 2 for a, b in zip(corners, corners[1:], strict=False)):
        whole = stretches(metal, what, x)
        for low, high in stretches(base, what, x):
            here = box(low, x - 1, high, x + 1) if what == "web" else box(x - 1, low, x + 1, high)
            left = [b - a for a, b in stretches(here.difference(taken), what, x)]
            if sum(left) < high - low - 1e-6 and (left or any(abs(a - low) + abs(b - high) < 1e-6 for a, b in whole)):
                found.append((min(left, default=0.0), 1 - sum(left) / (high - low)))
    return (min(left for left, _ in found), max(part for _, part in found)) if found else None


def rings(region: Polygon) -> list[tuple[float, float]]:
    pieces = [piece for piece in getattr(region, "geoms", [region]) if not piece.is_empty]
    return [p for piece in pieces for ring in (piece.exterior, *piece.interiors) for p in ring.coords]


@pytest.mark.outside("verified: shapely's overlay")
@pytest.mark.parametrize("seed", range(60))
def test_the_thinnest_is_what_shapelys_overlay_leaves_between_all_corners(seed: int) -> None:
    dice = random.Random(seed)
    steps = [dice.uniform(20, 60) for _ in range(3)]
    metal = union_all([box(10 * i, 8, 10 * (i + 1), steps[i]) for i in range(3)])
    metal = metal.difference(box(dice.uniform(0, 20), dice.uniform(8, 30), dice.uniform(20, 30), dice.uniform(30, 40)))
    cuts = []
    for _ in range(dice.randint(1, 4)):
        z, r = sorted(dice.uniform(-2, 32) for _ in "ab"), sorted(dice.uniform(5, 62) for _ in "ab")
        cuts.append((dice.choice(KINDS), box(z[0], r[0], z[1], r[1])))
    for what in ("web", "wall"):
        found, told = survey(what, metal, cuts).thinnest(), by_hand(what, metal, cuts)
        assert (found is None) is (told is None)
        if found and told:
            assert (found.after, found.part) == (pytest.approx(told[0], abs=2e-5), pytest.approx(told[1], abs=1e-6))


# A casting's draft: 198 to 200 over 25, half a millimetre off its larger end; 24.5 stay wherever there is a web.
def test_a_feather_at_a_sloping_side_is_no_web() -> None:
    drafted = outline([Cone(198, 200, 40, 40, 0, 25)])
    assert survey("web", drafted, [("face", box(24.5, 0, 25, 101))]).thinnest() == Thin(25, 24.5, pytest.approx(0.02))
    tapered = outline([Cone(200, 200, 40, 44, 0, 25)])
    assert survey("web", tapered, [("face", box(0, 0, 0.5, 101))]).thinnest() == Thin(25, 24.5, pytest.approx(0.02))


@pytest.mark.parametrize(
    ("parts", "depth", "left"),
    [
        ([Cone(198, 200, 40, 40, 0, 24), Ring(200, 40, 24, 25)], 1.5, 23.5),  # a land at its larger end
        ([Cone(196, 199, 40, 40, 0, 20), Cone(199, 200, 40, 40, 20, 25)], 4.9, 20.1),  # two drafts
        ([Cone(198, 200, 40, 40, 0, 12), Cone(200, 198, 40, 40, 12, 25)], 1, 24),  # a parting line
        ([Cone(60, 80, 20, 20, 0, 50)], 8, 42),
        ([Cone(0, 80, 0, 0, 0, 50)], 8, 42),  # down to a point
        ([Cone(60, 80, 56, 76, 0, 50)], 9.5, None),  # a funnel: what its walls leave along the axis is no web
        ([Ring(180, 0, 0, 10), Cone(180, 100, 0, 0, 10, 40)], 2, 38),
        ([Cone(40, 100, 0, 0, 0, 5)], 2, 3),  # a disc that is sharp at its edge
    ],
)
def test_the_larger_end_of_what_tapers_may_be_faced(parts: list, depth: float, left: float | None) -> None:
    metal = outline(parts)
    end = metal.bounds[2]
    found = survey("web", metal, [("face", box(end - depth, 0, end, 101))]).thinnest()
    assert (found and found.after) == (left and pytest.approx(left, abs=1e-5))
    assert found is None or found.part < 0.9


@pytest.mark.parametrize(
    ("parts", "depth"),
    [
        ([Ring(100, 0, 0, 40), HollowCone(30, 0, 0, 0, 0, 20)], 21),  # into the tip of a steep hollow from the back
        ([Ring(100, 0, 0, 40), HollowCone(60, 50, 30, 40, 0, 20)], 21),  # into a groove that comes from the back
        ([Cone(40, 100, 0, 0, 0, 4), Ring(100, 0, 4, 5)], 1.5),  # the thin rim of a dished disc
        ([Ring(100, 0, 0, 40), Hollow(60, 20, 0, 35)], 4.6),
    ],
)
def test_what_does_break_through_still_counts(parts: list, depth: float) -> None:
    metal = outline(parts)
    end = metal.bounds[2]
    found = survey("web", metal, [("face", box(end - depth, 0, end, 101))]).thinnest()
    assert found is not None
    assert found.part > 0.9


def test_a_wall_that_runs_out_over_a_dished_face_is_no_wall() -> None:
    dished = outline([Ring(100, 20, 0, 25), HollowCone(20, 100, 0, 0, 20, 25)])
    found = survey("wall", dished, [("turn", box(0, 49, 25, 50))]).thinnest()
    assert found is not None
    assert found.after == pytest.approx(39, abs=1e-5)


BLIND = (20.0, 35.0, 40.0, 45.0)  # holes of 10 on 80 from 20 to the front
DISC = outline([Ring(100, 20, 0, 40)])


@pytest.mark.parametrize(
    ("what", "cut", "void", "covers"),
    [
        ("web", ("face", box(0, 0, 18, 50)), BLIND, [(20, 2)]),
        ("web", ("face", box(0, 0, 21, 50)), BLIND, [(20, 0)]),
        ("web", ("face", box(0, 0, 18, 50)), (20.0, 35.0, math.inf, 45.0), [(20, 2)]),
        ("web", ("face", box(15, 0, 40, 50)), BLIND, []),  # the hole itself is gone
        ("web", ("face", box(30, 0, 40, 50)), BLIND, []),  # from the open end
        ("web", ("face", box(0, 0, 18, 30)), BLIND, []),  # beside them
        ("web", ("face", box(0, 0, 18, 50)), (-math.inf, 35, math.inf, 45), []),  # right through
        ("wall", ("turn", box(0, 48, 40, 50)), BLIND, [(5, 3)]),
        ("wall", ("turn", box(0, 48, 15, 50)), BLIND, []),
        ("wall", ("turn", box(0, 40, 40, 50)), BLIND, [(5, 0)]),
        ("wall", ("turn", box(0, 34, 40, 50)), BLIND, []),
        ("wall", ("bore", box(0, 10, 40, 30)), BLIND, [(25, 5)]),
        ("wall", ("bore", box(0, 10, 40, 13)), (18.0, 15.0, 22.0, 50.0), [(5, 2)]),  # pockets from the outside
        ("wall", ("bore", box(0, 10, 40, 10.2)), (18.0, 10.3, 22.0, 50.0), []),  # as good as open there before
    ],
)
def test_the_metal_between_a_cut_and_a_void(
    what: str, cut: tuple[str, Polygon], void: tuple[float, ...], covers: list[tuple[float, float]]
) -> None:
    found = survey(what, DISC, [cut]).covers([void])
    assert [(one.before, one.after) for one in found] == [pytest.approx(pair) for pair in covers]


def test_a_cover_says_where_it_is() -> None:
    (one,) = survey("web", DISC, [("face", box(0, 0, 18, 50))]).covers([BLIND])
    assert one == Cover(0, 20, 2, 35, 45)


def test_only_the_named_place_is_looked_at() -> None:
    stepped = outline([Ring(100, 0, 0, 10), Ring(60, 0, 10, 30)])
    cut = [("face", box(0, 0, 4, 50))]
    assert survey("web", stepped, cut, at=80).thinnest() == Thin(10, 6, pytest.approx(0.4))
    assert survey("web", stepped, cut, at=40).thinnest() == Thin(30, 26, pytest.approx(4 / 30))


def test_lines_across_and_strips_between_corners() -> None:
    square = list(edges(box(0, 2, 9, 5)))
    assert sorted(lines(square, "r")) == [(0, 9, 2, 2), (0, 9, 5, 5)]
    cut = lines(list(edges(box(3, 4, 6, 7))), "r")
    found = strips(lines(square, "r"), [cut], [])
    assert [(one.start, one.end) for one in found] == [(3, 6)]
    (strip,) = found
    assert isinstance(strip, Strip)
    (chord,) = strip.chords
    assert isinstance(chord, Chord)
    assert (chord.met, chord.whole, chord.span(4), chord.left(4, 2, 5)) == (True, True, (2, 5), [2])
    assert strips([], [], []) == []
