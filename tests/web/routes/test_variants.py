"""A variant: what came off last time at the top, then the drawing and the signs."""

import re

from shopapp.office import parts, photos, trouble
from tests import cast, makers
from tests.web.conftest import LiveShop

LIPPED = {
    "name": "lipped", "material": "carbon_steel", "density": "", "unit": "in", "sign_0": "one drain hole",
    "sign_1": "lip on one face", "deciding": "1", "note": "",
}  # fmt: skip


def make_variant(shop: LiveShop, **told: object) -> int:
    with shop.database.writing() as db:
        return makers.make_variant(db, shop.maker, **told)


def test_a_variant_is_entered_with_its_deciding_sign(shop: LiveShop) -> None:
    make_variant(shop)
    form = shop.get("/parts/1/variants/new").text
    assert "flat on both faces" in form  # what it must be told from
    answer = shop.post("/parts/1/variants/new", **LIPPED)
    assert answer.status_code == 303
    with shop.database.reading() as db:
        variant = parts.variant(db, int(answer.headers["location"].split("/")[-1]))
    assert variant.deciding == "lip on one face"
    assert variant.density == "7.85"


def test_a_variant_without_a_drawing_or_a_past_says_so(shop: LiveShop) -> None:
    page = shop.get(f"/variants/{make_variant(shop, body=None)}").text
    assert "no piece of this kind has been finished here" in page
    assert "Draw it" in page


def test_last_time_stands_at_the_very_top(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.finished_job(db, shop.maker)
    page = shop.get("/variants/1").text
    last = page.index("How much came off last time?")
    assert last < page.index("Drawing</h2>")
    assert last < page.index("How to tell")
    told = page[last : page.index("Drawing</h2>")]
    # 26.5 lb before and 23 lb after, on a scale that shows halves.
    for words in (f"{job.no}-1", "3.5 lb", "4 Mar 2031", "Cobbet Cider Mill", "spring, shows 0.5 lb", "agrees"):
        assert words in told


def test_no_more_than_the_last_five_are_told(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        first = makers.finished_job(db, shop.maker, pieces=1)
        for _ in range(5):
            makers.finished_job(
                db, shop.maker, pieces=1, customer_id=first.customer_id, variant_id=1
            )  # fmt: skip
    rows = re.findall(r'data-head="Piece">\s*<a class="fig" href="/jobs/(\d+)"', shop.get("/variants/1").text)
    assert rows == [str(first.no + n) for n in (5, 4, 3, 2, 1)]


def test_the_drawing_is_shown_with_its_mass(shop: LiveShop) -> None:
    page = shop.get(f"/variants/{make_variant(shop)}").text
    assert "<svg" in page
    # pi/4 x (8 x 8 - 2 x 2) x 2 in3 of steel at 7.85 g/cm3 are 26.73 lb (from memory: 16.387 cm3 an in3).
    assert "26.73 lb" in page


def test_a_twin_that_cannot_be_told_apart_is_asked_about(shop: LiveShop) -> None:
    make_variant(shop)
    answer = shop.post("/parts/1/variants/new", **{**LIPPED, "deciding": "0", "note": "from <the> press"})
    assert answer.status_code == 422
    assert "cannot be told apart by that" in answer.text
    assert "from &lt;the&gt; press" in answer.text
    assert 'value="lip on one face"' in answer.text


def test_what_is_missing_stands_beside_its_field(shop: LiveShop) -> None:
    make_variant(shop)
    answer = shop.post("/parts/1/variants/new", **{**LIPPED, "name": "", "material": "", "sign_1": ""})
    assert answer.status_code == 422
    for name in ("name", "material", "sign_0"):
        assert f'id="f-{name}-problem"' in answer.text


def test_a_variant_is_written_over(shop: LiveShop) -> None:
    variant_id = make_variant(shop)
    form = shop.get(f"/variants/{variant_id}/edit").text
    assert 'value="flat on both faces"' in form
    told = {**LIPPED, "name": "very plain", "sign_0": "flat on both faces", "sign_1": "stamped K", "deciding": "1"}
    assert shop.post(f"/variants/{variant_id}", **told).status_code == 303
    page = shop.get(f"/variants/{variant_id}").text
    assert "very plain" in page
    assert page.index("stamped K") < page.index("flat on both faces")


def test_a_refused_change_keeps_its_words(shop: LiveShop) -> None:
    variant_id = make_variant(shop)
    answer = shop.post(f"/variants/{variant_id}", **{**LIPPED, "density": "heavy"})
    assert answer.status_code == 422
    assert 'value="heavy"' in answer.text
    assert 'id="f-density-problem"' in answer.text


def test_sent_twice_is_entered_once(shop: LiveShop) -> None:
    make_variant(shop, name="plain")
    assert len({shop.post("/parts/1/variants/new", **LIPPED, once="v").headers["location"] for _ in range(2)}) == 1


def test_a_variant_that_is_not_in_the_book_is_told_so(shop: LiveShop) -> None:
    for path in ("/variants/9", "/variants/9/edit", "/parts/9/variants/new"):
        assert shop.get(path).status_code == 404


def test_it_names_its_twins(shop: LiveShop) -> None:
    plain = make_variant(shop)
    lipped = make_variant(shop, **cast.LIPPED)
    assert f'href="/variants/{lipped}">lipped</a>: lip on one face' in shop.get(f"/variants/{plain}").text


def test_what_a_part_does_at_a_stated_speed_is_information_only(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        variant = makers.make_variant(db, shop.maker, material="grey_iron", density="7.15")
    page = shop.get(f"/variants/{variant}", turns="5000", off=".002")
    for words in ("TOO FAST FOR THE CLASSICAL LIMIT", "no speed rating given", "the new bore leaves"):
        assert words in page.text
    live = shop.get(f"/variants/{variant}/spin", turns="500")
    assert "rim speed" in live.text
    assert "TOO FAST" not in live.text
    assert "<input" not in live.text
    assert shop.get(f"/variants/{variant}/spin", turns="fast <q>").status_code == 200


def test_trouble_at_the_cut_goes_before_everything_else(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.make_job(db, shop.maker)
        piece = makers.pieces_of(db, job)[0]
        told = {"job_id": job.id, "piece_id": piece.id, "words": "jaw 3 slipped <again>"}
        trouble.note(db, **told, photo=photos.made_small(cast.PHOTO), **shop.maker.at())
    page = shop.get(f"/variants/{piece.variant_id}").text
    assert "jaw 3 slipped &lt;again&gt;" in page
    assert page.index("jaw 3 slipped") < page.index("How much came off last time?")
