"""Theoretical roughness, held to catalogue formulas and to the profile itself."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from shopapp.bench.errors import Impossible
from shopapp.bench.roughness import cusp_average, cusp_depth, feed_for, roughness


# Rt = f²/8r: a tool maker's catalogue of 2021-2022, p. 952 (formula read), numbers computed. Ra = f²/(18 √3 r) derived.
@pytest.mark.outside("computed: a tool maker's catalogue of 2021-2022, p. 952")
@pytest.mark.parametrize(
    ("feed", "nose", "rt", "ra", "unit"),
    [
        (0.2, 0.8, 6.25, 1.6038, 1e-3),
        (0.1, 0.4, 3.125, 0.8019, 1e-3),
        (0.4, 1.2, 16.667, 4.2767, 1e-3),
        (0.254, 25.4 / 32, 400, 102.64, 25.4e-6),
    ],
)
def test_depth_and_average_of_the_cusps(feed, nose, rt, ra, unit) -> None:
    assert cusp_depth(feed, nose) / unit == pytest.approx(rt, rel=5e-5)
    assert cusp_average(feed, nose) / unit == pytest.approx(ra, rel=5e-5)


@pytest.mark.outside("from memory: f2/32r; the circle computed")
def test_the_true_circle_is_a_little_rougher_and_the_rule_of_32_a_little_smoother() -> None:
    # exact geometry of a circular nose, average by scipy; f²/32r from memory
    f, r = 0.2, 0.8
    deep = r - math.sqrt(r * r - f * f / 4)
    assert deep * 1000 == pytest.approx(6.2746, abs=5e-5)

    def height(x: float) -> float:
        return r - math.sqrt(r * r - x * x)

    mean = quad(height, 0, f / 2)[0] / (f / 2)
    crossing = brentq(lambda x: height(x) - mean, 0, f / 2)
    average = quad(lambda x: abs(height(x) - mean), 0, f / 2, points=[crossing])[0] / (f / 2)
    assert average * 1000 == pytest.approx(1.6088, abs=5e-5)
    assert cusp_depth(f, r) == pytest.approx(deep, rel=0.005)
    assert cusp_average(f, r) == pytest.approx(average, rel=0.005)
    assert f * f / (32 * r) * 1000 == pytest.approx(1.5625)
    assert 1 - f * f / (32 * r) / cusp_average(f, r) == pytest.approx(0.026, abs=5e-4)


@pytest.mark.outside("verified: scipy.integrate.quad")
@given(st.floats(0.01, 1), st.floats(0.6, 3))
def test_the_average_is_that_of_the_parabola(feed: float, nose: float) -> None:
    # scipy.integrate.quad over the parabola x²/2r, its mean f²/24r crossed at f/√12
    mean = feed * feed / (24 * nose)
    half = feed / 2
    whole, _ = quad(lambda x: abs(x * x / (2 * nose) - mean), 0, half, points=[feed / math.sqrt(12)], epsabs=0)
    assert cusp_average(feed, nose) == pytest.approx(whole / half, rel=1e-8)


@given(st.floats(0.01, 0.5), st.floats(0.3, 3))
def test_the_feed_for_an_average_and_back(feed: float, nose: float) -> None:
    assert feed_for(cusp_average(feed, nose), nose) == pytest.approx(feed)
    assert cusp_depth(feed, nose) / cusp_average(feed, nose) == pytest.approx(9 * math.sqrt(3) / 4)


def test_the_words_say_theoretical_in_both_units() -> None:
    told = roughness(0.2, 0.8, 10)
    assert told.valid
    assert told.words == "Theoretical Ra 1.6 µm (63 µin), depth 6.3 µm (250 µin)."
    wide = roughness(0.4, 0.8, 5)
    assert not wide.valid
    assert wide.words.endswith("expect it rougher.")


# roughly f < 2 r sin(end-cutting-edge angle): from memory
def test_the_nose_alone_makes_the_cusp_up_to_a_limit() -> None:
    limit = 2 * 0.8 * math.sin(math.radians(5))
    assert roughness(limit, 0.8).valid
    assert not roughness(limit * 1.001, 0.8).valid


@pytest.mark.parametrize(
    ("figure", "says"),
    [
        (lambda: cusp_depth(0, 1), "above 0"),
        (lambda: cusp_average(1, 0), "above 0"),
        (lambda: cusp_depth(2, 1), "Feed slower"),
        (lambda: feed_for(0, 1), "above 0"),
        (lambda: feed_for(1, 0.1), "Feed slower"),
        (lambda: roughness(0.1, 1, 90), "between 0 and 90"),
    ],
)
def test_what_leaves_no_cusp_says_what_to_change(figure, says: str) -> None:
    with pytest.raises(Impossible, match=says):
        figure()
