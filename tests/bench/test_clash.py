"""Two statements about one thing are held side by side before the wrong one is believed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench.clash import clash, ratio_watch, statements
from shopapp.bench.quantities import length

CALIPER = 0.0508  # mm: two readings of a caliper, each good to .001 in; common practice, no source


def test_a_clash_names_the_gap_in_both_units() -> None:
    found = clash(length("22 mm"), length("3/4 in"), CALIPER)
    assert found is not None
    assert found.words == "22 mm is .866 in; 3/4 in is .750 in: they differ by .116 in (2.95 mm). Which one is it?"
    assert found.gap_mm == pytest.approx(22 - 19.05)


def test_half_of_a_web_is_half_of_it() -> None:
    # Half of a web measured as 13 mm is 6.5 mm (.256 in), so "13 mm, a quarter inch" is asked about:
    # common practice, no source
    web, quarter = statements("13 mm, a quarter inch")
    found = clash(web, quarter, CALIPER)
    assert found is not None
    assert found.words.endswith("Which one is it? Half of 13 mm is 6.5 mm (.256 in).")
    assert clash(length("6.5 mm"), quarter, CALIPER) is not None


def test_what_the_instrument_explains_is_no_clash() -> None:
    assert clash(length("22.2 mm"), length("7/8 in"), CALIPER) is None
    assert clash(length("1 in"), length("25.4 mm"), 0) is None
    assert clash(length("22.2 mm"), length("7/8 in"), 0.02) is not None


def test_tolerances_that_meet_are_no_clash() -> None:
    assert clash(length("25 ±0.2 mm"), length("25.3 ±0.2 mm"), 0) is None
    assert clash(length("25 ±0.1 mm"), length("25.3 ±0.1 mm"), 0.05) is not None


def test_a_bare_number_is_said_with_the_unit_of_its_field() -> None:
    found = clash(length("22", "mm"), length(".750", "in"), CALIPER)
    assert found is not None
    assert found.words.startswith("22 mm is .866 in; .750 in: they differ by .116 in")


@given(st.integers(0, 10**6), st.integers(0, 10**6), st.floats(0, 10))
def test_a_clash_is_the_same_from_both_sides(a: int, b: int, plus_minus: float) -> None:
    one, other = length(f"{a / 10} mm"), length(f"{b / 10} mm")
    there, back = clash(one, other, plus_minus), clash(other, one, plus_minus)
    assert (there is None) == (back is None) == (abs(one.base - other.base) <= plus_minus)


@pytest.mark.parametrize(
    ("note", "said"),
    [
        ("22 mm, 3/4 in", ["22 mm", "3/4 in"]),
        ("22 mm and 3/4 in", ["22 mm", "3/4 in"]),
        ("22 mm - 3/4 in", ["22 mm", "3/4 in"]),
        ("13 mm, a quarter inch", ["13 mm", "a quarter inch"]),
        ("Web is 13 MM (A quarter inch left)", ["13 MM", "A quarter inch"]),
        ("turn 3 in the chuck, then 5-1/2 in", ["5-1/2 in"]),
        ("1.250 ±.005 in; bore 28 mm", ["1.250 ±.005 in", "28 mm"]),
        ("1/2-13 hole, 6'2\" long", ["6'2\""]),
        ('7 3/8" over the 2 bosses', ['7 3/8"']),
        ("half of 13 mm", ["13 mm"]),
        ("take 2 in each pass, then 3 in 4 cuts", []),
        ("2 in there, 5 in. deep", ["5 in."]),
        ("web 13mm,3/4in", ["13mm", "3/4in"]),
        ("1.250 +0/-2 in and 1'000 mm", []),
        ("6 ft 2 long, 22 mm", ["22 mm"]),
        ("two wheels, like before, 5 lb, 1,250 mm", []),
        ("", []),
    ],
)
def test_lengths_are_read_out_of_a_note(note: str, said: list[str]) -> None:
    assert [one.text for one in statements(note)] == said


@given(st.one_of(st.text(max_size=3000), st.text("0123456789 ,./-±'\"inmftahlfnd½", max_size=300)))
def test_any_note_gives_lengths_that_stand_in_it(note: str) -> None:
    for one in statements(note):
        assert one.text in note
        assert length(one.text).base == one.base


@pytest.mark.bench
def test_a_hostile_note_is_read_once(benchmark) -> None:
    assert benchmark(statements, "1 1/2 and a half of a hundred and 1-" * 200) == []


@pytest.mark.parametrize(
    ("now", "last", "says"),
    [
        (558.8, 22, "25.4 times"),
        (22, 558.8, "1/25.4"),
        (44, 22, "twice"),
        (11.1, 22, "half"),
        (220, 22, "10 times"),
        (2.2, 22, "1/10"),
        (264, 22, "12 times"),
        (22, 264, "1/12"),
        (2200, 22, "100 times"),
    ],
)
def test_a_suspicious_multiple_of_last_time_is_asked_about(now: float, last: float, says: str) -> None:
    question = ratio_watch(now, last)
    assert question is not None
    assert question.startswith(says)
    assert question.endswith("?")


@pytest.mark.parametrize(("now", "last"), [(22, 22), (22.5, 22), (33, 22), (0, 22), (22, 0), (66, 22)])
def test_an_honest_change_is_left_alone(now: float, last: float) -> None:
    assert ratio_watch(now, last) is None
