"""Scratch sums about what a scale can say."""

import re

import pytest

from tests.office.test_scratch_cutting import answered, figures


@pytest.mark.outside("computed: GUM F.2.2.1")
def test_a_scale_judges_what_two_of_its_readings_can_tell() -> None:
    # Two readings, each uniform over a division: 2 d / sqrt(6), GUM F.2.2.1; 200 g give 163 g, half of 360 is 180.
    answer = answered("scale")
    assert figures(answer)["good to"] == "± 163"
    assert answer.tone == "agree"
    assert "good to ± 82 g each" in answer.sentences[1]
    coarse = answered("scale", division="250", pieces="")
    assert coarse.tone == "coarse"
    assert "220 g or finer" in coarse.sentences[0]
    assert "can judge" in answered("scale", division="250").sentences[1]
    assert "still cannot" in answered("scale", division="1000").sentences[1]


@pytest.mark.parametrize("weigh", ["lb", "oz", "kg", "g"])
@pytest.mark.parametrize("predicted", ["0.4", "1", "7.77", "10", "99.95", "360"])
def test_the_division_that_it_takes_is_fine_enough(weigh: str, predicted: str) -> None:
    # d <= p sqrt(6) / 4, so the figure is rounded down, never up: GUM F.2.2.1.
    coarse = answered("scale", predicted=predicted, division="1000", pieces="", weigh=weigh)
    takes = re.search(r"division of ([\d.]+) ", coarse.sentences[0])
    assert takes
    assert answered("scale", predicted=predicted, division=takes[1], pieces="", weigh=weigh).tone == "agree"


@pytest.mark.parametrize(
    ("after", "tone"), [("17.5", "agree"), ("18", "agree"), ("18.5", "look"), ("20", "no"), ("26.5", "no")]
)
def test_a_verdict_is_said_in_its_own_tone(after: str, tone: str) -> None:
    assert answered("verdict", after=after).tone == tone


def test_a_scale_that_is_too_coarse_never_agrees() -> None:
    assert answered("verdict", division="20", after="17").tone == "coarse"


def test_twins_with_exchanged_tags_are_seen() -> None:
    swapped = answered("twins")
    assert swapped.tone == "no"
    assert "tags swapped?" in swapped.sentences[0]
    assert answered("twins", a_after="18.2", b_after="17.4").tone == "no"
    alike = {"a_before": "26.6", "b_before": "26.6", "a_after": "17.4", "b_after": "17.4"}
    assert answered("twins", **alike).tone == "agree"
    assert answered("twins", **{**alike, "b_after": "17.6"}).tone == "coarse"


@pytest.mark.outside("computed: volume of a ring; nylon by PNNL-15870")
def test_a_ring_says_what_it_is_made_of() -> None:
    # pi/4 (8 x 8 - 2 x 2) x 3 = 141.4 cm3; nylon 6 is 1.14: PNNL-15870.
    answer = answered("made-of")
    assert figures(answer)["density"] == "1.16"
    assert "near nylon 6, not ductile iron" in answer.sentences[0]
    assert "fits ductile iron" in answered("made-of", mass="1004").sentences[0]
