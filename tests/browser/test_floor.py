"""A two-piece job on a phone, from taking in to the verdict, its taps and characters counted against what is allowed.

The phone is 360 x 740, touched, and the shop stands under a name that is no secure context. A key of our own keypad is
a character, as one of the phone's would be; scrolling and the camera are not counted.
"""

import io
from collections.abc import Iterator
from dataclasses import dataclass

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect
from pypdf import PdfReader

from shopapp.office import condition, jobs, photos, sizes, together
from shopapp.office.jobs import JobFacts
from tests import cast, makers
from tests.browser import wire
from tests.browser.test_kit import FIGURES, TARGETS
from tests.web.conftest import LiveShop
from tests.web.routes import floor

pytestmark = pytest.mark.browser
COUNTER = """(() => {
  // The browser's own viewer of a PDF is a page without a store.
  if (!window.sessionStorage) return;
  const told = JSON.parse(sessionStorage.getItem("counted") ?? '{"taps": 0, "signs": 0}');
  const kept = () => sessionStorage.setItem("counted", JSON.stringify(told));
  addEventListener("click", (event) => {
    if (!event.isTrusted) return;
    // A label sends a second click to the field that it belongs to; one finger made one tap.
    const label = event.target.closest("label");
    if (label && !event.target.matches("input")) return;
    told[event.target.closest("[data-key]") ? "signs" : "taps"] += 1; kept();
  }, true);
  addEventListener("keydown", (event) => { if (event.key.length === 1) { told.signs += 1; kept(); } }, true);
})()"""


@dataclass
class Hand:
    """A hand on the phone: every tap and every character is counted by the browser itself."""

    page: Page

    def begin(self) -> None:
        """Count from here."""
        self.page.evaluate("sessionStorage.removeItem('counted')")
        self.page.reload()

    def made(self) -> tuple[int, int]:
        """Taps and characters since the beginning."""
        told = self.page.evaluate("JSON.parse(sessionStorage.getItem('counted'))") or {"taps": 0, "signs": 0}
        return told["taps"], told["signs"]

    def key_in(self, text: str) -> None:
        """Type on our own keys."""
        for sign in text:
            self.page.locator(f'[data-key="{sign}"]').tap()

    def press(self, words: str) -> None:
        """Press a button."""
        self.page.get_by_role("button", name=words, exact=True).first.tap()


@pytest.fixture
def hand(chromium: Browser, shop: LiveShop) -> Iterator[Hand]:
    """WK's hand on a phone, in front of the shop's name on its own network."""
    with wire.strung(shop.origin) as line, wire.phone(chromium, line.address) as page:
        page.add_init_script(COUNTER)
        yield Hand(page)


def within(hand: Hand, taps: int, signs: int) -> None:
    """No more taps, and no more characters, than are allowed."""
    made = hand.made()
    assert made[0] > 0, "no tap was counted at all"
    assert made[0] <= taps, f"{made[0]} taps where {taps} are allowed"
    assert made[1] <= signs, f"{made[1]} characters where {signs} are allowed"


def printed(hand: Hand, shop: LiveShop, press: str) -> str:
    """Press the button that prints, and come back; gives the text of what went to the printer."""
    with hand.page.expect_response(lambda answer: answer.request.method == "POST") as answer:
        hand.press(press)
    assert answer.value.status == 303
    hand.page.wait_for_url("**/*.pdf")
    hand.page.goto("/")
    pdf = shop.get(answer.value.headers["location"])
    assert pdf.headers["content-type"] == "application/pdf"
    return "\n".join(sheet.extract_text() for sheet in PdfReader(io.BytesIO(pdf.content)).pages)


def test_a_repeat_part_is_logged_with_four_taps_and_no_character(hand: Hand, shop: LiveShop) -> None:
    with shop.database.writing() as db:
        old = makers.finished_job(db, shop.maker, pieces=1)
    hand.page.goto("/")
    hand.begin()
    hand.page.get_by_role("navigation", name="Customers who came last").get_by_role("link", name=old.customer).tap()
    hand.page.get_by_role("button", name="Same again").tap()
    hand.page.get_by_role("radio", name="flat on both faces").tap()
    text = printed(hand, shop, "Print stub and tags")
    within(hand, 4, 0)
    no = old.no + 1
    for words in (f"Stub {no}", f"Tags {no}", f"Job ticket {no}", "flat on both faces"):
        assert words in text
    piece = floor.piece(shop, jobs_by(shop, no))
    assert (piece.custody, piece.sign_seen) == ("rack", "flat on both faces")
    with shop.database.reading() as db:
        assert not photos.of_piece(db, piece.id)
        assert not sizes.of_piece(db, piece.id)
    assert floor.weights(shop, jobs_by(shop, no)).before is None


def jobs_by(shop: LiveShop, no: int) -> JobFacts:
    with shop.database.reading() as db:
        return jobs.by_no(db, no)


def test_two_pieces_are_weighed_in_with_two_taps_and_six_characters(hand: Hand, shop: LiveShop) -> None:
    scale_used_today(hand, shop)
    job = floor.in_the_rack(shop)
    hand.page.goto(f"/pieces/{job.no}-1")
    hand.page.wait_for_url(f"**/jobs/{job.no}/1/weigh")
    hand.begin()
    hand.key_in("26")
    hand.press("Write it down")
    hand.page.wait_for_url(f"**/jobs/{job.no}/2/weigh")
    hand.key_in("26.5")
    hand.press("Write it down")
    hand.page.wait_for_url(f"**/jobs/{job.no}")
    within(hand, 2, 6)
    assert [wire.readings(shop, job.no, n) for n in (1, 2)] == [["26 lb"], ["26.5 lb"]]


def test_two_pieces_are_weighed_at_once_with_one_number_and_the_button_in_sight(hand: Hand, shop: LiveShop) -> None:
    scale_used_today(hand, shop)
    job = floor.in_the_rack(shop)
    hand.page.goto(f"/jobs/{job.no}/1/weigh")
    hand.begin()
    hand.page.get_by_role("link", name="Weigh in both at once").tap()
    hand.page.wait_for_url("**/weigh-together")
    hand.key_in("53")
    button = hand.page.get_by_role("button", name="Write it down").bounding_box()
    assert button is not None
    assert button["y"] + button["height"] <= wire.PHONE["height"]
    assert hand.page.evaluate("document.documentElement.scrollWidth") <= wire.PHONE["width"]
    hand.press("Write it down")
    hand.page.wait_for_url(f"**/jobs/{job.no}/1/weigh")
    within(hand, 2, 2)
    with shop.database.reading() as db:
        found = together.of_pieces(db, [floor.piece(shop, job, n) for n in (1, 2)])
    assert [one.before.text for one in found.values() if one.before] == ["53 lb", "53 lb"]
    assert [wire.readings(shop, job.no, n) for n in (1, 2)] == [[], []]


def scale_used_today(hand: Hand, shop: LiveShop) -> None:
    """The phone was at the spring scale before, so that it offers it: seen, and free to be changed."""
    other = floor.in_the_rack(shop, pieces=1)
    hand.page.goto(f"/jobs/{other.no}/1/weigh")
    hand.page.get_by_role("radio", name="spring").tap()
    hand.key_in("20")
    hand.press("Write it down")
    hand.page.wait_for_url(f"**/jobs/{other.no}")


def test_two_pieces_are_weighed_out_with_two_taps_and_the_verdicts_are_there(hand: Hand, shop: LiveShop) -> None:
    job = floor.in_the_chuck(shop)
    hand.page.goto(f"/pieces/{job.no}-1")
    hand.page.wait_for_url(f"**/jobs/{job.no}/1/weigh")
    hand.begin()
    hand.key_in("23")
    hand.press("Write it down")
    hand.page.wait_for_url(f"**/jobs/{job.no}/2/weigh")
    hand.key_in("23.0")
    hand.press("Write it down")
    hand.page.wait_for_url(f"**/jobs/{job.no}")
    within(hand, 2, 6)
    verdicts = hand.page.locator(".job-piece .say")
    expect(verdicts).to_have_count(2)
    for told in verdicts.all():
        expect(told).to_contain_text("They agree.")


def test_one_truing_is_eight_digits_and_one_tap(hand: Hand, shop: LiveShop) -> None:
    job = floor.in_the_chuck(shop, pieces=1)
    hand.page.goto(f"/jobs/{job.no}/1/true")
    hand.begin()
    hand.key_in("28201220")
    # Half the difference of two opposite jaws is how far it is off centre: (28 - 12) / 2 = 8 tenths, high at jaw 1.
    expect(hand.page.locator("#judge")).to_contain_text("8 tenths")
    expect(hand.page.locator("#judge")).to_contain_text("tighten 1")
    hand.press("As left: keep")
    expect(hand.page.locator("main")).to_contain_text("Of record")
    within(hand, 1, 8)


def test_two_sizes_told_of_one_thing_ask_by_themselves(hand: Hand, shop: LiveShop) -> None:
    job = floor.in_the_rack(shop, pieces=1)
    page = hand.page
    page.goto(f"/jobs/{job.no}/1")
    page.get_by_label("What", exact=True).fill("web")
    page.get_by_label("Size", exact=True).fill("22 mm")
    page.get_by_role("radio", name="caliper", exact=True).tap()
    page.locator("[name=size_note]").press_sequentially("he said 3/4 in")
    before = hand.made()
    # 22 mm are 0.8661 in (25.4 mm to the inch, NIST SP 811, B.8): 0.116 in from three quarters.
    expect(page.locator("#clash")).to_contain_text(".116 in")
    assert hand.made() == before
    with shop.database.reading() as db:
        assert not sizes.of_piece(db, floor.piece(shop, job).id)


def is_for_everyone(page: Page) -> None:
    """Nothing sideways, targets for a thumb, figures to be read at arm's length; and what axe-core finds."""
    assert page.evaluate("document.documentElement.scrollWidth") == wire.PHONE["width"]
    in_text = ("<a href", "print")
    assert [found for found in page.evaluate(TARGETS) if not found.startswith(in_text)] == []
    assert [size for size in page.evaluate(FIGURES) if size < 28] == []
    # axe-core: the rules of WCAG 2.x A and AA, contrast included.
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()


def test_two_pieces_go_from_the_door_to_the_verdict(hand: Hand, shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.make_job(db, shop.maker)
        makers.keep_cuts(db, shop.maker, job)
        makers.agree(db, shop.maker, job)
    page = hand.page
    page.goto(f"/jobs/{job.no}")
    page.get_by_role("link", name="Take in 2 pieces").tap()
    page.wait_for_url(f"**/jobs/{job.no}/in")
    is_for_everyone(page)
    for n in (1, 2):
        came_in(page, n)
    text = printed(hand, shop, "Print stub and tags")
    assert "chip at the rim" not in text
    assert "1 as it came in, 1 damage" in text
    assert f"{job.no}-2" in text
    weigh_both(hand, job.no, "26.5")
    for n in (1, 2):
        page.goto(f"/jobs/{job.no}/{n}")
        if n == 1:
            is_for_everyone(page)
        hand.press(f"{job.no}-{n} into the chuck")
        page.wait_for_url(f"**/jobs/{job.no}")
    weigh_both(hand, job.no, "23")
    expect(page.locator(".job-piece .say")).to_have_count(2)
    expect(page.locator(".job-piece .say").first).to_contain_text("They agree.")
    the_final_check(hand, job.no)
    with shop.database.reading() as db:
        piece_id = jobs.piece(db, job.no, 1).id
        assert condition.standing(db, piece_id)[0].answer == "no"
        assert [photo.said for photo in photos.of_piece(db, piece_id)] == ["front", "chip at the rim 1", "finished"]


def came_in(page: Page, n: int) -> None:
    """One piece as it comes through the door: its sign, its photos, a look for cracks."""
    piece = page.locator(".came").nth(n - 1)
    piece.get_by_role("radio", name="flat on both faces").tap()
    for name, shade in (("front", "peru"), ("damage", "firebrick")):
        photo = {"name": "image.jpg", "mimeType": "image/jpeg", "buffer": cast.a_photo(colour=shade)}
        page.locator(f"[name={name}_{n}]").set_input_files(photo)  # type: ignore[arg-type]
    page.locator(f"[name=damage_words_{n}]").fill(f"chip at the rim {n}")
    page.locator(f"#f-cracked_{n}").get_by_role("radio", name="no", exact=True).tap()


def weigh_both(hand: Hand, no: int, reading: str) -> None:
    """Read the tag, weigh, and the twin comes by itself."""
    hand.page.goto(f"/pieces/{no}-1")
    for n in (1, 2):
        hand.page.wait_for_url(f"**/jobs/{no}/{n}/weigh")
        hand.page.get_by_role("radio", name="spring").tap()
        hand.key_in(reading)
        hand.press("Write it down")
    hand.page.wait_for_url(f"**/jobs/{no}")


def the_final_check(hand: Hand, no: int) -> None:
    """The size that is left is measured beside the plan, and a photo is taken."""
    page = hand.page
    page.goto(f"/jobs/{no}/1/finish")
    is_for_everyone(page)
    assert page.locator("[name^=size_]").first.input_value() == ""
    page.locator("[name^=size_]").first.fill("1.752")
    page.locator("[name^=with_]").first.select_option("caliper")
    photo = {"name": "image.jpg", "mimeType": "image/jpeg", "buffer": cast.a_photo(colour="seagreen")}
    page.locator("[name=photo]").set_input_files(photo)  # type: ignore[arg-type]
    hand.press("Write it down")
    expect(page.locator(".check").first).to_contain_text("+0.002 in")
    hand.press("Predict again by the sizes as measured")
    expect(page.locator("#by-measured")).to_contain_text("As measured it agrees")


@pytest.mark.parametrize(
    ("path", "shown"),
    [
        ("/jobs/{no}/1/weigh", [".weigh-twin", ".weigh-done", ".job-lines .weighed"]),
        ("/jobs/{no}/2/weigh", [".weigh-twin", ".weigh-known"]),
        ("/jobs/{no}/1", [".rows .weighed"]),
        ("/jobs/{no}", [".job-piece .figure-value"]),
        ("/jobs/{no}/1/finish", [".figure-value"]),
    ],
)
def test_what_was_weighed_is_read_at_arms_length(hand: Hand, shop: LiveShop, path: str, shown: list[str]) -> None:
    job = floor.in_the_chuck(shop)
    floor.weigh(shop, job, phase="after", reading="23")
    hand.page.goto(path.format(no=job.no))
    hand.page.evaluate("document.querySelectorAll('main details').forEach((one) => { one.open = true; })")
    sizes = "(some) => some.map((one) => parseFloat(getComputedStyle(one).fontSize))"
    for what in shown:
        found = hand.page.locator(what).evaluate_all(sizes)
        assert found, f"{what} is not on {path}"
        assert min(found) >= 28, what
    assert hand.page.evaluate("document.documentElement.scrollWidth") == wire.PHONE["width"]


PAGES = ("/", "/book/machines", "/book/instruments", "card", "other-way", "call-off", "spoiled", "customer", "job",
         "variant")  # fmt: skip


@pytest.mark.parametrize("path", PAGES)
def test_the_floors_pages_are_for_a_thumb_and_for_everyone(hand: Hand, shop: LiveShop, path: str) -> None:
    job = floor.in_the_chuck(shop)
    paths = {
        "card": f"/jobs/{job.no}/1", "other-way": f"/jobs/{job.no}/1/other-way", "call-off": f"/jobs/{job.no}/call-off",
        "spoiled": f"/jobs/{job.no}/2/other-way", "customer": f"/customers/{job.customer_id}", "job": f"/jobs/{job.no}",
        "variant": "/variants/1",
    }  # fmt: skip
    shop.post(f"/jobs/{job.no}/2/spoiled", story="it came out of the jaws")
    hand.page.goto(paths.get(path, path))
    is_for_everyone(hand.page)


def test_photos_taken_without_the_network_come_in_once_it_is_back(hand: Hand, shop: LiveShop) -> None:
    job = floor.in_the_rack(shop, pieces=1)
    page = hand.page
    page.goto(f"/jobs/{job.no}/1")
    page.locator("#photos summary").tap()
    photo = {"name": "image.jpg", "mimeType": "image/jpeg", "buffer": cast.a_photo(colour="navy")}
    page.locator("#photos [name=photo]").set_input_files(photo)  # type: ignore[arg-type]
    page.locator("#photos").get_by_role("radio", name="damage").tap()
    page.context.set_offline(True)
    hand.press("Keep the photo")
    expect(page.locator("#waiting [data-waiting=line]")).to_contain_text("1 sending waits")
    page.context.set_offline(False)
    expect(page.locator("#waiting [data-waiting=done]")).to_contain_text("photo")
    with shop.database.reading() as db:
        kept = photos.of_piece(db, floor.piece(shop, job).id)
    assert [photo.what for photo in kept] == ["intake", "damage"]
