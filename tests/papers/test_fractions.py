"""Fractions as letters of their own: Unicode 15.0, superscripts and subscripts (U+2070 on) and U+2044, from memory."""

import unicodedata

import pytest

from shopapp.papers.fractions import glyphs


@pytest.mark.parametrize(
    ("typed", "written"),
    [
        ("8-7/8", "8⁷⁄₈"), ("1/2", "¹⁄₂"), ("9-1/2 → 8-7/8, to 1.0505", "9¹⁄₂ → 8⁷⁄₈, to 1.0505"),
        ("Ø1-3/4", "Ø1³⁄₄"),
        ("bevels 1/32.", "bevels ¹⁄₃₂."), ("(63/64 in)", "(⁶³⁄₆₄ in)"), ("127/128", "¹²⁷⁄₁₂₈"),
        ("2 1/2 in", "2 ¹⁄₂ in"),
    ],
)  # fmt: skip
def test_a_fraction_of_the_rule_is_written_as_one(typed: str, written: str) -> None:
    assert glyphs(typed) == written


# UAX #15: the compatibility form of each of these letters is the digit it stands for; here by the language's library.
@pytest.mark.outside("verified: unicodedata, Unicode Standard Annex 15")
@pytest.mark.parametrize("bottom", [2, 4, 8, 16, 32, 64, 128])
def test_each_letter_stands_for_its_own_digit(bottom: int) -> None:
    for top in range(1, bottom, 2):
        assert unicodedata.normalize("NFKC", glyphs(f"{top}/{bottom}")) == f"{top}⁄{bottom}"


@pytest.mark.parametrize(
    "words",
    ["5/2", "2/4", "3/8/2031", "1/3", "24/7", "1/2-13 UNC", "PO-88/2", "a1/2", "http://x/1/2", "$86.00/h", "1/2.5",
     "0/8", "12.1/2", "1/2/4", "B1/4"],
)  # fmt: skip
def test_a_day_a_thread_a_number_stay_as_they_are(words: str) -> None:
    assert glyphs(words) == words


def test_a_fraction_may_be_put_into_something() -> None:
    assert glyphs("to 8-7/8", "<b>{}</b>") == "to 8<b>⁷⁄₈</b>"
