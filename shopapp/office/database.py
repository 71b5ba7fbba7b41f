"""The one place that opens the database: engines, transactions, what SQLite must be told at each connect."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from pathlib import Path
from typing import Any

from sqlalchemy import Engine, create_engine, event, make_url
from sqlmodel import Session

__all__ = ["Database", "Session", "sqlite_url"]

# Without recursive_triggers, INSERT OR REPLACE would delete a row that is only ever added, and no trigger would know.
_PRAGMAS = (
    "journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", "recursive_triggers=ON", "busy_timeout=10000",
)  # fmt: skip
_WRITERS_TURN = 7_231_906


class Database:
    """A database and its two kinds of transaction: reading, and writing that keeps on return and undoes on raise."""

    def __init__(self, url: str) -> None:
        self.url = url
        self.engine = _engine(url)
        self._readers = _readers(self.engine)
        self._one_writer = threading.Lock() if self.engine.dialect.name == "sqlite" else nullcontext()

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """A session that sees one moment of the book and writes nothing."""
        with Session(self._readers, autoflush=False) as session:
            yield session

    @contextmanager
    def writing(self) -> Iterator[Session]:
        """A session committed when the block ends, undone when it raises.

        One writer at a time, whatever holds the book: what a verb has looked at stays so until it has written. SQLite
        does this by itself, but waiting in this process is far cheaper than waiting in the file; a server is asked
        for a lock that ends with the transaction.
        """
        with self._one_writer, self.engine.connect() as connection:
            writer = connection.execution_options(writing=True)
            with Session(bind=writer) as session, session.begin():
                yield session

    def close(self) -> None:
        """Let go of every connection."""
        self.engine.dispose()


def sqlite_url(file: Path) -> str:
    """The address of a SQLite file."""
    return f"sqlite:///{file}"


def _engine(url: str) -> Engine:
    if make_url(url).get_backend_name() != "sqlite":
        engine = create_engine(url, pool_pre_ping=True)
        event.listen(engine, "begin", _take_turns)
        return engine
    engine = create_engine(url, connect_args={"check_same_thread": False})
    event.listen(engine, "connect", _at_connect)
    event.listen(engine, "begin", _at_begin)
    return engine


def _readers(engine: Engine) -> Engine:
    """SQLite shows a reader one moment by itself; a server has to be asked for it."""
    return engine if engine.dialect.name == "sqlite" else engine.execution_options(isolation_level="REPEATABLE READ")


def _at_connect(raw: Any, _record: Any) -> None:
    raw.isolation_level = None
    for pragma in _PRAGMAS:
        raw.execute(f"PRAGMA {pragma}")


def _take_turns(connection: Any) -> None:
    if connection.get_execution_options().get("writing"):
        connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_WRITERS_TURN})")


def _at_begin(connection: Any) -> None:
    writing = connection.get_execution_options().get("writing")
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")
