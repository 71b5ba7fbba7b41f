"""How much came off last time? Four letters and one tap, and it stands at the top."""

import pytest
from playwright.sync_api import Browser, expect

from tests import makers
from tests.web.conftest import LiveShop

pytestmark = pytest.mark.browser
MOST_LETTERS = 4


def test_last_time_is_answered_in_four_letters_and_a_tap(chromium: Browser, shop: LiveShop) -> None:
    with shop.database.writing() as db:
        makers.ready_job(db, shop.maker)
    context = chromium.new_context(base_url=shop.origin, viewport={"width": 1360, "height": 860})
    context.add_cookies([{"name": "who", "value": "WK", "url": shop.origin}])
    page = context.new_page()
    page.goto("/")
    expect(page.get_by_role("searchbox", name="Find").first).to_be_focused()
    letters = "pres"
    page.keyboard.type(letters)
    page.get_by_role("link", name="press plate, plain").click()
    expect(page.locator("main h2, main h1").first).to_be_visible()
    last = page.locator("main")
    expect(last).to_contain_text("1001-1")
    expect(last).to_contain_text("agrees")
    assert len(letters) <= MOST_LETTERS
    context.close()


def test_a_box_that_is_emptied_leads_back_to_the_rail(chromium: Browser, shop: LiveShop) -> None:
    with shop.database.writing() as db:
        makers.ready_job(db, shop.maker)
    context = chromium.new_context(base_url=shop.origin, viewport={"width": 1360, "height": 860})
    page = context.new_page()
    page.goto("/")
    page.keyboard.type("pl")
    expect(page.get_by_role("link", name="press plate, plain")).to_be_visible()
    page.keyboard.press("Backspace")
    page.keyboard.press("Backspace")
    expect(page.locator("main .ticket").first).to_be_visible()
    context.close()
