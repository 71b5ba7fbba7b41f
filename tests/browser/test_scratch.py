"""The scratch sheet in a real browser: typed live on a phone, nothing scrolls sideways, nothing wants mending."""

from collections.abc import Iterator
from urllib.parse import urlencode

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from shopapp.office.scratch import SUMS
from tests.browser.test_kit import DESK, PHONE, TARGETS
from tests.web.conftest import LiveShop

pytestmark = pytest.mark.browser


@pytest.fixture(params=[PHONE, DESK], ids=["phone", "desk"])
def sheet(request: pytest.FixtureRequest, chromium: Browser, shop: LiveShop) -> Iterator[Page]:
    """A page of the set-up shop, as large as a phone or a desk's screen."""
    yield from _opened(chromium, shop, request.param)


@pytest.fixture
def phone(chromium: Browser, shop: LiveShop) -> Iterator[Page]:
    """The same on a phone alone."""
    yield from _opened(chromium, shop, PHONE)


def _opened(chromium: Browser, shop: LiveShop, size: tuple[int, int]) -> Iterator[Page]:
    view = {"width": size[0], "height": size[1]}
    context = chromium.new_context(base_url=shop.origin, viewport=view, has_touch=size == PHONE)
    context.set_default_timeout(15_000)
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    page.on("console", lambda said: faults.append(said.text) if said.type == "error" else None)
    yield page
    context.close()
    assert not faults


def fits(page: Page) -> None:
    """Nothing reaches past the right edge."""
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0


def test_three_sums_are_typed_live_on_a_phone(phone: Page) -> None:
    answer = phone.locator("#answer")
    phone.goto("/scratch")
    phone.get_by_role("link", name="Spindle speed").click()
    phone.get_by_label("Cutting speed").fill("100")
    expect(answer).to_contain_text("Still to type: Diameter cut.")
    phone.get_by_label("Diameter cut").fill("1/2")
    expect(answer).to_contain_text("764")
    phone.get_by_label("Speeds of the machine").fill("70 200 460")
    expect(answer).to_contain_text("460 rpm for 764 wanted")
    assert "list=70+200+460" in phone.url
    phone.goto("/scratch/truing")
    for jaw, text in (("Jaw 1", "20"), ("Jaw 2", "4"), ("Jaw 3", "-16"), ("Jaw 4", "0")):
        phone.get_by_label(jaw, exact=True).fill(text)
    expect(answer).to_contain_text("Loosen 3, tighten 1, until 1 drops by .0180 in.")
    phone.goto("/scratch/cuts")
    for name, text in (("cut_0_from", "4"), ("cut_0_to", "3-7/8"), ("cut_0_end", "1.5"), ("cut_0_start", "0")):
        phone.locator(f"[name={name}]").fill(text)
    expect(answer).to_contain_text("0.300 lb")
    expect(answer.locator("svg")).to_be_visible()
    fits(phone)


def test_a_choice_that_decides_brings_its_own_fields_and_keeps_the_rest(phone: Page) -> None:
    phone.goto("/scratch/truing")
    phone.get_by_label("Jaw 1", exact=True).fill("20")
    phone.get_by_label("8", exact=True).check()
    expect(phone.get_by_label("Between 1 and 2")).to_be_visible()
    expect(phone.get_by_label("Jaw 1", exact=True)).to_have_value("20")
    phone.goto("/scratch/cuts")
    phone.locator("[name=cut_1_to]").fill("2")
    phone.locator("[name=cut_1_kind]").select_option("bevel")
    expect(phone.locator("[name=cut_1_corner]")).to_be_visible()
    phone.locator("[name=cut_1_corner]").fill("1/16")
    phone.get_by_role("button", name="One more cut").click()
    expect(phone.locator("[name=cut_2_kind]")).to_be_visible()
    expect(phone.locator("[name=cut_1_corner]")).to_have_value("1/16")


def test_a_shared_address_shows_the_same_sum_without_script(chromium: Browser, shop: LiveShop) -> None:
    context = chromium.new_context(base_url=shop.origin, java_script_enabled=False)
    page = context.new_page()
    page.goto(f"/scratch/passes?{urlencode(SUMS['passes'].example)}")
    expect(page.locator("#answer")).to_contain_text("2 passes of 0.0575 in, then 0.0100 in to finish.")
    page.locator("[name=finish]").fill("")
    page.get_by_role("button", name="Work it out").click()
    expect(page.locator("#answer")).to_contain_text("3 passes of 0.0417 in.")
    context.close()


@pytest.mark.parametrize("key", ["", "truing", "cuts", "recommended", "spin"])
def test_a_sheet_fits_its_screen_and_wants_no_mending(sheet: Page, key: str) -> None:
    sheet.goto(f"/scratch/{key}?{urlencode(SUMS[key].example)}" if key else "/scratch")
    sheet.evaluate("document.querySelectorAll('details.workings').forEach(each => { each.open = true })")
    fits(sheet)
    found = Axe().run(sheet)
    assert found.violations_count == 0, found.generate_report()
    if sheet.viewport_size and sheet.viewport_size["width"] == PHONE[0]:
        assert sheet.evaluate(TARGETS) == []
