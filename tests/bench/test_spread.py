"""A prediction carries its spread."""

from fractions import Fraction

import pytest

from shopapp.bench.errors import Refused
from shopapp.bench.materials import MATERIALS
from shopapp.bench.spread import low_high, spread


def test_castings_spread_more_than_bar() -> None:
    assert spread("cast") == Fraction(5, 100)
    assert spread("wrought") == Fraction(2, 100)


@pytest.mark.parametrize("key", MATERIALS)
def test_the_spread_covers_most_of_the_density_range(key: str) -> None:
    row = MATERIALS[key]
    low, high = low_high(row.nominal, spread(row.made))
    assert low <= row.low
    assert high >= row.high * 0.998


def test_nothing_spreads_to_nothing() -> None:
    assert low_high(0.0, Fraction(1, 20)) == (0, 0)


def test_an_unknown_making_is_refused() -> None:
    with pytest.raises(Refused, match="cast or wrought"):
        spread("forged")
