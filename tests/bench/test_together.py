"""Weighings of several readings are as sure as their readings together."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench.errors import Impossible
from shopapp.bench.together import Scale, Weighed, each, less, read, removed, sides, ways
from shopapp.bench.weighing import difference_uncertainty
from tests.bench.bodies import POUND


@pytest.mark.outside("computed: GUM F.2.2.1")
@pytest.mark.parametrize(
    ("division", "single", "two", "expanded"),
    [
        # GUM F.2.2.1, d/sqrt(12) and d/sqrt(6), computed.
        (0.1, 0.028868, 0.040825, 0.081650), (5, 1.443376, 2.041241, 4.082483), (0.02, 0.005774, 0.008165, 0.016330),
    ],
)
def test_two_readings_of_one_scale(division: float, single: float, two: float, expanded: float) -> None:
    found = less(read(3, division), read(1, division))
    assert read(3, division).u == pytest.approx(single, abs=6e-7)
    assert found.u == pytest.approx(two, abs=6e-7)
    assert found.expanded == pytest.approx(expanded, abs=6e-7)
    assert found.grams == 2


@pytest.mark.outside("computed: GUM F.2.2.1")
def test_four_readings_where_the_scale_was_set_to_nothing_each_time() -> None:
    # GUM F.2.2.1, four roundings: d/sqrt(3).
    assert removed(read(9, 5), read(4, 5), empty_each_time=True).u == pytest.approx(5 / math.sqrt(3))
    assert removed(read(9, 5), read(4, 5)).u == pytest.approx(5 / math.sqrt(6))


def test_over_two_scales_the_coarser_one_decides() -> None:
    assert removed(read(9000, 200), read(5000, 5)).u == pytest.approx(math.hypot(200, 5) / math.sqrt(12))


def test_two_at_once_on_a_scale_of_halves_are_twice_as_sure_each() -> None:
    # Half a pound of division: 0.408 lb for one, 0.204 lb for each of two (GUM F.2.2.1, computed).
    pair = each(less(read(36 * POUND, POUND / 2), read(19 * POUND, POUND / 2)), 2)
    assert pair.expanded / POUND == pytest.approx(0.2041, abs=5e-5)
    assert pair.grams == pytest.approx(8.5 * POUND)


def test_in_the_box_a_piece_is_less_sure_than_bare() -> None:
    bare = read(400, 5)
    boxed = less(read(900, 5), read(500, 5))
    assert (boxed.grams, boxed.u > bare.u) == (400, True)


@given(st.integers(0, 500), st.integers(0, 500), st.integers(0, 500), st.sampled_from([0.2, 1.0, 5.0]))
def test_the_sides_add_up_to_both_and_both_are_no_less_sure_than_one(a: int, b: int, c: int, d: float) -> None:
    back, front, whole = sides(read(a * d, d), read(b * d, d), read(c * d, d))
    assert back.grams + front.grams == pytest.approx(whole.grams, abs=1e-9)
    assert whole.u == pytest.approx(back.u)
    assert whole.expanded == pytest.approx(difference_uncertainty(d))


def test_the_sharpest_way_that_the_scales_can_carry_comes_first() -> None:
    dial, plate = Scale("DIAL", POUND / 2, 50 * POUND), Scale("PLAT", POUND / 5, 500 * POUND)
    found = ways(3, 20 * POUND, [dial, plate])
    assert [way.words for way in found] == ["all 3 at once on PLAT", "one by one on PLAT", "one by one on DIAL"]
    assert found[0].expanded_g == pytest.approx(difference_uncertainty(POUND / 5) / 3)
    assert ways(1, 60 * POUND, [dial]) == ()


def test_a_single_piece_is_weighed_one_way() -> None:
    assert [way.at_once for way in ways(1, 100, [Scale("CNTR", 5)])] == [1]


def test_no_pieces_and_no_division_are_refused() -> None:
    with pytest.raises(Impossible, match="1 or more"):
        each(Weighed(10, 1), 0)
    with pytest.raises(Impossible, match="1 or more"):
        ways(0, 10, [])
    with pytest.raises(Impossible, match="division"):
        read(10, 0)
