"""What the columns of all tables share."""

from datetime import UTC, datetime, timedelta, timezone

import pytest
from sqlalchemy import Integer, insert, select
from sqlalchemy.exc import IntegrityError, StatementError
from sqlmodel import Session

from shopapp.office.tables.every import METADATA
from shopapp.office.tables.history import Once
from shopapp.office.tables.jobs import Job
from tests.makers import Shop, make_job


def test_a_time_comes_back_aware_and_in_utc(db: Session) -> None:
    east = datetime(2031, 3, 5, 1, tzinfo=timezone(timedelta(hours=9)))
    db.execute(insert(Once).values(form_key="k", leads_to="/", at=east))
    back = db.execute(select(Once.at)).scalar_one()
    assert (back, back.tzinfo) == (east, UTC)


def test_a_time_without_its_zone_is_not_stored(db: Session) -> None:
    naive = datetime(2031, 3, 5, 1)  # noqa: DTZ001
    with pytest.raises(StatementError, match="without its zone"), db.begin_nested():
        db.execute(insert(Once).values(form_key="k", leads_to="/", at=naive))


def test_a_code_that_is_not_in_the_list_is_refused_by_the_table(db: Session, shop: Shop) -> None:
    job = db.get(Job, make_job(db, shop).id)
    job.ended = "lost"
    with pytest.raises(IntegrityError, match="ck_job_ended"), db.begin_nested():
        db.flush()
    db.expire(job)


def test_every_constraint_has_a_name() -> None:
    nameless = [
        f"{table.name}: {constraint}"
        for table in METADATA.tables.values()
        for constraint in table.constraints
        if not constraint.name
    ]
    assert nameless == []


def test_every_pointer_to_another_row_is_held() -> None:
    columns = [column for table in METADATA.tables.values() for column in table.columns]
    pointers = [column for column in columns if column.name.endswith("_id") and isinstance(column.type, Integer)]
    assert pointers
    assert [str(column) for column in pointers if not column.foreign_keys] == []
