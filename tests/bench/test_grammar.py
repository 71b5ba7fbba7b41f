"""Sizes, pairs of sizes and tolerances, before any unit is worth anything."""

from fractions import Fraction

import pytest

from shopapp.bench.amounts import Cursor
from shopapp.bench.errors import Asked, BenchError, Refused
from shopapp.bench.grammar import read, reading, size
from shopapp.bench.quantities import length
from shopapp.bench.tokens import tokens
from shopapp.bench.unitwords import LENGTH, MASS, MINUTES

F = Fraction


NOT_LENGTHS = [
    ("1/2-13", "in", Refused, "thread"),
    ("10-24", "in", Refused, "thread"),
    ("6-32", None, Refused, "thread"),
    ("1/4-20 UNC", "in", Refused, "thread"),
    ("3/8-16 in", "in", Refused, "thread"),
    ("1/4 NPT", "in", Refused, "thread"),
    ("M8", "mm", Refused, "thread"),
    ("M8x1.25", "mm", Refused, "thread"),
    ("#10", "in", Refused, "gauge"),
    ("No. 7", "in", Refused, "gauge"),
    ("1,250 mm", None, Asked, "1250, or 1.250"),
    ("5,625", "in", Asked, "5625, or 5.625"),
    ("5", None, Asked, "5 in or 5 mm"),
    ("1/2", None, Asked, "1/2 in"),
    ("2 tenths", "mm", Asked, "tenth"),
    ("25 mm ± 2 tenths", "in", Asked, "tenth"),
    ("2 tenths of a mm", "in", Asked, "tenth"),
    ("2 tenths in", "in", Asked, "tenth"),
    (".5 tenths", "in", Asked, "part of a tenth"),
    ("18 thousandths", "mm", Asked, "Thousandths"),
    ("5 hundredths", "in", Asked, "Hundredths"),
    (".005 thou", "in", Asked, "Thou, or inches"),
    ("1.250 ±.005 thou", "in", Asked, "Thou, or inches"),
    ("5 mil", "in", Asked, "thou or mm"),
    ("mil", "in", Refused, "without a number"),
    ("a quarter", "in", Asked, "part of what"),
    ("half", "mm", Asked, "part of what"),
    ("6 ft 2", None, Asked, "Type in after it"),
    ("22 mm, 3/4 in", None, Asked, "Two sizes"),
    ("22 mm 3/4 in", None, Asked, "Two sizes"),
    ("1 ft 30 mm", None, Asked, "Two sizes"),
    ("1 250 mm", None, Refused, "side by side"),
    ("5.5 1/2", "in", Refused, "side by side"),
    ("0.0.1", "in", Refused, "points"),
    ("1.250,5", "mm", Refused, "commas"),
    ("1,25,0", "mm", Refused, "commas"),
    ("nan", "in", Refused, "plain figures"),
    ("inf mm", "in", Refused, "plain figures"),
    ("1e400", "in", Refused, "plain figures"),
    ("1e3 mm", None, Refused, "plain figures"),
    ("10**9**9", "in", Refused, "No sums"),
    ("(5)", "in", Refused, "No sums"),
    ("5*2", "in", Refused, "No sums"),
    ("-5", "in", Refused, "Below zero"),
    ("−5 mm", None, Refused, "Below zero"),
    ("5 lb", "in", Refused, "weight"),
    ("5 min", "in", Refused, "time"),
    ("5 furlongs", "in", Refused, "in, mm, ft, m or thou"),
    ("5 9/8", "in", Refused, "one or more"),
    ("1/0", "in", Refused, "divided by 0"),
    ("3/8/2", "in", Refused, "fraction"),
    ("1.5/2", "in", Refused, "whole numbers"),
    ("3/1.5", "in", Refused, "fraction"),
    ("6'14\"", "in", Refused, "under 12"),
    ("6.5' 2\"", "in", Refused, "whole number"),
    ("3ft.2in", "in", Asked, "full stop"),
    ("dia.5", "in", Asked, "full stop"),
    ("1'000", "mm", Asked, "thousands"),
    ("1'008\"", "in", Asked, "thousands"),
    ("a", "in", Refused, "alone"),
    ("6 half in", "in", Asked, "6 halves"),
    ("1.250 +0/-2", "in", Asked, "2 thou"),
    ("1.250 ±5", "in", Asked, "5 thou"),
    ("1-1/4 ±five", "in", Asked, "5 thou"),
    ("1.250 ±.5", "in", Asked, "much beside"),
    ("25 ±5", "mm", Asked, "much beside"),
    ("1.250 ±2 in", None, Refused, "below zero"),
    ("25 +0/-26 mm", None, Refused, "below zero"),
    ("1.250 +.001/-2 thou", "in", Asked, "the other side"),
    ("25 ±0.1 mm", "in", Asked, "Type its unit after it too"),
    ("25 ±.001 in", "mm", Asked, "Type its unit after it too"),
    ("1-1/4 ±0.1 mm", None, Asked, "fraction of a mm"),
    ("1.250 +.005", "in", Refused, "two sides"),
    ("1.250 ±", "in", Refused, "±"),
    ("2x3", "in", Refused, "One size"),
    ("R2.5", "in", Refused, "diameter"),
    ("5 mm in", None, Refused, "one unit"),
    ("5 mm²", None, Refused, "“²”"),
    ("٥ mm", None, Refused, "cannot be read"),
    ("\x00", "in", Refused, "U+0000"),
    ("", "in", Refused, "Nothing stands here"),
    (" \t ", "in", Refused, "Nothing stands here"),
    ("1234567890123", "mm", Refused, "figures"),
    ("100.001 m", None, Refused, "100 m"),
    ("9" * 61, "mm", Refused, "60 characters"),
    ("5" + " " * 70 + "mm", "mm", Refused, "60 characters"),
]


def parts(text: str, kind=LENGTH) -> list[tuple[F, str | None]]:
    return [(part.value, part.unit) for part in read(text, kind).sizes]


def test_a_size_keeps_the_word_of_its_unit() -> None:
    assert parts("15 thou") == [(F(15), "thou")]
    assert parts("5") == [(F(5), None)]
    assert parts("a tenth and a half") == [(F(3, 2), "tenth")]


def test_a_large_and_a_small_size_stand_side_by_side() -> None:
    assert parts("6'2\"") == [(F(6), "ft"), (F(2), "in")]
    assert parts("8 lb and 8 oz", MASS) == [(F(8), "lb"), (F(8), "oz")]
    assert parts("1 h 30", MINUTES) == [(F(1), "h"), (F(30), "min")]


def test_a_tolerance_has_an_upper_and_a_lower_side() -> None:
    found = read("2.500 -.002/+.001", LENGTH)
    assert [side and side.value for side in (found.plus, found.minus)] == [F(1, 1000), F(2, 1000)]


def test_a_half_said_after_one_size_does_not_swallow_the_next_size() -> None:
    cursor = Cursor(tokens("13 mm and a quarter inch"))
    assert size(cursor, LENGTH).value == 13
    assert cursor.text() == "and"


def test_reading_stops_where_the_size_ends() -> None:
    cursor = Cursor(tokens("6 ft 2 in deep"))
    assert len(reading(cursor, LENGTH).sizes) == 2
    assert cursor.text() == "deep"
    assert reading(cursor, LENGTH) is None


def test_the_whole_of_a_field_is_read_or_nothing_is() -> None:
    with pytest.raises(Refused, match="deep"):
        read("6 ft 2 in deep", LENGTH)
    with pytest.raises(Asked, match="Two sizes"):
        read("5 mm, 6 mm", LENGTH)


@pytest.mark.parametrize(("text", "unit", "kind", "says"), NOT_LENGTHS)
def test_what_is_no_length_says_what_to_type(text: str, unit: str | None, kind: type[BenchError], says: str) -> None:
    with pytest.raises(kind) as caught:
        length(text, unit)
    assert says in str(caught.value)
