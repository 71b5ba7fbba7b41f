"""A prediction says how sure it is, and from what: known sums, laws, and chance itself."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopapp.bench.cuts import Body, Cut, removal, taken_volume
from shopapp.bench.errors import BenchError, Impossible
from shopapp.bench.holes import HoleCircle
from shopapp.bench.inputs import inputs
from shopapp.bench.outline import Ring
from shopapp.bench.uncertainty import predict, product, rectangular, slope
from tests.bench.bodies import WHEEL, WHEEL_CUTS

IRON = (7.10, 7.0, 7.3)
TURN = Cut("A", "turn", {"from": 200, "to": 190, "start": 0, "end": 10})


@pytest.mark.outside("computed: GUM 4.3.7 and 5.1.2")
def test_the_mass_of_a_volume_and_a_density_that_are_both_uncertain() -> None:
    # GUM 4.3.7 and 5.1.2, computed: V 250 cm3 with u 1.0, rho 7.15 within 0.10 either way.
    mass, u = product(250_000, 1000, 7.15, rectangular(0.1))
    assert rectangular(0.1) == pytest.approx(0.05774, abs=5e-6)
    assert mass == pytest.approx(1787.5, rel=1e-12)
    assert u == pytest.approx(16.108, abs=5e-4)
    assert 2 * u == pytest.approx(32.215, abs=1e-3)


@pytest.mark.outside("computed: derivatives of a ring's volume")
def test_a_turned_rings_sizes_move_it_as_calculus_says() -> None:
    # V = pi/4 (D^2 - d^2) L: elementary.
    by_outer, by_inner, by_length = (slope(None, [TURN], one, 0.01) for one in inputs(None, [TURN], 0.1))
    assert by_outer == pytest.approx(math.pi / 2 * 200 * 10, rel=1e-9)
    assert by_inner == pytest.approx(-math.pi / 2 * 190 * 10, rel=1e-9)
    assert by_length == pytest.approx(math.pi / 4 * (200**2 - 190**2), rel=1e-9)


@pytest.mark.outside("computed: GUM 5.1.2")
def test_a_ring_cut_adds_up_as_squares() -> None:
    found = predict(None, [TURN], 7.85, 7.82, 7.88, 0.05)
    rho, u = 7.85e-3, 0.05 / math.sqrt(3)
    exact = math.hypot(
        rho * math.pi / 2 * 2000 * u, rho * math.pi / 2 * 1900 * u, rho * math.pi / 4 * 3900 * u,
        math.pi / 4 * 39000 * 0.03e-3 / math.sqrt(3),
    )
    assert found.u == pytest.approx(exact, rel=1e-7)
    assert found.expanded == pytest.approx(2 * found.u)
    assert (found.low, found.high) == pytest.approx((found.mass - found.expanded, found.mass + found.expanded))


def test_a_prediction_is_the_removal() -> None:
    exact = removal(WHEEL, WHEEL_CUTS, 7.10).mass
    assert predict(WHEEL, WHEEL_CUTS, *IRON, 0.1).mass == pytest.approx(exact, rel=1e-12)


def test_of_an_iron_casting_it_is_the_density_that_is_least_sure() -> None:
    found = predict(WHEEL, WHEEL_CUTS, *IRON, 0.127)
    assert found.contributions[0].name == "density of the material"
    assert [part.u for part in found.contributions] == sorted((part.u for part in found.contributions), reverse=True)
    assert math.fsum(part.share for part in found.contributions) == pytest.approx(1)
    assert any("holes" in part.name for part in found.contributions)


def test_sizes_that_the_cuts_never_meet_have_no_part_in_it() -> None:
    names = " ".join(part.name for part in predict(WHEEL, WHEEL_CUTS, *IRON, 0.127).contributions)
    assert "keyway" not in names
    assert "in bore" not in names


@pytest.mark.outside("computed: Monte Carlo by GUM supplement 1")
def test_chance_itself_spreads_a_removal_as_the_sum_says() -> None:
    # Monte Carlo by GUM supplement 1: 4000 draws of a ring with holes turned down, its own error 1/sqrt(2 n) of u.
    rng = np.random.default_rng(20_240_229)
    ring, holes = Ring(200, 120, 0, 30), HoleCircle(8, 12, 188)
    a, n = 0.4, 4000

    def chance() -> float:
        off = rng.uniform(-a, a, 8)
        body = Body((Ring(200 + off[0], 120 + off[1], 0, 30 + off[2]),), (HoleCircle(8, 12 + off[3], 188 + off[4]),))
        cut = Cut("A", "turn", {"to": 184 + off[5], "start": 0, "end": 20 + off[6]})
        return rng.uniform(7.0, 7.3) / 1000 * taken_volume(body, [cut])

    cut = Cut("A", "turn", {"to": 184.0, "start": 0, "end": 20.0})
    found = predict(Body((ring,), (holes,)), [cut], 7.15, 7.0, 7.3, a)
    drawn = np.array([chance() for _ in range(n)])
    assert drawn.mean() == pytest.approx(found.mass, abs=4 * found.u / math.sqrt(n) + 1e-3 * found.mass)
    assert drawn.std(ddof=1) == pytest.approx(found.u, rel=4 / math.sqrt(2 * n))
    inside = np.mean((drawn > found.low) & (drawn < found.high))
    assert 0.93 < inside <= 1


@given(st.floats(0.001, 2), st.floats(1.01, 4))
@settings(max_examples=25, deadline=None)
def test_a_coarser_instrument_is_never_surer(half: float, times: float) -> None:
    fine, coarse = (predict(None, [TURN], 7.85, 7.82, 7.88, x).u for x in (half, half * times))
    assert coarse > fine


def test_exact_sizes_leave_only_the_density() -> None:
    found = predict(None, [TURN], 7.10, 7.0, 7.3, 0.0)
    assert [part.name for part in found.contributions] == ["density of the material"]
    assert found.u / found.mass == pytest.approx(0.3 / math.sqrt(12) / 7.10)


def test_all_exact_is_no_spread_at_all() -> None:
    found = predict(None, [TURN], 7.85, 7.85, 7.85, 0.0)
    assert (found.u, found.low, found.high, found.contributions) == (0, found.mass, found.mass, ())


def test_a_size_at_the_end_of_what_can_be_is_moved_one_way() -> None:
    hair = Cut("A", "turn", {"from": 200, "to": 199.99, "start": 0, "end": 10})
    (outer, *_) = inputs(None, [hair], 0.1)
    assert slope(None, [hair], outer, 0.05) == pytest.approx(math.pi / 2 * 200 * 10, rel=1e-3)


def test_a_size_that_cannot_move_at_all_is_told() -> None:
    hair = Cut("A", "turn", {"from": 200, "to": 210, "start": 0, "end": 10})
    with pytest.raises(BenchError, match="swapped"):
        slope(None, [hair], inputs(None, [hair], 0.1)[0], 0.05)


def test_a_density_outside_its_own_range_is_refused() -> None:
    with pytest.raises(Impossible, match="within its own range"):
        predict(None, [TURN], 7.85, 7.9, 8.0, 0.1)
