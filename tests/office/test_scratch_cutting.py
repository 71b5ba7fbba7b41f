"""Scratch sums about metal that comes off, against figures from outside."""

import math

import pytest

from shopapp.office.scratch_form import Answer
from tests.office.test_scratch import worked


def answered(key: str, **told: str) -> Answer:
    answer = worked(key, **told).answer
    assert answer
    return answer


def figures(answer: Answer) -> dict[str, str]:
    return {label: text for label, text, _ in answer.figures}


NO_SECOND = {"cut_1_corner": "", "cut_1_diameter": ""}


@pytest.mark.outside("computed: Machinery's Handbook 31, pp. 89-93")
def test_cuts_alone_weigh_what_the_ring_between_two_cylinders_weighs() -> None:
    # Volume of a hollow cylinder, pi/4 (D2 - d2) h: Machinery's Handbook 31, p. 89; steel .2836 lb/in3 is 7.85 g/cm3.
    answer = answered("cuts", **NO_SECOND)
    pounds = math.pi / 4 * (4**2 - 3.875**2) * 1.5 * 0.2836
    assert answer.tables[0].rows[0][-1] == f"{pounds:.2f} lb"
    assert float(figures(answer)["comes off, about"]) == pytest.approx(pounds, rel=0.005)


def test_cuts_are_drawn_and_say_what_is_unsure() -> None:
    answer = answered("cuts")
    assert answer.section
    assert len(answer.section.removed) == 2
    assert answer.sentences[0].startswith("Most of what is unsure comes from the “outside Ø now”")
    coarse, fine = (answered("cuts", measured=name, **NO_SECOND) for name in ("tape", "micrometer"))
    assert len(figures(coarse)["comes off, about"]) < len(figures(fine)["comes off, about"])


def test_a_cut_that_is_half_typed_is_not_counted_yet() -> None:
    answer = answered("cuts", cut_1_corner="1/")
    assert len(answer.tables[0].rows) == 1
    assert any(words.startswith("Not counted yet: cut 2:") for words in answer.sentences)


def test_without_a_whole_cut_it_says_what_to_type() -> None:
    found = worked("cuts", cut_0_to="", **NO_SECOND)
    assert found.answer is None
    assert "outside Ø wanted" in found.refusal


def test_a_kind_of_cut_asks_for_its_own_sizes() -> None:
    groups = worked("cuts", cut_1_kind="groove", rows="3").groups
    assert [group.key for group in groups] == ["metal", "cut-0", "cut-1", "cut-2"]
    assert "cut_1_bottom_start" in [one.name for one in groups[2].fields]
    assert len(worked("cuts", rows="999").groups) == 21


def test_a_density_that_is_typed_stands_as_it_is() -> None:
    light, heavy = (answered("cuts", density=text, **NO_SECOND) for text in ("2.7", "5.4"))
    one, two = (float(figures(answer)["comes off, about"]) for answer in (light, heavy))
    assert two / one == pytest.approx(2, rel=0.01)
    assert ("its source", "as typed") in light.workings[0].inputs


def test_a_part_of_a_web_is_taken_as_it_is_said() -> None:
    assert figures(answered("take"))["take"] == "0.350"
    assert figures(answered("take", said="half"))["stays"] == "0.350"
    assert figures(answered("take", said="1/3 of it", web=".900"))["take"] == "0.300"
    assert answered("take", said="95 %").warnings
    assert "1/2" in worked("take", said="1/2").refusal


def test_a_stop_that_the_last_cut_eats_up_is_told() -> None:
    assert answered("stop").tone == "plain"
    assert answered("stop", extra_feed=".015").tone == "no"
    assert "past the edge" in answered("stop", extra_feed=".020").sentences[0]
    assert "less than" in answered("stop", least=".011").sentences[0]


@pytest.mark.outside("computed: closed form of a ring")
def test_a_size_is_aimed_at_a_weight() -> None:
    # pi/4 (12 x 12 - 2 x 2) cm2 x 8.49 g/cm3 x length: 4200.8 g at 4.5 cm, so 3500 g are 3.749 cm (elementary).
    answer = answered("aim")
    assert figures(answer)["face the front, how deep"] == f"{45 - 3500 / (math.pi / 4 * 140 * 8.49) * 10:.3f}"
    assert figures(answer)["weighs now"] == "4201"
    assert answer.section


def test_an_aim_that_is_not_reached_says_what_is_possible() -> None:
    answer = answered("aim", free="bore", over="10", wanted="2000")
    assert answer.tone == "no"
    assert "is not reached" in answer.sentences[0]


def test_passes_add_up_and_are_dialled_as_the_machine_reads() -> None:
    answer = answered("passes")
    assert [row[0] for row in answer.tables[0].rows] == ["1", "2", "3, finish"]
    assert answer.tables[0].rows[-1][-2:] == ("0.2500", "9.2500")
    assert figures(answered("passes", dial="radius"))["dial for each"] == "0.0575"
    assert figures(answered("passes", kind="face", now="1", wanted=".9", finish=""))["passes"] == "2"
    bored = answered("passes", kind="bore", now="2", wanted="2.1", finish="")
    assert bored.tables[0].rows[-1][-1] == "2.1000"


def test_passes_that_cannot_be_are_refused_in_words() -> None:
    assert "other way" in worked("passes", wanted="9.6").refusal
    assert "over 200 passes" in worked("passes", most=".0001", finish="").refusal
