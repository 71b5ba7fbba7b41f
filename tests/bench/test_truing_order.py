"""Outside, face, outside again, bore: what to read next, and which surface counts. All common practice, no source."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench.errors import Impossible
from shopapp.bench.truing_order import DONE, Check, datum, next_to_read, set_up_line

INCH = 25.4
OUTSIDE = Check("outside", 0.0020 * INCH, 0.0004 * INCH)
FACE = Check("face", 0.0003 * INCH, diameter=5 * INCH)
TAPPED = Check("face", 0.0030 * INCH, 0.0003 * INCH, 5 * INCH)
AGAIN = Check("outside", 0.0004 * INCH)
BORE = Check("bore", 0.0003 * INCH)


@pytest.mark.parametrize(
    ("checks", "surface", "says"),
    [
        ([], "outside", "Read the outside."),
        ([OUTSIDE], "face", "Read the face."),
        ([OUTSIDE, FACE], "outside", "after the outside: read the outside again"),
        ([OUTSIDE, TAPPED], "outside", "read the outside again"),
        ([OUTSIDE, TAPPED, AGAIN], "bore", "Read the bore."),
        ([OUTSIDE, TAPPED, OUTSIDE], "face", "moved after the face: read the face again"),
        ([OUTSIDE, TAPPED, OUTSIDE, FACE], "bore", "Read the bore."),
        ([OUTSIDE, TAPPED, OUTSIDE, TAPPED], "outside", "read the outside again"),
        ([OUTSIDE, TAPPED, AGAIN, BORE], DONE, "outside 0.0004 in, face 0.0003 in at 5.000 in, bore 0.0003 in."),
        ([BORE, OUTSIDE, FACE, AGAIN], "bore", "Read the bore."),
        ([Check("outside", 0.0508)], "outside", "out 0.0020 in: true it"),
        ([OUTSIDE, Check("face", 0.0508, diameter=100)], "face", "The face is out 0.0020 in"),
    ],
)
def test_what_comes_next(checks: list[Check], surface: str, says: str) -> None:
    told = next_to_read(checks)
    assert told.surface == surface
    assert says in told.words


def test_without_a_bore_it_ends_with_the_outside() -> None:
    assert next_to_read([OUTSIDE, FACE, AGAIN], bore=False).surface == DONE
    assert next_to_read([OUTSIDE, FACE, AGAIN], bore=True).surface == "bore"


@given(st.lists(st.booleans(), max_size=12))
def test_following_the_order_comes_to_an_end_once_nothing_moves(moved: list[bool]) -> None:
    checks: list[Check] = []
    for _ in range(len(moved) + 6):
        told = next_to_read(checks)
        if told.surface == DONE:
            break
        turn = moved[len(checks)] if len(checks) < len(moved) else False
        checks.append(Check(told.surface, 0.0508 if turn else 0.005, 0.005 if turn else None, 100.0))
    assert next_to_read(checks).surface == DONE
    order = [check.surface for check in checks]
    assert order[0] == "outside"
    assert order[1] == "face"
    assert order[-1] == "bore"
    last_tap = max((i for i, c in enumerate(checks) if c.surface == "face" and c.moved), default=-1)
    assert "outside" in order[last_tap + 1 :]


def test_the_record_shows_what_was_left() -> None:
    assert set_up_line([OUTSIDE, TAPPED]) == "outside 0.0004 in, face 0.0003 in at 5.000 in"
    assert set_up_line([BORE], unit="mm") == "bore 0.008 mm"
    assert (OUTSIDE.moved, AGAIN.moved) == (True, False)
    assert AGAIN.now == AGAIN.found


def test_one_of_them_out_is_asked_about() -> None:
    told = datum(0.0003 * INCH, 0.0030 * INCH)
    assert told.words == "Outside true, bore out 0.0030 in: which one counts?"
    assert told.ask
    assert datum(0.0762, 0.005).words.startswith("Bore true, outside out 0.0030 in")


@pytest.mark.parametrize(
    ("outside", "bore", "of_record", "says", "true", "ask"),
    [
        (0.005, 0.005, None, "both run true", True, False),
        (0.0762, 0.0762, None, "True the one that counts", False, True),
        (0.0762, 0.0762, "bore", "True the bore first", False, False),
        (0.005, 0.0762, "bore", "the bore counts: true the bore", False, False),
        (0.005, 0.0762, "outside", "the outside counts by the record. Is that right?", False, True),
        (0.0127, 0.0127, None, "both run true", True, False),
    ],
)
def test_the_datum_of_record_decides(outside, bore, of_record, says: str, true: bool, ask: bool) -> None:
    told = datum(outside, bore, of_record=of_record)
    assert says in told.words
    assert (told.true, told.ask) == (true, ask)


def test_a_surface_is_held_to_its_own_limit() -> None:
    loose = Check("outside", 0.05, limit=0.06)
    assert next_to_read([Check("outside", 0.05)]).surface == "outside"
    assert next_to_read([loose]).words == "Read the face."
    assert next_to_read([Check("outside", 0.01, limit=0.005)]).surface == "outside"
    assert datum(0.05, 0.005, 0.06).true
    assert datum(0.05, 0.005, 0.06, bore_limit=0.004).words.startswith("Outside true, bore out")


@pytest.mark.parametrize(
    ("check", "says"),
    [
        (Check("rim", 0.1), "none of them"),
        (Check("bore", -0.1), "0 or more"),
        (Check("bore", 0.1, -0.1), "0 or more"),
        (Check("face", 0.1), "which diameter"),
    ],
)
def test_a_check_that_cannot_be_says_what_to_change(check: Check, says: str) -> None:
    with pytest.raises(Impossible, match=says):
        next_to_read([check])


def test_a_datum_is_outside_or_bore() -> None:
    with pytest.raises(Impossible, match="outside or the bore"):
        datum(0, 0, of_record="face")
    with pytest.raises(Impossible, match="0 or more"):
        datum(-1, 0)
