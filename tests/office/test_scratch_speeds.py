"""Scratch sums about speed, time, power and finish, against figures from outside."""

import pytest

from tests.office.test_scratch import worked
from tests.office.test_scratch_cutting import answered, figures


@pytest.mark.outside("computed: 12 V / (pi D)")
def test_a_spindle_speed_is_twelve_v_over_pi_d() -> None:
    # 12 x 100 / (pi x .5) = 763.9: the formula of Machinery's Handbook, from memory.
    found = figures(answered("spindle"))
    assert found["wanted"] == "764"
    assert found["set"] == "460"
    assert figures(answered("spindle", list=""))["set"] == "764"


def test_the_chuck_holds_a_speed_back_and_a_limit_that_was_not_typed_is_told() -> None:
    held = answered("spindle", chuck="300")
    assert figures(held)["set"] == "200"
    assert held.tone == "look"
    assert not any("No limit" in words for words in held.warnings)
    assert any("No limit of the chuck" in words for words in answered("spindle", chuck="").warnings)
    assert "use another chuck" in worked("spindle", chuck="50").refusal


def test_a_cutting_speed_is_no_number_of_revolutions() -> None:
    assert "ft/min" in worked("spindle", speed="100 rpm").problems["speed"]
    assert "rpm" in worked("spindle", chuck="100 m/min").problems["chuck"]
    assert "list" in worked("spindle", list=" ".join(["70"] * 41)).problems


def test_every_source_of_a_speed_stands_in_its_own_row() -> None:
    answer = answered("recommended")
    assert len({row[0] for row in answer.tables[0].rows}) == 4
    assert "They differ" in answer.sentences[0]
    own = answered("recommended", low="60", high="70")
    assert own.tables[0].rows[0][:2] == ("the shop's own, as typed", "60 to 70 ft/min")
    assert figures(own)["from"] == "60"
    assert "both ends" in worked("recommended", low="60").refusal


@pytest.mark.outside("computed: a tool maker's catalogue of 2021-2022, p. 1069")
def test_times_are_those_of_a_catalogue() -> None:
    # A tool maker's catalogue of 2021, p. 1069: 100 mm at 0.2 mm and 500 rpm are 1 min.
    assert figures(answered("turning"))["in the cut"] == "1.00"
    # The same page: 100 mm at 0.2 mm, 150 m/min, mean diameter 100 mm: 62.8 s.
    told = {"how": "speed", "speed": "150", "before": "104", "after": "96"}
    assert figures(answered("turning", **told))["that is"] == "63"
    # The same page: a face from 200 to 40 mm at 0.2 mm and 159.15 rpm: 150.8 s.
    fixed = {"how": "rpm", "rpm": "159.15", "inner": "40"}
    assert figures(answered("facing", **fixed))["that is"] == "151"


def test_a_cap_that_bites_says_from_which_diameter() -> None:
    assert figures(answered("facing"))["cap bites under Ø"] == "39.79"
    assert "cap bites under Ø" not in figures(answered("facing", cap=""))


def test_the_way_the_spindle_runs_decides_what_is_asked() -> None:
    names = [one.name for group in worked("turning", how="speed").groups for one in group.fields]
    assert "speed" in names
    assert "rpm" not in names


def test_power_over_the_motor_is_told_in_the_units_of_the_shop() -> None:
    assert answered("power").tone == "no"
    assert answered("power", rating="2").tone == "plain"
    assert figures(answered("power"))["asks of the motor"] == "1.58"
    inches = {"unit": "in", "depth": "2 mm", "feed": "0.25 mm", "speed": "100 m/min", "rating": "2"}
    assert figures(answered("power", **inches))["asks of the motor"] == "2.12"
    assert answered("power", **inches).tone == "no"
    assert any("Another edition" in words for words in answered("power", group="37").sentences)


@pytest.mark.outside("computed: a tool maker's catalogue of 2021-2022, p. 952")
def test_roughness_is_the_feed_squared_over_eight_radii() -> None:
    # A tool maker's catalogue of 2021, p. 952: 0.2 mm and a nose of 0.8 mm leave 6.25 um.
    found = figures(answered("roughness"))
    assert found["depth"] == "6.3"
    assert found["feed for the Ra wanted"] == "0.200"
    assert answered("roughness", end="1").tone == "look"
