"""The kit as it is seen and pressed: on a phone and on a desk, with a real browser."""

import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
import uvicorn
from axe_playwright_python.sync_playwright import Axe
from fastapi import FastAPI, Request, Response
from fastapi.responses import HTMLResponse, PlainTextResponse
from playwright.sync_api import Browser, Page

from shopapp.bench import money
from shopapp.papers.places import static_dir, templates_dir
from shopapp.web.assets import Assets
from shopapp.web.render import Frame, Pages, environment, page

pytestmark = pytest.mark.browser

PAGES = Path(__file__).parent / "pages"
PHONE, DESK = (360, 740), (1360, 860)
POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; font-src 'self'"
TARGETS = """() => [...document.querySelectorAll('a, button, select, summary, textarea, label:has(input), .typed')]
  .filter(e => e.checkVisibility() && !e.matches('.skip, .ticket-no a'))
  .map(e => [e.outerHTML.slice(0, 80), e.getBoundingClientRect()])
  .filter(([_, box]) => box.height < 53 || box.width < 53)
  .map(([words, box]) => `${words} ${box.width} x ${box.height}`)"""
FACES = "document.fonts.ready.then(all => [...all].filter(face => face.status == 'loaded').map(face => face.family))"
FIGURES = """() => [...document.querySelectorAll('.field--figure .typed')]
  .map(e => parseFloat(getComputedStyle(e).fontSize))"""


def kit_app() -> FastAPI:
    app, assets = FastAPI(), Assets(static_dir())
    app.mount("/static", assets)
    app.state.pages = Pages(environment([templates_dir(), PAGES], assets.url, money.show))
    frame = Frame(shop="Knurlbottom Turning & Repair", sheet="Rail", who="WK", to_bill=2)

    @app.get("/echo")
    def echo(request: Request) -> Response:
        return PlainTextResponse("heard " + ";".join(request.query_params.values()))

    @app.post("/keep")
    def keep() -> Response:
        time.sleep(0.3)
        app.state.posts = getattr(app.state, "posts", 0) + 1
        return HTMLResponse(status_code=204)

    @app.get("/{name}")
    def show(request: Request, name: str, saved: str = "") -> Response:
        answer = page(request, f"{name}.html", frame=frame, saved=saved)
        answer.headers["Content-Security-Policy"] = POLICY
        return answer

    return app


@pytest.fixture(scope="module")
def app() -> FastAPI:
    return kit_app()


@pytest.fixture(scope="module")
def address(app: FastAPI) -> Iterator[str]:
    server = uvicorn.Server(uvicorn.Config(app, host="127.0.0.1", port=0, log_level="error", lifespan="off"))
    thread = threading.Thread(target=server.run)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    yield f"http://127.0.0.1:{server.servers[0].sockets[0].getsockname()[1]}"
    server.should_exit = True
    thread.join()


def opened(browser: Browser, url: str, size: tuple[int, int]) -> Page:
    context = browser.new_context(viewport={"width": size[0], "height": size[1]}, has_touch=size == PHONE)
    sheet = context.new_page()
    sheet.goto(url)
    return sheet


@pytest.fixture(params=["kit", "weigh"])
def name(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_nothing_scrolls_sideways(chromium: Browser, address: str, name: str, size: tuple[int, int]) -> None:
    sheet = opened(chromium, f"{address}/{name}", size)
    assert sheet.evaluate("document.documentElement.scrollWidth") == size[0]


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_everyone_can_use_it(chromium: Browser, address: str, name: str, size: tuple[int, int]) -> None:
    # axe-core: the rules of WCAG 2.x A and AA, contrast included.
    sheet = opened(chromium, f"{address}/{name}", size)
    found = Axe().run(sheet)
    assert found.violations_count == 0, found.generate_report()


def test_a_thumb_finds_its_target(chromium: Browser, address: str, name: str) -> None:
    sheet = opened(chromium, f"{address}/{name}", PHONE)
    sheet.locator(".block-more summary").click()
    assert sheet.evaluate(TARGETS) == []
    assert min(sheet.evaluate(FIGURES)) >= 28


def test_the_block_hides_nothing(chromium: Browser, address: str, name: str) -> None:
    sheet = opened(chromium, f"{address}/{name}", PHONE)
    sheet.evaluate("scrollTo(0, document.body.scrollHeight)")
    last = sheet.locator("main").bounding_box()
    block = sheet.locator(".block").bounding_box()
    assert last is not None
    assert block is not None
    assert last["y"] + last["height"] <= block["y"]


def test_the_keys_type_a_mixed_fraction(chromium: Browser, address: str) -> None:
    sheet = opened(chromium, f"{address}/weigh", PHONE)
    for sign in ["7", " ", "4", "back", "3", "/", "8"]:
        sheet.locator(f'[data-key="{sign}"]').click()
    assert sheet.locator("[name=reading]").input_value() == "7 3/8"
    sheet.locator('[data-key="lb"]').click()
    assert sheet.locator("[name=reading]").input_value() == "7 3/8 lb"
    sheet.get_by_text("heard 7 3/8 lb").wait_for()


def test_the_faces_come_from_the_house(chromium: Browser, address: str) -> None:
    sheet = opened(chromium, f"{address}/kit", DESK)
    loaded = sheet.evaluate(FACES)
    assert {family.strip('"') for family in loaded} == {"Shop Label", "Shop Figure"}


def test_a_double_tap_is_one_press(chromium: Browser, address: str, app: FastAPI) -> None:
    app.state.posts = 0
    sheet = opened(chromium, f"{address}/weigh", PHONE)
    sheet.evaluate("document.querySelector('main form').action = '/keep'")
    with sheet.expect_response("**/keep"):
        sheet.get_by_role("button", name="Write it down").dblclick()
    assert app.state.posts == 1
    assert sheet.get_by_role("button", name="Write it down").is_disabled()


def test_typed_words_outlive_a_reload_until_they_are_saved(chromium: Browser, address: str) -> None:
    sheet = opened(chromium, f"{address}/kit", DESK)
    sheet.get_by_label("Name").fill("Wilma from the mill")
    sheet.get_by_label("cannot tell").check()
    sheet.reload()
    assert sheet.get_by_label("Name").input_value() == "Wilma from the mill"
    assert sheet.get_by_label("cannot tell").is_checked()
    assert sheet.get_by_text("not sent yet").is_visible()
    sheet.goto(f"{address}/kit?saved=kit")
    assert sheet.get_by_label("Name").input_value() == ""


def test_without_script_the_sheet_is_whole(chromium: Browser, address: str) -> None:
    context = chromium.new_context(viewport={"width": PHONE[0], "height": PHONE[1]}, java_script_enabled=False)
    sheet = context.new_page()
    sheet.goto(f"{address}/weigh")
    assert not sheet.locator(".keypad").is_visible()
    sheet.locator(".block-more summary").click()
    assert sheet.locator(".block-rest input[type=search]").is_visible()
    assert sheet.get_by_role("button", name="Write it down").is_enabled()
