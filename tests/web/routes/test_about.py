"""What this is, and what it does not say."""

from html import escape

from shopapp.office.shopbook import CAUTIONS
from shopapp.web.assets import CREDITS
from tests.web.conftest import LiveShop


def test_the_page_says_the_cautions_and_whose_work_it_stands_on(shop: LiveShop) -> None:
    page = shop.get("/about").text
    for words in (*CAUTIONS, *(name for name, _, _ in CREDITS), "MIT"):
        assert str(escape(words, quote=False)) in page.replace("&#39;", "'")


def test_it_names_what_the_shop_does_not_do(shop: LiveShop) -> None:
    page = shop.get("/about").text
    assert "<li>balancing</li>" in page
    assert "Brackwater Lathe Works" in page
