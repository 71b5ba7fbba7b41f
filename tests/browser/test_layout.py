"""Sheets as they lie on the glass: nothing is squeezed to a strip or wider than the screen, whatever is typed."""

from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, FloatRect, Page

from tests import makers
from tests.browser import wire
from tests.web.conftest import LiveShop

pytestmark = pytest.mark.browser
DESK = {"width": 1280, "height": 800}


@pytest.fixture
def screen(chromium: Browser, shop: LiveShop) -> Iterator[Callable[[dict[str, int]], Page]]:
    """Opens a page of a size in front of the shop, with WK before it."""
    contexts = []

    def opened(size: dict[str, int]) -> Page:
        context = chromium.new_context(base_url=shop.origin, viewport=size)  # type: ignore[arg-type]
        context.set_default_timeout(15_000)
        context.add_cookies([{"name": "who", "value": "WK", "url": shop.origin}])
        contexts.append(context)
        return context.new_page()

    yield opened
    for context in contexts:
        context.close()


def box(page: Page, selector: str) -> FloatRect:
    """Where the first of them stands on the glass."""
    found = page.locator(selector).first.bounding_box()
    assert found, f"{selector} is not to be seen"
    return found


@pytest.mark.parametrize("size", [wire.PHONE, DESK], ids=["phone", "desk"])
def test_the_drawing_stands_beside_its_fields_or_over_them(
    screen: Callable[[dict[str, int]], Page], shop: LiveShop, size: dict[str, int]
) -> None:
    with shop.database.writing() as db:
        variant = makers.pieces_of(db, makers.make_job(db, shop.maker))[0].variant_id
    page = screen(size)
    page.goto(f"/variants/{variant}/drawing")
    drawing, form = box(page, "#section svg"), box(page, "form.form")
    assert drawing["width"] >= 300
    assert form["width"] >= 300
    is_beside = drawing["x"] >= form["x"] + form["width"] or form["x"] >= drawing["x"] + drawing["width"]
    assert is_beside or drawing["y"] + drawing["height"] <= form["y"]
    if size == DESK:
        assert is_beside
        assert max(drawing["y"], form["y"]) < size["height"] / 2
