"""Amounts in figures and in words."""

from fractions import Fraction

import pytest

from shopapp.bench.amounts import Cursor, amount, figures
from shopapp.bench.errors import Asked, Refused
from shopapp.bench.tokens import tokens

F = Fraction


@pytest.mark.parametrize(
    ("text", "value", "form", "left"),
    [
        ("5", F(5), "whole", ""),
        ("5.625 x", F(45, 8), "decimal", "x"),
        ("3/8", F(3, 8), "fraction", ""),
        ("5 5/8 in", F(45, 8), "fraction", "in"),
        ("5-5/8", F(45, 8), "fraction", ""),
        ("5 3 4", F(5), "whole", "3"),
        ("three quarters of an inch", F(3, 4), "spoken", "inch"),
        ("half a thou", F(1, 2), "spoken", "thou"),
        ("thirty-one sixty-fourths", F(31, 64), "spoken", ""),
        ("thirty seconds", F(1, 32), "spoken", ""),
        ("nine hundred ninety-five", F(995), "spoken", ""),
        ("7 eighths", F(7, 8), "spoken", ""),
    ],
)
def test_an_amount_is_exact_and_stops_where_it_ends(text: str, value: F, form: str, left: str) -> None:
    cursor = Cursor(tokens(text))
    assert amount(cursor) == (value, form)
    assert cursor.text() == left


@pytest.mark.parametrize("text", ["", "inch", "+", "second"])
def test_what_is_no_amount_is_none(text: str) -> None:
    assert amount(Cursor(tokens(text))) is None


@pytest.mark.parametrize("text", ["1/2-13", "10-24", "5-5/8-11", "1/0", "5 9/8", "1/2/3"])
def test_threads_and_broken_fractions_are_refused(text: str) -> None:
    with pytest.raises(Refused):
        amount(Cursor(tokens(text)))


def test_a_comma_groups_thousands_only_when_a_point_or_another_comma_says_so() -> None:
    assert figures("1,250.5")[0] == F("1250.5")
    assert figures("1,250,000")[0] == 1_250_000
    assert figures("12,75")[0] == F("12.75")
    with pytest.raises(Asked, match=r"1250, or 1\.250"):
        figures("1,250")
    for text in ("1,25.5", "1,2,3", "1.2.3", "1234567890123"):
        with pytest.raises(Refused):
            figures(text)
