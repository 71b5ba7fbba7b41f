"""The price is in the set-ups; every line stands for itself and together they are the net."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench.errors import Impossible
from shopapp.bench.money import line, tax
from shopapp.bench.pricing import Extra, Setting, price, setting_minutes

F = Fraction

SIDE_A, SIDE_B = Setting("side A", 25, 10, 8), Setting("side B", 20, 10, 6)
RATE = 8600

minutes = st.integers(0, 500)
settings = st.lists(st.builds(Setting, st.just("side"), minutes, minutes, minutes), max_size=4)
extras = st.lists(
    st.builds(Extra, st.just("bar"), st.fractions(0, 100, max_denominator=100), st.integers(0, 10**6), st.booleans()),
    max_size=4,
)


def kinds(bill) -> list[str]:
    return [one.kind for one in bill.lines]


# Minutes by chuck setting, first piece and each further piece: common practice, no source.
def test_a_further_piece_adds_only_its_own_minutes() -> None:
    assert setting_minutes(1, SIDE_A) == 25 + 8
    assert setting_minutes(2, SIDE_A) == 25 + 10 + 16
    three, two = (price(pieces, [SIDE_A, SIDE_B], RATE).minutes for pieces in (3, 2))
    assert three - two == 10 + 8 + 10 + 6


def test_bench_time_and_rush_are_lines_of_their_own() -> None:
    # The demo's winch drum plate: 75 min at $86 is $107.50, rush 35 % is $37.63, with 6.25 % tax $154.20
    bill = price(1, [Setting("face", 45, 0, 30)], RATE, rush=F(35, 100))
    assert [(one.text, one.cents, one.kind) for one in bill.lines] == [
        ("bench time 75 min at $86.00/h", 10750, "bench"),
        ("rush 35 % of bench time", 3763, "rush"),
    ]
    assert bill.net + tax(bill.taxable, F(1, 16)) == 15420


def test_an_agreed_price_stands_in_place_of_the_bench_time_and_says_so() -> None:
    bill = price(4, [SIDE_A], RATE, minimum_cents=90000, agreed_each_cents=6200, agreed_words="agreed price from 4 up")
    assert [(one.text, one.quantity, one.cents) for one in bill.lines] == [("agreed price from 4 up", 4, 24800)]
    assert bill.minutes == setting_minutes(4, SIDE_A)
    rushed = price(1, [SIDE_A], RATE, agreed_each_cents=10000, rush=F(1, 2))
    assert rushed.lines[1].text == "rush 50 % of the agreed price"


def test_the_minimum_is_topped_up_with_a_line_of_its_own() -> None:
    bill = price(1, [Setting("face", 10, 0, 5)], RATE, minimum_cents=4500)
    assert kinds(bill) == ["bench", "minimum"]
    assert bill.net == 4500
    assert bill.lines[1].text == "to the minimum charge of $45.00"


def test_extras_count_towards_the_minimum_and_keep_their_tax() -> None:
    bought = Extra("bar, bronze", F(5, 2), 1850, taxable=False)
    bill = price(1, [SIDE_A], RATE, extras=[bought], minimum_cents=4500)
    assert kinds(bill) == ["bench", "extra"]
    assert bill.lines[1].cents == 4625
    assert bill.taxable == bill.net - 4625


def test_an_exempt_customer_pays_the_same_net_and_no_tax() -> None:
    taxed, exempt = (price(2, [SIDE_A], RATE, rush=F(1, 10), exempt=out) for out in (False, True))
    assert taxed.net == exempt.net == taxed.taxable
    assert exempt.taxable == 0


@given(
    st.integers(1, 50), settings, st.integers(0, 50000), extras, st.integers(0, 10**6),
    st.one_of(st.none(), st.fractions(0, 2, max_denominator=1000)), st.one_of(st.none(), st.integers(0, 10**6)),
    st.booleans(),
)  # fmt: skip
def test_lines_sum_to_the_net(pieces, steps, rate, more, least, rush, agreed, exempt) -> None:
    bill = price(pieces, steps, rate, more, least, rush, agreed, exempt=exempt)
    assert sum(one.cents for one in bill.lines) == bill.net
    assert sum(one.cents for one in bill.lines if one.taxable) == bill.taxable
    assert all(one.cents == line(one.quantity, one.unit_cents) for one in bill.lines)
    assert agreed is not None or bill.net >= least
    assert bill.minutes == sum(setting_minutes(pieces, step) for step in steps)


@pytest.mark.parametrize(
    ("told", "says"),
    [
        ({"pieces": 0}, "one piece or more"),
        ({"settings": [Setting("side A", -1, 0, 0)]}, "side A"),
        ({"rate_cents_per_hour": -1}, "below zero"),
        ({"agreed_each_cents": -1}, "below zero"),
        ({"rush": F(35)}, "500 %"),
    ],
)
def test_what_cannot_be_priced_says_what_to_change(told: dict, says: str) -> None:
    usual = {"pieces": 1, "settings": [SIDE_A], "rate_cents_per_hour": RATE}
    with pytest.raises(Impossible, match=says):
        price(**(usual | told))
