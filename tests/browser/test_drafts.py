"""What is typed, and the photos chosen, are there again after a reload: in their own form, and in no other."""

import secrets
import socket
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
import uvicorn
from fastapi import FastAPI, Request, Response
from fastapi.responses import RedirectResponse
from playwright.sync_api import Browser, FilePayload, Page, expect
from starlette.datastructures import UploadFile

from shopapp.bench import money
from shopapp.papers.places import static_dir, templates_dir
from shopapp.web.assets import Assets
from shopapp.web.render import Frame, Pages, environment, page
from shopapp.web.sending import Sendings
from tests import cast
from tests.browser import wire
from tests.browser.wire import Wire
from tests.web.conftest import LiveShop
from tests.web.routes import floor

pytestmark = pytest.mark.browser
PHOTO: FilePayload = {"name": "rim.jpg", "mimeType": "image/jpeg", "buffer": cast.PHOTO}
OTHER: FilePayload = {"name": "hub.jpg", "mimeType": "image/jpeg", "buffer": cast.a_photo(colour="peru")}


@dataclass
class Rows:
    """A page with repeated fields and a photo, and what was sent from it, by the form's own key."""

    app: FastAPI = field(default_factory=FastAPI)
    taken: dict[str, tuple[str, list[bytes]]] = field(default_factory=dict)
    postings: int = 0

    def __post_init__(self) -> None:
        assets = Assets(static_dir())
        self.app.mount("/static", assets)
        self.app.state.pages = Pages(
            environment([templates_dir(), Path(__file__).parent / "pages"], assets.url, money.show)
        )
        self.app.add_middleware(Sendings)
        self.app.add_api_route("/", self.show)
        self.app.add_api_route("/send", self.send, methods=["POST"])

    def show(self, request: Request, rows: int = 2, unit: str = "in", saved: str = "") -> Response:
        return page(
            request, "rows.html", frame=Frame(), saved=saved, rows=rows, unit=unit, once=secrets.token_urlsafe(12)
        )

    async def send(self, request: Request) -> Response:
        self.postings += 1
        async with request.form() as form:
            photos = [await one.read() for one in form.getlist("photo") if isinstance(one, UploadFile)]
            self.taken.setdefault(str(form["once"]), (str(form["row_1_size"]), photos))
        return RedirectResponse("/?saved=rows", status_code=303)


@pytest.fixture
def rows() -> Rows:
    return Rows()


@pytest.fixture
def line(rows: Rows) -> Iterator[Wire]:
    """The wire to the page with rows."""
    listening = socket.create_server(("127.0.0.1", 0))
    server = uvicorn.Server(uvicorn.Config(rows.app, log_level="error", lifespan="off", ws="none"))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    with wire.strung(f"http://127.0.0.1:{listening.getsockname()[1]}") as line:
        yield line
    server.should_exit = True
    thread.join(10)


@pytest.fixture
def phone(chromium: Browser, line: Wire) -> Iterator[Page]:
    with wire.phone(chromium, line.address) as sheet:
        yield sheet


@pytest.fixture
def at_the_shop(chromium: Browser, shop: LiveShop) -> Iterator[Page]:
    """A phone in the real shop."""
    with wire.strung(shop.origin) as line, wire.phone(chromium, line.address) as sheet:
        yield sheet


def fill(phone: Page) -> None:
    phone.get_by_label("Size 1").fill("1.5")
    phone.get_by_label("Size 2").fill("1.75")
    phone.get_by_label("Machine").select_option("2")
    phone.get_by_label("Looked at").check()
    phone.get_by_label("Note").fill("a burr on the rim\nand a chip")


def kept(phone: Page) -> list[object]:
    return [
        phone.get_by_label("Size 1").input_value(),
        phone.get_by_label("Machine").input_value(),
        phone.get_by_label("Looked at").is_checked(),
        phone.get_by_label("Note").input_value(),
    ]


def files(phone: Page) -> list[str]:
    names: list[str] = phone.evaluate("[...document.querySelector('#f-photo').files].map((file) => file.name)")
    return names


def test_every_kind_of_field_is_there_after_a_reload(phone: Page) -> None:
    phone.goto("/")
    fill(phone)
    phone.reload()
    assert kept(phone) == ["1.5", "2", True, "a burr on the rim\nand a chip"]
    expect(phone.locator(".kept")).to_contain_text("not sent yet")


def test_what_was_typed_first_keeps_its_hour_over_many_reloads(phone: Page) -> None:
    phone.clock.install(time="2031-03-04T14:05:00")
    phone.goto("/")
    fill(phone)
    phone.clock.set_fixed_time("2031-03-04T17:40:00")
    phone.reload()
    phone.reload()
    expect(phone.locator(".kept")).to_contain_text("kept from 14:05, not sent yet")
    phone.clock.set_fixed_time("2031-03-06T08:00:00")
    phone.reload()
    expect(phone.locator(".kept")).to_contain_text("kept from 4 Mar 14:05")


def test_throwing_away_empties_the_form_for_good(phone: Page) -> None:
    phone.goto("/")
    fill(phone)
    phone.locator("#f-photo").set_input_files([PHOTO])
    phone.wait_for_function("store.all('photos').then((all) => all.length === 1)")
    phone.reload()
    phone.get_by_role("button", name="throw away").tap()
    assert kept(phone) == ["", "1", False, ""]
    phone.reload()
    phone.wait_for_function("store.all('photos').then((all) => all.length === 0)")
    assert kept(phone) == ["", "1", False, ""]
    assert files(phone) == []
    expect(phone.locator(".kept")).to_have_count(0)


SLOW_STORE = """
const get = IDBObjectStore.prototype.get;
IDBObjectStore.prototype.get = function (id) {
  const end = performance.now() + 800;
  const again = () => { if (performance.now() < end) get.call(this, id).onsuccess = again; };
  again();
  return get.call(this, id);
};
"""
DROPS_NOTHING = """
IDBObjectStore.prototype.delete = function () {
  const asked = this.count();
  this.transaction.abort();
  return asked;
};
"""


@pytest.mark.parametrize("store_is", [SLOW_STORE, DROPS_NOTHING], ids=["slow", "closed early"])
def test_photos_thrown_away_stay_away_when_the_store_is_late(phone: Page, store_is: str) -> None:
    phone.goto("/")
    fill(phone)
    phone.locator("#f-photo").set_input_files([PHOTO])
    phone.wait_for_function("store.all('photos').then((all) => all.length === 1)")
    phone.goto("about:blank")
    fresh = phone.context.new_page()
    fresh.add_init_script(store_is)
    fresh.goto("/")
    fresh.get_by_role("button", name="throw away").tap()
    fresh.wait_for_timeout(1500)
    assert files(fresh) == []
    phone.goto("/")
    phone.wait_for_function("store.all('photos').then((all) => all.length === 0)")
    assert files(phone) == []
    assert kept(phone) == ["", "1", False, ""]
    expect(phone.locator(".kept")).to_have_count(0)
    phone.locator("#f-photo").set_input_files([OTHER])
    phone.wait_for_function("store.all('photos').then((all) => all.length === 1)")
    phone.reload()
    phone.locator(".kept").wait_for()
    assert files(phone) == ["hub.jpg"]


def test_a_form_in_another_unit_gets_no_field_of_it_and_offers_the_text_line_by_line(phone: Page) -> None:
    phone.goto("/")
    fill(phone)
    phone.goto("/?unit=mm")
    assert kept(phone) == ["", "1", False, ""]
    phone.locator(".kept summary").tap()
    lines = ["Size 1: 1.5", "Size 2: 1.75", "Machine: short lathe", "Looked at: yes"]
    assert phone.locator(".kept li").all_inner_texts()[:4] == lines
    expect(phone.get_by_role("button", name="put in what fits")).to_be_hidden()
    phone.goto("/")
    assert phone.get_by_label("Size 2").input_value() == "1.75"


def test_a_form_that_has_more_fields_now_gets_all_that_was_typed_and_the_photos(phone: Page) -> None:
    phone.goto("/")
    fill(phone)
    phone.locator("#f-photo").set_input_files([PHOTO])
    phone.wait_for_function("store.all('photos').then((all) => all.length === 1)")
    phone.goto("/?rows=3")
    expect(phone.locator(".kept")).to_contain_text("not sent yet")
    assert kept(phone) == ["1.5", "2", True, "a burr on the rim\nand a chip"]
    assert phone.get_by_label("Size 2").input_value() == "1.75"
    assert files(phone) == ["rim.jpg"]


def test_a_form_that_has_fewer_fields_now_is_filled_with_what_fits_on_one_tap(phone: Page) -> None:
    phone.goto("/")
    fill(phone)
    phone.goto("/?rows=1")
    assert kept(phone) == ["", "1", False, ""]
    phone.get_by_role("button", name="put in what fits").tap()
    assert kept(phone) == ["1.5", "2", True, "a burr on the rim\nand a chip"]


def test_photos_chosen_are_there_after_a_reload(phone: Page) -> None:
    phone.goto("/")
    phone.locator("#f-photo").set_input_files([PHOTO, OTHER])
    phone.wait_for_function("store.all('photos').then((all) => all.length === 1)")
    phone.reload()
    phone.locator(".kept").wait_for()
    assert files(phone) == ["rim.jpg", "hub.jpg"]


def test_photos_wait_through_a_reload_and_arrive_once_and_whole(phone: Page, line: Wire, rows: Rows) -> None:
    phone.goto("/")
    fill(phone)
    phone.locator("#f-photo").set_input_files([PHOTO, OTHER])
    line.cut = "answer"
    phone.get_by_role("button", name="Send it").tap()
    expect(phone.locator("#waiting [data-waiting=line]")).to_contain_text("photo of 1.5")
    expect(phone.locator(".waiting-kept")).to_be_visible()
    phone.reload()
    expect(phone.locator("#waiting [data-waiting=line]")).to_contain_text("photo of 1.5")
    assert (files(phone), phone.get_by_label("Size 1").input_value()) == ([], "")
    wire.mend(phone, line)
    expect(phone.locator("#waiting [data-waiting=done]")).to_contain_text("photo of 1.5")
    assert list(rows.taken.values()) == [("1.5", [PHOTO["buffer"], OTHER["buffer"]])]
    assert rows.postings >= 2


def test_where_the_store_does_not_open_words_wait_all_the_same(phone: Page, line: Wire, rows: Rows) -> None:
    phone.add_init_script("indexedDB.open = () => { throw new Error('shut') }")
    phone.goto("/")
    fill(phone)
    line.cut = "request"
    phone.get_by_role("button", name="Send it").tap()
    expect(phone.locator("#waiting [data-waiting=line]")).to_contain_text("photo of 1.5")
    phone.reload()
    expect(phone.locator("#waiting [data-waiting=line]")).to_contain_text("photo of 1.5")
    wire.mend(phone, line)
    expect(phone.locator("#waiting [data-waiting=done]")).to_contain_text("photo of 1.5")
    assert [size for size, _ in rows.taken.values()] == ["1.5"]


def test_a_photo_that_the_store_does_not_take_is_said_to_hang_on_the_open_page(phone: Page, line: Wire) -> None:
    phone.add_init_script("indexedDB.open = () => { throw new Error('shut') }")
    phone.goto("/")
    phone.locator("#f-photo").set_input_files([PHOTO])
    line.cut = "request"
    phone.get_by_role("button", name="Send it").tap()
    expect(phone.locator("#waiting [data-waiting=lost]")).to_contain_text("Keep the page open.")


def test_one_more_of_the_same_has_a_key_of_its_own(phone: Page, line: Wire, rows: Rows) -> None:
    phone.goto("/")
    line.cut = "request"
    for _ in range(2):
        phone.get_by_label("Size 1").fill("1.5")
        phone.get_by_role("button", name="Send it").tap()
        phone.get_by_role("button", name="Write another").tap()
    wire.mend(phone, line)
    expect(phone.locator("#waiting [data-waiting=done]")).to_contain_text("photo of 1.5, photo of 1.5")
    assert [size for size, _ in rows.taken.values()] == ["1.5", "1.5"]


def test_nothing_weighed_comes_back_into_another_pieces_form(at_the_shop: Page, shop: LiveShop) -> None:
    phone, job = at_the_shop, floor.in_the_rack(shop)
    phone.goto(f"/jobs/{job.no}/1/weigh")
    phone.locator("[name=reading]").fill("26.5")
    phone.goto(f"/jobs/{job.no}/2/weigh")
    assert phone.locator("[name=reading]").input_value() == ""
    phone.goto(f"/jobs/{job.no}/1/weigh")
    assert phone.locator("[name=reading]").input_value() == "26.5"


def test_a_draft_goes_when_the_server_says_saved(at_the_shop: Page, shop: LiveShop) -> None:
    phone = at_the_shop
    phone.goto("/parts/new")
    phone.locator("[name=name]").fill("idler")
    phone.get_by_role("main").get_by_role("button").first.tap()
    phone.wait_for_url(lambda url: "/parts/new" not in url)
    phone.goto("/parts/new")
    assert phone.locator("[name=name]").input_value() == ""


def test_a_refused_form_keeps_the_servers_text_and_offers_the_other(at_the_shop: Page, shop: LiveShop) -> None:
    phone, job = at_the_shop, floor.in_the_rack(shop)
    phone.goto(f"/jobs/{job.no}/1/weigh")
    phone.get_by_role("radio", name="spring").tap()
    phone.locator("[name=reading]").fill("26.3")
    phone.locator("[name=reading]").blur()
    second = phone.context.new_page()
    second.goto(f"/jobs/{job.no}/1/weigh")
    second.locator("[name=reading]").fill("27")
    phone.get_by_role("button", name="Write it down").tap()
    expect(phone.locator(".summary")).to_contain_text("halves")
    assert phone.locator("[name=reading]").input_value() == "26.3"
    expect(phone.locator(".kept")).to_contain_text("other than what stands here")
    phone.get_by_role("button", name="put in what fits").tap()
    assert phone.locator("[name=reading]").input_value() == "27"
