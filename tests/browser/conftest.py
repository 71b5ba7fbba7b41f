"""The live shop of the web's tests, for tests in a browser."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from tests.web.conftest import LiveShop, blank_book, house, new_shop, shop

__all__ = ["blank_book", "house", "new_shop", "shop"]


@pytest.fixture
def desk(chromium: Browser, new_shop: LiveShop) -> Iterator[Page]:
    """A page at a desk's width, in front of a shop whose book is empty."""
    context = chromium.new_context(base_url=new_shop.origin, viewport={"width": 1360, "height": 860})
    context.set_default_timeout(15_000)
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    yield page
    context.close()
    assert not faults, f"the page's script broke: {faults}"
