"""Markup is not margin, a history of two jobs is none, and an allowance says what it is a part of."""

from fractions import Fraction
from statistics import median

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench.errors import Impossible, Refused
from shopapp.bench.estimates import (
    basic_time,
    corrected,
    margin_of,
    markup_of,
    price_by_margin,
    price_by_markup,
    price_margin,
    standard_time,
)

F = Fraction


# Markup on cost and margin of the price: common practice, no source; figures computed.
@pytest.mark.outside("computed: markup on cost")
def test_a_quarter_on_a_thousand_is_1250_and_a_fifth_of_it() -> None:
    assert price_by_markup(100_000, F(1, 4)) == 125_000
    assert margin_of(F(1, 4)) == F(1, 5)


@pytest.mark.outside("computed: margin of the price")
def test_a_margin_of_a_quarter_on_a_thousand_is_1333_33() -> None:
    # Common practice, no source; computed
    assert price_by_margin(100_000, F(1, 4)) == 133_333


@pytest.mark.outside("computed: m / (1 - m)")
def test_a_margin_of_forty_percent_is_a_markup_of_two_thirds() -> None:
    # Common practice, no source; computed: .6667
    assert float(markup_of(F(40, 100))) == pytest.approx(0.6667, abs=5e-5)
    assert margin_of(F(2, 3)) == F(40, 100)


@given(st.fractions(F(-99, 100), 50, max_denominator=1000))
def test_markup_to_margin_and_back_is_the_same(markup: Fraction) -> None:
    assert markup_of(margin_of(markup)) == markup
    assert margin_of(markup) < 1


@given(st.integers(0, 10**8), st.fractions(F(-1, 2), F(9, 10), max_denominator=1000))
def test_both_roads_lead_to_one_price(cost: int, margin: Fraction) -> None:
    assert price_by_margin(cost, margin) == price_by_markup(cost, markup_of(margin))


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: markup_of(F(1)), "below 100 %"),
        (lambda: price_by_margin(100, F(25)), "Did you mean a markup"),
        (lambda: margin_of(F(-1)), "gives the work away"),
        (lambda: price_by_markup(-1, F(1)), "below zero"),
        (lambda: price_margin(-1, F(1), 0), "below zero"),
        (lambda: price_margin(1, F(-1), 0), "below zero"),
    ],
)
def test_what_cannot_be_priced_says_what_to_change(call, says: str) -> None:
    with pytest.raises(Impossible, match=says):
        call()


def test_a_price_against_its_minutes() -> None:
    found = price_margin(14513, F(75), 6000, bought_cents=1000)
    assert (found.cost, found.left) == (8500, 6013)
    assert found.margin == F(6013, 14513)
    assert found.markup == F(6013, 8500) == markup_of(found.margin)
    assert found.hour == 10810  # 135.13 in 75 min
    said = "$145.13 less $85.00 cost leaves $60.13: margin 41.4 % of the price, markup 70.7 % on the cost"
    assert found.words == f"{said}. The 75 min earn $108.10 an hour."


def test_a_loss_is_said_as_what_is_short() -> None:
    found = price_margin(5000, F(75), 6000)
    assert found.left == -2500
    assert "is $25.00 short" in found.words
    assert "markup -33.3 %" in found.words


def test_of_nothing_there_is_no_margin_and_no_hour() -> None:
    found = price_margin(0, F(0), 6000)
    assert (found.margin, found.markup, found.hour) == (None, None, None)
    assert found.words == "$0.00 less $0.00 cost leaves $0.00."


def test_three_jobs_correct_an_estimate_and_show_their_range() -> None:
    found = corrected(60, [(60, 66), (50, 50), (40, 60)])
    assert (found.minutes, found.low, found.high) == pytest.approx((66, 60, 90))
    assert (found.count, found.ratio) == (3, pytest.approx(1.1))
    assert found.words == (
        "60 min estimated; 3 jobs of this variant took 1.10 times the estimate (the middle one; 1.00 to 1.50): "
        "66 min, 60 to 90."
    )


@pytest.mark.parametrize(
    ("jobs", "says"), [([], "No job of this variant so far"), ([(60, 90)], "1 job of"), ([(60, 90)] * 2, "2 jobs of")]
)
def test_fewer_than_three_jobs_correct_nothing_and_say_so(jobs: list[tuple[float, float]], says: str) -> None:
    found = corrected(60, jobs)
    assert (found.minutes, found.low, found.high, found.ratio) == (60, 60, 60, None)
    assert says in found.words
    assert "too few to correct by, 3 are needed" in found.words


minutes = st.floats(1, 1000)


@given(minutes, st.lists(st.tuples(minutes, minutes), min_size=3, max_size=12), st.integers(0, 11))
def test_one_wild_job_never_carries_the_median_out_of_its_range(estimate, jobs, which) -> None:
    found = corrected(estimate, jobs)
    assert found.low <= found.minutes <= found.high
    assert found.minutes == pytest.approx(estimate * median(done / told for told, done in jobs), rel=1e-12)
    told, _ = jobs[which % len(jobs)]
    wild = corrected(estimate, [*jobs[: which % len(jobs)], (told, 1e9), *jobs[which % len(jobs) + 1 :]])
    assert found.low <= wild.minutes
    assert len(jobs) < 4 or wild.minutes <= found.high


def test_minutes_of_nothing_are_left_out_by_hand() -> None:
    for estimate, jobs in [(0, []), (60, [(60, 0)]), (60, [(float("nan"), 60)])]:
        with pytest.raises(Impossible, match="above nothing"):
            corrected(estimate, jobs)


@pytest.mark.outside("verified: an industrial engineers' page on performance rating")
def test_eight_hundred_seconds_at_110_percent_are_880() -> None:
    # An industrial engineers' page on performance rating, verified: 800 s rated 110 % is 880 s basic time
    assert basic_time(800 / 60, 1.10) * 60 == pytest.approx(880, rel=1e-12)


@pytest.mark.outside("computed: Slack et al., p. 263")
@pytest.mark.parametrize(
    ("observed", "rating", "allowance", "standard"),
    # Slack et al., p. 263, formula verified: observed x rating x (1 + allowance); figures computed
    [(0.40, 1.10, 0.15, 0.506), (12.0, 0.95, 0.15, 13.11)],
)
def test_standard_time_is_basic_time_and_its_allowance(observed, rating, allowance, standard) -> None:
    assert standard_time(observed, rating, allowance).standard == pytest.approx(standard, rel=1e-12)


@pytest.mark.outside("computed: allowance as a part of the shift")
def test_the_other_convention_is_named_and_shown() -> None:
    # Text books that count the allowance as a part of the shift: 13.4118 for the same figures (computed)
    shift, basic = (standard_time(12, 0.95, 0.15, on) for on in ("shift", "basic"))
    assert shift.standard == basic.other == pytest.approx(13.4118, abs=5e-5)
    assert shift.other == basic.standard
    assert basic.words == (
        "13.11 min: basic time 11.40 min and an allowance of 15 % on the basic time. "
        "Counted of the shift it would be 13.41 min."
    )


@given(st.floats(0, 1000), st.floats(0.1, 2), st.floats(0, 0.9))
def test_an_allowance_of_the_shift_is_that_part_of_it(observed: float, rating: float, allowance: float) -> None:
    found = standard_time(observed, rating, allowance, "shift")
    assert found.standard - found.basic == pytest.approx(allowance * found.standard, abs=1e-9)
    assert found.standard >= found.other - 1e-9


def test_no_allowance_and_the_standard_pace_change_nothing() -> None:
    assert standard_time(12, 1, 0).standard == standard_time(12, 1, 0, "shift").standard == 12


def test_what_cannot_be_timed_says_what_to_type() -> None:
    with pytest.raises(Refused, match="basic, for the basic time"):
        standard_time(12, 1, 0.15, "day")


@pytest.mark.parametrize(
    ("told", "says"),
    [((12, 0, 0.1), "rating"), ((12, 95, 0), "200 %"), ((-1, 1, 0.1), "0 or more"), ((12, 1, 1.0), "allowance")],
)
def test_a_rating_and_an_allowance_have_their_limits(told: tuple[float, ...], says: str) -> None:
    with pytest.raises(Impossible, match=says):
        standard_time(*told)
