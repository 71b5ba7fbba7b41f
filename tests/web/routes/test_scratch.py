"""The scratch sheet's pages: every sum opens, answers live, and its address is the whole sum."""

import html
import re
from urllib.parse import parse_qsl, urlsplit

import pytest

from shopapp.office import equipment
from shopapp.office.scratch import SUMS
from tests.web.conftest import LiveShop

KEYS = list(SUMS)
HOSTILE = '"><script>alert(1)</script>'


def test_the_list_leads_to_every_sum(shop: LiveShop) -> None:
    page = shop.get("/scratch")
    assert page.status_code == 200
    for one in SUMS.values():
        assert f'href="/scratch/{one.key}"' in page.text
        assert html.escape(one.title, quote=False) in page.text.replace("&#39;", "'")


@pytest.mark.parametrize("key", KEYS)
def test_a_sum_opens_empty_and_with_its_example(shop: LiveShop, key: str) -> None:
    empty = shop.get(f"/scratch/{key}")
    assert empty.status_code == 200
    assert 'id="answer"' in empty.text
    filled = shop.get(f"/scratch/{key}", **SUMS[key].example)
    assert filled.status_code == 200
    assert "show the working" in filled.text
    assert "source" in filled.text
    for name, text in SUMS[key].example.items():
        if text:
            assert f'name="{name}"' in filled.text


def test_what_was_typed_stays_with_its_unit_and_what_it_says(shop: LiveShop) -> None:
    page = shop.get("/scratch/stop", unit="in", back_off="22 mm", extra_feed="1,250").text
    assert 'value="22 mm"' in page
    assert "near 55/64" in page
    assert re.search(r'id="f-extra_feed-echo"[^>]*>[^<]*1,250', page)
    assert 'aria-invalid="true"' not in page


def test_units_are_those_of_the_shop_until_others_are_chosen(shop: LiveShop) -> None:
    assert '<span class="unit">in</span>' in shop.get("/scratch/stop").text
    assert '<span class="unit">mm</span>' in shop.get("/scratch/stop", unit="mm").text


@pytest.mark.parametrize("key", KEYS)
def test_a_live_answer_is_always_there_and_holds_no_field(shop: LiveShop, key: str) -> None:
    for text in ("", "1/", "abc", HOSTILE, "9" * 300, "-1", "0", "nan"):
        told = dict.fromkeys(SUMS[key].example, text)
        answer = shop.get(f"/scratch/{key}/answer", **told)
        assert answer.status_code == 200
        assert "<input" not in answer.text
        assert "<script" not in answer.text
    live = shop.get(f"/scratch/{key}/answer", **SUMS[key].example)
    assert live.status_code == 200
    assert '<section class="stack" id="answer"' in live.text
    assert "show the working" in live.text


def test_the_address_follows_what_is_typed_and_brings_it_back(shop: LiveShop) -> None:
    told = {"unit": "in", "speed": "100 sfm", "diameter": '1/2"', "list": "70, 200 & 460", "chuck": ""}
    live = shop.get("/scratch/spindle/answer", **told)
    address = live.headers["HX-Replace-Url"]
    assert dict(parse_qsl(urlsplit(address).query))["diameter"] == '1/2"'
    assert "chuck" not in address
    assert shop.get("/scratch/spindle/answer", **{**told, "list": "70, 200"}).headers["HX-Replace-Url"] != address
    same = {**told, "list": "70 200"}
    again = shop.get(shop.get("/scratch/spindle/answer", **same).headers["HX-Replace-Url"]).text
    assert "200 rpm for 764 wanted" in again


def test_hostile_text_is_shown_and_never_run(shop: LiveShop) -> None:
    page = shop.get("/scratch/take", web=".7", said=HOSTILE)
    assert page.status_code == 200
    assert "<script>alert" not in page.text
    assert "&lt;script&gt;" in page.text
    echo = shop.get("/scratch/take/echo/web", web="<b>1", unit="in")
    assert "<b>" not in echo.text


def test_half_typed_says_what_is_still_to_type(shop: LiveShop) -> None:
    answer = shop.get("/scratch/spindle/answer", speed="100").text
    assert "Still to type: Diameter cut." in answer
    refused = shop.get("/scratch/passes/answer", now="9", wanted="9", most=".06").text
    assert "There is no stock to take" in refused


def test_a_field_is_echoed_by_itself(shop: LiveShop) -> None:
    assert shop.get("/scratch/stop/echo/back_off", unit="in", back_off="22 mm").text.startswith("0.866 in · 22 mm")
    assert shop.get("/scratch/stop/echo/nothing", unit="in").text == ""
    assert shop.get("/scratch/cuts/echo/cut_0_to", unit="in", cut_0_kind="turn", cut_0_to="3 7/8").text.startswith(
        "3.875"
    )


def test_one_more_cut_keeps_what_was_typed(shop: LiveShop) -> None:
    page = shop.get("/scratch/cuts", **SUMS["cuts"].example, rows="3").text
    assert 'name="cut_2_kind"' in page
    assert 'name="rows" value="4"' in page
    assert 'name="cut_0_to" value="3-7/8"' in page
    assert "<svg" in page


def test_a_change_of_kind_gives_its_own_sizes(shop: LiveShop) -> None:
    page = shop.get("/scratch/cuts", cut_0_kind="taper").text
    assert 'name="cut_0_start_diameter"' in page
    assert re.search(r'hx-select="#cut-0" hx-target="#cut-0"', page)


def test_the_chuck_is_drawn_with_its_jaws(shop: LiveShop) -> None:
    answer = shop.get("/scratch/truing/answer", **SUMS["truing"].example).text
    assert "jaw 3: loosen" in answer
    assert answer.count("rose-jaw--moves") == 4
    assert "style=" not in answer
    assert "Take the key out of the chuck" in answer


def test_a_machine_of_the_book_is_offered(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        equipment.add_machine(
            db, name="big <lathe>", dial="diameter", chuck_limit="1200", speeds="70 200 460", now=shop.now, by=shop.by
        )
    answer = shop.get("/scratch/spindle/answer", speed="100", diameter=".5").text
    assert "big &lt;lathe&gt;" in answer
    found = re.search(r'href="([^"]*list=[^"]*)"', answer)
    assert found
    assert "460 rpm for 764 wanted" in shop.get(html.unescape(found[1])).text
    assert "big &lt;lathe&gt;" not in shop.get("/scratch/clash/answer").text


def test_an_unknown_sum_is_not_found(shop: LiveShop) -> None:
    for path in ("/scratch/horoscope", "/scratch/horoscope/answer", "/scratch/horoscope/echo/x"):
        assert shop.get(path).status_code == 404
