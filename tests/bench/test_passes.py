"""A take is a size, a part, or what must stay; a stop leaves what it was backed off less what the last cut adds."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench.errors import Asked, BenchError, Impossible, Refused
from shopapp.bench.passes import Take, is_part, stop_clearance, take
from tests.bench.bodies import INCH

WEB = 0.65 * INCH


def test_a_stop_backed_off_fifteen_and_a_cut_five_deeper_leave_ten() -> None:
    # Common practice, no source: .015 backed off, .005 deeper at the last cut, .010 left.
    assert stop_clearance(0.015 * INCH, 0.005 * INCH) == pytest.approx(0.010 * INCH)


def test_a_last_cut_deeper_than_the_back_off_leaves_less_than_nothing() -> None:
    assert stop_clearance(0.1, 0.3) == pytest.approx(-0.2)


@pytest.mark.parametrize(("back_off", "extra"), [(-1, 0), (0, -1)])
def test_a_stop_has_no_sizes_under_nothing(back_off: float, extra: float) -> None:
    with pytest.raises(Impossible):
        stop_clearance(back_off, extra)


def test_half_of_thirteen_millimetres_is_six_and_a_half() -> None:
    # Common practice, no source: 6.5 mm, .256 in.
    assert take("half", 13) == Take(6.5, 6.5, 0.5)
    assert take("half", 13).take / INCH == pytest.approx(0.256, abs=0.0005)


@pytest.mark.parametrize(
    ("text", "unit", "taken"),
    [
        (".300", "in", 0.3 * INCH), ("0.300 in", None, 0.3 * INCH), ("8 mm", "in", 8), ("8", "mm", 8),
        ("half", None, WEB / 2), ("Half of it", None, WEB / 2), ("a third", None, WEB / 3), ("1/3", None, WEB / 3),
        ("2/3 of the web", None, 2 * WEB / 3), ("three quarters", None, WEB * 0.75), ("1/4 of it", "in", WEB / 4),
        ("40 %", None, WEB * 0.4), ("12.5%", None, WEB / 8), ("1/4 in", "mm", INCH / 4),
        ("leave .350", "in", 0.3 * INCH), ("leave 8.89 mm", None, 0.3 * INCH), ("leave half", None, WEB / 2),
        ("⅓", "in", WEB / 3), ("½ of it", "in", WEB / 2), ("1/3 of web", "in", WEB / 3),
        ("half the web", None, WEB / 2), ("half an inch", "mm", INCH / 2), ("leave a third", None, 2 * WEB / 3),
        ("Leave  just .350 ", "in", 0.3 * INCH),
    ],
)
def test_a_take_is_read_as_it_is_said(text: str, unit: str | None, taken: float) -> None:
    found = take(text, WEB, unit)
    assert found.take == pytest.approx(taken)
    assert found.take + found.left == pytest.approx(WEB)
    assert found.part == pytest.approx(taken / WEB)


@pytest.mark.parametrize("text", ["1/2", "1/4", "leave 3/8", "½", "leave ¼"])
def test_a_fraction_that_is_a_size_too_is_asked_about(text: str) -> None:
    with pytest.raises(Asked, match=r"of the web, or .* in"):
        take(text, WEB, "in")


@pytest.mark.parametrize("text", [".700", "leave .700", "120 %", "4/3"])
def test_more_than_there_is_is_refused(text: str) -> None:
    with pytest.raises(Impossible, match="more than there is"):
        take(text, WEB, "in")


def test_an_ask_offers_the_unit_of_the_field() -> None:
    with pytest.raises(Asked, match="1/2 of the web, or 1/2 mm"):
        take("½", 13, "mm")


@pytest.mark.parametrize(
    ("text", "bare", "measured"),
    [
        ("half", True, True), ("1/3", True, True), ("⅔", True, True), ("40 %", True, True), ("leave .350", True, True),
        ("1/2", False, True), ("½", False, True), (".300", False, False), ("8 mm", False, False),
        ("1-1/4", False, False),
        ("half an inch", False, False), ("3 of it", True, True), ("", False, False), ("1/0", False, False),
    ],
)  # fmt: skip
def test_a_part_is_told_from_a_size(text: str, bare: bool, measured: bool) -> None:
    assert (is_part(text, False), is_part(text, True)) == (bare, measured)


def test_a_web_not_measured_yet_is_refused() -> None:
    with pytest.raises(Impossible, match="Measure the web"):
        take("half", 0)


@pytest.mark.parametrize("text", ["", "leave", "lots", "1/0", ".3 of it"])
def test_what_cannot_be_read_is_refused(text: str) -> None:
    with pytest.raises(Refused):
        take(text, WEB, "in")


@given(st.text(max_size=30))
def test_any_text_is_a_take_within_the_web_or_refused(text: str) -> None:
    try:
        found = take(text, WEB, "in")
    except BenchError:
        return
    assert 0 <= found.take <= WEB * (1 + 1e-9)
    assert found.take + found.left == pytest.approx(WEB)
