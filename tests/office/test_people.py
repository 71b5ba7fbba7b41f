"""Whose initials stand on the acts."""

import pytest
from sqlmodel import Session

from shopapp.office import people
from shopapp.office.errors import TryAgain
from shopapp.office.people import Hand
from tests.cast import NOON, SECOND, TURNER


def test_a_person_is_found_by_their_initials_however_they_are_typed(db: Session) -> None:
    row = people.add(db, initials=" mb ", name=" Mabel Brackwater ", now=NOON)
    assert people.by_initials(db, "Mb") == Hand(row, "MB", "Mabel Brackwater")


def test_everyone_stands_in_the_order_of_their_initials(db: Session) -> None:
    people.add(db, **SECOND, now=NOON)
    people.add(db, **TURNER, now=NOON)
    assert [hand.initials for hand in people.everyone(db)] == ["MB", "OT"]


def test_nobody_has_initials_that_were_never_entered(db: Session) -> None:
    assert people.by_initials(db, "ZZ") is None


@pytest.mark.parametrize("initials", ["", "M", "MABEL", "M1", "M.B"])
def test_initials_are_two_to_four_letters(db: Session, initials: str) -> None:
    with pytest.raises(TryAgain) as refusal:
        people.add(db, initials=initials, name="Mabel", now=NOON)
    assert set(refusal.value.problems) == {"initials"}


def test_initials_are_nobody_elses(db: Session) -> None:
    people.add(db, **TURNER, now=NOON)
    with pytest.raises(TryAgain, match="MB is taken"):
        people.add(db, initials="mb", name="Mortimer Brine", now=NOON)


def test_initials_want_a_name(db: Session) -> None:
    with pytest.raises(TryAgain) as refusal:
        people.add(db, initials="MB", name="  ", now=NOON)
    assert set(refusal.value.problems) == {"person"}
