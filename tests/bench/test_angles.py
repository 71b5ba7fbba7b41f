"""Angles integrated: Gauss's rule, closed forms against it, and every law of a region's edges."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from shapely import Polygon, box

from shopapp.bench.angles import Stretch, along, drilled, gauss, keyed, pocketed, slotted
from shopapp.bench.solids import edges

STRETCHES = {
    "hole": drilled(5, 75), "hole near the axis": drilled(5, 5.01), "hole over the axis": drilled(8, 3),
    "keyway": keyed(20, 23.3, 6), "slot": slotted(50, 30, 6), "slot without flanks": slotted(31, 30, 12),
}


def test_gauss_is_exact_for_what_it_promises() -> None:
    # A rule of n nodes is exact up to the power 2n - 1: from memory.
    for n in (1, 4, 9, 32):
        for power in range(0, 2 * n, 2):
            assert math.fsum(w * x**power for x, w in gauss(n)) == pytest.approx(2 / (power + 1), rel=1e-13)


def area(one: Stretch, low: float, high: float, power: int) -> float:
    return quad(
        lambda r: one.angle(r, (one.high - r) * (r - one.low)) * r**power, low, high, epsabs=0, epsrel=1e-11, limit=400
    )[0]


@pytest.mark.outside("verified: scipy.integrate")
@pytest.mark.parametrize("name", STRETCHES)
def test_the_whole_of_a_stretch_is_what_scipy_integrates(name: str) -> None:
    for one in STRETCHES[name]:
        if one.low < one.high:
            for value, power in zip(one.whole, (1, 3), strict=True):
                assert value == pytest.approx(area(one, one.low, one.high, power), rel=1e-9)


@pytest.mark.outside("verified: scipy.integrate")
@pytest.mark.parametrize("name", STRETCHES)
@pytest.mark.parametrize(("start", "end"), [(0.0, 0.5), (0.3, 0.8), (0.0, 0.03), (0.97, 1.0), (0.49, 0.51)])
def test_a_part_of_a_stretch_is_what_scipy_integrates(name: str, start: float, end: float) -> None:
    for one in STRETCHES[name]:
        low, high = (one.low + part * (one.high - one.low) for part in (start, end))
        if low < high:
            found = along(list(edges(box(0, low, 1, high))), (one,), -9, 9)
            for value, power in zip(found, (1, 3), strict=True):
                assert value == pytest.approx(area(one, low, high, power), rel=1e-9)


@pytest.mark.parametrize("name", STRETCHES)
def test_the_whole_of_a_stretch_is_the_sum_of_its_halves(name: str) -> None:
    one = STRETCHES[name]
    low, high = one[0].low, one[-1].high
    middle = low + 0.37 * (high - low)
    whole = along(list(edges(box(1, low, 2, high))), one, 0, 9)
    halves = [along(list(edges(box(1, a, 2, b))), one, 0, 9) for a, b in ((low, middle), (middle, high))]
    for k in (0, 1):
        assert whole[k] == pytest.approx(halves[0][k] + halves[1][k], rel=1e-11)


@given(st.floats(-9, 3), st.floats(0.1, 12))
def test_where_a_hole_begins_and_ends_is_cut_off_a_cone(start: float, long: float) -> None:
    cone = Polygon([(0, 60), (10, 60), (6, 90), (2, 90)])
    inside = cone.intersection(box(start, 0, start + long, 100))
    cut = along(list(edges(cone)), drilled(7, 75), start, start + long)
    for k, exact in enumerate(along(list(edges(inside)), drilled(7, 75), -math.inf, math.inf)):
        assert cut[k] == pytest.approx(exact, rel=1e-9, abs=1e-6)


@given(st.floats(30, 60), st.floats(1, 30))
def test_a_pocket_takes_nothing_beyond_its_rim_or_its_floor(floor: float, deep: float) -> None:
    rim = floor + deep
    much = pocketed(list(edges(box(-50, 0, 50, 200))), 0, 5, floor, rim)
    just = pocketed(list(edges(box(-5, floor, 5, rim))), 0, 5, floor, rim)
    assert much == pytest.approx(just, rel=1e-11)


@pytest.mark.outside("verified: scipy.integrate")
def test_a_pocket_is_what_scipy_integrates_across_its_mouth() -> None:
    # Over u across and v along the mouth of radius 7, from the floor at 38 to the rim of radius 50.
    def strip(u: float) -> float:
        return 2 * math.sqrt(49 - u * u) * (math.sqrt(2500 - u * u) - 38)

    exact = quad(strip, -7, 7, epsabs=0, epsrel=1e-12)[0]
    assert pocketed(list(edges(box(-20, 0, 20, 50))), 0, 7, 38, 50)[0] == pytest.approx(exact, rel=1e-10)
