"""Scratch sums about truing: readings as the indicator shows them, and what to do at the jaws."""

from tests.office.test_scratch import worked
from tests.office.test_scratch_cutting import answered, figures


def test_four_readings_say_which_jaw_and_how_much() -> None:
    # Half of what opposite jaws differ by: (20 + 16) / 2 thou; common practice, no source.
    answer = answered("truing")
    assert answer.sentences[0] == "Loosen 3, tighten 1, until 1 drops by .0180 in."
    assert answer.rose
    assert dict(answer.rose.jaws)[3] == "loosen"
    assert dict(answer.rose.jaws)[1] == "tighten .0180 in"
    assert answer.rose.readings[2] == (180.0, "-16")


def test_in_a_bore_the_jaws_go_the_other_way() -> None:
    inside = answered("truing", where="inside")
    assert inside.sentences[0].startswith("Loosen 1, tighten 3")


def test_readings_are_in_what_the_indicator_shows() -> None:
    tenths = answered("truing", reads="tenth", r0="200", r1="40", r2="-160")
    assert tenths.figures == answered("truing").figures
    metric = answered("truing", reads="mm", r0=".508", r1=".102", r2="-.406")
    assert "0.457 mm" in metric.sentences[0]


def test_a_place_at_a_keyway_is_skipped() -> None:
    answer = answered("truing", r3="skip")
    assert answer.rose
    assert answer.rose.readings[3] == (270.0, "–")
    assert "Three readings left" in " ".join(answer.sentences)
    assert worked("truing", r3="keyway").answer
    assert "three readings" in worked("truing", r2="k", r3="skip").refusal


def test_more_places_are_read_on_demand() -> None:
    found = worked("truing", places="8")
    assert found.waiting == ("Jaw 3", "Between 3 and 4", "Jaw 4", "Between 4 and 1")
    assert [one.label for one in worked("truing", places="6").groups[0].fields][2] == "60° from jaw 1"
    oval = {f"r{i}": text for i, text in enumerate(("4", "0", "-4", "0") * 2)}
    answer = answered("truing", places="8", **oval)
    assert "out-of-round: the jaws cannot help that" in " ".join(answer.sentences)
    assert not any("three lobes" in words for words in answer.sentences)


def test_a_piece_that_runs_true_needs_no_jaw() -> None:
    answer = answered("truing", r0=".1", r1="0", r2=".1", r3="0")
    assert answer.tone == "agree"
    assert answer.rose
    assert answer.rose.high is None
    assert answer.rose.jaws == ()
    assert answered("truing", limit="100").tone == "agree"


def test_a_direction_is_said_from_0_to_359_degrees() -> None:
    answer = answered("truing", r0="20", r1="-.1", r2="-20", r3="0")
    assert figures(answer)["centre lies towards"] == "0°"


def test_readings_that_look_like_inches_are_asked_about() -> None:
    asked = worked("truing", reads="thou", r0=".0018", r1=".0002", r2="-.0018", r3="0")
    assert asked.answer is None
    assert "If it is in inches, type" in asked.problems["r0"]
    assert answered("truing", r0=".0018 in", r1=".0002 in", r2="-.0018 in").tone == "plain"


def test_the_pitch_of_the_screw_gives_the_turn_of_the_key() -> None:
    # 18 thou of a screw of 1/8 in are 360 x .018 / .125 = 51.84 degrees (elementary).
    assert "(52° of the key)" in answered("truing", pitch="1/8").sentences[0]


def test_a_face_says_where_to_tap_and_what_it_is_elsewhere() -> None:
    answer = answered("face")
    assert answer.rose
    assert answer.rose.jaws == ((1, "tap 30 tenths"),)
    assert figures(answer)["run-out at the other Ø"] == "75 tenths (.0075 in)"
    assert answered("face", r0="0", r2="0").tone == "agree"


def test_bore_against_outside_is_asked_about() -> None:
    assert answered("datum").tone == "look"
    assert answered("datum", counts="bore").sentences[0].endswith("true the bore.")
    assert answered("datum", bore=".2").tone == "agree"
