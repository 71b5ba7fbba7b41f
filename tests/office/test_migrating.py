"""The migrations make what the models say, on both engines, and rows that are only added stay as they are."""

import importlib.util
import re
from collections.abc import Iterator
from datetime import UTC, date, datetime
from itertools import chain
from pathlib import Path
from typing import Any

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from sqlalchemy import CheckConstraint, Connection, Table, insert, inspect, text
from sqlalchemy.exc import DBAPIError
from sqlmodel import select

from shopapp.office import invoices, jobs, ledger, weighing
from shopapp.office.database import Database, sqlite_url
from shopapp.office.migrating import autogenerate, migrate
from shopapp.office.tables.every import METADATA, ONLY_ADDED
from shopapp.office.tables.weighing import Reading
from shopapp.papers.places import migrations_dir
from tests import makers

PLAIN: dict[type, Any] = {
    int: 1, float: 1.0, str: "x", bool: True, bytes: b"x", date: date(2031, 3, 4),
    datetime: datetime(2031, 3, 4, tzinfo=UTC),
}  # fmt: skip
#: Where a check of the table asks for more than a plain value.
SUMS = {"net_cents": 1, "tax_cents": 0, "total_cents": 1}
TOLD: dict[str, dict[str, Any]] = {"invoice": SUMS, "credit_note": SUMS}


@pytest.fixture(params=["file", "server"])
def migrated(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Database]:
    """A book made by the migrations, in a file and on a server."""
    on_server = request.param == "server"
    book = Database(request.getfixturevalue("empty_postgres_url") if on_server else sqlite_url(tmp_path / "b.db"))
    migrate(book, migrations_dir())
    yield book
    book.close()


def test_the_schema_is_what_the_models_say(migrated: Database) -> None:
    with migrated.engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, METADATA) == []


def test_every_check_of_the_models_is_in_the_schema(migrated: Database) -> None:
    there = inspect(migrated.engine)
    for table in METADATA.tables.values():
        wanted = {str(check.name) for check in table.constraints if isinstance(check, CheckConstraint)}
        assert {check["name"] for check in there.get_check_constraints(table.name)} == wanted, table.name


def test_migrating_twice_is_harmless(migrated: Database) -> None:
    with migrated.writing() as db:
        makers.make_job(db, makers.make_shop(db))
    before = inspect(migrated.engine).get_table_names()
    migrate(migrated, migrations_dir())
    with migrated.reading() as db:
        assert jobs.by_no(db, 1001).title == "skim press plates"
    assert inspect(migrated.engine).get_table_names() == before


def test_foreign_keys_are_on_after_migrating(migrated: Database) -> None:
    with pytest.raises(DBAPIError), migrated.writing() as db:
        db.execute(text("INSERT INTO billed_piece (piece_id, invoice_id) VALUES (7, 7)"))


def test_a_file_with_rows_that_point_at_nothing_is_not_called_in_step(tmp_path: Path) -> None:
    book = Database(sqlite_url(tmp_path / "b.db"))
    migrate(book, migrations_dir())
    with book.engine.connect() as connection:
        connection.exec_driver_sql("COMMIT")
        connection.exec_driver_sql("PRAGMA foreign_keys=OFF")
        connection.exec_driver_sql("INSERT INTO billed_piece (piece_id, invoice_id) VALUES (7, 7)")
        connection.invalidate()
    with pytest.raises(RuntimeError, match="point at nothing"):
        migrate(book, migrations_dir())
    book.close()


def test_the_migrations_are_one_chain_without_a_gap_to_the_models(tmp_path: Path) -> None:
    scripts = tmp_path / "migrations"
    scripts.joinpath("versions").mkdir(parents=True)
    for file in chain(migrations_dir().glob("*.py"), migrations_dir().glob("*.mako")):
        scripts.joinpath(file.name).write_text(file.read_text())
    book = Database(sqlite_url(tmp_path / "b.db"))
    autogenerate(book, scripts, "the whole book")
    (written,) = scripts.joinpath("versions").glob("*.py")
    assert all(f'"{name}"' in written.read_text() or f"'{name}'" in written.read_text() for name in METADATA.tables)
    book.close()


def triggers_of_the_migrations() -> set[str]:
    """The tables for which some migration puts the two triggers up."""
    named: set[str] = set()
    for file in migrations_dir().glob("versions/*.py"):
        spec = importlib.util.spec_from_file_location(file.stem, file)
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        named |= set(getattr(module, "ONLY_ADDED", ()))
    return named


def test_the_migrations_and_the_tables_name_the_same_rows_as_only_added() -> None:
    assert triggers_of_the_migrations() == set(ONLY_ADDED)


ASKED = {("paper", "job_id")}
"""Columns that may be empty, but not in a row that stands for itself."""


def code_of(table: Table, column: str) -> str | None:
    """The first code that a check of the table allows in a column."""
    for check in table.constraints:
        found = re.search(rf"\b{column} IN \('(\w+)'", str(getattr(check, "sqltext", "")))
        if found:
            return found[1]
    return None


def any_row(connection: Connection, table: Table, made: dict[str, Any]) -> Any:
    """A row of any table with all rows that it must point at; gives its key."""
    if table.name in made:
        return made[table.name]
    values = dict(TOLD.get(table.name, {}))
    for column in table.columns:
        told = column.name in values or (column.nullable and (table.name, column.name) not in ASKED)
        if told or (column.name == "id" and table.name != "shop"):
            continue
        if column.foreign_keys:
            target = next(iter(column.foreign_keys)).column.table
            values[column.name] = any_row(connection, target, made)
        else:
            values[column.name] = (
                code_of(table, column.name) or PLAIN[getattr(column.type, "impl", column.type).python_type]
            )
    key = connection.execute(insert(table).values(values)).inserted_primary_key[0]
    made[table.name] = key
    return key


def test_rows_that_are_only_added_are_never_changed_or_deleted(migrated: Database) -> None:
    made: dict[str, Any] = {}
    with migrated.engine.begin() as connection:
        for name in ONLY_ADDED:
            any_row(connection, METADATA.tables[name], made)
    for name in ONLY_ADDED:
        column = next(iter(METADATA.tables[name].columns)).name
        for act in (f"UPDATE {name} SET {column} = {column}", f"DELETE FROM {name}"):
            with pytest.raises(DBAPIError, match=f"rows of {name} are only ever added"), migrated.engine.begin() as c:
                c.execute(text(act))
            with migrated.engine.connect() as connection:
                assert connection.execute(text(f"SELECT count(*) FROM {name}")).scalar_one() == 1


def test_other_rows_may_change(migrated: Database) -> None:
    with migrated.engine.begin() as connection:
        any_row(connection, METADATA.tables["job"], {})
        assert connection.execute(text("UPDATE job SET title = 'y'")).rowcount == 1


def test_the_main_job_goes_through_on_both_engines(migrated: Database) -> None:
    with migrated.writing() as db:
        shop = makers.make_shop(db)
        job = makers.finished_job(db, shop)
        first = makers.pieces_of(db, job)[0]
        wrong = db.exec(select(Reading.id).where(Reading.piece_id == first.id, Reading.phase == "after")).one()
        weighing.strike(db, reading_id=wrong, reason="wrong tag", **shop.at())
        makers.weigh(db, shop, first, "after", "23.5")
        lines = invoices.draft_lines(db, job.id, now=shop.at()["now"])
        no = invoices.issue(db, job_id=job.id, lines=lines, **shop.at())
    with migrated.reading() as db:
        assert ledger.by_no(db, no).total_cents == 7350
        told = weighing.of_pieces(db, jobs.pieces(db, job.id))[first.id]
        assert (told.after.typed, [r.struck for r in told.struck], told.verdict) == ("23.5", ["wrong tag"], "agrees")


AN_OLD_BOOK = (
    "INSERT INTO person (id, initials, name, works_here) VALUES (1, 'MB', 'Mabel', true)",
    "INSERT INTO customer (id, name, folded, contact, phone, email, address, terms_days, bill_when, order_number, "
    "deposit_percent, country, tax_id, note) VALUES (1, 'Mill', 'mill', '', '', '', '', 30, 'ready', 'none', '', '', "
    "'', '')",
    "INSERT INTO job (id, no, customer_id, title, asked, rush, order_number, opened_at, opened_by, ended) VALUES "
    "(1, 1001, 1, 'skim', '', false, '', :at, 1, NULL), (2, 1002, 1, 'skim', '', false, '', :at, 1, 'not_taken_up')",
    "INSERT INTO hand_over (id, job_id, taken_by, how, signature, signed_for, stub_back, by_id, at) VALUES "
    "(1, 1, 'Marn', 'known', '', '', false, 1, :at)",
    "INSERT INTO piece (id, job_id, n, goes_to, machine, place, custody, moved_at, hand_over_id, note) VALUES "
    "(1, 1, 1, 'machine', '', '', 'spoiled', :at, 1, ''), (2, 1, 2, 'machine', '', '', 'spoiled', :at, NULL, ''), "
    "(3, 1, 3, 'machine', '', '', 'sent_back', :at, NULL, ''), (4, 1, 4, 'machine', '', '', 'rack', :at, NULL, ''), "
    "(5, 2, 1, 'machine', '', '', 'rack', :at, NULL, ''), (6, 2, 2, 'machine', '', '', 'expected', :at, NULL, '')",
)
"""A book as it stood before custody and fate were two facts; the columns are those of that time."""


@pytest.mark.parametrize("on_server", [False, True], ids=["file", "server"])
def test_what_lies_in_an_old_book_uncut_or_spoiled_lies_on_the_shelf(
    request: pytest.FixtureRequest, tmp_path: Path, on_server: bool
) -> None:
    book = Database(request.getfixturevalue("empty_postgres_url") if on_server else sqlite_url(tmp_path / "b.db"))
    config = Config()
    config.set_main_option("script_location", str(migrations_dir()))
    config.set_main_option("path_separator", "os")
    with book.engine.begin() as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, "0009")
        for statement in AN_OLD_BOOK:
            told = {"at": "2031-03-04 16:00:00+00:00"} if ":at" in statement else {}
            connection.execute(text(statement), told)
    migrate(book, migrations_dir())
    with book.engine.connect() as connection:
        rows = connection.execute(text("SELECT custody, fate FROM piece ORDER BY id")).all()
    assert [tuple(row) for row in rows] == [
        ("gone", "spoiled"), ("shelf", "spoiled"), ("shelf", "sent_back"), ("rack", None),
        ("shelf", "sent_back"), ("gone", "not_come"),
    ]  # fmt: skip
    book.close()
