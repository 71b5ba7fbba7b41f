"""A draft in the real shop: it comes back whole, is drawn again, says nothing where nothing is missing, and ends."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, FilePayload, Page, expect

from shopapp.office import jobs
from shopapp.office.jobs import PieceAsk
from tests import cast, makers
from tests.browser import wire
from tests.web.conftest import LiveShop
from tests.web.routes import floor

pytestmark = pytest.mark.browser
PHOTO: FilePayload = {"name": "rim.jpg", "mimeType": "image/jpeg", "buffer": cast.PHOTO}
OTHER: FilePayload = {"name": "hub.jpg", "mimeType": "image/jpeg", "buffer": cast.a_photo(colour="peru")}


@pytest.fixture
def at_the_shop(chromium: Browser, shop: LiveShop) -> Iterator[Page]:
    """A phone in the real shop."""
    with wire.strung(shop.origin) as line, wire.phone(chromium, line.address) as sheet:
        yield sheet


def test_taking_in_goes_on_after_the_part_was_entered(at_the_shop: Page, shop: LiveShop) -> None:
    phone = at_the_shop
    with shop.database.writing() as db:
        who = makers.make_customer(db, shop.maker)
        no = jobs.open_job(db, customer_id=who, title="skim it", pieces=(PieceAsk(None, "machine"),), **shop.maker.at())
    phone.goto(f"/jobs/{no}/in")
    phone.locator("[name=front_1]").set_input_files([PHOTO])
    phone.locator("[name=damage_1]").set_input_files([OTHER])
    phone.locator("#f-cracked_1").get_by_role("radio", name="no", exact=True).tap()
    phone.get_by_text("Came along, value").tap()
    phone.locator("[name=bits_1]").fill("two keys")
    phone.locator("[name=declared_1]").fill("300")
    phone.wait_for_function("store.all('photos').then((all) => all[0]?.fields.length === 2)")
    phone.get_by_role("link", name="Enter the part").tap()
    phone.wait_for_url("**/parts/new")
    with shop.database.writing() as db:
        makers.make_variant(db, shop.maker)
    phone.goto(f"/jobs/{no}/in")
    expect(phone.locator(".kept")).to_contain_text("not sent yet")
    assert phone.locator("[name=bits_1]").input_value() == "two keys"
    assert phone.locator("[name=declared_1]").input_value() == "300"
    assert phone.locator("#f-cracked_1").get_by_role("radio", name="no", exact=True).is_checked()
    chosen = "[...document.querySelectorAll('[type=file]')].flatMap((one) => [...one.files].map((file) => file.name))"
    assert phone.evaluate(chosen) == ["rim.jpg", "hub.jpg"]


def test_the_section_board_draws_again_what_a_kept_draft_brings_back(at_the_shop: Page, shop: LiveShop) -> None:
    phone, job = at_the_shop, floor.expected(shop)
    variant = floor.piece(shop, job).variant_id
    phone.goto(f"/jobs/{job.no}/cuts/{variant}")
    phone.locator("#f-cut_0_to").fill("7.5")
    expect(phone.locator("#removal")).to_contain_text("comes off each")
    phone.reload()
    assert phone.locator("#f-cut_0_to").input_value() == "7.5"
    expect(phone.locator("#removal")).to_contain_text("comes off each")
    expect(phone.locator("#f-cut_0_to-echo")).not_to_be_empty()


def test_another_kind_of_cut_comes_back_with_its_sizes(at_the_shop: Page, shop: LiveShop) -> None:
    phone, job = at_the_shop, floor.expected(shop)
    variant = floor.piece(shop, job).variant_id
    phone.goto(f"/jobs/{job.no}/cuts/{variant}")
    phone.locator("#f-cut_0_kind").select_option("face")
    phone.locator("#f-cut_0_depth").fill(".250")
    expect(phone.locator("#removal")).to_contain_text("comes off each")
    phone.reload()
    phone.get_by_role("button", name="put in what fits").tap()
    expect(phone.locator("#f-cut_0_depth")).to_have_value(".250")
    expect(phone.locator("#removal")).to_contain_text("comes off each")


def test_a_refusal_that_holds_all_that_was_typed_says_nothing_of_a_draft(at_the_shop: Page, shop: LiveShop) -> None:
    phone, job = at_the_shop, floor.expected(shop, pieces=1)
    phone.goto(f"/jobs/{job.no}/in")
    phone.locator("[name=front_1]").set_input_files([PHOTO])
    phone.wait_for_function("store.all('photos').then((all) => all.length === 1)")
    phone.get_by_role("button", name="Print stub and tags").tap()
    expect(phone.locator(".summary")).to_contain_text("choose the sign")
    phone.wait_for_function("document.querySelector('[name=front_1]').files.length === 1")
    expect(phone.locator(".kept")).to_have_count(0)


def test_who_comes_back_from_the_printed_papers_is_told_that_it_is_in_the_book(
    at_the_shop: Page, shop: LiveShop
) -> None:
    phone, job = at_the_shop, floor.expected(shop, pieces=1)
    phone.goto(f"/jobs/{job.no}/in")
    phone.get_by_role("button", name="Print stub and tags").tap()
    expect(phone.locator(".summary")).to_contain_text("choose the sign")
    phone.get_by_role("radio", name="flat on both faces").tap()
    phone.get_by_role("button", name="Print stub and tags").tap()
    phone.wait_for_url("**/*.pdf")
    phone.go_back()
    expect(phone.locator(".kept")).to_contain_text("it is in the book")
    phone.goto(f"/jobs/{job.no}/in")
    expect(phone.locator(".kept")).to_have_count(0)
