"""The migrations make what the models say, on both engines, and rows that are only added stay as they are."""

import importlib.util
import re
from collections.abc import Iterator
from datetime import UTC, date, datetime
from itertools import chain
from pathlib import Path
from typing import Any

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import CheckConstraint, Connection, MetaData, Table, insert, inspect, text
from sqlalchemy.exc import DBAPIError
from sqlmodel import select

from shopapp.office import invoices, jobs, ledger, shopbook, weighing
from shopapp.office.database import Database, sqlite_url
from shopapp.office.migrating import autogenerate, migrate
from shopapp.office.tables.every import METADATA, ONLY_ADDED
from shopapp.office.tables.history import Event
from shopapp.office.tables.invoices import Applied
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
def book(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Database]:
    """A book with nothing in it, not a table: in a file and on a server."""
    on_server = request.param == "server"
    book = Database(request.getfixturevalue("empty_postgres_url") if on_server else sqlite_url(tmp_path / "b.db"))
    yield book
    book.close()


@pytest.fixture
def migrated(book: Database) -> Database:
    """A book made by the migrations, in a file and on a server."""
    migrate(book, migrations_dir())
    return book


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


BEFORE: dict[str, list[dict[str, Any]]] = {
    "person": [{"id": 1, "initials": "MB"}],
    "shop": [{"id": 1, "zone": "America/Halifax", "paper": "A4", "unit": "in", "tax_by": "document"}],
    "customer": [{"id": 1, "bill_when": "ready", "order_number": "none"}],
    "job": [{"id": 1, "no": 1001, "ended": None}, {"id": 2, "no": 1002, "ended": None}],
    "paper": [{"id": 1, "kind": "invoice", "job_id": 1, "at": datetime(2031, 3, 5, 16, tzinfo=UTC)}],
    "invoice": [{"id": 1, "job_id": 1, "paper_id": 1, "issued_on": date(2031, 3, 5), "void_on": None, **SUMS}],
    "payment": [
        {"id": 1, "job_id": 1, "paid_on": date(2031, 3, 1), "at": datetime(2031, 3, 1, 16, tzinfo=UTC)},
        {"id": 2, "job_id": 1, "paid_on": date(2031, 3, 9), "at": datetime(2031, 3, 9, 16, tzinfo=UTC)},
        {"id": 3, "job_id": 2, "paid_on": date(2031, 3, 9), "at": datetime(2031, 3, 9, 16, tzinfo=UTC)},
    ],
    "applied": [{"id": n, "payment_id": n, "invoice_id": 1, "cents": 10 * n} for n in (1, 2, 3)],
    "reversal": [{"id": 1, "payment_id": 2, "at": datetime(2031, 4, 1, 2, tzinfo=UTC)}],
}
"""A book before what was applied had a day: a deposit, a cheque that came back at eleven at night of the last of March
in the shop, and credit from another job."""


@pytest.mark.parametrize("engine", ["file", "server"])
def test_what_was_applied_has_its_day_and_what_came_back_is_let_go(
    engine: str, request: pytest.FixtureRequest, tmp_path: Path
) -> None:
    on_server = engine == "server"
    book = Database(request.getfixturevalue("empty_postgres_url") if on_server else sqlite_url(tmp_path / "b.db"))
    migrate(book, migrations_dir(), to="0009")
    there = MetaData()
    there.reflect(book.engine)
    with book.engine.begin() as connection:
        for name, rows in BEFORE.items():
            for row in rows:
                plain = {
                    column.name: PLAIN[column.type.python_type]
                    for column in there.tables[name].columns
                    if not column.nullable
                }
                connection.execute(insert(there.tables[name]).values({**plain, **row}))
    migrate(book, migrations_dir())
    with book.reading() as db:
        rows = db.exec(select(Applied.payment_id, Applied.cents, Applied.day, Applied.was_held).order_by(Applied.id))
        assert [tuple(row) for row in rows] == [
            (1, 10, date(2031, 3, 5), True), (2, 20, date(2031, 3, 9), False), (2, -20, date(2031, 3, 31), False),
            (3, 30, date(2031, 3, 9), True),
        ]  # fmt: skip
        assert ledger.by_no(db, 1).paid_cents == 40
    book.close()


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
        replace = f"INSERT OR REPLACE INTO {name} SELECT * FROM {name}"
        whole = replace if migrated.engine.dialect.name == "sqlite" else f"TRUNCATE {name} CASCADE"
        for act in (f"UPDATE {name} SET {column} = {column}", f"DELETE FROM {name}", whole):
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


def test_what_lies_in_an_old_book_uncut_or_spoiled_lies_on_the_shelf(book: Database) -> None:
    migrate(book, migrations_dir(), to="0009")
    with book.engine.begin() as connection:
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


def test_acts_written_before_learn_whose_they_are_and_stay_as_they_are_from_then_on(book: Database) -> None:
    migrate(book, migrations_dir(), to="0009")
    at = "'2031-03-04 16:00:00'"
    with book.engine.begin() as connection:
        for table, values in {
            "person (id, initials, name, works_here)": "(1, 'MB', 'Moll', true)",
            "customer (id, name, folded, contact, phone, email, address, terms_days, bill_when, order_number, "
            "deposit_percent, country, tax_id, note)": "(7, 'Cob', 'cob', '', '1', '', '', 0, 'ready', 'none', '0', "
            "'', '', '')",
            "job (id, no, customer_id, title, asked, rush, order_number, opened_at, opened_by)": "(3, 1001, 7, 'skim', "
            f"'', false, '', {at}, 1)",
            "event (at, by_id, act, words, job_id)": f"({at}, 1, 'void', 'twice', 3), ({at}, 1, 'rate', '86', NULL)",
            "labour_rate (valid_from, cents_per_hour)": "('2031-03-04', 860000)",
        }.items():
            connection.exec_driver_sql(f"INSERT INTO {table} VALUES {values}")
    migrate(book, migrations_dir())
    with book.reading() as db:
        assert db.exec(select(Event.act, Event.customer_id).order_by(Event.id)).all() == [("void", 7), ("rate", None)]
    with book.writing() as db:
        shopbook.add_rate(db, valid_from=date(2031, 3, 4), cents_per_hour=8600, now=datetime.now(UTC), by=1)
        assert shopbook.rate_on(db, date(2031, 3, 4)) == 8600
    with pytest.raises(DBAPIError, match="only ever added"), book.engine.begin() as connection:
        connection.execute(text("UPDATE event SET act = 'y'"))
