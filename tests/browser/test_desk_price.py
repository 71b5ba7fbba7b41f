"""At the desk: an unknown caller's slip, and a quote at a known price, counted in taps and characters."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from shopapp.office import agreements, jobs, parts, quotes
from tests import cast, makers
from tests.browser.test_kit import DESK, PHONE, TARGETS
from tests.web.conftest import LiveShop

pytestmark = pytest.mark.browser

COUNTING = """
sessionStorage.counted ??= '{"taps": 0, "typed": 0}';
const kept = JSON.parse(sessionStorage.counted);
const keep = () => { sessionStorage.counted = JSON.stringify(kept); };
addEventListener("click", (event) => { if (event.isTrusted && event.detail) { kept.taps += 1; keep(); } }, true);
addEventListener("keydown", (event) => { if (event.isTrusted && event.key.length === 1) { kept.typed += 1; keep(); } },
  true);
"""


@dataclass(frozen=True)
class Effort:
    """What a hand did: taps, and keys that write a character."""

    taps: int
    typed: int


def effort(page: Page) -> Effort:
    """Everything that was tapped and typed since the page was opened first."""
    return Effort(**page.evaluate("JSON.parse(sessionStorage.counted)"))


@pytest.fixture(params=[PHONE, DESK], ids=["phone", "desk"])
def counted(request: pytest.FixtureRequest, chromium: Browser, shop: LiveShop) -> Iterator[Page]:
    """A page whose taps and characters are counted, at the rail of the set-up shop, where WK stands."""
    size = request.param
    context = chromium.new_context(base_url=shop.origin, viewport={"width": size[0], "height": size[1]})
    context.set_default_timeout(15_000)
    context.add_init_script(COUNTING)
    context.add_cookies([{"name": "who", "value": "WK", "url": shop.origin}])
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    yield page
    context.close()
    assert not faults


def sound(page: Page) -> None:
    """Nothing reaches past the right edge, and nothing that a machine can see is in a reader's way."""
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    found = Axe().run(page, options={"runOnly": ["wcag2a", "wcag2aa"]})
    assert not found.response["violations"], found.generate_report()
    if page.viewport_size and page.viewport_size["width"] == PHONE[0]:
        assert [one for one in page.evaluate(TARGETS) if 'class="heard"' not in one] == []


def test_an_unknown_callers_slip_is_a_name_a_phone_and_one_tap(counted: Page, shop: LiveShop) -> None:
    """From the rail: one tap opens the slip with the name in hand; the board's own keys go on and send it."""
    name, phone = "Ysolde", "555-0333"
    counted.goto("/")
    counted.get_by_role("link", name="Take a call").first.click()
    expect(counted.locator('[name="name"]')).to_be_focused()
    counted.keyboard.type(name)
    counted.keyboard.press("Tab")
    expect(counted.locator('[name="phone"]')).to_be_focused()
    counted.keyboard.type(phone)
    counted.keyboard.press("Enter")
    expect(counted).to_have_url("/jobs/1001")
    made = effort(counted)
    assert made.taps <= 1
    assert made.typed <= len(name) + len(phone)
    with shop.database.reading() as db:
        assert jobs.by_no(db, 1001).customer == name


def test_an_open_slip_is_kept_with_one_tap(counted: Page, shop: LiveShop) -> None:
    counted.goto("/ask")
    counted.keyboard.type("Ysolde")
    counted.keyboard.press("Tab")
    counted.keyboard.type("555-0333")
    counted.get_by_role("button", name="Keep it").click()
    expect(counted).to_have_url("/jobs/1001")
    assert effort(counted) == Effort(taps=1, typed=len("Ysolde555-0333"))


def quote_in_three_taps(page: Page, no: int, button: str) -> None:
    """Rail, ticket, known price, issue."""
    page.goto("/")
    page.get_by_role("link", name=str(no)).first.click()
    page.get_by_role("button", name=button).click()
    expect(page).to_have_url(f"/jobs/{no}/price")
    page.get_by_role("button", name="Issue quote A").click()
    expect(page.locator("main .mark").first).to_contain_text("issued")
    made = effort(page)
    assert made.taps <= 3
    assert made.typed == 0


def test_a_known_part_is_quoted_at_the_last_price_in_three_taps(counted: Page, shop: LiveShop) -> None:
    with shop.database.writing() as db:
        before = makers.make_job(db, shop.maker)
        makers.agree(db, shop.maker, before)
        job = makers.make_job(db, shop.maker)
    quote_in_three_taps(counted, job.no, "Same price as last, $70.00")
    with shop.database.reading() as db:
        old, new = quotes.of_job(db, before.id)[0], quotes.of_job(db, job.id)[0]
    # The repeat costs what was agreed then, to the cent, and its paper is issued.
    assert (new.net_cents, new.total_cents) == (old.net_cents, old.total_cents)
    assert new.issued_on == cast.TODAY
    sound(counted)


def test_an_agreed_price_is_quoted_in_three_taps(counted: Page, shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.make_job(db, shop.maker, pieces=4)
        agreements.add(
            db, customer_id=job.customer_id, part_id=parts.parts(db)[0][0].id, from_count="4", each="62",
            valid_from=cast.TODAY, valid_to=cast.TODAY + timedelta(days=9), **shop.maker.at(),
        )  # fmt: skip
    quote_in_three_taps(counted, job.no, "Price as agreed, $248.00")
    with shop.database.reading() as db:
        assert quotes.of_job(db, job.id)[0].net_cents == 4 * 6200


def test_the_sums_and_the_margin_follow_the_typing(counted: Page, shop: LiveShop) -> None:
    with shop.database.writing() as db:
        before = makers.finished_job(db, shop.maker)
        jobs.spend(db, job_id=before.id, minutes=90, **shop.maker.at())
        job = makers.make_job(db, shop.maker, pieces=2)
    counted.goto(f"/jobs/{job.no}/price")
    counted.locator('[name="setting_0_first"]').fill("80")
    expect(counted.locator("#sums")).to_contain_text("$80.00")
    margin = counted.get_by_text("for you only: against last time")
    margin.click()
    # By hand: 80 min at a dollar a minute, and 90 min last time.
    expect(counted.locator("#margin")).to_contain_text("$10.00 short")
    counted.locator('[name="setting_0_first"]').fill("100")
    expect(counted.locator("#margin")).to_contain_text("$10.00 over")
    assert margin.locator("xpath=..").evaluate("element => element.open")
    counted.get_by_text("Bought metal and parts, with a mark-up").click()
    counted.locator('[name="material_0_words"]').fill("flat bar")
    counted.locator('[name="material_0_cost"]').fill("10")
    counted.locator('[name="material_0_markup"]').fill("15")
    expect(counted.locator("#sums")).to_contain_text("$11.50")
    counted.get_by_role("button", name="More metal or parts").click()
    expect(counted.locator('[name="material_1_words"]')).to_be_visible()
    expect(counted.locator('[name="material_0_words"]')).to_have_value("flat bar")
    sound(counted)


@pytest.mark.parametrize("path", ["/book", "/book/agreements", "/book/phrases", "/customers/1", "/jobs/1001/pay"])
def test_the_books_sheets_are_sound(counted: Page, shop: LiveShop, path: str) -> None:
    with shop.database.writing() as db:
        job = makers.ready_job(db, shop.maker)
        agreements.add(
            db, customer_id=job.customer_id, part_id=parts.parts(db)[0][0].id, each="62", valid_from=cast.TODAY,
            valid_to=cast.TODAY, words="a long word of honour " * 6, **shop.maker.at(),
        )  # fmt: skip
    shop.post(f"/jobs/{job.no}/pay", amount="50", how="cash", paid_on="2031-03-04")
    counted.goto(path)
    sound(counted)
