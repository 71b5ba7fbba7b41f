"""A size is in or out only where the instrument can say so."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench.errors import Impossible
from shopapp.bench.inspection import IN, OUT, UNKNOWN, judge


@pytest.mark.outside("from memory: ISO 14253-1")
@pytest.mark.parametrize(
    ("measured", "word"),
    # ISO 14253-1, rule for proving conformity and nonconformity, from memory: both zones are narrowed by U
    [
        (9.88, OUT), (9.889, OUT), (9.89, UNKNOWN), (9.9, UNKNOWN), (9.909, UNKNOWN), (9.91, IN), (10.0, IN),
        (10.09, IN), (10.091, UNKNOWN), (10.1, UNKNOWN), (10.11, UNKNOWN), (10.111, OUT),
    ],
)
def test_the_guard_band_lies_to_both_sides_of_a_limit(measured: float, word: str) -> None:
    assert judge(measured, 9.9, 10.1, 0.01).word == word


def test_a_perfect_instrument_always_tells() -> None:
    assert [judge(x, 9.9, 10.1, 0).word for x in (9.899, 9.9, 10.1, 10.101)] == [OUT, IN, IN, OUT]


def test_a_coarse_instrument_is_sent_away() -> None:
    found = judge(10.0, 9.99, 10.01, 0.02)
    assert found.word == UNKNOWN
    assert "Take a finer instrument" in found.words
    assert judge(10.2, 9.99, 10.01, 0.02).word == OUT


def test_an_instrument_that_just_fits_says_in_at_the_middle_alone() -> None:
    assert judge(10.0, 9.99, 10.01, 0.01).word == IN
    assert judge(10.001, 9.99, 10.01, 0.01).word == UNKNOWN


def test_the_sentence_names_the_nearer_limit() -> None:
    assert "0.090 mm) inside the low limit" in judge(9.99, 9.9, 10.1, 0.01).words
    assert "beyond the high limit 0.3976 in (10.100 mm)" in judge(10.2, 9.9, 10.1, 0.01).words
    assert "beyond the high limit, nearer than" in judge(10.105, 9.9, 10.1, 0.01).words


def test_a_limit_to_one_side_is_enough() -> None:
    assert judge(5, -math.inf, 6, 0.1).word == IN
    assert judge(5, 6, math.inf, 0.1).word == OUT
    assert "high limit" in judge(5.95, -math.inf, 6, 0.1).words


sizes = st.floats(-100, 100)


@given(sizes, sizes, st.floats(0, 10), st.floats(0, 5), st.floats(-1, 1))
def test_no_true_size_within_the_uncertainty_contradicts_the_word(
    measured: float, low: float, width: float, give: float, part: float
) -> None:
    high, true = low + width, measured + part * give
    word = judge(measured, low, high, give).word
    if word == IN:
        assert low - 1e-8 <= true <= high + 1e-8
    if word == OUT:
        assert not low + 1e-8 <= true <= high - 1e-8


@given(sizes, sizes, st.floats(0, 10), st.floats(0, 5))
def test_mirrored_it_says_the_same(measured: float, low: float, width: float, give: float) -> None:
    one, other = judge(measured, low, low + width, give), judge(-measured, -low - width, -low, give)
    assert one.word == other.word
    assert one.inside == pytest.approx(other.inside, abs=1e-9)


@pytest.mark.parametrize(
    ("told", "says"),
    [
        ((math.nan, 1, 2, 0.1), "plain number"),
        ((1, 2, 1, 0.1), "low one not above"),
        ((1, -math.inf, math.inf, 0.1), "a low or a high limit"),
        ((1, 0, 2, -0.1), "0 or more"),
    ],
)
def test_what_cannot_be_judged_says_what_is_missing(told: tuple[float, ...], says: str) -> None:
    with pytest.raises(Impossible, match=says):
        judge(*told)
