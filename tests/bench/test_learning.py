"""Learning curves by Crawford and by Wright, to the examples of a published manual."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench.errors import Impossible
from shopapp.bench.learning import piece_time, run_time, run_time_about, slope, wright_rate, wright_time

COMPUTED = pytest.mark.outside("computed: AFIT learning-curve manual, its formula")

# All outside values: US Air Force Institute of Technology, learning-curve manual pages, verified and recomputed.


@pytest.mark.outside("verified: AFIT learning-curve manual")
@pytest.mark.parametrize(("rate", "exponent"), [(0.80, -0.3219281), (0.85, -0.2344653), (0.90, -0.1520031)])
def test_a_slope_is_the_logarithm_to_base_two(rate: float, exponent: float) -> None:
    # AFIT manual, verified
    assert slope(rate) == pytest.approx(exponent, abs=5e-8)


@pytest.mark.parametrize(
    ("rate", "hours"),
    [
        pytest.param(0.85, 32.23647, marks=pytest.mark.outside("verified: AFIT learning-curve manual")),
        pytest.param(0.80, 21.13225, marks=COMPUTED), pytest.param(0.90, 48.00243, marks=COMPUTED),
        pytest.param(0.95, 69.95640, marks=COMPUTED),
    ],
)  # fmt: skip
def test_the_125th_piece_after_a_first_of_100(rate: float, hours: float) -> None:
    assert piece_time(100, rate, 125) == pytest.approx(hours, abs=5e-6)


@pytest.mark.outside("verified: AFIT learning-curve manual")
def test_a_known_hundredth_piece_gives_the_125th() -> None:
    # AFIT manual, verified
    assert piece_time(100, 0.85, 125, known=100) == pytest.approx(94.90257, abs=5e-6)


@pytest.mark.outside("verified: AFIT learning-curve manual, 5201.085")
def test_the_exact_sum_and_the_midpoint_formula() -> None:
    # AFIT manual: exact sum 5201.085, verified; the page prints 5202.998, its own formula gives 5202.988
    assert run_time(100, 0.85, 125) == pytest.approx(5201.085, abs=5e-4)
    assert run_time_about(100, 0.85, 125) == pytest.approx(5202.988, abs=5e-4)


@pytest.mark.outside("verified: AFIT learning-curve manual")
def test_wrights_single_piece_and_block() -> None:
    # AFIT manual, verified
    assert wright_time(110, 0.885, 2200, first=2200) == pytest.approx(23.34001, abs=5e-6)
    assert wright_time(75, 0.85, 250, first=201) == pytest.approx(806.772, abs=5e-4)


@pytest.mark.outside("verified: AFIT learning-curve manual")
def test_the_rate_of_a_total() -> None:
    # AFIT manual, verified
    assert wright_rate(80, 8250, 250) == pytest.approx(0.8947908, abs=5e-8)


@pytest.mark.outside("verified: AFIT learning-curve manual, 11000.96")
def test_three_departments_come_to_a_wright_total_and_a_larger_crawford_sum() -> None:
    # AFIT manual, verified: 11000.96 is Wright's; Crawford's sum for the same figures is 14242.75 (computed)
    departments = [(70, 0.85), (45, 0.87), (25, 0.80)]
    assert sum(wright_time(t, r, 300) for t, r in departments) == pytest.approx(11000.96, abs=0.005)
    assert sum(run_time(t, r, 300) for t, r in departments) == pytest.approx(14242.75, abs=0.005)


rates, pieces = st.floats(0.55, 1), st.integers(1, 200)


@given(st.floats(1, 1000), rates, pieces)
def test_a_doubling_leaves_the_rate(first: float, rate: float, piece: int) -> None:
    assert piece_time(first, rate, 2 * piece) == pytest.approx(rate * piece_time(first, rate, piece), rel=1e-9)
    mean, later = (wright_time(first, rate, n) / n for n in (piece, 2 * piece))
    assert later == pytest.approx(rate * mean, rel=1e-9)


@given(st.floats(1, 1000), rates, pieces, pieces)
def test_a_run_is_the_sum_of_its_parts(first: float, rate: float, some: int, more: int) -> None:
    for curve in (run_time, wright_time):
        parts = curve(first, rate, some) + curve(first, rate, some + more, first=some + 1)
        assert parts == pytest.approx(curve(first, rate, some + more), rel=1e-9)


@given(st.floats(1, 1000), rates, st.integers(2, 500))
def test_the_rate_comes_back_out_of_a_total(first: float, rate: float, count: int) -> None:
    assert wright_rate(first, wright_time(first, rate, count), count) == pytest.approx(rate, rel=1e-9)


def test_without_learning_every_piece_is_the_first() -> None:
    assert piece_time(12, 1, 99) == 12
    assert run_time(12, 1, 10) == wright_time(12, 1, 10) == run_time_about(12, 1, 10) == 120


@given(st.floats(0.8, 1), st.integers(50, 400))
def test_the_midpoint_formula_is_near_the_sum(rate: float, count: int) -> None:
    assert run_time_about(10, rate, count) == pytest.approx(run_time(10, rate, count), rel=2e-3)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: slope(85), "above 0 to 100 %"),
        (lambda: piece_time(10, 0.8, 0), "counted from 1"),
        (lambda: piece_time(0, 0.8, 2), "known piece"),
        (lambda: run_time(10, 0.8, 3, first=4), "not before the first"),
        (lambda: run_time_about(10, 0.5, 3), "above 50 %"),
        (lambda: wright_time(10, 0.4, 3), "above 50 %"),
        (lambda: wright_rate(10, 30, 2), "no learning"),
        (lambda: wright_rate(10, 10, 1), "two pieces"),
    ],
)
def test_what_is_no_curve_says_why(call, says: str) -> None:
    with pytest.raises(Impossible, match=says):
        call()
