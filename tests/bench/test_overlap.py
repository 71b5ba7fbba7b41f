"""Voids in each other: the angles against flat shapes of a geometry library, what is certain, what is asked."""

import math
import random
from dataclasses import replace

import pytest
from shapely import Geometry, Point, Polygon, box, union_all
from shapely.affinity import rotate

from shopapp.bench.holes import HoleCircle, Keyway, RadialHole, Slot, Void
from shopapp.bench.overlap import Overlaps, overlaps, spans

DISC = box(0, 10, 25, 100)
AT = 12.0  # every pocket's middle, where it is widest


def flat(void: Void, first: float) -> Geometry:
    """What a void takes of the plane across the axis through z = AT; circles as 512 corners."""
    if isinstance(void, HoleCircle):
        one: Geometry = Point(void.circle / 2, 0).buffer(void.diameter / 2, 128)
    elif isinstance(void, Keyway):
        one = box(0, -void.width / 2, void.bore / 2 + void.depth, void.width / 2)
        one = one.difference(Point(0, 0).buffer(void.bore / 2, 128))
    else:
        wide = void.diameter if isinstance(void, RadialHole) else void.width
        one = box(void.outside / 2 - void.depth, -wide / 2, void.outside, wide / 2)
        one = one.intersection(Point(0, 0).buffer(void.outside / 2, 128))
    count = 1 if isinstance(void, Keyway) else void.count
    return union_all([rotate(one, first + 360 * k / count, origin=(0, 0)) for k in range(count)])


def some(dice: random.Random) -> Void:
    return dice.choice([
        HoleCircle(dice.randint(1, 5), dice.uniform(3, 14), dice.uniform(60, 150)),
        Keyway(dice.uniform(4, 16), dice.uniform(3, 30), 40),
        RadialHole(dice.randint(1, 4), dice.uniform(4, 12), 160, dice.uniform(20, 50), AT),
        Slot(dice.randint(1, 4), dice.uniform(4, 12), dice.uniform(20, 50), 160),
    ])  # fmt: skip


@pytest.mark.outside("verified: shapely")
@pytest.mark.parametrize("seed", range(120))
def test_voids_share_metal_where_their_flat_shapes_do(seed: int) -> None:
    dice = random.Random(seed)
    one, other = some(dice), some(dice)
    first = dice.uniform(0, 360)
    second = first if seed % 4 == 0 else dice.uniform(0, 360)
    shared = flat(one, first).intersection(flat(other, second)).difference(Point(0, 0).buffer(10)).area
    found = overlaps((replace(one, first=first), replace(other, first=second)), DISC)
    if shared > 0.02 or shared == 0:  # a touch between corners of the circles is neither
        assert bool(found.certain) is (shared > 0)
    assert found.asked == ()


@pytest.mark.outside("verified: shapely")
@pytest.mark.parametrize("seed", range(30))
def test_it_is_certain_only_where_no_angle_keeps_them_apart(seed: int) -> None:
    dice = random.Random(1000 + seed)
    one, other = some(dice), some(dice)
    turned = [flat(one, 0).intersection(flat(other, angle)).area for angle in range(0, 360, 2)]
    found = overlaps((one, other), DISC)
    assert not (found.certain and min(turned) == 0)
    assert not (not found.certain and min(turned) > 0.5)
    assert bool(found.asked) is (not found.certain and max(turned) > 0) or max(turned) < 0.5


@pytest.mark.outside("computed: chord of a circle")
def test_two_holes_touch_at_the_chord_between_their_middles() -> None:
    # Ø 10 on Ø 150: 75 x 2 sin(angle / 2) = 10; elementary.
    touch = math.degrees(2 * math.asin(5 / 75))
    for apart, runs in ((touch + 1e-4, False), (touch - 1e-4, True)):
        pair = HoleCircle(1, 10, 150, first=350), HoleCircle(1, 10, 150, first=350 + apart)
        assert bool(overlaps(pair, DISC).certain) is runs


# A screw of 10 over a keyway of 12 in a bore of 40, 5 deep: at 22.36 mm both reach farthest, asin(5/r) and asin(6/r).
def test_a_set_screw_beside_a_keyway_is_asked_about_until_it_is_said_where_it_stands() -> None:
    key, screw = Keyway(12, 5, 40), RadialHole(1, 10, 90, 27, AT)
    (asked,) = overlaps((key, screw), DISC).asked
    assert asked.startswith("Do the keyway in bore Ø 1.575 in (40 mm) and the pockets from Ø")
    assert "first at" in asked
    assert overlaps((replace(key, first=0), replace(screw, first=90)), DISC) == Overlaps()
    (said,) = overlaps((replace(key, first=0), replace(screw, first=20)), DISC).certain
    assert "run into each other" in said
    assert "end the other where it begins" in said
    # Ended at the keyway's floor it touches it flat on flat; a little aslant, a corner of it dips in.
    assert overlaps((replace(key, first=0), RadialHole(1, 10, 90, 20, AT, 0)), DISC) == Overlaps()
    assert overlaps((replace(key, first=0), RadialHole(1, 10, 90, 20, AT, 3)), DISC).certain


def test_what_is_certain_wherever_they_stand() -> None:
    twice = HoleCircle(4, 20, 60)
    (said,) = overlaps((twice,) * 7, DISC).certain
    assert "drawn twice" in said
    assert overlaps((replace(twice, first=0), replace(twice, first=45)), DISC) == Overlaps()
    assert "run into" in overlaps((replace(twice, first=0), replace(twice, first=30)), DISC).certain[0]
    (axis,) = overlaps((Keyway(6, 3, 20), HoleCircle(1, 30, 0)), DISC).certain
    assert "run into" in axis
    crowd = HoleCircle(10, 14, 120), HoleCircle(12, 15, 120)
    assert overlaps(crowd, DISC).certain


def test_several_sets_that_go_more_than_once_round_are_certain() -> None:
    # Half an angle is asin(10/30) = 19.5 degrees: three sets of four come to 3 x 4 x 38.9 = 467 degrees.
    sets = tuple(HoleCircle(4, 20 + 0.1 * i, 60) for i in range(3))
    assert overlaps(sets[:2], DISC).certain == ()
    assert "more than the whole circle" in overlaps(sets, DISC).certain[0]


def test_where_there_is_no_metal_nothing_is_shared() -> None:
    pair = HoleCircle(2, 10, 30), HoleCircle(3, 8, 30)
    assert overlaps(pair, box(0, 30, 25, 100)) == Overlaps()
    assert overlaps(pair, DISC).certain
    apart = HoleCircle(2, 10, 100, 0, 10), HoleCircle(3, 8, 100, 10, 25)
    assert overlaps(apart, DISC) == Overlaps()


def test_pockets_at_two_places_are_looked_at_between_them() -> None:
    # Ø 10 at 12 and at 18: at 15 each is 2 x sqrt(25 - 9) = 8 wide, so their flanks touch at asin(4/r) and asin(4/r).
    one, other = RadialHole(1, 10, 160, 40, 12, 0), RadialHole(1, 10, 160, 40, 18, 0)
    touch = 2 * math.degrees(math.asin(4 / math.hypot(40, 4)))
    for apart, runs in ((touch - 0.05, True), (touch + 0.05, False)):
        assert bool(overlaps((one, replace(other, first=apart)), DISC).certain) is runs


@pytest.mark.parametrize(
    ("void", "z", "r", "degrees"),
    [
        (HoleCircle(1, 20, 60), 0, 30, [math.degrees(math.acos((900 + 900 - 100) / 1800))]),
        (HoleCircle(1, 30, 0), 0, 14, [180]),
        (HoleCircle(1, 20, 60, 5, 9), 4, 30, []),
        (Keyway(20, 5, 40), 0, 20, [30]),
        (Keyway(20, 5, 40), 0, 26, [math.degrees(math.asin(10 / 26)), -math.degrees(math.acos(25 / 26))]),
        (Keyway(20, 5, 40), 0, 27, []),
        (Slot(2, 10, 20, 100), 0, 30, []),
        (Slot(2, 10, 20, 100), 0, 50, [math.degrees(math.asin(0.1))]),
        (RadialHole(2, 10, 100, 20, 12), 15, 50, [math.degrees(math.asin(4 / 50))]),
    ],
)
def test_the_angles_of_each_void(void: Void, z: float, r: float, degrees: list[float]) -> None:
    assert [math.degrees(end) for _, end in spans(void, z, r)] == pytest.approx(degrees, abs=1e-6)


def test_a_polygon_in_pieces_is_looked_at_piece_by_piece() -> None:
    parts = union_all([box(0, 10, 5, 100), box(20, 10, 25, 100)])
    assert not isinstance(parts, Polygon)
    assert overlaps((HoleCircle(2, 10, 100, 6, 19), HoleCircle(3, 8, 100, 6, 19)), parts) == Overlaps()
