"""What hangs on the wall is believed for a moment, and read anew when this process has written."""

from datetime import UTC, datetime
from pathlib import Path
from shutil import copy

import pytest

from shopapp.office import shopbook
from shopapp.office.database import Database, sqlite_url
from shopapp.web.wall import FRESH, Wall
from tests import makers
from tests.web.conftest import LiveShop


class Ticks:
    """A clock that is moved by hand."""

    now = 100.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def database(blank_book: Path, tmp_path: Path) -> Database:
    return Database(sqlite_url(Path(copy(blank_book, tmp_path / "wall.db"))))


def rename(database: Database, by: int, name: str) -> None:
    with database.writing() as db:
        shopbook.change(db, name=name, currency="€", now=datetime(2031, 1, 1, tzinfo=UTC), by=by)


def test_an_empty_book_is_read_again_each_time(database: Database) -> None:
    wall = Wall(database, Ticks())
    assert wall.facts() is None
    assert wall.cents(150) == "$1.50"
    with database.writing() as db:
        makers.make_shop(db)
    facts = wall.facts()
    assert facts
    assert facts.name == "Brackwater Lathe Works"


def test_the_facts_are_believed_for_a_moment_only(database: Database) -> None:
    ticks = Ticks()
    wall = Wall(database, ticks)
    with database.writing() as db:
        by = makers.make_shop(db).by
    assert wall.cents(150) == "$1.50"
    rename(database, by, "Elsewhere Changed")
    assert wall.cents(150) == "$1.50"
    ticks.now += FRESH + 0.1
    assert wall.cents(150) == "€1.50"


def test_after_forgetting_they_are_read_anew(database: Database) -> None:
    wall = Wall(database, Ticks())
    with database.writing() as db:
        by = makers.make_shop(db).by
    wall.facts()
    rename(database, by, "Changed Here")
    wall.forget()
    facts = wall.facts()
    assert facts
    assert facts.name == "Changed Here"


def test_an_instant_is_shown_by_the_shops_clock(database: Database) -> None:
    with database.writing() as db:
        makers.make_shop(db)
    # Halifax keeps UTC-4 in winter (IANA time zone database).
    assert Wall(database).moment(datetime(2031, 1, 2, 3, 4, tzinfo=UTC)) == "1 Jan 2031, 23:04"
    assert Wall(database).moment(None) == ""


def test_a_change_of_the_shops_name_hangs_at_once(shop: LiveShop) -> None:
    told = {"unit": "in", "paper": "A4", "zone": "UTC", "currency": "$"}
    assert "<b>Brackwater Lathe Works</b>" in shop.get("/parts").text
    shop.post("/book/shop", name="Kerf & Daughter", **told)
    assert "<b>Kerf &amp; Daughter</b>" in shop.get("/parts").text


def test_the_title_block_of_an_empty_book_says_so(new_shop: LiveShop) -> None:
    assert "<b>A new shop</b>" in new_shop.get("/first").text


def test_the_day_of_an_evening_is_the_shops_day(database: Database) -> None:
    with database.writing() as db:
        by = makers.make_shop(db).by
        shopbook.change(db, zone="America/Denver", now=datetime(2031, 1, 1, tzinfo=UTC), by=by)
    wall = Wall(database, Ticks())
    evening = datetime(2031, 3, 5, 2, 30, tzinfo=UTC)
    assert (wall.day(evening), wall.weekday(evening)) == ("4 Mar 2031", "Tue 4 Mar 2031")
    assert wall.day(evening.date()) == "5 Mar 2031"
