"""An edge that is typed twice is one measurement, and moves wherever it is typed."""

import pytest

from shopapp.bench.cuts import Body, Cut, taken_volume
from shopapp.bench.errors import Refused
from shopapp.bench.holes import HoleCircle, Keyway
from shopapp.bench.inputs import inputs, moved
from shopapp.bench.outline import Corner, Ring
from tests.bench.bodies import INCH, WHEEL, WHEEL_CUTS

TURN = Cut("A", "turn", {"from": 200, "to": 190, "start": 0, "end": 10})


def test_the_rims_inside_is_the_webs_outside() -> None:
    (rim,) = [one for one in inputs(WHEEL, (), 0.1) if abs(one.value - 7.5 * INCH) < 1e-9]
    assert rim.where == (("part", 0, "inside"), ("part", 1, "outside"))
    body, _ = moved(WHEEL, (), rim, 0.3)
    assert body is not None
    assert [vars(part)["inside" if i == 0 else "outside"] for i, part in enumerate(body.parts[:2])] == [
        pytest.approx(7.5 * INCH + 0.3)
    ] * 2


def test_the_bore_is_one_with_its_keyway_and_the_pockets_with_the_rim() -> None:
    places = [set(one.where) for one in inputs(WHEEL, (), 0.1)]
    assert {("part", 2, "inside"), ("void", 2, "bore")} in places
    assert {("part", 0, "outside"), ("void", 1, "outside")} in places


def test_the_back_face_and_a_count_are_not_uncertain() -> None:
    told = inputs(WHEEL, WHEEL_CUTS, 0.1)
    assert all(one.value != 0 for one in told)
    assert not [one for one in told for _, _, name in one.where if name == "count"]


def test_a_solid_middle_and_a_void_right_through_have_no_size_there() -> None:
    told = inputs(Body((Ring(40, 0, 0, 10),), (HoleCircle(4, 3, 25),)), (), 0.1)
    assert [(one.where[0][2], one.value) for one in told] == [
        ("outside", 40), ("end", 10), ("diameter", 3), ("circle", 25),
    ]


def test_what_is_there_now_goes_with_the_part_as_drawn() -> None:
    body = Body((Ring(200, 0, 0, 20),))
    (outer,) = [one for one in inputs(body, [TURN], 0.1) if one.value == 200]
    assert outer.where == (("part", 0, "outside"), ("cut", 0, "from"))


def test_one_sides_turn_and_bevel_share_a_diameter_and_the_other_side_has_its_own() -> None:
    turned = [one for one in inputs(WHEEL, WHEEL_CUTS, 0.1) if abs(one.value - 8.875 * INCH) < 1e-9]
    assert [one.where for one in turned] == [
        (("cut", 0, "to"), ("cut", 2, "diameter")), (("cut", 3, "to"), ("cut", 4, "diameter")),
    ]


def test_a_better_instrument_counts_for_the_edge_it_measured() -> None:
    told = inputs(None, [TURN], 0.5, {("cut", 0, "to"): 0.01})
    assert [(one.value, one.half_width) for one in told] == [(200, 0.5), (190, 0.01), (10, 0.5)]


def test_the_names_say_where_a_size_is_typed() -> None:
    assert [one.name for one in inputs(None, [TURN], 0.5)] == [
        "“outside Ø now” of cut 1, side A, turn outside", "“outside Ø wanted” of cut 1, side A, turn outside",
        "“to” of cut 1, side A, turn outside",
    ]
    drawn = Body((Ring(40, 20, 0, 10), Corner(1, 40, 10)), (Keyway(6, 2.5, 20),))
    words = " ".join(one.name for one in inputs(drawn, (), 0.1))
    assert "size of the bevel on Ø 1.575 in (40 mm)" in words
    assert "width of the keyway in bore Ø 0.787 in (20 mm)" in words


def test_moving_there_and_back_changes_nothing() -> None:
    before = taken_volume(WHEEL, WHEEL_CUTS)
    for one in inputs(WHEEL, WHEEL_CUTS, 0.1):
        again = moved(*moved(WHEEL, WHEEL_CUTS, one, 0.25), one, -0.25)
        assert taken_volume(*again) == pytest.approx(before, rel=1e-12)


def test_an_instrument_off_by_less_than_nothing_is_refused() -> None:
    with pytest.raises(Refused, match="without a sign"):
        inputs(None, [TURN], -0.1)
    with pytest.raises(Refused, match="kind thread"):
        inputs(None, [Cut("A", "thread", {"to": 1})], 0.1)
