"""Readings round a surface become an offset, a move of the jaws, and what no jaw can mend."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import least_squares

from shopapp.bench.errors import Impossible, Refused
from shopapp.bench.truing import TOO_FINE, Move, blind, circle, moves, screw_turn, thin, true_up

TENTH = 0.00254
AT_JAWS = (0, 90, 180, 270)


def tenths(*readings: float | None) -> list[float | None]:
    return [None if each is None else each * TENTH for each in readings]


def wave(count: int, e: float, at: float, lobes: int = 0, height: float = 0.0) -> list[float]:
    """Readings of a piece that is off by e towards an angle and has so many lobes."""
    turns = [2 * math.pi * i / count for i in range(count)]
    return [e * math.cos(t - math.radians(at)) + height * math.cos(lobes * t) for t in turns]


# The least-squares circle, R = ΣR/N, a = 2/N ΣR cos t, b = 2/N ΣR sin t: a reference text on roundness (the formula was
# read there); the numbers are computed from it.
@pytest.mark.outside("computed: a reference text on roundness")
@pytest.mark.parametrize(
    ("readings", "mean", "a", "b", "e", "direction"),
    [((8, 3, -4, 1), 2, 6, 1, 6.0828, 9.462), ((0, 10, 16, 6), 8, -8, 2, 8.2462, 165.964)],
)
def test_four_readings_give_the_offset_of_the_published_formula(readings, mean, a, b, e, direction) -> None:
    found = circle(readings)
    assert (found.mean, found.towards_1, found.towards_2) == pytest.approx((mean, a, b), abs=1e-12)
    assert found.eccentricity == pytest.approx(e, abs=5e-5)
    assert found.direction == pytest.approx(direction, abs=5e-4)
    assert found.out_of_round == pytest.approx(0, abs=1e-12)


@pytest.mark.outside("computed: full movement is twice the offset")
def test_full_movement_of_the_true_circle_is_more_than_four_readings_span() -> None:
    # FIM = 2e: reference texts on run-out; numbers computed
    found = circle([8, 3, -4, 1])
    assert found.run_out == pytest.approx(12.166, abs=5e-4)
    assert found.read == 12


@pytest.mark.outside("computed: an exact circle")
def test_eight_readings_of_an_exact_circle_give_its_offset() -> None:
    # computed from an exact circle of radius 2.000, e .010 at 30 degrees (not from the formula under test)
    trace = [0.008654, 0.009658, 0.004981, -0.002612, -0.008667, -0.009661, -0.005019, 0.002565]
    found = circle(trace)
    assert found.eccentricity == pytest.approx(0.01, abs=1e-6)
    assert found.direction == pytest.approx(30.0, abs=5e-3)
    assert found.read == pytest.approx(0.019319, abs=1e-9)
    assert found.run_out == pytest.approx(0.02, abs=2e-6)


@pytest.mark.outside("computed: a reference text on roundness")
@pytest.mark.parametrize(
    ("count", "lobes", "height", "e", "direction", "left"),
    [(12, 3, 1.0, 10.0, 30.0, 2.0), (4, 3, 1.0, 10.878, 27.37, 0.0), (4, 2, 3.0, 10.0, 30.0, 6.0)],
)
def test_lobes_are_told_apart_or_taken_for_off_centre(count, lobes, height, e, direction, left) -> None:
    # computed from the published formula: twelve places are immune, four take three lobes for off-centre
    found = circle(wave(count, 10, 30, lobes, height))
    assert found.eccentricity == pytest.approx(e, abs=5e-4)
    assert found.direction == pytest.approx(direction, abs=5e-3)
    assert found.out_of_round == pytest.approx(left, abs=1e-9)


@pytest.mark.outside("computed: R1 - R2 + R3 - R4 of an oval")
def test_the_closure_error_of_an_oval_is_four_times_its_height() -> None:
    # computed: R1 - R2 + R3 - R4 = 12 for 3 cos 2t
    r = wave(4, 10, 30, 2, 3)
    assert r[0] - r[1] + r[2] - r[3] == pytest.approx(12)
    assert [abs(each) for each in circle(r).residuals] == pytest.approx([3] * 4)


@pytest.mark.outside("computed: 20 threads an inch, a teaching page")
def test_a_move_of_four_thou_is_so_much_of_a_turn_at_20_threads() -> None:
    # a teaching page on four-jaw chucks: 20 threads an inch, .050 in a turn (read there); .08 turn is computed
    assert screw_turn(0.004 * 25.4, 0.05 * 25.4) == pytest.approx(28.8)


spaced = st.lists(st.floats(-1, 1), min_size=3, max_size=24)


@pytest.mark.outside("verified: numpy.linalg.lstsq")
@given(spaced, st.data())
def test_any_readings_agree_with_a_library_of_least_squares(readings: list[float], data: st.DataObject) -> None:
    # numpy.linalg.lstsq as the independent library
    step = 360 / len(readings)
    angles = [i * step + data.draw(st.floats(0, step / 2)) for i in range(len(readings))]
    t = np.radians(angles)
    matrix = np.column_stack([np.ones_like(t), np.cos(t), np.sin(t)])
    solved, *_ = np.linalg.lstsq(matrix, np.array(readings), rcond=None)
    found = circle(readings, angles)
    assert (found.mean, found.towards_1, found.towards_2) == pytest.approx(tuple(solved), abs=1e-9)
    left = [each for each in found.residuals if each is not None]
    assert left == pytest.approx(list(np.array(readings) - matrix @ solved), abs=1e-9)


@pytest.mark.outside("verified: scipy.optimize.least_squares")
def test_the_offset_is_that_of_the_circle_fitted_by_true_distances() -> None:
    # scipy.optimize.least_squares on true distances to the centre; limaçon differs by about e²/R
    radius, e = 100.0, 0.02
    readings = wave(8, e, 137, 2, 0.004)
    t = np.arange(8) * np.pi / 4
    x, y = (radius + np.array(readings)) * np.cos(t), (radius + np.array(readings)) * np.sin(t)
    tight = {"xtol": 1e-15, "ftol": 1e-15, "gtol": 1e-15}
    fit = least_squares(lambda p: np.hypot(x - p[0], y - p[1]) - p[2], [0, 0, radius], **tight)
    found = circle(readings)
    assert (found.towards_1, found.towards_2) == pytest.approx((fit.x[0], fit.x[1]), abs=1e-5)


# Four jaws at 90 degrees, half the difference along a pair: common practice, no source.
def test_outside_the_high_jaw_is_tightened() -> None:
    done = true_up(tenths(20, 4, -16, 0))
    assert [(m.loosen, m.tighten, m.watch) for m in done.moves] == [(3, 1, 1), (4, 2, 2)]
    assert [m.by / TENTH for m in done.moves] == pytest.approx([18, 2])
    assert done.words[:2] == (
        "Loosen 3, tighten 1, until 1 drops by 18 tenths (.0018 in).",
        "Then loosen 4, tighten 2, until 2 drops by 2 tenths (.0002 in).",
    )
    assert not done.centred


def test_in_a_bore_the_same_readings_turn_the_words_round() -> None:
    outside, inside = (true_up(tenths(20, 4, -16, 0), inside=bore) for bore in (False, True))
    assert [(m.loosen, m.tighten, m.watch) for m in inside.moves] == [(1, 3, 1), (2, 4, 2)]
    assert inside.words[0] == "Loosen 1, tighten 3, until 1 drops by 18 tenths (.0018 in)."
    assert abs(inside.circle.direction - outside.circle.direction) == pytest.approx(180)
    assert inside.circle.run_out == outside.circle.run_out


def test_the_low_side_being_high_changes_the_jaws() -> None:
    assert moves(circle([-16, 0, 20, 0])) == (Move(1, 3, 3, 18.0),)
    assert moves(circle([0, -5, 0, 5], inside=True)) == (Move(4, 2, 4, 5.0),)


@given(st.lists(st.integers(-300, 300), min_size=4, max_size=4), st.booleans())
def test_doing_what_is_asked_centres_the_piece(readings: list[int], inside: bool) -> None:
    after = list(readings)
    for move in moves(circle(readings, inside=inside)):
        far = (move.watch + 1) % 4
        after[move.watch - 1] -= move.by
        after[far] += move.by
    assert circle(after).eccentricity == pytest.approx(0, abs=1e-9)
    assert circle(after).out_of_round == pytest.approx(circle(readings).out_of_round, abs=1e-9)


def test_out_of_round_is_beyond_the_jaws() -> None:
    done = true_up(tenths(4, -4, 4, -4))
    assert done.centred
    assert not done.within
    assert done.moves == ()
    assert done.words[:2] == ("Centred.", "8 tenths (.0008 in) out-of-round: the jaws cannot help that.")


def test_a_true_piece_is_within_and_nothing_is_asked() -> None:
    done = true_up(tenths(1, 0, -1, 0), limit=2 * TENTH)
    assert done.centred
    assert done.within
    assert done.words[0] == "Centred."
    assert true_up([0.5, 0.5, 0.5, 0.5], limit=0).within


def test_four_readings_say_what_they_cannot_see() -> None:
    words = " ".join(true_up(tenths(20, 4, -16, 0)).words)
    assert "Four readings cannot see three lobes: they may pass for off-centre." in words
    assert "An oval that lies midway between the places stays unseen." in words
    assert not any("cannot see" in said for said in true_up(wave(8, 0.01, 0)).words)


def test_which_lobes_are_unseen_by_how_many_places() -> None:
    assert 3 in blind(AT_JAWS).never
    assert blind(AT_JAWS).sometimes == (2,)
    assert blind([at + 20 for at in AT_JAWS]).sometimes == (2,)
    assert blind([0, 120, 240]).never == (2, 3, 4, 5)
    assert blind([i * 72 for i in range(5)]).never == (4, 5)
    assert blind([i * 45 for i in range(8)]).never == ()
    assert blind([i * 45 for i in range(8)]).sometimes == (4,)
    # an oval midway between the jaws reads the same at all four
    assert circle([math.sin(2 * math.radians(t)) for t in AT_JAWS]).out_of_round == pytest.approx(0, abs=1e-12)


def test_a_skipped_reading_leaves_an_exact_circle_and_says_so() -> None:
    done = true_up(tenths(20, 4, None, 0))
    assert done.circle.out_of_round is None
    assert done.circle.residuals[2] is None
    assert (done.circle.towards_1 / TENTH, done.circle.towards_2 / TENTH) == pytest.approx((18, 2))
    assert done.words[-1] == "Three readings left make an exact circle: out-of-round cannot be told from off-centre."


def test_of_eight_readings_one_skipped_still_sees_the_offset() -> None:
    readings: list[float | None] = list(wave(8, 10, 30))
    readings[3] = None
    found = circle(readings)
    assert (found.eccentricity, found.direction) == pytest.approx((10, 30))
    assert found.out_of_round == pytest.approx(0, abs=1e-9)
    assert len(found.places) == 7


def test_the_key_is_told_how_far_to_turn() -> None:
    words = true_up([0.1016, 0, -0.1016, 0], pitch=1.27).words
    assert words[0] == "Loosen 3, tighten 1, until 1 drops by 40 tenths (.0040 in) (29° of the key)."
    assert true_up([0.1, 0, -0.1, 0], unit="mm").words[0].endswith("1 drops by 0.100 mm.")


def test_how_a_small_size_is_said() -> None:
    assert thin(0.0) == thin(0.0001) == thin(0.0004, "mm") == "nothing"
    assert thin(TENTH) == "1 tenth (.0001 in)"
    assert thin(0.0381) == "15 tenths (.0015 in)"
    assert thin(2.54) == ".1000 in"


@pytest.mark.parametrize(
    ("readings", "angles", "says"),
    [
        ([1, 2], None, "three readings"),
        ([1, None, None, 2], None, "three readings"),
        ([1, 2, 3], [0, 90], "its place"),
        ([1, 2, 3], [0, 0.5, 180], "same place"),
        ([1, 2, 3], [0, 360, 180], "same place"),
        ([1, 2, 3], [0, 30, 60], "one side"),
        ([1, 2, math.nan, 3], None, "again"),
    ],
)
def test_readings_that_make_no_circle_say_what_to_read(readings, angles, says: str) -> None:
    with pytest.raises((Refused, Impossible), match=says):
        circle(readings, angles)


def test_a_limit_and_a_pitch_have_to_be_sizes() -> None:
    with pytest.raises(Impossible, match="0 or more"):
        true_up([0, 0, 0, 0], limit=-1)
    with pytest.raises(Impossible, match="pitch"):
        screw_turn(1, 0)


def test_centred_is_said_only_of_what_is_centred() -> None:
    found = true_up([0.0004, 0, -0.0004, 0], limit=0.0005, unit="mm")
    assert not found.centred
    assert found.words[0] == TOO_FINE
