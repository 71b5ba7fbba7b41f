"""Each kind of cut sweeps the region that its sizes say, on the side it is cut from."""

import math

import pytest
from shapely import Polygon, box, union_all

from shopapp.bench.errors import BenchError, Impossible, Refused
from shopapp.bench.regions import Sizes, bevel, chord, swept
from shopapp.bench.solids import volume

# A flange Ø 200 from 0 to 25 and a hub Ø 90 to 60, bored 40.
STEPPED = union_all([box(0, 20, 25, 100), box(0, 20, 60, 45)])


def one(side: str, kind: str, sizes: Sizes, metal: object = STEPPED) -> Polygon:
    return swept([(side, kind, sizes)], metal)[0]  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("side", "kind", "sizes", "bounds"),
    [
        ("A", "turn", {"to": 190, "end": 25}, (0, 95, 25, 100)),
        ("B", "turn", {"to": 80, "start": 30}, (30, 40, 60, 45)),
        ("A", "face", {"depth": 2}, (0, 0, 2, 100)),
        ("A", "face", {"depth": 2, "from": 150, "to": 100}, (0, 50, 2, 75)),
        ("B", "face", {"depth": 2, "to": 100}, (23, 50, 25, 100)),
        ("B", "face", {"depth": 2, "from": 90}, (58, 0, 60, 45)),
        ("B", "face", {"depth": 2, "from": 90, "at": 50}, (48, 0, 50, 45)),
        ("A", "bore", {"to": 50}, (0, 0, 60, 25)),
        ("A", "bore", {"from": 40, "to": 50, "end": 10}, (0, 20, 10, 25)),
        ("A", "groove", {"to": 180, "start": 5, "end": 15}, (5, 90, 15, 100)),
        ("A", "taper", {"start_diameter": 180, "end_diameter": 190, "start": 0, "end": 25}, (0, 90, 25, 100)),
    ],
)
def test_a_cut_sweeps_its_region(side: str, kind: str, sizes: Sizes, bounds: tuple[float, ...]) -> None:
    assert one(side, kind, sizes).bounds == pytest.approx(bounds)


def test_a_face_up_to_a_hub_starts_from_its_own_face_and_not_from_the_hubs() -> None:
    assert one("B", "face", {"depth": 2, "to": 90}).bounds == pytest.approx((23, 45, 25, 100))


def test_a_groove_with_a_narrow_bottom_is_a_trapezoid() -> None:
    shape = one("A", "groove", {"to": 180, "start": 5, "end": 15, "bottom_start": 8, "bottom_end": 12})
    assert shape.area == pytest.approx(10 * (10 + 4) / 2)


def test_a_groove_may_run_out_from_a_bore_and_in_to_a_point() -> None:
    assert one("A", "groove", {"from": 40, "to": 60, "start": 5, "end": 15}).bounds == (5, 20, 15, 30)
    sharp = {"from": 200, "to": 180, "start": 5, "end": 15, "bottom_start": 10, "bottom_end": 10}
    assert one("A", "groove", sharp).area == pytest.approx(50)


@pytest.mark.outside("computed: Machinery's Handbook 31, pp. 89-93")
def test_a_taper_takes_a_cylinder_less_a_frustum() -> None:
    # Machinery's Handbook 31, pp. 89-93: frustum pi h / 3 (R^2 + R r + r^2).
    shape = one("A", "taper", {"from": 100, "start_diameter": 60, "end_diameter": 90, "start": 0, "end": 40}, None)
    frustum = math.pi * 40 / 3 * (45**2 + 45 * 30 + 30**2)
    assert volume(shape) == pytest.approx(math.pi * 50**2 * 40 - frustum, rel=1e-12)


def test_a_taper_in_a_bore_takes_what_lies_outside_the_bore() -> None:
    shape = one("A", "taper", {"from": 40, "start_diameter": 60, "end_diameter": 40, "start": 0, "end": 20})
    assert shape.area == pytest.approx(100)


@pytest.mark.outside("computed: cone over a cylinder")
def test_a_countersink_takes_a_cone_over_the_hole() -> None:
    # 90 degrees, Ø 20 on a hole of Ø 10: 500 pi / 3; 82 degrees, .500 on .250: .009411429 in3. Elementary.
    right = {"from": 10, "start_diameter": 20, "end_diameter": 10, "start": 0, "end": 5}
    assert volume(one("A", "taper", right, None)) == pytest.approx(523.598775598, rel=1e-11)
    deep = 0.125 / math.tan(math.radians(41))
    narrow = {"from": 0.25, "start_diameter": 0.5, "end_diameter": 0.25, "start": 0, "end": deep}
    assert deep == pytest.approx(0.143796051, rel=1e-8)
    assert volume(one("A", "taper", narrow, None)) == pytest.approx(0.0094114295, rel=1e-8)


def test_a_bevel_stands_on_the_corner_that_the_other_cuts_leave() -> None:
    rough = [("A", "turn", {"to": 190, "end": 25}), ("A", "face", {"depth": 3})]
    cuts = [("A", "bevel", {"corner": 1, "diameter": 190}), *rough]
    triangle = swept(cuts, STEPPED)[0]
    assert triangle.bounds == pytest.approx((3, 94, 4, 95))
    assert swept(cuts[::-1], STEPPED)[2].equals(triangle)


def test_a_bevel_finds_the_mouth_of_a_bore_and_the_front() -> None:
    assert one("A", "bevel", {"corner": 1, "diameter": 40}).bounds == pytest.approx((0, 20, 1, 21))
    assert one("B", "bevel", {"corner": 1, "diameter": 40}).bounds == pytest.approx((59, 20, 60, 21))
    assert one("B", "bevel", {"corner": 2, "diameter": 200, "at": 25}).bounds == pytest.approx((23, 98, 25, 100))


def test_with_no_part_drawn_a_bevel_stands_on_the_cut_edge() -> None:
    turn = ("A", "turn", {"from": 100, "to": 90, "end": 20})
    face = ("A", "face", {"from": 100, "to": 30, "depth": 3})
    shapes = swept([turn, face, ("A", "bevel", {"corner": 1, "diameter": 90})], None)
    assert shapes[2].bounds == pytest.approx((3, 44, 4, 45))
    bore = ("A", "bore", {"from": 0, "to": 50, "end": 30})
    bored = swept([bore, ("A", "bevel", {"corner": 1, "diameter": 50})], None)
    assert bored[1].bounds == pytest.approx((0, 25, 1, 26))


def test_with_no_part_drawn_the_two_sides_stand_back_to_back() -> None:
    turn = {"from": 100, "to": 90, "end": 20}
    shapes = swept([("A", "turn", turn), ("B", "turn", {**turn, "end": 10})], None)
    assert [shape.bounds for shape in shapes] == [(0, 45, 20, 50), (20, 45, 30, 50)]


@pytest.mark.parametrize(
    ("kind", "sizes", "says"),
    [
        ("turn", {"from": 80, "to": 90, "end": 25}, "swapped"),
        ("turn", {"to": 90, "start": 20, "end": 10}, "end beyond"),
        ("bore", {"from": 60, "to": 50}, "swapped"),
        ("face", {"depth": 0}, "takes nothing"),
        ("face", {"depth": 1, "from": 20, "to": 30}, "takes nothing"),
        ("groove", {"from": 90, "to": 90, "start": 5, "end": 15}, "nothing in it"),
        ("groove", {"to": 80, "start": 5, "end": 15, "bottom_start": 14, "bottom_end": 6}, "nothing in it"),
        ("taper", {"from": 85, "start_diameter": 80, "end_diameter": 90, "start": 0, "end": 25}, "clears both ends"),
        ("bevel", {"corner": 0, "diameter": 90}, "above nothing"),
        ("bevel", {"corner": 1, "diameter": 300}, "no metal"),
        ("bevel", {"corner": 1, "diameter": 120}, "no corner"),
    ],
)
def test_sizes_that_cannot_be_are_refused(kind: str, sizes: Sizes, says: str) -> None:
    with pytest.raises(Impossible, match=says) as met:
        one("A", kind, sizes)
    assert str(met.value).startswith("Cut 1, side A: ")


@pytest.mark.parametrize(
    ("kind", "sizes", "says"),
    [
        ("turn", {"to": 90, "end": 25}, "Type the diameter"),
        ("turn", {"from": 100, "to": 90}, "Type how far"),
        ("bore", {"to": 90, "end": 25}, "Type the bore"),
        ("bevel", {"corner": 30, "diameter": 40}, "does not fit"),
    ],
)
def test_with_no_part_drawn_nothing_can_be_left_out(kind: str, sizes: Sizes, says: str) -> None:
    with pytest.raises(BenchError, match=says):
        one("A", kind, sizes, None)


def test_an_unknown_kind_or_side_is_refused() -> None:
    with pytest.raises(Refused, match="no cut of the kind drill"):
        one("A", "drill", {})
    with pytest.raises(Refused, match="the side is A"):
        one("C", "turn", {"to": 90})


def test_a_chord_is_cut_by_what_is_hollow() -> None:
    holed = STEPPED.difference(box(5, 50, 10, 60))
    assert chord(holed, "z", 55) == [(0, 5), (10, 25)]
    assert chord(holed, "r", 7) == [(20, 50), (60, 100)]
    assert chord(Polygon(), "r", 7) == []


def test_a_bevel_is_the_same_asked_for_by_itself() -> None:
    assert bevel({"corner": 1, "diameter": 200}, "A", STEPPED, Polygon()).bounds == pytest.approx((0, 99, 1, 100))
