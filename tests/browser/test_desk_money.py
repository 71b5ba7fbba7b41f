"""The counter in a browser: how many taps a call, a hand-over with its bill, and a payment take; signing; nothing
sideways on a phone."""

from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Locator, Page, Route, expect

from shopapp.office import credits as notes
from shopapp.office import customers, handover, invoices, jobs, mail, papers, payments, refunds
from shopapp.office.jobs import JobFacts
from shopapp.office.sheets.handover import HandOverSheet
from tests import makers
from tests.browser import wire
from tests.browser.test_kit import TARGETS
from tests.web.conftest import LiveShop

pytestmark = pytest.mark.browser

COUNT = """
addEventListener("click", (event) => {
  if (event.target.closest("a[href^='tel:']")) event.preventDefault();  // there is no dialler on this machine
  if (!event.isTrusted || event.target.closest("[data-sign] svg")) return;
  sessionStorage.taps = Number(sessionStorage.taps || 0) + 1;
}, true);
addEventListener("keydown", (event) => {
  if (event.isTrusted) sessionStorage.keys = Number(sessionStorage.keys || 0) + 1;
}, true);
"""


@pytest.fixture
def phone(chromium: Browser, shop: LiveShop) -> Iterator[Page]:
    """A phone that counts taps and keys."""
    with wire.phone(chromium, shop.origin) as page:
        page.add_init_script(COUNT)
        yield page


@pytest.fixture
def job(shop: LiveShop) -> JobFacts:
    """Two pieces on the pick-up shelf, agreed at $73.50 with tax, not billed."""
    with shop.database.writing() as db:
        return makers.ready_job(db, shop.maker)


def effort(page: Page) -> tuple[int, int]:
    """Taps and keys since the app was opened."""
    told = page.evaluate("[sessionStorage.taps || 0, sessionStorage.keys || 0]")
    return int(told[0]), int(told[1])


def pad(page: Page) -> Locator:
    field = page.locator("[data-sign] svg")
    field.scroll_into_view_if_needed()
    return field


def sign(page: Page) -> None:
    """A name with the mouse."""
    box = pad(page).bounding_box()
    assert box
    page.mouse.move(box["x"] + 30, box["y"] + 50)
    page.mouse.down()
    for step in range(1, 12):
        page.mouse.move(box["x"] + 30 + 15 * step, box["y"] + 50 + (12 if step % 2 else -12))
    page.mouse.up()


def sign_with_a_finger(page: Page) -> None:
    """The same by touch, as the browser's own protocol tells of it."""
    box = pad(page).bounding_box()
    assert box
    touch = page.context.new_cdp_session(page)
    at = [{"x": box["x"] + 30 + 15 * step, "y": box["y"] + 50 + 12 * (step % 2)} for step in range(12)]
    touch.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": at[:1]})
    for point in at[1:]:
        touch.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [point]})
    touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    touch.detach()
    page.wait_for_timeout(400)  # a touch that follows sooner would be the second half of a double tap


def ink(page: Page) -> str:
    return page.locator(".signing-ink").get_attribute("d") or ""


def leads_to(page: Page, words: str) -> str:
    """Where a button leads, without going there: a browser without a screen has no viewer for papers."""
    led: list[str] = []

    def caught(route: Route) -> None:
        led.append(route.fetch(max_redirects=0).headers["location"])
        route.fulfill(status=204)

    page.route("**/bill", caught)
    with page.expect_response("**/bill"):
        page.get_by_role("button", name=words, exact=True).tap(no_wait_after=True)
    return led[0]


def receipt(shop: LiveShop, no: int) -> HandOverSheet:
    with shop.database.reading() as db:
        sheet, _ = papers.sheet(db, "hand_over", f"{no}-H1")
    assert isinstance(sheet, HandOverSheet)
    return sheet


def test_a_ready_call_is_two_taps(phone: Page, shop: LiveShop, job: JobFacts) -> None:
    phone.goto("/")
    phone.locator(".todo-phone").tap()
    phone.get_by_role("button", name="told", exact=True).tap()
    expect(phone.get_by_text("Nobody has to be called.")).to_be_visible()
    assert effort(phone) == (2, 0)
    with shop.database.reading() as db:
        assert [call.outcome for call in handover.calls(db, job.id)] == ["told"]


@pytest.mark.parametrize("hand", [sign, sign_with_a_finger])
def test_hand_over_with_its_bill_is_three_taps_and_a_signature(
    phone: Page, shop: LiveShop, job: JobFacts, hand: object
) -> None:
    phone.goto("/")
    with phone.expect_navigation():
        phone.get_by_role("link", name=f"hand over {job.no}").tap()
    assert callable(hand)
    hand(phone)
    expect(phone.get_by_text("signed", exact=True)).to_be_visible()
    drawn = ink(phone)
    with phone.expect_navigation():
        phone.get_by_role("button", name="Hand over the ticked pieces").tap()
    expect(phone).to_have_url(f"{shop.origin}/jobs/{job.no}/bill")
    assert effort(phone) == (2, 0)
    assert leads_to(phone, "Issue and print") == "/papers/invoice/501.pdf"
    assert phone.request.get("/papers/invoice/501.pdf").headers["content-type"] == "application/pdf"
    told = receipt(shop, job.no)
    assert (told.how, told.signature, told.taken_by) == ("signed", drawn, "Marn Cobbet")
    assert told.signed_for == (f"{job.no}-1 press plate, plain", f"{job.no}-2 press plate, plain")
    assert drawn.count("L") > 5


def test_a_payment_in_full_is_two_taps(phone: Page, shop: LiveShop, job: JobFacts) -> None:
    with shop.database.writing() as db:
        lines = invoices.draft_lines(db, job.id, now=shop.now)
        invoices.issue(db, job_id=job.id, lines=lines, **shop.maker.at())
    phone.goto("/")
    with phone.expect_navigation():
        phone.get_by_role("link", name=f"enter payment of {job.no}").tap()
    with phone.expect_navigation():
        phone.get_by_role("button", name="cash", exact=True).tap()
    expect(phone.get_by_text("Nothing is due on it.")).to_be_visible()
    assert effort(phone) == (2, 0)


def test_the_lines_of_a_bill_follow_its_ticks_until_somebody_types_in_them(
    phone: Page, shop: LiveShop, job: JobFacts
) -> None:
    """By hand: 70 min for both at $60.00 an hour, 50 min for one; 5 % tax."""
    phone.goto(f"/jobs/{job.no}/bill")
    minutes, sums = phone.locator("#f-line_0_quantity"), phone.locator("#sums")
    expect(sums).to_contain_text("$73.50")
    phone.locator("#f-piece_2").uncheck()
    expect(minutes).to_have_value("50 min")
    expect(sums).to_contain_text("$52.50")
    phone.locator("#f-piece_2").check()
    expect(minutes).to_have_value("70 min")
    phone.locator("#f-line_0_words").fill("bench time, late")
    phone.locator("#f-piece_2").uncheck()
    expect(phone.get_by_text("They were drawn for other ticks.")).to_be_visible()
    expect(minutes).to_have_value("70 min")
    expect(phone.locator("#f-line_0_words")).to_have_value("bench time, late")
    phone.get_by_role("button", name="Draw them for the ticks").tap()
    expect(minutes).to_have_value("50 min")
    expect(sums).to_contain_text("$52.50")


def test_a_signature_is_for_the_list_above_it(phone: Page, shop: LiveShop, job: JobFacts) -> None:
    phone.goto(f"/jobs/{job.no}/ready")
    sign(phone)
    assert ink(phone)
    phone.locator(f"#f-piece_{job.no}_1").tap()
    assert ink(phone) == ""
    expect(phone.get_by_text("What is signed for has changed.")).to_be_visible()
    sign(phone)
    phone.get_by_role("button", name="Clear").tap()
    assert ink(phone) == ""
    expect(phone.get_by_role("button", name="Clear")).to_be_disabled()


def test_without_a_signature_the_page_asks_and_keeps_what_was_typed(phone: Page, shop: LiveShop, job: JobFacts) -> None:
    phone.goto(f"/jobs/{job.no}/ready")
    phone.get_by_label("Taken by").fill("the nephew")
    phone.get_by_role("button", name="Hand over the ticked pieces").tap()
    expect(phone.get_by_role("alert")).to_contain_text("Have them sign in the field")
    expect(phone.get_by_label("Taken by")).to_have_value("the nephew")
    sign(phone)
    with phone.expect_navigation():
        phone.get_by_role("button", name="Hand over the ticked pieces").tap()
    assert receipt(shop, job.no).taken_by == "the nephew"


def test_the_return_key_never_chooses_a_way_of_paying(phone: Page, shop: LiveShop, job: JobFacts) -> None:
    phone.goto(f"/jobs/{job.no}/pay")
    phone.get_by_label("Amount").fill("20")
    phone.get_by_label("Amount").press("Enter")
    expect(phone.get_by_role("alert")).to_contain_text("Say how it was paid")
    with shop.database.reading() as db:
        assert payments.of_job(db, job.id) == []


@pytest.fixture
def crowded(shop: LiveShop) -> dict[str, str]:
    """Long names, a bill with everything on it, letters in every state: the pages to look at, by what they are."""
    name = "Wolfeschlegelsteinhausenbergerdorff & Daughters Agricultural Requisites"
    with shop.database.writing() as db:
        at = shop.maker.at()
        who = makers.make_customer(db, shop.maker, name=name, email="a.very.long.address@requisites.example")
        job = makers.ready_job(db, shop.maker, customer_id=who, pieces=6, title="skim plates, " * 9)
        other = makers.ready_job(db, shop.maker, customer_id=who)
        no = invoices.issue(db, job_id=job.id, lines=invoices.draft_lines(db, job.id, now=shop.now), **at)
        wrong = payments.pay(db, job_id=job.id, amount="10", how="cheque", invoice_no=no, reference="no 4471", **at)
        payments.reverse(db, payment_id=wrong, reason="came back", **at)
        held = payments.pay(db, job_id=other.id, amount="1,000", how="transfer", **at)
        refunds.give_back(db, payment_id=held, amount="9", how="cheque", reason="asked for it, " * 9, **at)
        notes.credit(db, no=no, amount="5", reason="a long scratch across the whole face", **at)
        notes.write_off(db, no=no, amount="1", reason="rounding", **at)
        row = mail.post(db, kind="ready", number=f"{job.no}-R1", to=customers.one(db, who).email, subject="s", **at)
        mail.claim(db, letter_id=row, now=shop.now)
        mail.failed(db, letter_id=row, fault="550 5.1.1 no such user " * 6, now=shop.now, for_good=True)
        assert len(jobs.pieces(db, job.id)) == 6
    return {
        "hand-over": f"/jobs/{job.no}/ready", "calls": "/calls", "invoice": f"/invoices/{no}", "money": "/money",
        "statement": f"/customers/{who}/statement", "mail": "/mail", "bill": f"/jobs/{other.no}/bill", "rail": "/",
        "payment": f"/jobs/{job.no}/pay", "given back": f"/jobs/{other.no}/pay",
        "letter": f"/mail/new?kind=ready&number={job.no}-R1",
    }  # fmt: skip


WIDE = """() => [...document.querySelectorAll("main *")]
  .filter((one) => one.getClientRects().length && one.getBoundingClientRect().right > 361)
  .filter((one) => !one.closest("thead, .heard")).map((one) => one.outerHTML.slice(0, 90))"""
def test_every_page_of_the_counter_fits_the_phone_the_thumb_and_everyone(
    phone: Page, shop: LiveShop, crowded: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(shop.app.state, "postman", object(), raising=False)
    wide, small, unfit = {}, {}, {}
    for what, path in crowded.items():
        phone.goto(path)
        phone.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
        wide[what] = phone.evaluate(WIDE) if phone.evaluate("document.documentElement.scrollWidth") > 360 else []
        unseen = ("aria-hidden", 'class="heard"')
        small[what] = [one for one in phone.evaluate(TARGETS) if not any(words in one for words in unseen)]
        # axe-core: the rules of WCAG 2.x A and AA, contrast included.
        unfit[what] = [one["id"] + str([node["html"][:90] for node in one["nodes"]]) for one in
                       Axe().run(phone).response["violations"]]  # fmt: skip
    assert wide == {what: [] for what in crowded}
    assert small == {what: [] for what in crowded}
    assert unfit == {what: [] for what in crowded}
