"""A form sent twice is taken in once."""

import pytest
from sqlalchemy.exc import IntegrityError
from sqlmodel import Session

from shopapp.office import once
from shopapp.office.errors import TakenIn
from tests.cast import NOON


def test_a_form_that_was_taken_in_knows_where_it_led(db: Session) -> None:
    assert once.led_to(db, "k1", content="a") is None
    once.keep(db, "k1", content="a", leads_to="/jobs/1001", now=NOON)
    assert once.led_to(db, "k1", content="a") == "/jobs/1001"
    assert once.led_to(db, "k2", content="a") is None


def test_the_same_form_with_something_else_in_it_says_when_it_was_taken_in_and_where_that_led(db: Session) -> None:
    once.keep(db, "k1", content="a", leads_to="/jobs/1001", now=NOON)
    with pytest.raises(TakenIn) as refusal:
        once.led_to(db, "k1", content="b")
    assert (refusal.value.at, refusal.value.leads_to) == (NOON, "/jobs/1001")


def test_the_table_refuses_a_second_row_for_one_form(db: Session) -> None:
    once.keep(db, "k1", leads_to="/a", now=NOON)
    db.expunge_all()
    with pytest.raises(IntegrityError), db.begin_nested():
        once.keep(db, "k1", content="other", leads_to="/b", now=NOON)
    assert once.led_to(db, "k1") == "/a"
