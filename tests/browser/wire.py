"""The wire between a phone and the shop, which can be cut at a chosen moment; and a phone at its far end."""

import os
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from urllib.parse import urlsplit

from playwright.sync_api import Browser, Page

from shopapp.office import jobs, weighing
from tests.house.tree import ROOT
from tests.web.conftest import LiveShop

PHONE = {"width": 360, "height": 740}
HOST = "bench.shop"


@dataclass
class Wire:
    """Passes bytes on as they come.

    `cut` says what happens to a posting: "" it goes through; "answer" the shop gets it whole and answers, and the
    answer is lost; "request" it never reaches the shop; "hold" it hangs on the way. Everything else goes through, so
    that pages can be loaded.
    """

    upstream: tuple[str, int]
    cut: str = ""
    answers_lost: int = 0
    open_ends: list[socket.socket] = field(default_factory=list)
    listening: socket.socket = field(default_factory=lambda: socket.create_server(("127.0.0.1", 0)))

    @property
    def port(self) -> int:
        """Where the phone knocks."""
        return int(self.listening.getsockname()[1])

    @property
    def address(self) -> str:
        """The shop's address as the phone knows it."""
        return f"http://{HOST}:{self.port}"

    def hang_up(self) -> None:
        """End every connection there is."""
        for end in self.open_ends:
            _shut(end)

    def serve(self) -> None:
        """Take in one connection after another until the listening end is closed."""
        while True:
            try:
                phone, _ = self.listening.accept()
            except OSError:
                return
            threading.Thread(target=self._connection, args=(phone,), daemon=True).start()

    def _connection(self, phone: socket.socket) -> None:
        try:
            shop = socket.create_connection(self.upstream)
        except OSError:
            phone.close()
            return
        self.open_ends.append(phone)
        posting = threading.Event()
        answers = threading.Thread(target=self._answers, args=(shop, phone, posting), daemon=True)
        answers.start()
        with closing(phone), closing(shop):
            self._requests(phone, shop, posting)
            answers.join(5)

    def _requests(self, phone: socket.socket, shop: socket.socket, posting: threading.Event) -> None:
        while words := _read(phone):
            if words.startswith((b"POST ", b"GET ", b"HEAD ")):
                posting.set() if words.startswith(b"POST ") else posting.clear()
            if posting.is_set() and self.cut == "request":
                break
            if not (posting.is_set() and self.cut == "hold"):
                shop.sendall(words)
        _shut(shop)

    def _answers(self, shop: socket.socket, phone: socket.socket, posting: threading.Event) -> None:
        while words := _read(shop):
            if posting.is_set() and self.cut == "answer":
                self.answers_lost += 1
                break
            try:
                phone.sendall(words)
            except OSError:
                break
        _shut(phone)


def _read(end: socket.socket) -> bytes:
    try:
        return end.recv(65536)
    except OSError:
        return b""


def _shut(end: socket.socket) -> None:
    try:
        end.shutdown(socket.SHUT_RDWR)
    except OSError:
        return


@dataclass
class Served:
    """A shop served by a process of its own."""

    process: subprocess.Popen[bytes]
    place: tuple[str, int]

    @property
    def address(self) -> str:
        """Where it listens."""
        return f"http://127.0.0.1:{self.place[1]}"


@contextmanager
def served(database_url: str) -> Iterator[Served]:
    """The shop as the command line serves it, on a book that is there already."""
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = int(free.getsockname()[1])
    told = {**os.environ, "SHOPAPP_DATABASE_URL": database_url, "PYTHONPATH": str(ROOT)}
    process = subprocess.Popen(
        [sys.executable, "-m", "shopapp", "--port", str(port)], env=told, stdout=subprocess.DEVNULL
    )
    try:
        while not _answers(port):
            assert process.poll() is None, "the server ended before it answered"
            time.sleep(0.05)
        yield Served(process, ("127.0.0.1", port))
    finally:
        process.kill()
        process.wait()


def _answers(port: int) -> bool:
    try:
        socket.create_connection(("127.0.0.1", port)).close()
    except OSError:
        return False
    return True


@contextmanager
def strung(upstream: str) -> Iterator[Wire]:
    """A wire to a server, as long as the block lasts."""
    place = urlsplit(upstream)
    wire = Wire((str(place.hostname), int(place.port or 80)))
    threading.Thread(target=wire.serve, daemon=True).start()
    yield wire
    wire.listening.close()


@contextmanager
def phone(chromium: Browser, address: str, who: str = "WK") -> Iterator[Page]:
    """A phone in somebody's hand, behind the shop's own network name."""
    context = chromium.new_context(base_url=address, viewport=PHONE, has_touch=True, is_mobile=True)
    context.set_default_timeout(15_000)
    context.add_cookies([{"name": "who", "value": who, "url": address}])
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    yield page
    context.close()
    assert not faults, f"the page's script broke: {faults}"


def readings(shop: LiveShop, no: int, n: int = 1) -> list[str]:
    """Every reading of a piece as the book has it."""
    with shop.database.reading() as db:
        return [row.text for row in weighing.readings(db, jobs.piece(db, no, n).id)]


def quiet(page: Page) -> None:
    """The page's own next round does not come before somebody does something."""
    page.evaluate("(async () => { while (later.running) await later.running; clearTimeout(later.timer); })()")


def mend(page: Page, line: Wire) -> None:
    """The network is there again, and the person is the first to try."""
    quiet(page)
    line.cut = ""
    page.get_by_role("button", name="Try now").tap()
