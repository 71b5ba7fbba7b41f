"""The shop's network drops, the server dies, a thumb presses twice: every reading is in the book exactly once."""

from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, Route, expect

from shopapp.office import history, jobs, people, sizes
from tests import cast
from tests.browser import wire
from tests.browser.test_kit import TARGETS
from tests.browser.wire import Wire, readings
from tests.web.conftest import LiveShop
from tests.web.routes import floor

pytestmark = pytest.mark.browser
WRITE = "Write it down"
INSTRUMENT = next(iter(sizes.INSTRUMENTS))


@pytest.fixture
def line(shop: LiveShop) -> Iterator[Wire]:
    """The wire to the shop."""
    with wire.strung(shop.origin) as line:
        yield line


@pytest.fixture
def phone(chromium: Browser, line: Wire) -> Iterator[Page]:
    """WK's phone."""
    with wire.phone(chromium, line.address) as page:
        yield page


def at_the_scale(phone: Page, no: int, n: int = 1, reading: str = "26.5") -> None:
    """The weigh strip with a reading typed on our own keys."""
    phone.goto(f"/jobs/{no}/{n}/weigh")
    type_reading(phone, reading)


def type_reading(phone: Page, reading: str) -> None:
    """Choose the spring scale and type, unless it is chosen already."""
    phone.get_by_role("radio", name="spring").tap()
    for sign in reading:
        phone.locator(f'[data-key="{sign}"]').tap()


def write_down(phone: Page) -> None:
    phone.get_by_role("button", name=WRITE).tap()


def waits(phone: Page, words: str) -> None:
    expect(phone.locator("#waiting [data-waiting=line]")).to_contain_text(words)


def in_the_book(phone: Page, words: str) -> None:
    expect(phone.locator("#waiting [data-waiting=done]")).to_contain_text(words)


def test_the_shop_has_no_secure_context(phone: Page, shop: LiveShop) -> None:
    # Secure Contexts (W3C), 3.1: a plain-http origin is potentially trustworthy on loopback only.
    phone.goto("/")
    assert phone.evaluate("isSecureContext") is False
    assert phone.evaluate("navigator.serviceWorker === undefined && crypto.subtle === undefined")


def test_with_the_network_there_a_weight_leads_on_to_the_twin(phone: Page, shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    at_the_scale(phone, job.no)
    write_down(phone)
    phone.wait_for_url(f"**/jobs/{job.no}/2/weigh")
    expect(phone.locator("#waiting")).to_be_hidden()
    assert readings(shop, job.no) == ["26.5 lb"]
    assert floor.weights(shop, job).before is not None


def test_two_weights_written_offline_are_in_the_book_once_when_the_network_is_back(phone: Page, shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    at_the_scale(phone, job.no)
    phone.wait_for_function("ahead.pages.size === 1 && [...ahead.pages.values()].every(Boolean)")
    phone.context.set_offline(True)
    write_down(phone)
    waits(phone, f"1 sending waits for the shop’s network: {job.no}-1 weighed 26.5.")
    phone.get_by_role("link", name=f"Weigh {job.no}-2").tap()
    expect(phone.locator("h1")).to_contain_text(f"{job.no}-2")
    type_reading(phone, "26")
    write_down(phone)
    waits(phone, f"2 sendings wait for the shop’s network: {job.no}-1 weighed 26.5, {job.no}-2 weighed 26.")
    assert readings(shop, job.no) == readings(shop, job.no, 2) == []
    phone.context.set_offline(False)
    in_the_book(phone, f"{job.no}-1 weighed 26.5, {job.no}-2 weighed 26.")
    assert (readings(shop, job.no), readings(shop, job.no, 2)) == (["26.5 lb"], ["26 lb"])
    phone.goto(f"/jobs/{job.no}/1")
    expect(phone.locator("#waiting")).to_be_hidden()


def test_an_answer_lost_on_the_way_back_leaves_one_reading(phone: Page, shop: LiveShop, line: Wire) -> None:
    job = floor.in_the_rack(shop)
    at_the_scale(phone, job.no)
    line.cut = "answer"
    write_down(phone)
    waits(phone, "1 sending waits")
    assert line.answers_lost >= 1
    assert readings(shop, job.no) == ["26.5 lb"]
    wire.mend(phone, line)
    in_the_book(phone, f"{job.no}-1 weighed 26.5")
    assert readings(shop, job.no) == ["26.5 lb"]


def test_a_waiting_weight_outlives_a_reload(phone: Page, shop: LiveShop, line: Wire) -> None:
    job = floor.in_the_rack(shop)
    at_the_scale(phone, job.no)
    line.cut = "request"
    write_down(phone)
    waits(phone, "1 sending waits")
    phone.reload()
    waits(phone, f"1 sending waits for the shop’s network: {job.no}-1 weighed 26.5.")
    assert phone.locator("[name=reading]").input_value() == ""
    assert readings(shop, job.no) == []
    wire.quiet(phone)
    line.cut = ""
    phone.reload()
    in_the_book(phone, f"{job.no}-1 weighed 26.5")
    assert readings(shop, job.no) == ["26.5 lb"]


def test_a_page_closed_while_it_sends_has_lost_nothing(phone: Page, shop: LiveShop, line: Wire) -> None:
    job = floor.in_the_rack(shop)
    at_the_scale(phone, job.no)
    line.cut = "hold"
    write_down(phone)
    phone.wait_for_function("store.all('sendings').then((all) => all.length === 1)")
    wire.quiet(phone)
    line.cut = ""
    phone.goto("/")
    in_the_book(phone, f"{job.no}-1 weighed 26.5")
    assert readings(shop, job.no) == ["26.5 lb"]


def test_a_double_tap_is_one_reading(phone: Page, shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    at_the_scale(phone, job.no)
    phone.get_by_role("button", name=WRITE).dblclick()
    phone.wait_for_url(f"**/jobs/{job.no}/2/weigh")
    assert readings(shop, job.no) == ["26.5 lb"]


def test_two_tabs_that_send_the_same_waiting_weight_make_one_reading(phone: Page, shop: LiveShop, line: Wire) -> None:
    job = floor.in_the_rack(shop)
    at_the_scale(phone, job.no)
    line.cut = "answer"
    write_down(phone)
    waits(phone, "1 sending waits")
    second = phone.context.new_page()
    second.goto("/")
    waits(second, "1 sending waits")
    line.cut = ""
    for tab in (phone, second):
        tab.evaluate("void later.now()")
    for tab in (phone, second):
        tab.wait_for_function("store.all('sendings').then((all) => all.length === 0)")
    assert readings(shop, job.no) == ["26.5 lb"]


def test_two_tabs_with_one_form_each_make_one_weight_and_a_refusal(phone: Page, shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    at_the_scale(phone, job.no)
    second = phone.context.new_page()
    second.goto(f"/jobs/{job.no}/1/weigh")
    expect(second.locator("[name=reading]")).to_have_value("26.5")
    write_down(phone)
    phone.wait_for_url("**/2/weigh")
    write_down(second)
    expect(second.locator(".summary")).to_contain_text("Strike it through first")
    assert second.locator("[name=reading]").input_value() == "26.5"
    assert readings(shop, job.no) == ["26.5 lb"]


@pytest.mark.parametrize("status", [200, 302, 404, 503])
def test_what_is_not_the_shop_takes_nothing_in(phone: Page, shop: LiveShop, status: int) -> None:
    # A stand-in for what answers under the shop's name when the phone hangs on another network.
    def stranger(route: Route) -> None:
        headers = {"Location": "/"} if status == 302 else {}
        route.fulfill(status=status, headers=headers, body="Welcome, guest. Sign in.")

    job = floor.in_the_rack(shop)
    at_the_scale(phone, job.no)
    phone.route("**/weigh", lambda route: stranger(route) if route.request.method == "POST" else route.continue_())
    write_down(phone)
    waits(phone, "1 sending waits")
    assert readings(shop, job.no) == []
    phone.unroute("**/weigh")
    phone.evaluate("void later.now()")
    in_the_book(phone, f"{job.no}-1 weighed 26.5")
    assert readings(shop, job.no) == ["26.5 lb"]


def test_a_refused_sending_is_kept_with_the_shops_sentence_and_goes_back_into_its_form(
    phone: Page, shop: LiveShop
) -> None:
    job = floor.in_the_rack(shop)
    at_the_scale(phone, job.no, reading="26.3")
    phone.context.set_offline(True)
    write_down(phone)
    waits(phone, "weighed 26.3")
    phone.context.set_offline(False)
    stopped = phone.locator("#waiting > [role=status] [data-waiting=stopped]")
    expect(stopped).to_contain_text("This scale shows halves. 26.0 or 26.5?")
    assert readings(shop, job.no) == []
    phone.goto("/")
    expect(stopped).to_contain_text("1 sending was not taken in, and is kept")
    phone.get_by_text("Look at them").tap()
    phone.get_by_role("link", name="Open the form with its text").tap()
    expect(phone.locator("[name=reading]")).to_have_value("26.3")
    phone.locator("[name=reading]").fill("26.5")
    write_down(phone)
    phone.wait_for_url("**/2/weigh")
    expect(phone.locator("#waiting")).to_be_hidden()
    assert readings(shop, job.no) == ["26.5 lb"]


def test_nothing_refused_goes_with_one_press(phone: Page, shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    at_the_scale(phone, job.no, reading="26.3")
    phone.context.set_offline(True)
    write_down(phone)
    phone.context.set_offline(False)
    phone.locator("#waiting summary").tap()
    away = phone.locator("#waiting [data-waiting=away]")
    expect(phone.locator("#waiting [data-waiting=told]")).to_contain_text("halves")
    away.tap()
    expect(away).to_have_text("Throw it away? Press again.")
    assert phone.evaluate("store.all('sendings').then((all) => all.length)") == 1
    away.tap()
    expect(phone.locator("#waiting")).to_be_hidden()


def test_what_is_written_of_one_piece_comes_in_its_order(phone: Page, shop: LiveShop, line: Wire) -> None:
    job = floor.in_the_rack(shop)
    at_the_scale(phone, job.no)
    line.cut = "request"
    write_down(phone)
    waits(phone, "1 sending waits")
    phone.goto(f"/jobs/{job.no}/1")
    for size in ("1.5", "1.75"):
        phone.get_by_label("What", exact=True).fill("web")
        phone.get_by_label("Size", exact=True).fill(size)
        phone.get_by_role("radio", name=INSTRUMENT).tap()
        phone.get_by_role("button", name="Write the size down").tap()
        waits(phone, f"{job.no}-1 web {size} in")
        phone.get_by_role("button", name="Write another").tap()
    wire.mend(phone, line)
    in_the_book(phone, "web 1.75 in")
    piece = floor.piece(shop, job)
    with shop.database.reading() as db:
        lines = [line.words for line in history.of_piece(db, piece.id)][:3]
        assert [row.typed for row in sizes.of_piece(db, piece.id)] == ["1.5", "1.75"]
    assert [words.split("(")[0].split(" on ")[0].strip() for words in reversed(lines)] == [
        "before: 26.5 lb", "web 1.5", "web 1.75",
    ]  # fmt: skip


def test_a_reading_is_by_the_hand_that_wrote_it_down(phone: Page, shop: LiveShop, line: Wire) -> None:
    job = floor.in_the_rack(shop)
    at_the_scale(phone, job.no)
    line.cut = "request"
    write_down(phone)
    waits(phone, "1 sending waits")
    phone.context.add_cookies([{"name": "who", "value": "MB", "url": line.address}])
    wire.quiet(phone)
    line.cut = ""
    phone.goto("/")
    in_the_book(phone, "weighed 26.5")
    before = floor.weights(shop, job).before
    assert before is not None
    assert before.initials == "WK"


def test_a_link_without_the_network_says_so_and_stays(phone: Page, shop: LiveShop) -> None:
    job = floor.in_the_rack(shop, pieces=1)
    at_the_scale(phone, job.no)
    phone.context.set_offline(True)
    write_down(phone)
    waits(phone, "1 sending waits")
    phone.locator(".block-row--phone .cell").first.tap()
    expect(phone.get_by_text("The shop’s network is away, so that page has to wait.")).to_be_visible()
    assert phone.url.endswith(f"/jobs/{job.no}/1/weigh")


def test_who_wrote_meanwhile_is_told_and_the_form_may_be_sent_all_the_same(phone: Page, shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    phone.goto(f"/jobs/{job.no}/1/weigh")
    with shop.database.writing() as db:
        other = people.add(db, **cast.SECOND, now=shop.now, by=shop.by)
        told = {"name": "web", "typed": "1.5", "unit": "in", "instrument": INSTRUMENT, "now": shop.now, "by": other}
        sizes.measure(db, piece_id=jobs.piece(db, job.no, 1).id, **told)
    type_reading(phone, "26.5")
    write_down(phone)
    expect(phone.locator(".summary")).to_contain_text("OT at 4 Mar 2031")
    expect(phone.locator(".summary")).to_contain_text("web 1.5")
    assert phone.locator("[name=reading]").input_value() == "26.5"
    assert readings(shop, job.no) == []
    phone.get_by_role("button", name="Send it all the same").tap()
    phone.wait_for_url("**/2/weigh")
    assert readings(shop, job.no) == ["26.5 lb"]


def test_the_strip_is_for_a_thumb_and_for_everyone(phone: Page, shop: LiveShop) -> None:
    # axe-core: the rules of WCAG 2.x A and AA, contrast included.
    job = floor.in_the_rack(shop)
    at_the_scale(phone, job.no, reading="26.3")
    phone.context.set_offline(True)
    write_down(phone)
    phone.context.set_offline(False)
    phone.locator("#waiting summary").tap()
    expect(phone.locator("#waiting [data-waiting=told]")).to_contain_text("halves")
    assert phone.evaluate("document.documentElement.scrollWidth") == wire.PHONE["width"]
    assert [found for found in phone.evaluate(TARGETS) if "waiting" in found] == []
    found = Axe().run(phone)
    assert found.violations_count == 0, found.generate_report()


def test_a_server_killed_and_started_again_on_the_same_book_takes_it_in_once(chromium: Browser, shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    with (
        wire.served(shop.database.url) as first,
        wire.strung(first.address) as line,
        wire.phone(chromium, line.address) as phone,
    ):
        at_the_scale(phone, job.no)
        line.cut = "hold"
        write_down(phone)
        phone.wait_for_function("store.all('sendings').then((all) => all.length === 1)")
        first.process.kill()
        first.process.wait()
        line.hang_up()
        waits(phone, "1 sending waits")
        with wire.served(shop.database.url) as again:
            line.upstream = again.place
            wire.mend(phone, line)
            in_the_book(phone, f"{job.no}-1 weighed 26.5")
            assert readings(shop, job.no) == ["26.5 lb"]
