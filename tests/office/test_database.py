"""Transactions: return keeps, raise undoes, nothing is lost, reading sees one moment."""

import threading
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest
from sqlalchemy import text
from sqlalchemy.exc import IntegrityError

from shopapp.office import numbering
from shopapp.office.database import Database, sqlite_url
from shopapp.office.migrating import migrate
from shopapp.papers.places import migrations_dir

COUNT = text("SELECT next_number FROM counter WHERE name = 'tally'")


def begin(book: Database) -> None:
    with book.writing() as db:
        db.execute(text("INSERT INTO counter (name, next_number) VALUES ('tally', 0)"))


def add(book: Database, times: int) -> None:
    """Read, then write what was read and one more: what gets lost where two do it at one time."""
    for _ in range(times):
        with book.writing() as db:
            seen = db.execute(COUNT).scalar_one()
            db.execute(text("UPDATE counter SET next_number = :next WHERE name = 'tally'"), {"next": seen + 1})


def tally(book: Database) -> int:
    with book.reading() as db:
        return db.execute(COUNT).scalar_one()


@pytest.fixture
def served(empty_postgres_url: str) -> Iterator[Database]:
    """A book on a server."""
    book = Database(empty_postgres_url)
    migrate(book, migrations_dir())
    yield book
    book.close()


def eight_at_once(book: Database) -> int:
    begin(book)
    threads = [threading.Thread(target=add, args=(book, 100)) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return tally(book)


def test_eight_at_once_lose_none_of_eight_hundred(book: Database) -> None:
    assert eight_at_once(book) == 800


def test_eight_at_once_lose_none_on_a_server_either(served: Database) -> None:
    assert eight_at_once(served) == 800


def test_what_a_writer_has_looked_at_stays_so_until_it_has_written(served: Database) -> None:
    inside, done = threading.Event(), threading.Event()

    def other() -> None:
        inside.wait(10)
        with served.writing() as db:
            numbering.take(db, "invoice")
        done.set()

    thread = threading.Thread(target=other)
    thread.start()
    with served.writing() as db:
        db.execute(text("SELECT count(*) FROM invoice")).scalar_one()  # looked at, nothing written yet
        inside.set()
        assert not done.wait(0.5)
    thread.join(10)
    assert done.is_set()


def test_two_programs_on_one_file_lose_nothing_either(book: Database, tmp_path: Path) -> None:
    begin(book)
    other = Database(sqlite_url(tmp_path / "shop.db"))  # with its own lock, as another process has
    threads = [threading.Thread(target=add, args=(one, 50)) for one in (book, other)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    other.close()
    assert tally(book) == 100


def test_raising_undoes_everything(book: Database) -> None:
    begin(book)
    with suppress(ZeroDivisionError), book.writing() as db:
        db.execute(text("UPDATE counter SET next_number = 9"))
        raise ZeroDivisionError
    assert tally(book) == 0


def reads_one_moment(book: Database) -> list[int]:
    begin(book)
    with book.reading() as db:
        seen = [db.execute(COUNT).scalar_one()]
        add(book, 1)
        seen.append(db.execute(COUNT).scalar_one())
    return [*seen, tally(book)]


def test_reading_sees_one_moment_while_others_write(book: Database) -> None:
    assert reads_one_moment(book) == [0, 0, 1]


def test_reading_sees_one_moment_on_a_server_too(served: Database) -> None:
    assert reads_one_moment(served) == [0, 0, 1]


def test_foreign_keys_hold(book: Database) -> None:
    with pytest.raises(IntegrityError), book.writing() as db:
        db.execute(text("INSERT INTO billed_piece (piece_id, invoice_id) VALUES (1, 1)"))


def test_a_file_is_told_what_it_must_be_told(book: Database) -> None:
    with book.reading() as db:
        said = {name: db.execute(text(f"PRAGMA {name}")).scalar_one() for name in ("foreign_keys", "journal_mode")}
        assert said == {"foreign_keys": 1, "journal_mode": "wal"}
        assert db.execute(text("PRAGMA synchronous")).scalar_one() == 2  # full


def test_a_file_is_named_as_an_address(tmp_path: Path) -> None:
    assert sqlite_url(tmp_path / "a b.db") == f"sqlite:///{tmp_path}/a b.db"
