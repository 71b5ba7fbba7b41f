"""Sheets as they lie on the glass: nothing is squeezed to a strip or wider than the screen, whatever is typed."""

from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, FloatRect, Page

from shopapp.office import chuck, equipment, handover, intake, invoices, questions, sizes
from shopapp.office.database import Session
from shopapp.office.jobs import JobFacts, PieceAsk
from tests import makers
from tests.browser import wire
from tests.web.conftest import LiveShop

pytestmark = pytest.mark.browser
DESK = {"width": 1280, "height": 800}


@pytest.fixture
def screen(chromium: Browser, shop: LiveShop) -> Iterator[Callable[[dict[str, int]], Page]]:
    """Opens a page of a size in front of the shop, with WK before it."""
    contexts = []

    def opened(size: dict[str, int]) -> Page:
        context = chromium.new_context(base_url=shop.origin, viewport=size)  # type: ignore[arg-type]
        context.set_default_timeout(15_000)
        context.add_cookies([{"name": "who", "value": "WK", "url": shop.origin}])
        contexts.append(context)
        return context.new_page()

    yield opened
    for context in contexts:
        context.close()


def box(page: Page, selector: str) -> FloatRect:
    """Where the first of them stands on the glass."""
    found = page.locator(selector).first.bounding_box()
    assert found, f"{selector} is not to be seen"
    return found


@pytest.mark.parametrize("size", [wire.PHONE, DESK], ids=["phone", "desk"])
def test_the_drawing_stands_beside_its_fields_or_over_them(
    screen: Callable[[dict[str, int]], Page], shop: LiveShop, size: dict[str, int]
) -> None:
    with shop.database.writing() as db:
        variant = makers.pieces_of(db, makers.make_job(db, shop.maker))[0].variant_id
    page = screen(size)
    page.goto(f"/variants/{variant}/drawing")
    drawing, form = box(page, "#section svg"), box(page, "form.form")
    assert drawing["width"] >= 300
    assert form["width"] >= 300
    is_beside = drawing["x"] >= form["x"] + form["width"] or form["x"] >= drawing["x"] + drawing["width"]
    assert is_beside or drawing["y"] + drawing["height"] <= form["y"]
    if size == DESK:
        assert is_beside
        assert max(drawing["y"], form["y"]) < size["height"] / 2


LONG = "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaft"
"""A word of 80 letters: what is typed may be one, by a foreign customer or by a slip on the space bar."""
WIDER = """() => [...document.querySelectorAll("main *, .block *")]
  .filter((one) => one.checkVisibility() && !one.closest(".heard, thead, .skip, .cell b"))
  .filter((one) => getComputedStyle(one).clipPath === "none")
  .filter((one) => one.getBoundingClientRect().right > innerWidth + 1
    || (one.clientWidth && one.scrollWidth > one.clientWidth + 2 && !one.matches("svg *, input, select, textarea")))
  .map((one) => one.outerHTML.slice(0, 100)).slice(0, 3)"""
# A word is whole where its letters stand on one line; those of up to 20 letters fit everywhere.
BROKEN = r"""() => {
  const found = [], walk = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
  const range = document.createRange();
  while (walk.nextNode()) {
    const text = walk.currentNode, box = text.parentElement;
    if (!box.checkVisibility() || box.closest(".heard, option, textarea, script, thead, svg")) continue;
    if (getComputedStyle(box).clipPath !== "none") continue;
    for (const word of text.data.matchAll(/[^\s\-–—/·|&?#.:@]{2,20}(?![^\s\-–—/·|&?#.:@])/g)) {
      if (word.index && /[^\s\-–—/·|&?#.:@]/.test(text.data[word.index - 1])) continue;
      range.setStart(text, word.index);
      range.setEnd(text, word.index + word[0].length);
      const lines = [...range.getClientRects()].filter((one) => one.width > .5).map((one) => Math.round(one.top));
      if (new Set(lines).size > 1) found.push(`${word[0]} in ${box.outerHTML.slice(0, 90)}`);
    }
  }
  return found.slice(0, 4);
}"""
"""Words of a length that fits everywhere and yet are broken over two lines: their box is narrower than they are."""


def crowd(shop: LiveShop) -> tuple[int, int, int, dict[str, int]]:
    """Every name is one word too long for a phone; gives customer, part, variant, the numbers of jobs and bill."""
    with shop.database.writing() as db:
        at = shop.maker.at()
        equipment.add_machine(db, name=LONG, dial="diameter", chuck_limit="2000", **at)
        who = makers.make_customer(db, shop.maker, name=f"Ann {LONG}", contact=LONG, note=LONG, address=LONG)
        part = makers.make_part(db, shop.maker, name=f"plate {LONG}")
        kind = makers.make_variant(db, shop.maker, part_id=part, name=f"plain {LONG}", signs=[f"flat {LONG}", "a hole"])
        ask = PieceAsk(kind, "machine", LONG)
        told = {"customer_id": who, "title": f"skim {LONG}", "asked": LONG, "order_number": LONG}
        made = {what: makers.make_job(db, shop.maker, pieces=(ask, ask), **told) for what in ("new", "chuck", "ready")}
        under_the_tool(db, shop, made["chuck"])
        bill = on_the_shelf(db, shop, made["ready"])
        chuck.plan(db, job_id=made["chuck"].id, holds={(kind, "A"): LONG}, **at)
        questions.stop(db, job_id=made["new"].id, waits_for="customer", question=LONG, whom=LONG, **at)
    return who, part, kind, {what: job.no for what, job in made.items()} | {"bill": bill}


def under_the_tool(db: Session, shop: LiveShop, job: JobFacts) -> None:
    """Two pieces weighed in and in the chuck, one size measured."""
    at = shop.maker.at()
    makers.keep_cuts(db, shop.maker, job)
    makers.agree(db, shop.maker, job)
    for piece in makers.take_everything_in(db, shop.maker, job):
        makers.weigh(db, shop.maker, piece, "before", "26.5")
        intake.move(db, piece_id=piece.id, to="chuck", reason=LONG, place=LONG, **at)
        told = {"name": LONG[:40], "typed": "2", "unit": "in", "instrument": "caliper", "note": LONG}
        sizes.measure(db, piece_id=piece.id, **told, **at)


def on_the_shelf(db: Session, shop: LiveShop, job: JobFacts) -> int:
    """Two pieces announced and billed; gives the number of the invoice."""
    at = shop.maker.at()
    makers.keep_cuts(db, shop.maker, job)
    makers.agree(db, shop.maker, job)
    pieces = makers.take_everything_in(db, shop.maker, job)
    makers.cut(db, shop.maker, pieces)
    for piece in pieces:
        intake.move(db, piece_id=piece.id, to="shelf", place=LONG, **at)
    handover.announce(db, job_id=job.id, **at)
    return invoices.issue(db, job_id=job.id, lines=invoices.draft_lines(db, job.id, now=shop.now), **at)


@pytest.fixture
def crowded(shop: LiveShop) -> list[str]:
    """Every sheet there is of the crowded shop."""
    who, part, kind, made = crowd(shop)
    new, under, ready = (f"/jobs/{made[what]}" for what in ("new", "chuck", "ready"))
    return [
        "/", "/ask", f"/ask?customer={who}", "/book", "/book/agreements", "/book/instruments", "/book/machines",
        "/book/phrases", "/calls", "/customers", "/customers/new", f"/customers/{who}", f"/customers/{who}/statement",
        "/find?q=skim", f"/find?q={LONG}", f"/invoices/{made['bill']}", "/mail", "/money", "/parts", "/parts/new",
        f"/parts/{part}", f"/parts/{part}/variants/new", f"/variants/{kind}", f"/variants/{kind}/drawing",
        f"/variants/{kind}/edit", "/who", "/about", "/scratch", "/scratch/cuts",
        new, f"{new}/in", f"{new}/price", f"{new}/cuts/{kind}", f"{new}/call-off", f"{new}/1", f"{new}/1?all_kinds=yes",
        under, f"{under}/price", f"{under}/cuts/{kind}", f"{under}/run", f"{under}/run/1", f"{under}/1",
        f"{under}/1/finish", f"{under}/1/true", f"{under}/1/weigh", f"{under}/1/other-way", f"{under}/in",
        ready, f"{ready}/1", f"{ready}/1/weigh", f"{ready}/ready", f"{ready}/bill", f"{ready}/pay", f"{ready}/price",
    ]  # fmt: skip


@pytest.mark.parametrize("size", [wire.PHONE, DESK], ids=["phone", "desk"])
def test_no_sheet_is_wider_than_the_glass_and_no_word_is_broken_whatever_names_are_in_it(
    screen: Callable[[dict[str, int]], Page], crowded: list[str], size: dict[str, int]
) -> None:
    page = screen(size)
    wide, broken, lost = {}, {}, {}
    for path in crowded:
        answer = page.goto(path)
        assert answer
        if answer.status != 200:
            lost[path] = answer.status
        page.evaluate("document.querySelectorAll('main details').forEach((one) => { one.open = true; })")
        if found := page.evaluate(WIDER) or page.evaluate("document.documentElement.scrollWidth") > size["width"]:
            wide[path] = found
        if words := page.evaluate(BROKEN):
            broken[path] = words
    assert {"not there": lost, "too wide": wide, "broken": broken} == {"not there": {}, "too wide": {}, "broken": {}}


def test_the_find_fields_mark_of_being_typed_in_stands_clear_of_its_letters(
    screen: Callable[[dict[str, int]], Page], shop: LiveShop
) -> None:
    page = screen(DESK)
    page.goto("/")
    assert page.evaluate("document.activeElement.name") == "q"
    assert page.evaluate("parseFloat(getComputedStyle(document.activeElement).outlineOffset)") > 0


def test_the_section_takes_half_the_desks_height(screen: Callable[[dict[str, int]], Page], shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.make_job(db, shop.maker)
        makers.keep_cuts(db, shop.maker, job)
        variant = makers.pieces_of(db, job)[0].variant_id
    page = screen(DESK)
    page.goto(f"/jobs/{job.no}/cuts/{variant}")
    assert box(page, ".board-drawing svg")["height"] > DESK["height"] / 2
