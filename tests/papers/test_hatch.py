"""Hatching stays inside its area, at 45 degrees, on one grid."""

from math import atan2, degrees, hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, box

from shopapp.papers.hatch import hatch

WITH_HOLE = Polygon([(0, 0), (90, 0), (70, 60), (0, 60)], [[(20, 20), (40, 20), (40, 40), (20, 40)]])


@pytest.mark.parametrize("rising", [True, False])
def test_every_segment_lies_inside_its_area(rising: bool) -> None:
    inside = WITH_HOLE.buffer(1e-6)
    segments = hatch(WITH_HOLE, 5, rising)
    assert len(segments) > 10
    assert all(inside.covers(LineString(segment)) for segment in segments)


@pytest.mark.parametrize(("rising", "angle"), [(True, -45), (False, 45)])
def test_every_segment_leans_by_45_degrees(rising: bool, angle: float) -> None:
    # y runs down the screen, so a rising line has a negative angle
    for (x1, y1), (x2, y2) in hatch(WITH_HOLE, 5, rising):
        assert degrees(atan2(y2 - y1, x2 - x1)) == pytest.approx(angle, abs=0.1)


@given(st.floats(2, 12), st.floats(5, 200), st.floats(5, 200))
@settings(max_examples=60)
def test_the_length_of_hatch_times_its_spacing_is_about_the_area(spacing: float, width: float, height: float) -> None:
    area = box(0, 0, width, height)
    length = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in hatch(area, spacing))
    # each line stands for a strip of one spacing; the ends of the strips are open to one spacing along the edge
    assert abs(length * spacing - area.area) <= spacing * (width + height)


def test_two_neighbours_share_their_lines() -> None:
    left, right = hatch(box(0, 0, 40, 40), 5), hatch(box(40, 0, 80, 40), 5)
    ends = {round(y, 6) for _, (x, y) in left if x == pytest.approx(40)}
    starts = {round(y, 6) for (x, y), _ in right if x == pytest.approx(40)}
    assert ends & starts
    assert len(ends ^ starts) <= 2


def test_nothing_has_no_hatch() -> None:
    assert hatch(Polygon(), 5) == []
