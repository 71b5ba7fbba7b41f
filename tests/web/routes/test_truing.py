"""The chuck sheet: judged while typed, kept as found and as left, the next surface offered."""

import re

import pytest

from shopapp.office import truing
from shopapp.office.truing import TruingFacts
from tests.web.conftest import LiveShop
from tests.web.routes import floor
from tests.web.routes.test_cutrun import planned

FOUR = {"r0": "36", "r1": "20", "r2": "00", "r3": "16"}


def rows(shop: LiveShop, no: int) -> list[TruingFacts]:
    with shop.database.reading() as db:
        return truing.of_piece(db, truing.jobs.piece(db, no, 1).id)


def judged(shop: LiveShop, no: int, **told: str) -> str:
    answer = shop.get(f"/jobs/{no}/1/true/judge", **{"surface": "outside", "reads": "tenth", **told})
    assert answer.status_code == 200
    return answer.text


def test_the_sheet_is_dark_and_nothing_is_read_yet(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    page = shop.get(f"/jobs/{job.no}/1/true").text
    assert '<body class="bench">' in page
    assert re.findall(r'name="r\d" data-box[^>]*\s[^>]*value="([^"]*)"', page) == [""] * 4
    assert 'value="outside" checked' in page
    assert "Read the outside. 4 of 4 places still to read." in floor.shown(page)
    assert "turned by hand, the key out of the chuck" in floor.shown(page)
    assert floor.main_acts(page) == ["As left: keep"]


def test_the_readings_are_judged_while_they_are_typed(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    live = judged(shop, job.no, **FOUR)
    assert "Loosen 3, tighten 1, until 1 drops by 18 tenths (.0018 in)." in live
    assert "jaw 1: tighten 18 tenths" in live  # the picture says the same in words
    assert live.count("chuck-arrow") == 4
    assert "<input" not in live
    assert "Loosen 1, tighten 3" in judged(shop, job.no, **{**FOUR, "surface": "bore"})
    oval = judged(shop, job.no, r0="8", r1="0", r2="8", r3="0")
    assert "8 tenths (.0008 in) out-of-round: the jaws cannot help that." in oval
    assert "chuck-arrow" not in oval
    assert "3 of 4 places still to read." in judged(shop, job.no, r0="36")
    assert "cannot be read here" in judged(shop, job.no, **{**FOUR, "r1": "abc"})
    assert rows(shop, job.no) == []


def test_the_sheet_holds_its_working_with_its_source(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    where, told = f"/jobs/{job.no}/1/true", {**FOUR, "surface": "outside", "reads": "tenth"}
    assert "show the working" not in shop.get(where).text
    for page in (shop.get(where, **told), shop.get(f"{where}/worked", **told)):
        words = floor.shown(page.text)
        assert "show the working eccentricity 18.1 tenths (.00181 in)" in words  # the root of 18² + 2²
        assert "36 20 00 16 tenths" in words
        assert "ISO 12181" in words


def test_as_found_and_as_left_are_kept_and_the_face_is_next(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    where = f"/jobs/{job.no}/1/true"
    for _ in range(2):
        shop.post(where, **FOUR, surface="outside", reads="tenth", stage="found", once="f")
    shop.post(where, r0="2", r1="0", r2="-2", r3="0", surface="outside", reads="tenth", stage="left", datum="yes")
    assert [(row.stage, row.datum) for row in rows(shop, job.no)] == [("found", False), ("left", True)]
    page = shop.get(where).text
    words = floor.shown(page)
    assert "as found outside 0.0036 in" in words
    assert "as left outside 0.0004 in" in words
    assert "The datum is the outside." in words
    assert 'value="face" checked' in page
    assert re.findall(r'name="r\d" data-box[^>]*\s[^>]*value="([^"]*)"', page) == [""] * 4


@pytest.mark.parametrize(
    ("told", "said"),
    [
        ({"r2": "x<y"}, "One size in each field. Type only this one."),
        ({"r3": ""}, "1 of 4 places still to read."),
        ({"surface": "face"}, "Type at which diameter the face was read."),
        ({"stage": ""}, "Press one of the two buttons"),
        ({"surface": "rim"}, "Say what was read"),
        ({"surface": "face", "diameter": "5", "datum": "yes"}, "The datum is the outside or the bore."),
    ],
)
def test_what_is_wrong_comes_back_with_what_was_typed(shop: LiveShop, told: dict[str, str], said: str) -> None:
    job = floor.in_the_rack(shop)
    sent = {**FOUR, "surface": "outside", "reads": "tenth", "stage": "left", **told}
    answer = shop.post(f"/jobs/{job.no}/1/true", **sent)
    assert answer.status_code == 422
    assert said in answer.text
    assert 'value="36"' in answer.text
    assert "x<y" not in answer.text
    assert rows(shop, job.no) == []


def test_eight_places_have_eight_boxes(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    page = shop.get(f"/jobs/{job.no}/1/true", places="8").text
    assert page.count("data-box") == 8
    told = {f"r{i}": str(i % 2 * 6) for i in range(8)}
    shop.post(f"/jobs/{job.no}/1/true", **told, places="8", surface="bore", reads="tenth", stage="found")
    (row,) = rows(shop, job.no)
    assert len(row.typed.readings) == 8
    odd = shop.get(f"/jobs/{job.no}/1/true", places="999").text
    assert odd.count("data-box") == 4


def test_the_sheet_of_a_setting_belongs_to_it(shop: LiveShop) -> None:
    job = planned(shop)
    where = f"/jobs/{job.no}/1/true"
    sent = {"r0": "2", "r1": "0", "r2": "-2", "r3": "0", "surface": "outside", "reads": "tenth", "stage": "left"}
    answer = shop.post(where, **sent, setting="2")
    assert answer.headers["location"] == f"{where}?setting=2"
    assert [row.setting_n for row in rows(shop, job.no)] == [2]
    assert "As left: outside 0.0004 in." in floor.shown(shop.get(f"/jobs/{job.no}/run/2").text)
    assert "outside 0.0004 in" not in floor.shown(shop.get(f"/jobs/{job.no}/run/1").text)
    assert f'href="/jobs/{job.no}/run/2?piece=1"' in shop.get(where, setting="2").text
    assert shop.get(where, setting="9").status_code == 404


def test_a_metric_shop_reads_millimetres(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    live = judged(shop, job.no, reads="mm", r0=".02", r1="0", r2="-.02", r3="0")
    assert "until 1 drops by 0.020 mm" in live
