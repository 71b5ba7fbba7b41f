"""What tests of every room may ask for: a chromium and a PostgreSQL, real ones, and an empty book."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import NoReturn

import pytest
from playwright.sync_api import Browser, sync_playwright
from sqlmodel import Session

from shopapp.office.database import Database, sqlite_url
from shopapp.office.migrating import migrate
from shopapp.papers.places import migrations_dir
from tests import outside, postgres

_QUIET = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    # A name of a shop's own network, which on plain http is no secure context; loopback itself would be one.
    "--host-resolver-rules=MAP bench.shop 127.0.0.1",
]


_COUNTED = pytest.StashKey[str]()


def pytest_collection_finish(session: pytest.Session) -> None:
    """Count what is held to a value from outside, of what will run."""
    found = outside.counted(session.items)
    session.config.stash[_COUNTED] = outside.line(found) if found else ""


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    """Say the count at the end of a run that had such tests."""
    if said := config.stash.get(_COUNTED, ""):
        terminalreporter.write_line(said)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """What needs a CAD kernel runs when it is asked for by its marker, and is counted as deselected otherwise."""
    if "kernel" in config.option.markexpr:
        return
    asked_for = [item for item in items if item.get_closest_marker("kernel")]
    config.hook.pytest_deselected(items=asked_for)
    items[:] = [item for item in items if item not in asked_for]


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """The machine's own browser; each test opens its own context in it."""
    program = shutil.which("chromium") or shutil.which("chromium-browser")
    if program is None:
        _not_here("No chromium is installed on this machine.")
    try:
        playwright = sync_playwright().start()
    except Exception as error:  # it raises a bare one when its driver ends at once
        _not_here(f"The browser's driver does not start ({error}). On Debian: apt-get install libatomic1")
    browser = playwright.chromium.launch(executable_path=program, headless=True, args=_QUIET)
    yield browser
    browser.close()
    playwright.stop()


@pytest.fixture(scope="session")
def postgres_url() -> Iterator[str]:
    """The first database of a server that lives as long as the tests."""
    programs = postgres.programs()
    if programs is None:
        _not_here("No PostgreSQL server is installed on this machine.")
    with postgres.running(programs) as url:
        yield url


@pytest.fixture
def empty_postgres_url(postgres_url: str) -> Iterator[str]:
    """An empty database of its own for one test."""
    with postgres.fresh_database(postgres_url) as url:
        yield url


@pytest.fixture(scope="session")
def migrated_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A migrated book with nothing in it, to be copied: migrating anew for each test would be slow."""
    file = tmp_path_factory.mktemp("book") / "shop.db"
    database = Database(sqlite_url(file))
    migrate(database, migrations_dir())
    database.close()
    return file


@pytest.fixture
def book(migrated_file: Path, tmp_path: Path) -> Iterator[Database]:
    """An empty book of its own for one test, in a file."""
    file = tmp_path / "shop.db"
    shutil.copy(migrated_file, file)
    database = Database(sqlite_url(file))
    yield database
    database.close()


@pytest.fixture
def db(book: Database) -> Iterator[Session]:
    """A writing session on the empty book, kept at the end as a request would keep it."""
    with book.writing() as session:
        yield session


def _not_here(reason: str) -> NoReturn:
    """The one place where a test may be left out; where everything has been installed it fails instead."""
    if os.environ.get("CI") == "true":
        pytest.fail(reason)
    pytest.skip(reason)
