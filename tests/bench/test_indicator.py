"""An indicator's figures are in its own unit; figures that look like inches are asked about."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench.errors import Asked, BenchError
from shopapp.bench.indicator import echo, reading


# 1 thou = 0.0254 mm, a tenth = .0001 in = 0.00254 mm: NIST SP 811, B.8, and common practice, no source.
@pytest.mark.parametrize(
    ("text", "reads", "mm"),
    [
        ("20", "thou", 0.508), ("-16", "thou", -0.4064), ("−16", "tenth", -0.04064), ("+3", "thou", 0.0762),
        ("- 2.5", "thou", -0.0635), ("0", "mm", 0), (".000", "tenth", 0), (".1", "thou", 0.00254),
        (".5", "tenth", 0.00127), ("-0,02", "mm", -0.02), (".001", "mm", 0.001), (".0018 in", "thou", 0.04572),
        ("-.0018 in", "mm", -0.04572), ("0.0185 mm", "mm", 0.0185), ("1 thou", "tenth", 0.0254),
    ],
)  # fmt: skip
def test_a_reading_is_in_the_unit_of_the_indicator_unless_it_says_another(text: str, reads: str, mm: float) -> None:
    assert reading(text, reads).amount == pytest.approx(mm, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "reads", "meant"),
    [
        (".0018", "thou", "1.8"), ("-.0002", "thou", "0.2"), (".0018", "tenth", "18"), (".018", "tenth", "180"),
        (".0018", "mm", "0.046"), ("0.0185", "mm", "0.47"), ("0,0002", "mm", "0.005"), (".02", "thou", "20"),
    ],
)  # fmt: skip
def test_a_figure_that_looks_like_inches_is_asked_about(text: str, reads: str, meant: str) -> None:
    with pytest.raises(Asked, match=f"in inches, type {meant}"):
        reading(text, reads)


@pytest.mark.parametrize("text", ["", "-", "--2", "high", "5 lb"])
def test_what_is_no_reading_is_sent_back(text: str) -> None:
    with pytest.raises(BenchError):
        reading(text, "thou")


@pytest.mark.parametrize(
    ("text", "reads", "said"),
    [
        ("-16", "thou", "-.0160 in · -0.406 mm"), ("2", "tenth", "+.0002 in · +0.005 mm"),
        ("1.5", "tenth", "+.00015 in · +0.004 mm"), ("0", "thou", ".0000 in · 0.000 mm"),
        ("-.02", "mm", "-.00079 in · -0.020 mm"),
    ],
)  # fmt: skip
def test_a_reading_is_said_back_in_both_units(text: str, reads: str, said: str) -> None:
    assert echo(reading(text, reads)) == said


@given(st.integers(-9999, 9999))
def test_thou_and_tenths_are_the_same_indicator(tenths: int) -> None:
    sign, size = ("-" if tenths < 0 else ""), abs(tenths)
    assert reading(f"{tenths}", "tenth").base == reading(f"{sign}{size / 10:.1f}", "thou").base
