"""The invented shop, told once on the story's own last day."""

from collections.abc import Callable, Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from sqlmodel import Session

from shopapp.demo import telling
from shopapp.demo.days import ZONE
from shopapp.office.database import Database, sqlite_url
from shopapp.office.migrating import migrate
from shopapp.papers.places import migrations_dir

#: Half past six in the evening by the shop's clock; in UTC it is the next day already.
NOW = datetime(2026, 3, 31, 18, 30, tzinfo=ZoneInfo(ZONE))


@pytest.fixture(scope="session")
def told_at(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Callable[[datetime], Database]]:
    """Tells the story into a fresh book, moved to a moment."""
    opened: list[Database] = []

    def tell(now: datetime) -> Database:
        database = Database(sqlite_url(tmp_path_factory.mktemp("demo") / "shop.db"))
        opened.append(database)
        migrate(database, migrations_dir())
        telling.fill(database, now=now)
        return database

    yield tell
    for database in opened:
        database.close()


@pytest.fixture(scope="session")
def story(told_at: Callable[[datetime], Database]) -> Database:
    return told_at(NOW)


@pytest.fixture
def db(story: Database) -> Iterator[Session]:
    with story.reading() as session:
        yield session
