"""A form sent twice is taken in once."""

import pytest
from sqlalchemy.exc import IntegrityError
from sqlmodel import Session

from shopapp.office import once
from tests.cast import NOON


def test_a_form_that_was_taken_in_knows_where_it_led(db: Session) -> None:
    assert once.led_to(db, "k1") is None
    once.keep(db, "k1", leads_to="/jobs/1001", now=NOON)
    assert once.led_to(db, "k1") == "/jobs/1001"
    assert once.led_to(db, "k2") is None


def test_the_table_refuses_a_second_row_for_one_form(db: Session) -> None:
    once.keep(db, "k1", leads_to="/a", now=NOON)
    db.expunge_all()
    with pytest.raises(IntegrityError), db.begin_nested():
        once.keep(db, "k1", leads_to="/b", now=NOON)
    assert once.led_to(db, "k1") == "/a"
