"""Residual unbalance to ISO 21940-11, and what a bore off its centre makes of it."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench.errors import Impossible, Refused
from shopapp.bench.unbalance import (
    GRADES,
    eccentricity_allowed,
    grade,
    off_centre,
    planes,
    rebore_unbalance,
    unbalance_allowed,
    unbalance_force,
)


@pytest.mark.outside("verified: ISO 21940-11:2016, Table 1, a copy")
def test_the_grades_are_those_of_the_table() -> None:
    # ISO 21940-11:2016, Table 1, verified in a balancer maker's copy of it
    assert [row.g for row in GRADES.values()] == [4000, 1600, 630, 250, 100, 40, 16, 6.3, 2.5, 1, 0.4]


@pytest.mark.outside("verified: ISO 21940-11:2016, Table 1, and ISO 1940-1, copies")
@pytest.mark.parametrize(
    ("name", "turns_at_it"),
    [
        # The same table, verified
        ("G 40", "car wheels"), ("G 40", "drive shafts"), ("G 16", "crushing"), ("G 16", "cardan"),
        ("G 6.3", "machine tools"), ("G 6.3", "fans"), ("G 6.3", "pumps"), ("G 6.3", "gears"),
        ("G 2.5", "turbines"), ("G 2.5", "compressors"), ("G 1", "grinding"), ("G 0.4", "gyroscopes"),
        # ISO 1940-1 as copied by a maker of balancing machines, verified: fly-wheels stand under G 6.3
        ("G 6.3", "flywheels"),
    ],
)
def test_a_grade_names_what_turns_at_it(name: str, turns_at_it: str) -> None:
    assert turns_at_it in grade(name).words


@pytest.mark.outside("verified: a tool maker's catalogue, p. 1089: 12 g mm")
def test_a_tool_of_2_kg_at_10_000_rpm_may_keep_12_gram_millimetres() -> None:
    # WIDIA catalogue, p. 1089, verified: 2 kg, 10 000 rpm, G 6.3: 12 g·mm, e_per 6 g·mm/kg
    assert round(unbalance_allowed(6.3, 10_000, 2000)) == 12
    assert eccentricity_allowed(6.3, 10_000) == pytest.approx(6, abs=0.02)


@pytest.mark.outside("computed: ISO 21940-11")
@pytest.mark.parametrize(
    ("g", "turns", "kg", "allowed"),
    # Computed from the published formula; 9549 G m/n is its rounded form
    [(6.3, 3000, 10, 200.535), (2.5, 1500, 25, 397.887), (16, 600, 8, 2037.18)],
)
def test_the_exact_factor_is_60_000_over_2_pi(g: float, turns: float, kg: float, allowed: float) -> None:
    found = unbalance_allowed(g, turns, kg * 1000)
    assert found == pytest.approx(allowed, rel=3e-6)
    assert found == pytest.approx(9549 * g * kg / turns, rel=4e-5)
    assert found == pytest.approx(9549.2966 * g * kg / turns, rel=1e-8)


@pytest.mark.outside("computed: ISO 21940-11, its rounded factor")
@pytest.mark.parametrize(
    ("g", "turns", "kg", "table"),
    # Computed with the rounded factor 9549 of ISO 21940-11, as balancers' tables are
    [(6.3, 10_000, 2, 12.0317), (6.3, 3000, 10, 200.529), (2.5, 1500, 25, 397.875), (16, 600, 8, 2037.12)],
)
def test_tables_with_the_rounded_factor_are_4_in_100_000_lower(g: float, turns: float, kg: float, table: float) -> None:
    assert unbalance_allowed(g, turns, kg * 1000) * 9549 / 9549.2966 == pytest.approx(table, abs=0.0015)


@pytest.mark.outside("computed: ISO 21940-11")
def test_ten_kilograms_at_3000_rpm() -> None:
    # Computed: e_per 20.0535 um; half in each of two planes 100.26 (half and half: a balancer's calculator, verified)
    assert eccentricity_allowed(6.3, 3000) == pytest.approx(20.0535, abs=5e-5)
    assert planes(unbalance_allowed(6.3, 3000, 10_000), 40, 40)[0] == pytest.approx(100.26, abs=0.01)
    # Computed: the force of it is 19.79 N
    assert unbalance_force(unbalance_allowed(6.3, 3000, 10_000), 3000) == pytest.approx(19.79, abs=0.005)


@pytest.mark.outside("computed: ISO 21940-11")
def test_a_bore_5_hundredths_off_is_two_and_a_half_times_the_limit() -> None:
    # Computed: 10 kg, 0.05 mm: 500 g·mm, 2.5 times G 6.3 at 3000 rpm
    found = off_centre(10_000, 0.05, "G 6.3", 3000)
    assert found.made == pytest.approx(500, rel=1e-12)
    assert found.ratio == pytest.approx(2.5, abs=0.01)
    assert found.over
    assert "2.5 times what G 6.3 allows: have the part balanced" in found.sentences[1]


def test_a_bore_on_its_centre_makes_none() -> None:
    found = off_centre(10_000, 0, "6.3", 3000)
    assert (found.made, found.ratio, found.over) == (0, 0, False)
    assert "on top" in found.sentences[1]


def test_at_the_limit_itself_it_is_not_over() -> None:
    edge = eccentricity_allowed(6.3, 3000) / 1000
    assert not off_centre(10_000, edge * (1 - 1e-9), "G 6.3", 3000).over
    assert off_centre(10_000, edge * (1 + 1e-9), "G 6.3", 3000).over


@pytest.mark.parametrize("typed", ["G 6.3", "g6.3", " 6.3 ", "G6.3"])
def test_a_grade_is_read_as_people_write_it(typed: str) -> None:
    assert grade(typed).g == 6.3


some = st.floats(0.001, 10_000)


@given(some, some, some)
def test_the_two_planes_have_the_whole_and_the_levers_balance(unbalance: float, to_a: float, to_b: float) -> None:
    a, b = planes(unbalance, to_a, to_b)
    assert a + b == pytest.approx(unbalance, rel=1e-12)
    assert a * to_a == pytest.approx(b * to_b, rel=1e-9)


@given(st.floats(0.4, 4000), st.floats(1, 20_000), st.floats(1, 1e6))
def test_the_speed_of_the_centre_of_mass_is_the_grade(g: float, turns: float, mass: float) -> None:
    off = eccentricity_allowed(g, turns) / 1000
    assert off * math.tau * turns / 60 == pytest.approx(g, rel=1e-12)
    assert rebore_unbalance(mass, off) == pytest.approx(unbalance_allowed(g, turns, mass), rel=1e-12)


@given(st.floats(1, 1e6), st.floats(0, 10), st.sampled_from(sorted(GRADES)), st.floats(1, 20_000))
def test_every_answer_is_information_only(mass: float, off: float, name: str, turns: float) -> None:
    said = " ".join(off_centre(mass, off, name, turns).sentences)
    assert "no speed rating given" in said
    assert "licensed engineer" in said
    assert "safe" not in said.lower()


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: off_centre(0, 0.1, "G 1", 100), "Type the mass"),
        (lambda: off_centre(100, -0.1, "G 1", 100), "half of what the indicator swings"),
        (lambda: off_centre(100, 0.1, "G 1", 0), "Type the revolutions"),
        (lambda: planes(100, 0, 5), "Type the distance"),
    ],
)
def test_what_cannot_be_says_what_to_type(call, says: str) -> None:
    with pytest.raises(Impossible, match=says):
        call()


def test_a_grade_that_is_none_names_those_that_are() -> None:
    with pytest.raises(Refused, match=r"G 6\.3"):
        grade("G 7")
