"""A word that means two things is asked about; a bare number takes only a unit in sight."""

from fractions import Fraction

import pytest

from shopapp.bench.errors import Asked
from shopapp.bench.grammar import Size, read
from shopapp.bench.questions import question, shared_unit, unit_of
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
