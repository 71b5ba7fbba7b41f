"""Voids take exactly what they meet: elementary cases, extremes, refusals, and laws."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon, box

from shopapp.bench.errors import Impossible
from shopapp.bench.holes import (
    HoleCircle,
    Keyway,
    RadialHole,
    Slot,
    Void,
    called,
    checked,
    extent,
    missing,
)

DISC = box(0, 0, 25, 100)
EVERY: tuple[Void, ...] = (
    HoleCircle(6, 10, 150), HoleCircle(1, 60, 40), Keyway(12, 3.3, 40), RadialHole(4, 20, 200, 30, 12),
    Slot(3, 8, 12, 200),
)


@pytest.mark.outside("computed: cylinders and the parallel-axis rule")
def test_six_holes_through_a_disc() -> None:
    # Six times pi/4 100 x 25, and by the parallel-axis rule V (75^2 + 5^2 / 2): elementary.
    assert missing(DISC, HoleCircle(6, 10, 150)) == pytest.approx(11780.972451, rel=1e-10)
    assert missing(DISC, HoleCircle(6, 10, 150), 3) == pytest.approx(66415232.192, rel=1e-10)


@pytest.mark.outside("computed: a rectangle less a segment of a circle")
def test_a_keyway_is_the_exact_segment_and_not_width_times_depth() -> None:
    # 12 wide, 3.3 deep on the centreline of a bore of 40, a = b / 2; elementary:
    # b (rb + t) - [a sqrt(rb^2 - a^2) + rb^2 asin(a / rb)]
    a, rb, t = 6.0, 20.0, 3.3
    area = 12 * (rb + t) - (a * math.sqrt(rb * rb - a * a) + rb * rb * math.asin(a / rb))
    taken = missing(box(0, 20, 60, 50), Keyway(12, 3.3, 40))
    assert taken == pytest.approx(area * 60, rel=1e-12)
    assert taken == pytest.approx(2595.014053, rel=1e-9)
    assert taken > 12 * 3.3 * 60 * 1.08


@pytest.mark.parametrize("circle", [0.0, 5.0, 9.9, 10.0, 10.001, 10.1, 60.0])
def test_a_hole_takes_its_own_volume_wherever_it_stands(circle: float) -> None:
    whole = math.pi * 5**2 * 25
    assert missing(DISC, HoleCircle(1, 10, circle)) == pytest.approx(whole, rel=1e-9)
    assert missing(DISC, HoleCircle(1, 10, circle), 3) == pytest.approx(whole * (circle**2 / 4 + 12.5), rel=1e-9)


@pytest.mark.parametrize("void", EVERY, ids=called)
def test_halves_of_a_region_add_up(void: Void) -> None:
    for power in (1, 3):
        halves = [box(0, 0, 25, 77), box(0, 77, 11, 100), box(11, 77, 25, 100)]
        parts = [missing(half, void, power) for half in halves]
        assert math.fsum(parts) == pytest.approx(missing(DISC, void, power), rel=1e-10)


@pytest.mark.parametrize("void", EVERY, ids=called)
def test_a_region_out_of_reach_loses_nothing(void: Void) -> None:
    assert missing(box(0, 150, 25, 160), void) == 0
    assert missing(Polygon(), void) == 0


@pytest.mark.parametrize("void", EVERY, ids=called)
def test_a_hole_in_the_section_is_no_metal_to_lose(void: Void) -> None:
    window = box(5, 15, 20, 95)
    whole, left, lost = (missing(part, void) for part in (DISC, DISC.difference(window), window))
    assert left == pytest.approx(whole - lost, rel=1e-9)


def test_a_blind_hole_counts_only_as_deep_as_it_is() -> None:
    assert missing(DISC, HoleCircle(1, 10, 100, 15, 40)) == pytest.approx(math.pi * 25 * 10, rel=1e-12)


def test_a_slot_is_as_long_as_it_says() -> None:
    assert missing(DISC, Slot(3, 8, 12, 200, 20)) == pytest.approx(missing(DISC, Slot(3, 8, 12, 200)) / 5, rel=1e-12)


@given(st.floats(0.5, 30), st.floats(60, 140), st.floats(0.5, 4))
def test_twice_the_size_is_eight_times_the_volume(diameter: float, circle: float, scale: float) -> None:
    plain = missing(box(0, 20, 25, 55), HoleCircle(1, diameter, circle, 3, 9))
    void = HoleCircle(1, diameter * scale, circle * scale, 3 * scale, 9 * scale)
    region = box(0, 20 * scale, 25 * scale, 55 * scale)
    assert missing(region, void) == pytest.approx(plain * scale**3, rel=1e-8, abs=1e-9)


@pytest.mark.parametrize(
    ("void", "says"),
    [
        (HoleCircle(6, 40, 60), "run into each other"),
        (HoleCircle(2, 10, 0), "run into each other"),
        (HoleCircle(0, 10, 60), "how many"),
        (HoleCircle(1, 0, 60), "above nothing"),
        (HoleCircle(1, 10, 60, 9, 9), "beyond its start"),
        (Keyway(50, 3, 40), "does not fit"),
        (RadialHole(1, 10, 40, 21, 0), "past the axis"),
        (RadialHole(8, 10, 40, 15, 0), "run into each other"),
        (Slot(1, 41, 5, 40), "past the axis"),
        (Slot(1, 5, float("inf"), 40), "above nothing"),
    ],
)
def test_a_void_that_cannot_be_is_refused(void: Void, says: str) -> None:
    with pytest.raises(Impossible, match=says):
        checked(void)


def test_the_extent_of_each_void() -> None:
    assert extent(HoleCircle(1, 10, 60, 1, 2)) == (1, 25, 2, 35)
    assert extent(Keyway(6, 4, 40, 1, 2)) == (1, 20, 2, math.hypot(24, 3))
    assert extent(Slot(1, 6, 4, 40, 1, 2)) == (1, 16, 2, 20)


@pytest.mark.parametrize("void", EVERY, ids=called)
def test_where_the_first_one_stands_changes_no_mass(void: Void) -> None:
    assert missing(DISC, replace(void, first=33.0), 3) == missing(DISC, void, 3)
    with pytest.raises(Impossible, match="plain number of degrees"):
        checked(replace(void, first=math.nan))
