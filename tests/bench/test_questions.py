"""A word that means two things is asked about; a bare number takes only a unit in sight."""

from fractions import Fraction

import pytest

from shopapp.bench.errors import Asked, Refused
from shopapp.bench.grammar import Size, read
from shopapp.bench.questions import question, shared_unit, strays, unit_of
from shopapp.bench.unitwords import LENGTH

F = Fraction


# A tenth is .0001 in at the lathe: common practice, no source.
def test_a_tenth_is_plain_in_inches_and_asked_about_in_millimetres() -> None:
    assert question(Size(F(2), "tenth", "whole"), "in") is None
    assert question(Size(F(2), "tenth", "whole"), None) is None
    assert "0.2 mm" in str(question(Size(F(2), "tenth", "whole"), "mm"))
    assert "part of a tenth" in str(question(Size(F(1, 2), "tenth", "decimal"), "in"))


def test_a_thou_is_an_inch_thou_on_every_field() -> None:
    assert question(Size(F(5), "thou", "whole"), "mm") is None


def test_a_bare_number_takes_the_unit_in_sight_and_no_other() -> None:
    bare = Size(F(5), None, "whole")
    assert unit_of(bare, "mm", LENGTH) == "mm"
    assert unit_of(Size(F(5), "in", "whole"), "mm", LENGTH) == "in"
    with pytest.raises(Asked, match="5 in or 5 mm"):
        unit_of(bare, None, LENGTH)


def test_the_unit_after_a_tolerance_is_shared_unless_it_is_a_small_one() -> None:
    assert shared_unit(read("25 ±0.1 mm", LENGTH)) == "mm"
    assert shared_unit(read("1.250 ± 5 thou", LENGTH)) is None
    assert shared_unit(read("1.250", LENGTH)) is None
    assert shared_unit(read("25 ±0.1 mm", LENGTH), "mm") == "mm"
    with pytest.raises(Asked, match="in mm or in in"):
        shared_unit(read("25 ±0.1 mm", LENGTH), "in")


WORTHS = {"in": F(254, 10), "thou": F(254, 10_000), "mm": F(1)}


def test_a_side_of_a_tolerance_takes_the_unit_of_the_other_side() -> None:
    assert strays(read("1.25 +1/-2 thou", LENGTH), "in", F(5, 4), WORTHS, LENGTH) == (F("0.0254"), F("0.0508"))
    assert strays(read("1.25 ±.002", LENGTH), "in", F(5, 4), WORTHS, LENGTH) == (F("0.0508"), F("0.0508"))
    assert strays(read("1.25", LENGTH), "in", F(5, 4), WORTHS, LENGTH) == (None, None)


def test_a_tolerance_that_is_much_of_the_size_is_asked_about_and_one_below_zero_refused() -> None:
    for text, kept, size in (("1.25 +0/-2", "in", F(5, 4)), ("25 ±5", "mm", F(25)), ("1.25 ±.5", "in", F(5, 4))):
        with pytest.raises(Asked, match="Type the unit after it"):
            strays(read(text, LENGTH), kept, size, WORTHS, LENGTH)
    with pytest.raises(Refused, match="below zero"):
        strays(read("25 ±26 mm", LENGTH), "mm", F(25), WORTHS, LENGTH)
