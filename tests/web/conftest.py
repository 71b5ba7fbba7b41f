"""A live shop for tests of the web: one warm server for all of them, a fresh book for each."""

import shutil
import socket
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import httpx
import pytest
import uvicorn

from shopapp.app import build
from shopapp.office import people
from shopapp.office.database import Database, sqlite_url
from shopapp.office.migrating import migrate
from shopapp.papers import press
from shopapp.papers.places import migrations_dir
from tests import cast, makers


class House:
    """One warm app at a port; each test brings it another book and another clock."""

    def __init__(self, folder: Path) -> None:
        self.database = Database(sqlite_url(folder / "none.db"))
        self.clock: Callable[[], datetime] = lambda: cast.NOON
        self.app = build(self.database, clock=lambda: self.clock())
        self.address = ""

    def move_in(self, file: Path, clock: Callable[[], datetime]) -> None:
        """Work with this book and this clock from now on."""
        self.database.engine.dispose()
        vars(self.database).update(vars(Database(sqlite_url(file))))
        self.clock = clock
        self.app.state.wall.forget()


@dataclass
class LiveShop:
    """A shop that can be walked into, on the clock of the cast: Tuesday noon, 4 March 2031.

    `by` is the row of WK, whose cookie the client carries; `maker` is what the makers call a shop, with WK acting.
    """

    client: httpx.Client
    database: Database
    app: Any
    now: datetime = cast.NOON
    by: int = 0
    maker: makers.Shop = field(default_factory=lambda: makers.Shop(0, {}))
    origin: str = field(init=False)

    def __post_init__(self) -> None:
        self.origin = str(self.client.base_url).rstrip("/")

    def get(self, path: str, **query: str) -> httpx.Response:
        """Ask for a page."""
        return self.client.get(path, params=query or None)

    def post(self, path: str, **fields: Any) -> httpx.Response:
        """Send a form as a page of ours sends it."""
        return self.client.post(path, data=fields, headers={"Origin": self.origin})

    def later(self, **span: float) -> None:
        """Let time go by: later(days=3)."""
        self.now += timedelta(**span)


@pytest.fixture(scope="session")
def house(tmp_path_factory: pytest.TempPathFactory) -> Iterator[House]:
    """The warm server."""
    house = House(tmp_path_factory.mktemp("house"))
    listening = socket.create_server(("127.0.0.1", 0))
    server = uvicorn.Server(
        uvicorn.Config(house.app, log_level="critical", access_log=False, lifespan="off", ws="none")
    )  # fmt: skip
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    house.address = f"http://127.0.0.1:{listening.getsockname()[1]}"
    yield house
    server.should_exit = True
    thread.join(10)
    press.close()
    house.database.close()


@pytest.fixture(scope="session")
def blank_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book with its tables and nothing in it, to copy."""
    file = tmp_path_factory.mktemp("book") / "blank.db"
    database = Database(sqlite_url(file))
    migrate(database, migrations_dir())
    database.close()
    return file


@pytest.fixture
def new_shop(house: House, blank_book: Path, tmp_path: Path) -> Iterator[LiveShop]:
    """A shop whose book is empty, and nobody has said who they are."""
    with httpx.Client(base_url=house.address, follow_redirects=False, timeout=30) as client:
        shop = LiveShop(client, house.database, house.app)
        house.move_in(Path(shutil.copy(blank_book, tmp_path / "shop.db")), lambda: shop.now)
        yield shop


@pytest.fixture
def shop(new_shop: LiveShop) -> LiveShop:
    """The makers' shop, set up: $60.00 an hour, 5 % tax, three scales; WK stands at the counter."""
    with new_shop.database.writing() as db:
        made = makers.make_shop(db)
        new_shop.by = people.add(db, initials="WK", name="Wilma Kerf", now=new_shop.now, by=made.by)
    new_shop.maker = makers.Shop(new_shop.by, made.scales)
    new_shop.client.cookies.set("who", "WK")
    return new_shop
