"""A face is tilted by so much at a stated diameter, and is tapped in where it is high."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench.errors import Impossible, Refused
from shopapp.bench.truing_face import face, run_out_at

INCH = 25.4


@pytest.mark.outside("computed: full movement over the diameter")
def test_tilt_is_full_movement_over_the_diameter() -> None:
    # elementary; computed: FIM .006 in at 8.0 in is .00075 rad, .042972 degrees, .009 in a foot
    found = face([0.003 * INCH, 0, -0.003 * INCH, 0], 8 * INCH)
    assert found.run_out / INCH == pytest.approx(0.006)
    assert math.radians(found.tilt) == pytest.approx(0.00075, rel=1e-6)
    assert found.tilt == pytest.approx(0.042972, abs=5e-7)
    assert math.tan(math.radians(found.tilt)) * 12 == pytest.approx(0.009)


@pytest.mark.outside("computed: proportion")
@pytest.mark.parametrize(("read", "read_at", "at", "there"), [(0.006, 8, 10, 0.0075), (0.0005, 5, 6.25, 0.000625)])
def test_run_out_grows_with_the_diameter(read: float, read_at: float, at: float, there: float) -> None:
    # elementary proportion; computed
    assert run_out_at(read * INCH, read_at * INCH, at * INCH) / INCH == pytest.approx(there)


@given(st.floats(0, 1), st.floats(1, 1000), st.floats(1, 1000))
def test_there_and_back_is_the_same_run_out(read: float, first: float, second: float) -> None:
    assert run_out_at(run_out_at(read, first, second), second, first) == pytest.approx(read, abs=1e-12)


# Tapping the high side in, half of what opposite jaws differ: common practice, no source.
def test_the_high_jaw_is_tapped_by_half_the_difference() -> None:
    found = face([0, 0.0006 * INCH, 0, -0.0006 * INCH], 5 * INCH)
    ((jaw, by),) = found.taps
    assert (jaw, by / INCH) == (2, pytest.approx(0.0006))
    assert found.high_at == pytest.approx(90)
    assert found.words == (
        "Tap at jaw 2 until it drops by 6 tenths (.0006 in): half of what it and jaw 4 differ.",
        "Face run-out 12 tenths (.0012 in) at 5.000 in.",
        "Then read the outside again: a tapped face moves it.",
    )


def test_the_sentence_is_true_where_more_or_fewer_than_four_readings_were_taken() -> None:
    eight = face([0.05, 0.03, -0.01, None, 0.0, 0.01, 0.02, 0.03], 100)
    assert eight.words[0].endswith("drops by 9 tenths (.0009 in): by the plane through all readings.")
    three = face([0.05, None, -0.01, 0], 100)
    assert "Tap at jaw 2" in three.words[1]
    assert three.words[1].endswith("it was not read, the other readings say so.")
    assert not any("half of" in words for words in eight.words)
    turned = face([0.05, 0, -0.05, 0], 100, [10, 100, 190, 280])
    assert "half of" not in turned.words[0]


@pytest.mark.parametrize("jaw", [1, 2, 3, 4])
def test_each_jaw_can_be_the_high_one(jaw: int) -> None:
    readings = [0.0] * 4
    readings[jaw - 1], readings[(jaw + 1) % 4] = 0.05, -0.05
    ((tapped, _),) = face(readings, 100).taps
    assert tapped == jaw
    assert f"jaw {jaw} until" in face(readings, 100).words[0]


def test_a_face_within_its_limit_is_left_alone() -> None:
    found = face([0.0025, 0, -0.0025, 0], 127)
    assert found.within
    assert found.taps == ()
    assert found.words == ("Face run-out 2 tenths (.0002 in) at 5.000 in.",)
    assert face([1, 1, 1, 1], 127).words == ("The face does not tilt, read at 5.000 in.",)


def test_a_face_that_is_not_flat_is_not_tapped() -> None:
    found = face([0.02, -0.02, 0.02, -0.02], 127)
    assert not found.within
    assert found.taps == ()
    assert found.words[-1].endswith("is not tilt: tapping cannot help that.")
    assert face([0.02, -0.02, None, -0.02], 127).out_of_flat is None


def test_a_face_needs_its_diameter_and_three_readings() -> None:
    with pytest.raises(Impossible, match="which diameter"):
        face([0, 0, 0, 0], 0)
    with pytest.raises(Impossible, match="0 or more"):
        face([0, 0, 0, 0], 100, limit=-1)
    with pytest.raises(Refused, match="three readings"):
        face([0, None, None, 0], 100)
    with pytest.raises(Impossible, match="which diameter"):
        run_out_at(0.1, 0, 100)
