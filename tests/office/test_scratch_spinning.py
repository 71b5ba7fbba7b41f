"""Scratch sums about what turns in use: information only, loud over the classical limit."""

import pytest

from tests.office.test_scratch_cutting import answered, figures


@pytest.mark.outside("computed: Mechanical Engineer's Data Handbook, p. 15")
def test_a_rim_runs_pi_d_n() -> None:
    # pi x 225.425 mm x 1800 / 60000 = 21.25 m/s (elementary); a thin ring has rho v2: Data Handbook, p. 15.
    found = figures(answered("spin"))
    assert found["rim speed"] == "21.2"
    assert found["thin ring"] == "3.20"


def test_over_the_classical_limit_it_says_so_first_and_loudly() -> None:
    slow, fast = answered("spin"), answered("spin", turns="2600")
    assert slow.tone == "plain"
    assert any("100 ft/s" in words for words in slow.warnings)
    assert fast.tone == "no"
    assert fast.sentences[0].startswith("TOO FAST FOR THE CLASSICAL LIMIT")
    assert "A casting that bursts kills." in fast.sentences[0]


def test_steel_is_not_measured_by_the_limit_of_cast_iron() -> None:
    answer = answered("spin", material="carbon_steel", turns="2600")
    assert answer.tone == "plain"
    assert not any("100 ft/s" in words for words in answer.warnings)


@pytest.mark.outside("computed: ISO 21940-11, its rounded factor")
def test_a_grade_allows_what_the_standard_allows() -> None:
    # ISO 21940-11: G 6.3 at 3000 rpm, 10 kg: 9549 x 6.3 x 10 / 3000 = 200.5 g mm.
    answer = answered("unbalance", off="")
    assert figures(answer)["may stay"] == "201"
    assert "the new bore leaves" not in figures(answer)


def test_a_bore_off_centre_is_held_against_the_grade() -> None:
    # U = m e: 10 kg x 0.05 mm (elementary).
    assert figures(answered("unbalance"))["the new bore leaves"] == "500"
    assert answered("unbalance").tone == "no"
    assert answered("unbalance", off="0.001").tone == "plain"
