"""At the machine with one thumb: truing in eight digits and a tap, then the run of a two-piece job."""

from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from shopapp.office import chuck, clock, equipment, history, jobs, truing
from shopapp.office.jobs import JobFacts
from tests.browser import wire
from tests.browser.test_kit import TARGETS
from tests.browser.wire import Wire
from tests.web.conftest import LiveShop
from tests.web.routes.test_cutrun import in_the_rack, planned

pytestmark = pytest.mark.browser
FIGURES = "all => all.map(e => parseFloat(getComputedStyle(e).fontSize))"
COUNT = "addEventListener('click', () => { sessionStorage.taps = 1 + Number(sessionStorage.taps ?? 0) }, true)"
BOXES = "all => all.map(box => box.value)"


@pytest.fixture
def line(shop: LiveShop) -> Iterator[Wire]:
    """The wire to the shop."""
    with wire.strung(shop.origin) as line:
        yield line


@pytest.fixture
def phone(chromium: Browser, line: Wire) -> Iterator[Page]:
    """WK's phone; it counts the taps."""
    with wire.phone(chromium, line.address) as page:
        page.add_init_script(COUNT)
        yield page


def keys(phone: Page, signs: str) -> None:
    for sign in signs:
        phone.locator(f'[data-key="{sign}"]').tap()


def press(phone: Page, words: str) -> None:
    phone.get_by_role("button", name=words).tap()


def boxes(phone: Page) -> list[str]:
    found: list[str] = phone.locator("[data-box]").evaluate_all(BOXES)
    return found


def left_as(shop: LiveShop, job: JobFacts) -> str:
    with shop.database.reading() as db:
        return truing.last_left(db, jobs.piece(db, job.no, 1).id)


def test_a_truing_takes_eight_digits_and_one_tap(phone: Page, shop: LiveShop) -> None:
    job = planned(shop)
    phone.goto(f"/jobs/{job.no}/1/true?setting=1")
    keys(phone, "36200016")
    expect(phone.locator("#judge")).to_contain_text("Loosen 3, tighten 1, until 1 drops by 18 tenths (.0018 in).")
    expect(phone.locator(".chuck-arrow")).to_have_count(4)
    assert boxes(phone) == ["36", "20", "00", "16"]
    press(phone, "As left: keep")
    expect(phone.locator(".chuck-record")).to_contain_text("outside 0.0036 in")
    assert phone.evaluate("sessionStorage.taps") == "9"
    assert boxes(phone) == [""] * 4
    assert left_as(shop, job) == "outside 0.0036 in"


def test_short_readings_signs_and_skips_go_on_by_a_key(phone: Page, shop: LiveShop) -> None:
    job = planned(shop)
    phone.goto(f"/jobs/{job.no}/1/true")
    keys(phone, "20")
    keys(phone, "4 ")
    keys(phone, "-16/")
    assert boxes(phone) == ["20", "4", "-16", "/"]
    phone.locator('[data-key="back"]').tap()
    phone.locator('[data-key="back"]').tap()
    assert boxes(phone) == ["20", "4", "-1", ""]
    phone.locator("#f-r0").tap()
    keys(phone, "5")
    assert boxes(phone)[0] == "205"


def test_a_half_typed_sheet_outlives_a_reload(phone: Page, shop: LiveShop) -> None:
    job = planned(shop)
    phone.goto(f"/jobs/{job.no}/1/true")
    keys(phone, "3620")
    phone.reload()
    phone.wait_for_function("document.getElementById('f-r0').value === '36'")
    assert boxes(phone) == ["36", "20", "", ""]
    keys(phone, "11")
    assert boxes(phone) == ["36", "20", "11", ""]


def run_one(phone: Page, done: str) -> None:
    """Both ticks, the clock, and the piece is done."""
    phone.get_by_text("The key is out of the chuck").tap()
    phone.get_by_text("Turned once by hand").tap()
    press(phone, "Start the clock")
    expect(phone.locator("#clock")).to_contain_text("min WK, since")
    press(phone, done)


def test_a_two_piece_job_is_planned_and_run_by_thumb(phone: Page, shop: LiveShop) -> None:
    job = in_the_rack(shop)
    phone.goto(f"/jobs/{job.no}")
    phone.get_by_role("link", name="Settings and cut run").tap()
    for side, words in (("A", "inside of the rim"), ("B", "turned outside")):
        phone.get_by_label(f"For side {side}").fill(words)
    press(phone, "Plan the settings")
    expect(phone.get_by_text("One re-set of the jaws; piece by piece it would be 3.")).to_be_visible()
    phone.get_by_role("link", name=f"Setting 1, piece {job.no}-1").tap()
    for setting, n, then in ((1, 2, "next piece"), (2, 1, "next setting"), (2, 2, "next piece")):
        run_one(phone, f"Done, {then}")
        phone.wait_for_url(f"**/run/{setting}?piece={n}")
        assert phone.locator("input:checked").count() == 0  # no tick is remembered
    run_one(phone, "Done here")
    phone.wait_for_url(f"**/jobs/{job.no}")
    with shop.database.reading() as db:
        assert all(run.setting.done_at for run in chuck.of_job(db, job.id).settings)
        assert clock.running(db, shop.by) is None


def test_the_stop_is_judged_while_it_is_typed(phone: Page, shop: LiveShop) -> None:
    with shop.database.writing() as db:
        equipment.add_machine(db, name="lathe", dial="diameter", chuck_limit="800", **shop.maker.at())
    job = planned(shop, machine="1", most_per_pass=".050")
    phone.goto(f"/jobs/{job.no}/run/1")
    phone.get_by_text("Speed, feed, machine, least clearance").tap()
    phone.get_by_label("Least clearance").fill(".010")
    phone.get_by_label("Back-off").fill(".020")
    phone.get_by_label("Extra feed").fill(".011")
    expect(phone.locator("#sums")).to_contain_text("under the least of .010")
    phone.get_by_label("Extra feed").fill(".008")
    expect(phone.locator("#sums")).to_contain_text(".020 − .008 = .012 in clear")
    assert min(phone.locator(".run-pass b, .field--figure .typed:visible").evaluate_all(FIGURES)) >= 28


def test_a_clock_started_without_network_starts_when_the_button_was_pressed(
    phone: Page, shop: LiveShop, line: Wire
) -> None:
    job = planned(shop)
    phone.goto(f"/jobs/{job.no}/run/1")
    line.cut = "answer"
    phone.get_by_text("The key is out of the chuck").tap()
    phone.get_by_text("Turned once by hand").tap()
    press(phone, "Start the clock")
    expect(phone.locator("#waiting [data-waiting=line]")).to_contain_text(f"{job.no}-1 clock started")
    wire.mend(phone, line)
    expect(phone.locator("#waiting [data-waiting=done]")).to_contain_text(f"{job.no}-1 clock started")
    with shop.database.reading() as db:
        assert len([row for row in history.of_job(db, job.id) if row.words.startswith("started,")]) == 1
        assert clock.running(db, shop.by) is not None


@pytest.mark.parametrize("path", ["run", "run/1", "1/true?setting=1", "1/true?places=8"])
def test_the_pages_at_the_machine_suit_a_thumb_and_a_reader(phone: Page, shop: LiveShop, path: str) -> None:
    job = planned(shop, most_per_pass=".050")
    phone.goto(f"/jobs/{job.no}/{path}")
    for fold in phone.locator("main summary").all():
        fold.tap()
    assert phone.evaluate(TARGETS) == []
    assert phone.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    assert min(phone.locator("[data-box], .field--figure .typed:visible").evaluate_all(FIGURES) or [28]) >= 28
    faults = Axe().run(phone).response["violations"]
    assert [(one["id"], one["nodes"][0]["html"]) for one in faults] == []
