"""A removal is metal really there, overlap once, voids where a cut meets them; its parts add up."""

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import union_all

from shopapp.bench.cuts import Body, Cut, KeepOut, Least, Lump, Removal, mass_of, metal, removal
from shopapp.bench.errors import Impossible, Refused
from shopapp.bench.holes import HoleCircle, Keyway, Void
from shopapp.bench.outline import Cone, Ring
from tests.bench.bodies import INCH, POUND, WHEEL, WHEEL_CUTS, WHEEL_RINGS, inches

STEEL, GREY, DUCTILE = 7.85, 7.15, 7.10


def wheel(cuts: tuple[Cut, ...] = WHEEL_CUTS, **told: object) -> Removal:
    return removal(WHEEL, cuts, DUCTILE, **told)  # type: ignore[arg-type]


# Common practice, no source: a rotor of 6.100 in, face .250 deep; 3.0 lb for either width by its material.
@pytest.mark.parametrize(("width", "density"), [(1.61, STEEL), (1.85, GREY)], ids=["steel", "grey iron"])
def test_three_pounds_come_off_a_rotor(width: float, density: float) -> None:
    turn = Cut("A", "turn", inches(from_=6.1, to=5.625, end=width))
    face = Cut("A", "face", inches(from_=5.625, to=3.7, depth=0.25))
    assert removal(None, [turn, face], density).mass / POUND == pytest.approx(3.0, abs=0.005)


@pytest.mark.outside("computed: closed form of a ring")
def test_a_turned_ring_weighs_what_its_closed_form_says() -> None:
    # pi/4 (8.000^2 - 7.750^2) 1.250 = 3.865631585 in3; at .258 lb/in3 452.382616 g. Elementary.
    found = removal(None, [Cut("A", "turn", inches(from_=8, to=7.75, end=1.25))], 0.258 * POUND / 16.387064)
    assert found.volume / INCH**3 == pytest.approx(3.865631585, rel=1e-9)
    assert found.mass == pytest.approx(452.382616, rel=1e-8)


def test_cuts_add_up_to_sides_and_sides_to_the_piece() -> None:
    found = wheel()
    assert math.fsum(take.mass for take in found.takes) == found.mass
    assert math.fsum(found.sides.values()) == pytest.approx(found.mass, rel=1e-15)
    assert found.mass == pytest.approx(found.volume * DUCTILE / 1000, rel=1e-14)
    assert set(found.sides) == {"A", "B"}


def test_what_came_off_and_what_stays_are_the_body() -> None:
    found = wheel()
    assert found.before is not None
    assert found.after is not None
    stays = metal(found.stays, WHEEL.voids) * DUCTILE / 1000
    assert found.after == pytest.approx(stays, rel=1e-12)
    assert found.before == pytest.approx(stays + found.mass, rel=1e-12)


def test_the_corner_ring_is_counted_once() -> None:
    turn, face = wheel().takes[:2]
    corner = math.pi / 4 * (9.5**2 - 8.875**2) * 0.3 * INCH**3 * DUCTILE / 1000
    assert turn.alone_mass == turn.mass
    assert face.alone_mass - face.mass == pytest.approx(corner, rel=1e-12)


def test_holes_are_counted_where_the_cut_meets_them_and_nowhere_else() -> None:
    turn, face = wheel().takes[:2]
    plain = removal(Body(WHEEL_RINGS), WHEEL_CUTS, DUCTILE)
    holes = 4 * math.pi / 4 * 0.53**2 * 0.3 * INCH**3 * DUCTILE / 1000
    assert plain.takes[1].mass - face.mass == pytest.approx(holes, rel=1e-9)
    assert plain.takes[0].mass == pytest.approx(turn.mass, rel=1e-12)


def test_a_cut_bigger_than_the_body_takes_only_the_metal() -> None:
    disc = Body((Ring(100, 0, 0, 20),))
    big = Cut("A", "turn", {"from": 500, "to": 80, "start": -50, "end": 200})
    assert removal(disc, [big], STEEL).volume == pytest.approx(math.pi / 4 * (100**2 - 80**2) * 20, rel=1e-12)


def test_a_size_left_out_is_the_metal_that_is_there() -> None:
    full = Cut("A", "turn", inches(from_=9.5, to=8.875, start=0, end=1.0505))
    assert wheel((full,)).mass == pytest.approx(wheel(WHEEL_CUTS[:1]).mass, rel=1e-14)


def test_a_lump_is_weighed_and_never_cut() -> None:
    foot = Body((Ring(100, 50, 0, 20),), lumps=(Lump("foot", 50_000),))
    cut = [Cut("A", "face", {"depth": 2})]
    bare, whole = removal(Body(foot.parts), cut, GREY), removal(foot, cut, GREY)
    assert bare.before is not None
    assert whole.before == pytest.approx(bare.before + 357.5)
    assert whole.mass == bare.mass
    assert mass_of(foot, GREY) == whole.before


def test_with_no_part_drawn_each_side_has_its_own_face() -> None:
    sizes = inches(from_=9.5, to=8.875, end=1.05)
    one = removal(None, [Cut("A", "turn", sizes)], DUCTILE)
    two = removal(None, [Cut("A", "turn", sizes), Cut("B", "turn", sizes)], DUCTILE)
    assert two.mass == pytest.approx(2 * one.mass, rel=1e-12)
    assert two.takes[0].region.intersection(two.takes[1].region).area == pytest.approx(0, abs=1e-9)
    assert (two.before, two.after, two.web_left) == (None, None, None)


def test_with_no_part_drawn_overlap_is_still_once() -> None:
    turn = Cut("A", "turn", {"from": 100, "to": 90, "end": 10})
    face = Cut("A", "face", {"from": 100, "to": 0, "depth": 3})
    total = math.pi / 4 * ((100**2 - 90**2) * 10 + 90**2 * 3)
    assert removal(None, [turn, face], STEEL).volume == pytest.approx(total, rel=1e-12)


def test_web_and_wall_left_on_the_wheel() -> None:
    found = wheel(web=Least("web", 0.35 * INCH), wall=Least("rim wall", 0.6 * INCH))
    assert found.web_left == pytest.approx(0.35 * INCH)
    assert found.wall_left == pytest.approx(0.6875 * INCH)
    assert found.refusals == ()


def test_a_breakthrough_a_thin_wall_and_a_crossed_keep_out_are_refused() -> None:
    cuts = (Cut("A", "face", inches(depth=0.6, to=4.25)), Cut("A", "turn", inches(to=7.6, end=1.06)))
    edge = KeepOut("pockets", 1.0625 * INCH, "from", 0.01 * INCH)
    found = wheel(cuts, keep_outs=[edge], wall=Least("rim wall", 0.25 * INCH))
    said = " ".join(found.refusals)
    assert "92 %" in said
    assert "Rim wall: 0.050 in" in said
    assert "Pockets: only" in said


def test_a_cut_that_meets_no_metal_is_refused() -> None:
    found = wheel((Cut("A", "turn", inches(to=9.75, end=1)),))
    assert found.mass == 0
    assert "cuts air" in found.refusals[0]


def test_metal_that_stays_in_the_way_is_told() -> None:
    assert "metal stays outside" in wheel((Cut("A", "turn", inches(from_=9.25, to=9, end=1)),)).hints[0]
    assert "in front of the face" in wheel((Cut("A", "face", inches(at=0.1, depth=0.1)),)).hints[0]


def test_a_cut_taken_twice_is_told_and_counted_once() -> None:
    twice = wheel((WHEEL_CUTS[0], WHEEL_CUTS[0]))
    assert twice.takes[1].mass == pytest.approx(0, abs=1e-9)
    assert "takes nothing" in twice.hints[0]


def test_voids_that_may_meet_and_loose_pieces_are_told() -> None:
    loose = Body((Ring(100, 50, 0, 10), Ring(40, 0, 0, 10)), (HoleCircle(2, 10, 75), HoleCircle(3, 8, 75)))
    said = " ".join(removal(loose, [Cut("A", "face", {"depth": 1})], STEEL).hints)
    assert "run into each other?" in said
    assert "2 pieces" in said


DISC = Body((Ring(100, 20, 0, 40),))
BLIND = Body(DISC.parts, (HoleCircle(6, 10, 80, 20, 40),))


@pytest.mark.parametrize("cut", [("bore", 100), ("bore", 120), ("turn", 0)])
def test_a_part_cut_away_altogether_is_refused(cut: tuple[str, float]) -> None:
    found = removal(DISC, [Cut("A", cut[0], {"to": cut[1]})], STEEL)
    assert found.after == pytest.approx(0, abs=1e-9)
    assert "Nothing of the part would stay: look at the Ø and the lengths of the cuts." in found.refusals


def test_a_part_cut_in_two_is_told() -> None:
    found = removal(DISC, [Cut("A", "groove", {"to": 20, "start": 18, "end": 21})], STEEL)
    assert "in 2 pieces that do not hold together" in found.hints[0]


def test_metal_under_nothing_and_voids_in_each_other_stop() -> None:
    turn = [Cut("A", "turn", {"to": 40})]
    seven = removal(Body(DISC.parts, (HoleCircle(4, 20, 60),) * 7), turn, STEEL)
    assert "drawn twice" in seven.refusals[0]
    assert "more than all the metal" in seven.refusals[1]
    key = Body(DISC.parts, (Keyway(6, 3, 20), HoleCircle(1, 30, 0)))
    assert "run into each other" in removal(key, [Cut("A", "bore", {"to": 30})], STEEL).refusals[0]


def test_the_larger_end_of_a_casting_may_be_faced() -> None:
    drafted = Body((Cone(198, 200, 40, 40, 0, 25),))
    found = removal(drafted, [Cut("B", "face", {"depth": 0.5})], STEEL)
    assert (found.refusals, found.web_left) == ((), pytest.approx(24.5))
    bored = removal(Body((Cone(200, 200, 40, 44, 0, 25),)), [Cut("A", "face", {"depth": 0.5})], STEEL)
    assert (bored.refusals, bored.web_left) == ((), pytest.approx(24.5))


@pytest.mark.parametrize(
    ("depth", "least", "refused", "hinted"),
    [
        (10, Least("web", 3), "", "10 mm) would be left"),
        (18, None, "", "2 mm) would be left"),
        (18, Least("web", 3), "Web: 0.079 in (2 mm) would be left between the face and the holes", ""),
        (18, Least("web", 3, 80), "2 mm) would be left between", ""),
        (18, Least("web", 3, 30), "", "2 mm) would be left"),
        (17, Least("web", 3), "", "3 mm) would be left"),
        (21, None, "", "comes through into the holes"),
        (21, Least("web", 3), "", "comes through into the holes"),  # open at the front: it may be meant
    ],
)
def test_a_face_over_blind_holes_counts_the_metal_over_their_ends(
    depth: float, least: Least | None, refused: str, hinted: str
) -> None:
    found = removal(BLIND, [Cut("A", "face", {"depth": depth})], STEEL, web=least)
    assert found.web_left == pytest.approx(40 - depth)
    assert bool(found.refusals) is bool(refused)
    assert bool(found.hints) is bool(hinted)
    assert refused in "".join(found.refusals)
    assert hinted in "".join(found.hints)


def test_a_chamber_that_is_closed_all_round_must_not_be_broken_into() -> None:
    closed = Body(DISC.parts, (HoleCircle(6, 10, 80, 20, 30),))
    face = [Cut("A", "face", {"depth": 21})]
    assert "0.000 in (0 mm) would be left" in removal(closed, face, STEEL, web=Least("web", 3)).refusals[0]
    assert "comes through" in removal(closed, face, STEEL).hints[0]


def test_a_wall_counts_the_holes_beside_it() -> None:
    through = Body(DISC.parts, (HoleCircle(6, 10, 80),))
    near = removal(through, [Cut("A", "turn", {"to": 92})], STEEL, wall=Least("rim", 3))
    assert near.refusals == (
        "Rim: 0.039 in (1 mm) would be left between the cut and the holes Ø 0.394 in (10 mm) on Ø 3.150 in (80 mm), "
        "and 0.118 in (3 mm) must stay. Take less.",
    )
    opened = removal(through, [Cut("A", "turn", {"to": 72})], STEEL, wall=Least("rim", 3))
    assert opened.refusals == ()
    assert "comes through into the holes" in opened.hints[0]


def test_limits_need_a_part_drawn() -> None:
    turn = Cut("A", "turn", {"from": 100, "to": 90, "end": 10})
    found = removal(None, [turn], STEEL, web=Least("web", 5))
    assert "only where the part is drawn" in found.hints[0]


def test_no_cuts_take_nothing() -> None:
    found = wheel(())
    assert (found.mass, found.sides, found.takes) == (0, {}, ())
    assert found.after == found.before


@pytest.mark.parametrize("density", [0.0, -1.0, float("nan")])
def test_a_density_of_nothing_is_refused(density: float) -> None:
    with pytest.raises(Impossible, match="density"):
        removal(WHEEL, WHEEL_CUTS, density)


def test_a_missing_size_names_the_cut() -> None:
    with pytest.raises(Refused, match="Cut 2, side B: Type “deep”"):
        wheel((WHEEL_CUTS[0], Cut("B", "face", {})))


# Laws, on a hub and a flange with holes, and cuts that overlap in every way.
VOIDS: tuple[Void, ...] = (HoleCircle(4, 16, 140), Keyway(10, 4, 40))
STEPPED = Body((Ring(200, 40, 0, 25), Ring(90, 40, 25, 60)), VOIDS)
size = st.floats(1, 120, allow_nan=False).map(lambda x: round(x, 2))


@st.composite
def some_cuts(draw: st.DrawFn) -> list[Cut]:
    found = []
    for _ in range(draw(st.integers(1, 4))):
        side = draw(st.sampled_from("AB"))
        kind = draw(st.sampled_from(["turn", "face", "bore", "taper"]))
        a, b, start, run = draw(size), draw(size), draw(size) / 2, draw(size) / 3
        sizes = {
            "turn": {"to": a, "start": start, "end": start + run},
            "face": {"depth": run / 2, "to": b},
            "bore": {"to": a, "start": start, "end": start + run},
            "taper": {"start_diameter": a, "end_diameter": b, "start": start, "end": start + run},
        }[kind]
        found.append(Cut(side, kind, sizes))
    return found


@settings(max_examples=40, deadline=None)
@given(some_cuts())
def test_removal_and_rest_are_the_body(cuts: list[Cut]) -> None:
    found = removal(STEPPED, cuts, STEEL)
    assert found.before is not None
    stays = metal(found.stays, VOIDS) * STEEL / 1000
    assert found.mass + stays == pytest.approx(found.before, rel=1e-9)
    assert all(take.mass <= take.alone_mass + 1e-6 for take in found.takes)
    assert math.fsum(take.alone_mass for take in found.takes) >= found.mass - 1e-6


@settings(max_examples=20, deadline=None)
@given(some_cuts())
def test_the_order_of_cuts_changes_no_total(cuts: list[Cut]) -> None:
    totals = [(r.mass, r.inertia) for r in (removal(STEPPED, list(c), STEEL) for c in itertools.permutations(cuts[:3]))]
    for mass, turning in totals:
        assert mass == pytest.approx(totals[0][0], rel=1e-9, abs=1e-6)
        assert turning == pytest.approx(totals[0][1], rel=1e-9, abs=1e-3)


@settings(max_examples=25, deadline=None)
@given(some_cuts())
def test_overlap_is_counted_once(cuts: list[Cut]) -> None:
    found = removal(STEPPED, cuts, STEEL)
    alone = [removal(STEPPED, [cut], STEEL).takes[0].region for cut in cuts]
    assert found.volume == pytest.approx(metal(union_all(alone), VOIDS), rel=1e-9, abs=1e-5)


@settings(max_examples=25, deadline=None)
@given(some_cuts())
def test_everything_twice_as_big_is_eight_times_as_heavy(cuts: list[Cut]) -> None:
    big = Body(
        (Ring(400, 80, 0, 50), Ring(180, 80, 50, 120)), (HoleCircle(4, 32, 280), Keyway(20, 8, 80)),
    )
    double = [Cut(cut.side, cut.kind, {name: 2 * x for name, x in cut.sizes.items()}) for cut in cuts]
    small, large = removal(STEPPED, cuts, STEEL), removal(big, double, STEEL)
    assert large.mass == pytest.approx(8 * small.mass, rel=1e-9, abs=1e-6)
    assert large.inertia == pytest.approx(32 * small.inertia, rel=1e-9, abs=1e-3)


def test_a_later_size_measured_bigger_takes_less() -> None:
    measured = (Cut("A", "turn", inches(to=8.88, end=1.0505)), *WHEEL_CUTS[1:2], *WHEEL_CUTS[3:4])
    planned = (WHEEL_CUTS[0], *WHEEL_CUTS[1:2], *WHEEL_CUTS[3:4])
    ring = math.pi / 4 * (8.88**2 - 8.875**2) * (1.0505 - 0.3) * INCH**3 * DUCTILE / 1000
    assert wheel(planned).mass - wheel(measured).mass == pytest.approx(ring, rel=1e-9)
