"""A scale says no more than its divisions: snapping, four verdicts, twins."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench.errors import Asked, Impossible, Refused
from shopapp.bench.weighing import (
    can_judge,
    can_judge_by,
    difference_uncertainty,
    normalised_error,
    reading_uncertainty,
    shows,
    snap,
    twins,
    verdict,
    verdict_by,
)
from tests.bench.bodies import POUND

HALF, FIFTH = POUND / 2, POUND / 5
CAST = Fraction(5, 100)


@pytest.mark.parametrize(
    ("value", "division", "says"),
    [
        ("26.3", "1/2", "This scale shows halves. 26.0 or 26.5?"),
        ("26.3", "1/4", "This scale shows quarters. 26.25 or 26.50?"),
        ("26.3", "1/5", "This scale shows fifths. 26.2 or 26.4?"),
        ("5018", "5", "This scale shows fives. 5015 or 5020?"),
        ("5018.5", "1", "This scale shows ones. 5018 or 5019?"),
        ("0.3", "1/2", "This scale shows halves. 0.0 or 0.5?"),
        ("8.305", "1/50", "This scale shows fiftieths. 8.30 or 8.32?"),
        ("7", "3", "This scale shows steps of 3. 6 or 9?"),
        ("8.35", "0.3", "This scale shows steps of 0.3. 8.1 or 8.4?"),
    ],
)
def test_a_reading_between_two_divisions_is_asked_about(value: str, division: str, says: str) -> None:
    with pytest.raises(Asked) as met:
        snap(Fraction(value), Fraction(division))
    assert str(met.value) == says


def test_tenths_on_a_scale_name_their_whole() -> None:
    # A tenth by itself is .0001 in: common practice, no source.
    assert shows(Fraction(1, 10), "lb") == "tenths of a pound"
    assert shows(Fraction(1, 100), "kg") == "hundredths of a kilogram"
    with pytest.raises(Asked, match=r"tenths of a pound\. 8\.3 or 8\.4\?"):
        snap(Fraction("8.35"), Fraction(1, 10), "lb")


@given(st.integers(0, 10_000), st.sampled_from(["1/2", "1/5", "1/4", "5", "1", "1/50"]))
def test_a_reading_on_a_division_is_kept_exactly(steps: int, division: str) -> None:
    reading = steps * Fraction(division)
    assert snap(reading, Fraction(division)) == reading


def test_a_weight_under_nothing_and_a_scale_without_division_are_refused() -> None:
    with pytest.raises(Refused, match="Zero the scale"):
        snap(Fraction(-1, 2), Fraction(1, 2))
    with pytest.raises(Impossible, match="division"):
        snap(Fraction(1), Fraction(0))


@pytest.mark.outside("computed: GUM F.2.2.1")
@pytest.mark.parametrize(
    ("division", "u", "expanded"),
    [
        # GUM F.2.2.1: u = d / sqrt(12), that is 0.29 d; difference of two d / sqrt(6), twice that for U.
        (0.1, 0.028868, 0.081650), (5, 1.443376, 4.082483), (1, 0.288675, 0.816497), (0.02, 0.005774, 0.016330),
        (0.5, 0.144338, 0.408248),
    ],
)
def test_the_uncertainty_of_a_scales_division(division: float, u: float, expanded: float) -> None:
    assert reading_uncertainty(division) == pytest.approx(u, abs=6e-7)
    assert difference_uncertainty(division) == pytest.approx(expanded, abs=6e-7)


def test_a_coarse_scale_cannot_judge_a_small_removal() -> None:
    assert not can_judge(0.794 * POUND, HALF)
    assert can_judge(0.794 * POUND, 5)
    assert can_judge(2 * difference_uncertainty(5), 5)


def test_a_removal_near_its_prediction_agrees() -> None:
    found = verdict(26 * POUND, 17.5 * POUND, HALF, 8.469 * POUND, CAST)
    assert found.word == "agrees"
    assert found.removed_g == pytest.approx(8.5 * POUND)
    assert found.difference_g == pytest.approx(0.031 * POUND)
    assert found.uncertainty_g == pytest.approx(math.hypot(0.5 * 2 / math.sqrt(6), 0.05 * 8.469) * POUND)


@pytest.mark.parametrize(
    ("after", "word"), [(17.4, "look again"), (18.2, "look again"), (16.0, "does not add up"), (27, "does not add up")]
)
def test_a_removal_off_its_prediction_does_not_agree(after: float, word: str) -> None:
    before = 26.6 if after == 17.4 else 25.8
    assert verdict(before * POUND, after * POUND, FIFTH, 8.469 * POUND, CAST).word == word


def test_a_close_reading_on_a_coarse_scale_is_no_agreement() -> None:
    assert verdict(10 * POUND, 9.5 * POUND, HALF, 0.5 * POUND, Fraction(2, 100)).word == "scale too coarse"
    assert verdict(10 * POUND, 9.5 * POUND, HALF, 0.794 * POUND, Fraction(2, 100)).word == "scale too coarse"


def test_a_coarse_scale_still_sees_a_gross_error() -> None:
    assert verdict(10 * POUND, 5 * POUND, HALF, 0.794 * POUND, Fraction(2, 100)).word == "does not add up"


def test_heavier_after_than_before_does_not_add_up_on_any_scale() -> None:
    assert verdict(9.5 * POUND, 10 * POUND, HALF, 0.1 * POUND, CAST).word == "does not add up"


def test_a_verdict_needs_a_division() -> None:
    with pytest.raises(Impossible):
        verdict(10, 9, 0, 1, CAST)


@given(st.integers(0, 400), st.integers(0, 400), st.sampled_from([1.0, 5.0, 20.0, 100.0]), st.floats(0, 2000))
def test_a_verdict_is_never_better_than_the_scale(before: int, after: int, division: float, predicted: float) -> None:
    found = verdict(before * division, after * division, division, predicted, CAST)
    if found.word in ("agrees", "look again"):
        assert can_judge(predicted, division)
        assert after <= before
    assert found.uncertainty_g >= difference_uncertainty(division)


@given(st.floats(100, 5000), st.floats(0, 0.99), st.sampled_from([0.5, 1.0, 5.0]))
def test_a_true_removal_read_on_a_fine_scale_always_agrees(true: float, shift: float, division: float) -> None:
    before = round((20_000 + shift) / division) * division
    after = round((20_000 + shift - true) / division) * division
    assert verdict(before, after, division, true, CAST).word == "agrees"


@pytest.mark.outside("computed: normalised error; its clause in ISO 13528 from memory")
def test_the_normalised_error_of_two_values() -> None:
    # ISO 13528, E_n, clause from memory: 1.05 with U .03 against 1.00 with U .04.
    assert normalised_error(1.05, 0.03, 1.00, 0.04) == pytest.approx(1.0, abs=1e-12)
    # Computed: 1787.5 g predicted with U 32.215 g, 12.345 - 10.565 kg weighed on divisions of 5 g.
    weighed = difference_uncertainty(5)
    assert normalised_error(1780, weighed, 1787.5, 32.215) == pytest.approx(-0.23096, abs=5e-6)
    found = verdict_by(1780, weighed, 1787.5, 32.215, True)
    assert (found.word, found.normalised) == ("agrees", pytest.approx(-0.23096, abs=5e-6))


@pytest.mark.parametrize(
    ("removed", "word"),
    [(1050, "agrees"), (1050.1, "look again"), (950, "agrees"), (1100, "look again"), (1100.1, "does not add up")],
)
def test_the_limits_of_the_words_are_one_and_two(removed: float, word: str) -> None:
    assert verdict_by(removed, 30, 1000, 40, True).word == word


def test_no_word_is_better_than_the_scale_allows() -> None:
    assert verdict_by(1000, 30, 1000, 40, False).word == "scale too coarse"
    assert verdict_by(1100.1, 30, 1000, 40, False).word == "does not add up"
    assert verdict_by(-1, 30, 10, 40, True).word == "does not add up"


def test_a_way_of_weighing_can_judge_what_a_scale_of_that_sureness_can() -> None:
    for predicted in (5.0, 8.1, 8.2, 400.0):
        assert can_judge_by(predicted, difference_uncertainty(5)) == can_judge(predicted, 5)


def test_two_values_that_are_both_exact_cannot_be_compared() -> None:
    with pytest.raises(Impossible, match="how sure"):
        normalised_error(1, 0, 1, 0)
    with pytest.raises(Impossible, match="under nothing"):
        verdict_by(1, -1, 1, 1, True)


@given(st.floats(0, 9000), st.floats(0, 9000), st.sampled_from([1.0, 5.0, 200.0]))
def test_a_flat_spread_is_a_prediction_with_that_uncertainty(removed: float, predicted: float, division: float) -> None:
    flat = verdict(10_000, 10_000 - removed, division, predicted, CAST)
    by = verdict_by(
        10_000 - (10_000 - removed), difference_uncertainty(division), predicted, predicted / 20,
        can_judge(predicted, division),
    )
    assert flat.word == by.word
    assert flat.uncertainty_g == pytest.approx(by.uncertainty_g)


def pounds(*readings: float) -> list[float]:
    return [reading * POUND for reading in readings]


def test_twins_that_lost_the_same_may_still_differ() -> None:
    found = twins(*pounds(26, 17.5, 26.5, 18), HALF, "lb")
    assert (found.removal, found.finish, found.swapped) == ("yes", "this scale cannot tell", False)
    assert "0 lb to 1 lb apart" in found.words


def test_swapped_tags_are_seen() -> None:
    found = twins(*pounds(26.6, 17.4, 25.8, 18.2), FIFTH, "lb")
    assert (found.removal, found.finish, found.swapped) == ("no", "no", True)
    assert found.words.startswith("Does not add up: tags swapped?")
    repaired = twins(*pounds(26.6, 18.2, 25.8, 17.4), FIFTH, "lb")
    assert (repaired.removal, repaired.swapped) == ("yes", False)


def test_twins_that_differ_for_another_reason_are_not_called_swapped() -> None:
    found = twins(5000, 4500, 5000, 4700, 5)
    assert (found.removal, found.finish, found.swapped) == ("no", "no", False)


def test_twins_on_a_scale_that_sees_nothing_are_left_open() -> None:
    assert twins(*pounds(10, 9.5, 10, 9.5), HALF).removal == "this scale cannot tell"
    assert twins(*pounds(10, 9.5, 10, 9.5), HALF).finish == "yes"


def test_a_twin_that_got_heavier_is_not_the_same() -> None:
    assert twins(5000, 5005, 5000, 5000, 5).removal == "no"


@given(st.integers(0, 999), st.integers(0, 999), st.integers(0, 999), st.integers(0, 999))
def test_it_does_not_matter_which_twin_comes_first(a: int, b: int, c: int, d: int) -> None:
    one, other = twins(a, b, c, d, 5), twins(c, d, a, b, 5)
    assert (one.removal, one.finish, one.swapped) == (other.removal, other.finish, other.swapped)


@pytest.mark.outside("verified: OIML R 76 and NIST Handbook 44, table 6, class III")
@pytest.mark.parametrize(
    ("most", "at"),
    [
        (1.5, 3000),  # class III at 3000 divisions: NIST Handbook 44, table 6, at acceptance, and OIML R 76 alike
        (1.5, 5000),  # OIML R 76 above 2000 e, up to 10 000 e
        (2.5, 5000),  # Handbook 44 above 4000 d
        (2.5, 10000),
    ],
)
def test_whichever_rule_a_scale_was_verified_by_its_slope_is_lost_in_a_small_removal(most: float, at: int) -> None:
    # Off by the most at `at` divisions and by nothing at nothing: a removal of a quarter of that is off by a quarter.
    for share in (0.1, 0.25):
        off = most * 5.0 * share
        assert off < difference_uncertainty(5.0)
        before, after = at * 5.0, at * 5.0 * (1 - share)
        shown = [grams * (1 + most / at) for grams in (before, after)]
        found = verdict(shown[0], shown[1], 5.0, before - after, 0.0)
        assert found.word == "agrees"
    assert most * 5.0 > difference_uncertainty(5.0)
