"""Scratch sums about sizes, against standards."""

import pytest

from tests.office.test_scratch import worked
from tests.office.test_scratch_cutting import answered, figures


def test_two_statements_that_cannot_both_be_so_are_asked_about() -> None:
    assert answered("clash").tone == "look"
    assert "Which one is it?" in answered("clash").sentences[0]
    assert answered("clash", b="55/64", measured="rule").tone == "agree"


def test_a_slip_of_the_unit_is_asked_about() -> None:
    assert answered("ratio").sentences == ("25.4 times last time's: millimetres?",)
    assert answered("ratio", now="1.732").sentences[0].startswith("Twice last time's")
    assert answered("ratio", now=".9").tone == "plain"


@pytest.mark.outside("from memory: ISO 2768-1:1989, Table 3; Tables 1 and 2 verified")
def test_general_tolerances_are_those_of_the_standard() -> None:
    # ISO 2768-1:1989, tables 1 to 3: 30 mm medium 0.2; corner 2 mm coarse 0.4; angle with a leg of 30 mm 30 minutes.
    assert figures(answered("tolerance"))["not stated"] == "± 0.200"
    assert figures(answered("tolerance", what="corner", size="2", grade="c"))["not stated"] == "± 0.400"
    assert figures(answered("tolerance", what="angle"))["not stated"] == "± 30′"
    assert "no general tolerance" in worked("tolerance", size="5000").refusal


@pytest.mark.outside("verified: ISO 286-1, Table 1")
def test_a_grade_is_that_of_the_standard() -> None:
    # ISO 286-1, table 1: 25 mm in IT7 is 0.021 mm; 30 h6 is 0.013 mm.
    assert figures(answered("grade"))["to"] == "25.021"
    shaft = figures(answered("grade", size="30", grade="6", lies="h"))
    assert (shaft["from"], shaft["to"]) == ("29.987", "30.000")


def test_a_measured_size_is_in_or_out_or_cannot_be_told() -> None:
    assert answered("limits").tone == "agree"
    assert answered("limits", measured="caliper").tone == "look"
    assert answered("limits", size="25.1").tone == "no"
    assert answered("limits", good=".02").tone == "look"
    assert answered("limits", low="").tone == "agree"
    assert "limit" in worked("limits", low="", high="").refusal


@pytest.mark.outside("verified: NIST SP 811, App. B")
def test_a_size_is_said_in_both_units() -> None:
    # 1 in = 25.4 mm, 1 lb = 453.59237 g: NIST SP 811, App. B.
    found = figures(answered("units"))
    assert found["length"].startswith("0.866 in · 22 mm")
    assert found["weight"] == "8.500 lb · 3.856 kg"
    assert list(figures(answered("units", mass=""))) == ["length"]
