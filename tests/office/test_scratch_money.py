"""Scratch sums about money and minutes."""

import pytest

from shopapp.office import scratch
from shopapp.office.scratch import SUMS
from tests.office.test_scratch import worked
from tests.office.test_scratch_cutting import answered, figures


def test_markup_and_margin_are_two_prices() -> None:
    # 1000 x 1.25 and 1000 / .75 (elementary).
    found = figures(answered("markup"))
    assert found == {"as markup on the cost": "$1,250.00", "as margin of the price": "$1,333.33"}
    assert list(figures(answered("markup", percent="100"))) == ["as markup on the cost"]


def test_money_carries_the_sign_of_the_shop() -> None:
    answer = scratch.work(SUMS["markup"], SUMS["markup"].example, sign="€").answer
    assert answer
    assert answer.figures[0][1] == "€1,250.00"


def test_a_price_says_what_it_leaves() -> None:
    assert figures(answered("left"))["leaves"] == "$70.13"
    assert answered("left", price="50").tone == "no"


def test_minutes_are_corrected_only_by_three_jobs_or_more() -> None:
    assert figures(answered("history"))["corrected"] == "66"
    few = answered("history", estimated="60, 50", took="66, 50")
    assert few.tone == "coarse"
    assert figures(few)["corrected"] == "60"
    assert "as many in both lists" in worked("history", took="66").refusal


@pytest.mark.outside("verified: AFIT learning-curve manual")
def test_a_learning_curve_is_that_of_the_manual() -> None:
    # AFIT learning-curve manual: 100 h, 85 %: piece 125 takes 32.236, all of them 5201.1 by the sum.
    found = figures(answered("learning"))
    assert found["the last one"] == "32.2"
    assert found["all of them"] == "5201.1"
    # By the mean of all: 100 x 125^(1 + log2 .85) = 4029.56 (formula from memory).
    assert figures(answered("learning", way="mean"))["all of them"] == "4029.6"
    assert "10,000" in worked("learning", last="1000000").problems["last"]


@pytest.mark.outside("computed: Slack et al., p. 263")
def test_standard_time_names_its_convention() -> None:
    # Slack et al., p. 263: 12 min at 95 % and 15 % are 13.11 min; of the shift 13.41.
    assert "13.11 min" in answered("standard").sentences[0]
    assert answered("standard", on="shift").sentences[0].startswith("13.41 min")
