"""Every figure that is worked out opens to its working, with a source, and can be read on a phone."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from shopapp.office import handover, invoices, jobs
from tests import makers
from tests.browser.test_kit import PHONE
from tests.web.conftest import LiveShop

pytestmark = pytest.mark.browser
SMALLEST = 14
"""The least height of a letter on a phone [px]; common practice, no source."""


@pytest.fixture
def phone(chromium: Browser, shop: LiveShop) -> Iterator[Page]:
    """A phone in the hand of WK."""
    context = chromium.new_context(
        base_url=shop.origin, viewport={"width": PHONE[0], "height": PHONE[1]}, has_touch=True
    )
    context.set_default_timeout(15_000)
    context.add_cookies([{"name": "who", "value": "WK", "url": shop.origin}])
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    yield page
    context.close()
    assert not faults


@pytest.fixture
def sheets(shop: LiveShop) -> dict[str, list[str]]:
    """Each sheet of a shop with a billed job and one on the way, and the figures whose working stands on it."""
    with shop.database.writing() as db:
        at = shop.maker
        done = makers.ready_job(db, at)
        jobs.spend(db, job_id=done.id, minutes=75, **at.at())
        bill = invoices.issue(db, job_id=done.id, lines=invoices.draft_lines(db, done.id, now=shop.now), **at.at())
        job = makers.finished_job(db, at)
        handover.announce(db, job_id=job.id, **at.at())
        variant = makers.pieces_of(db, job)[0].variant_id
        under = makers.make_job(db, at, pieces=1)
        makers.keep_cuts(db, at, under)
        makers.take_everything_in(db, at, under)
    verdict = ["came off", "verdict", "normalised error", "density"]
    cuts = ["comes off each", "what each cut takes", "left", "inertia off"]
    price = ["each line", "tax", "total"]
    return {
        "/": ["weights on the tickets"],
        f"/jobs/{job.no}": [*verdict, *cuts, "twins"],
        f"/jobs/{job.no}/1": [*verdict, "weighed off"],
        f"/jobs/{job.no}/1/weigh": verdict,
        f"/jobs/{under.no}/1/weigh?scale=1": ["which scale can judge"],
        f"/jobs/{under.no}/1/weigh": cuts,
        f"/jobs/{job.no}/1/finish": verdict[:3],
        "/find?q=plate": ["came off"],
        f"/jobs/{job.no}/cuts/{variant}": [*cuts, "web left", "which scale can judge"],
        f"/variants/{variant}/drawing": ["weighs about"],
        f"/variants/{variant}?turns=1800&off=.002": ["weighed off", "weighs about", "rim speed", "may stay"],
        f"/jobs/{job.no}/price": ["the price", *price, "weighed off"],
        f"/jobs/{job.no}/price/margin?pieces=2&setting_0_first=40": ["minutes by what it took before"],
        f"/jobs/{job.no}/bill": [*price, "to pay"],
        f"/invoices/{bill}": [*price, "to pay"],
        "/money": ["days past due", "still due"],
    }


def test_every_sheet_with_figures_shows_their_working_with_a_source_on_a_phone(
    phone: Page, sheets: dict[str, list[str]]
) -> None:
    for path, wanted in sheets.items():
        phone.goto(path)
        phone.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
        told = phone.evaluate(
            """() => [...document.querySelectorAll('.shown:has(.shown-what)')].map(one => ({
                figure: one.querySelector('.shown-what span').textContent.trim(),
                source: [...one.querySelectorAll('dt')].find(dt => dt.textContent === 'source')
                    ?.nextElementSibling.textContent.trim() ?? '',
                letters: Math.min(...[...one.querySelectorAll('p, dt, dd')].map(
                    text => parseFloat(getComputedStyle(text).fontSize))),
            }))"""
        )
        figures = {one["figure"] for one in told}
        assert set(wanted) <= figures, f"{path} has no working of {set(wanted) - figures}"
        assert all(one["source"] for one in told), f"{path}: {[one['figure'] for one in told if not one['source']]}"
        assert all(one["letters"] >= SMALLEST for one in told), path
        assert phone.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0, path


def test_the_aim_is_found_while_it_is_typed_and_put_into_its_field(phone: Page, shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.make_job(db, shop.maker)
        makers.keep_cuts(db, shop.maker, job)
        variant = makers.pieces_of(db, job)[0].variant_id
    phone.goto(f"/jobs/{job.no}/cuts/{variant}")
    phone.get_by_text("Aim for a mass or an inertia").click()
    phone.get_by_label("Free size").select_option("0.depth")
    phone.get_by_label("Wanted", exact=True).fill("20")
    phone.get_by_role("link", name="Put it into the field").click()
    phone.wait_for_load_state()
    assert phone.locator("#f-cut_0_depth").input_value().endswith(" in")
    assert "20.00 lb" in phone.locator("#removal").inner_text()


def test_the_unit_of_what_is_wanted_follows_the_choice(phone: Page, shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.make_job(db, shop.maker)
        makers.keep_cuts(db, shop.maker, job)
        variant = makers.pieces_of(db, job)[0].variant_id
    phone.goto(f"/jobs/{job.no}/cuts/{variant}")
    phone.get_by_text("Aim for a mass or an inertia").click()
    phone.get_by_label("Wanted is the").select_option("inertia")
    phone.locator("#wanted .unit", has_text="g·m²").wait_for()
    phone.locator("#f-cut_0_depth").fill("")
    phone.locator("#f-cut_0_depth").blur()
    phone.locator("#aims option").nth(1).wait_for(state="detached")
