"""Half-up everywhere, and no more figures than the spread deserves."""

import math
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench.errors import Impossible
from shopapp.bench.rounding import about, exact, fixed, half_up, significant

F = Fraction


@pytest.mark.outside("verified: decimal, ROUND_HALF_UP")
@pytest.mark.parametrize(
    ("value", "rounded"),
    [("365.135", "365.14"), ("365.125", "365.13"), (".005", "0.01"), (".015", "0.02"), ("2.675", "2.68"),
     ("1.005", "1.01"), ("-2.675", "-2.68"), ("-.005", "-0.01")],
)  # fmt: skip
def test_a_tie_goes_away_from_zero_as_decimal_rounds_half_up(value: str, rounded: str) -> None:
    # Python's decimal module as the independent library: "round-half-up" of General Decimal Arithmetic
    assert str(Decimal(value).quantize(Decimal("0.01"), ROUND_HALF_UP)) == rounded
    assert half_up(F(value) * 100) == int(F(rounded) * 100)
    assert fixed(F(value), 2) == rounded


@pytest.mark.outside("verified: decimal, ROUND_HALF_UP")
@given(st.decimals(min_value=-(10**9), max_value=10**9, places=6), st.integers(0, 5))
def test_fixed_agrees_with_decimal(value: Decimal, places: int) -> None:
    # Python's decimal module, ROUND_HALF_UP
    assert F(fixed(F(value), places)) == F(value.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP))


@given(st.fractions(), st.integers(1, 1000))
def test_the_nearest_step_is_no_further_than_half_a_step(value: F, to: int) -> None:
    rounded = half_up(value, to)
    assert rounded % to == 0
    assert abs(rounded - value) * 2 <= to
    assert half_up(-value, to) == -rounded


def test_a_decimal_float_is_the_fraction_that_it_names() -> None:
    assert exact(0.1) == F(1, 10)
    assert exact(-2.675) == F("-2.675")
    for endless in (math.nan, math.inf, -math.inf):
        with pytest.raises(Impossible, match="without end"):
            exact(endless)


def test_figures_that_count() -> None:
    assert significant(0.866141, 3) == "0.866"
    assert significant(3841, 2) == "3800"
    assert significant(0.99951, 3) == "1.00"
    assert significant(99.96, 3) == "100"
    assert significant(-0.000254, 2) == "-0.00025"
    assert significant(0, 3) == "0"


def test_a_figure_with_its_range_is_no_finer_than_the_range() -> None:
    assert about(8.469, 8.046, 8.892) == ("8.5", "8.0", "8.9")
    assert about(8.469, 8.2996, 8.6384) == ("8.47", "8.29", "8.64")
    assert about(3841, 3649, 4033) == ("3840", "3640", "4040")
    assert about(0.3, 0.3, 0.9) == ("0.3", "0.3", "0.9")
    assert about(5, 5, 5) == ("5.000", "5.000", "5.000")
    with pytest.raises(Impossible, match="Exchange"):
        about(5, 6, 4)


@given(st.floats(1e-6, 1e6), st.floats(1e-3, 0.9))
def test_the_range_as_written_holds_the_range(value: float, share: float) -> None:
    low, high = value * (1 - share), value * (1 + share)
    _, least, most = about(value, low, high)
    assert float(least) <= low * (1 + 1e-8)
    assert float(most) >= high * (1 - 1e-8)
    assert float(most) - float(least) <= (high - low) * 2
