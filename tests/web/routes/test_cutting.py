"""The section board: cuts typed, drawn, weighed on paper, and kept by the same sum."""

import math
import re

import pytest

from tests import cast, makers
from tests.web.conftest import LiveShop
from tests.web.routes import floor

FACE = {"unit": "in", "cut_0_side": "A", "cut_0_kind": "face", "cut_0_depth": ".250"}
POUND_G = 453.59237  # NIST SP 811, B.8
INCH_CM = 2.54
#: The cast's disc is 8 in wide with a 2 in bore, of steel at 7.85: a skim of a quarter inch off one face.
SKIM_LB = math.pi / 4 * (8**2 - 2**2) * 0.25 * INCH_CM**3 * 7.85 / POUND_G


def board(no: int, variant: int = 1) -> str:
    return f"/jobs/{no}/cuts/{variant}"


def removal(shop: LiveShop, no: int, **typed: str) -> str:
    answer = shop.get(board(no) + "/removal", **typed)
    assert answer.status_code == 200
    return answer.text


@pytest.mark.outside("computed: volume of a plane ring")
def test_what_comes_off_is_the_ring_that_the_face_takes(shop: LiveShop) -> None:
    job = floor.expected(shop)
    words = floor.shown(removal(shop, job.no, **FACE))
    told = re.search(r"off all 2 ([\d.]+) lb", words)
    # A plane ring's volume from first principles, and the pound and the inch of NIST SP 811.
    assert told
    assert float(told[1]) == pytest.approx(2 * SKIM_LB, abs=0.006)


def test_the_live_answer_draws_and_judges_but_holds_no_field(shop: LiveShop) -> None:
    job = floor.expected(shop)
    answer = removal(shop, job.no, **FACE)
    for part in ("<svg", "comes off each", "3.34 lb", "spring can judge this", "too coarse", "show the working"):
        assert part in answer
    assert "<input" not in answer
    assert "<select" not in answer
    assert floor.versions(shop, job) == 0


@pytest.mark.parametrize("typed", ["", ".", "1/", "half", "abc <q>", "9"])
def test_whatever_is_half_typed_is_answered_with_a_hint(shop: LiveShop, typed: str) -> None:
    job = floor.expected(shop)
    assert "<q>" not in removal(shop, job.no, **{**FACE, "cut_0_depth": typed})


def test_these_cuts_are_kept_as_the_next_version(shop: LiveShop) -> None:
    job = floor.expected(shop)
    assert shop.post(board(job.no), **FACE).headers["location"] == f"/jobs/{job.no}"
    assert shop.post(board(job.no), **{**FACE, "cut_0_depth": ".300"}).status_code == 303
    assert floor.versions(shop, job) == 2
    page = shop.get(board(job.no)).text
    assert 'name="cut_0_depth" value=".300"' in page


def test_cuts_sent_twice_make_one_version(shop: LiveShop) -> None:
    job = floor.expected(shop)
    for _ in range(2):
        assert shop.post(board(job.no), once="c", **FACE).status_code == 303
    assert floor.versions(shop, job) == 1


def test_a_size_that_cannot_be_read_stands_at_its_field_however_many_rows_are_empty(shop: LiveShop) -> None:
    job = floor.expected(shop)
    typed = {**FACE, "cut_1_side": "A", "cut_1_kind": "turn", "cut_2_side": "B", "cut_2_kind": "face"}
    answer = shop.post(board(job.no), **typed, cut_2_depth="thin <x>")
    assert answer.status_code == 422
    assert 'id="f-cut_2_depth-problem"' in answer.text
    assert 'value="thin &lt;x&gt;"' in answer.text
    assert 'name="cut_0_depth" value=".250"' in answer.text
    assert floor.versions(shop, job) == 0


def test_no_cut_at_all_is_no_plan(shop: LiveShop) -> None:
    job = floor.expected(shop)
    answer = shop.post(board(job.no), unit="in", cut_0_kind="turn", cut_0_side="A")
    assert answer.status_code == 422
    assert "Type at least one cut with its sizes." in answer.text


def test_a_cut_into_what_must_be_kept_is_refused_aloud(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        guarded = makers.make_variant(db, shop.maker, body=cast.GUARDED)
    job = floor.expected(shop, variant_id=guarded)
    deep = {**FACE, "cut_0_depth": ".450"}
    assert "say--no" in shop.get(board(job.no, guarded) + "/removal", **deep).text
    answer = shop.post(board(job.no, guarded), **deep)
    assert answer.status_code == 422
    assert "Drain groove" in answer.text
    assert floor.versions(shop, job) == 0


def test_half_of_the_web_needs_the_web(shop: LiveShop) -> None:
    job = floor.expected(shop)
    answer = shop.post(board(job.no), **{**FACE, "cut_0_depth": "half"})
    assert answer.status_code == 422
    assert "A part of what?" in answer.text
    assert shop.post(board(job.no), **{**FACE, "cut_0_depth": "half"}, web=".500").status_code == 303
    assert "3.34 lb" in shop.get(f"/jobs/{job.no}").text


def test_a_web_told_otherwise_is_asked_about(shop: LiveShop) -> None:
    job = floor.expected(shop)
    answer = shop.post(board(job.no), **FACE, web="22 mm", web_note="3/4 in he said")
    assert answer.status_code == 422
    assert 'id="f-web_note-problem"' in answer.text
    assert 'value="3/4 in he said"' in answer.text


def test_last_times_cuts_can_be_begun_from_but_never_what_was_measured(shop: LiveShop) -> None:
    first = floor.expected(shop)
    shop.post(board(first.no), **{**FACE, "cut_0_depth": "half"}, web=".500")
    job = floor.expected(shop, customer_id=first.customer_id, variant_id=1)
    blank = shop.get(board(job.no)).text
    assert "?from=last" in blank
    assert 'value="half"' not in blank
    begun = shop.get(board(job.no), **{"from": "last"}).text
    assert 'name="cut_0_depth" value="half"' in begun
    assert 'name="web" value=""' in begun


def test_a_row_more_comes_with_script_and_without(shop: LiveShop) -> None:
    job = floor.expected(shop)
    row = shop.get(board(job.no) + "/row", **FACE).text
    assert 'name="cut_1_kind"' in row
    assert 'name="cut_0_kind"' not in row
    page = shop.get(board(job.no), **FACE, add="1").text
    assert 'name="cut_0_depth" value=".250"' in page
    assert 'name="cut_1_kind"' in page


def test_another_kind_asks_for_its_own_sizes(shop: LiveShop) -> None:
    job = floor.expected(shop)
    sizes = shop.get(board(job.no) + "/sizes", row="0", **{**FACE, "cut_0_kind": "bevel"}).text
    assert 'name="cut_0_corner"' in sizes
    assert 'name="cut_0_depth"' not in sizes
    assert "<select" not in sizes


def test_without_a_drawing_the_cuts_alone_are_counted(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        bare = makers.make_variant(db, shop.maker, body=None)
    job = floor.expected(shop, variant_id=bare)
    ring = {"unit": "in", "cut_0_side": "A", "cut_0_kind": "face", "cut_0_depth": ".250", "cut_0_from": "8"}
    answer = shop.get(board(job.no, bare) + "/removal", **ring, cut_0_to="2").text
    assert "3.34 lb" in answer
    assert "No drawing of this variant" in shop.get(board(job.no, bare)).text


def test_cuts_for_a_variant_that_is_not_in_the_job_are_not_here(shop: LiveShop) -> None:
    job = floor.expected(shop)
    assert shop.get(board(job.no, 99)).status_code == 404
    assert shop.post(board(job.no, 99), **FACE).status_code in (404, 422)


AIM = {**FACE, "aim_size": "0.depth", "aim_what": "mass", "aim_wanted": "20"}


def test_an_aim_is_answered_live_with_the_size_in_the_fields_unit(shop: LiveShop) -> None:
    job = floor.expected(shop)
    answer = shop.get(board(job.no) + "/aim", **AIM)
    words = floor.shown(answer.text)
    assert "Finished mass: 20 lb" in words
    assert "Put it into the field" in words
    assert "show the working" in words
    assert "<input" not in answer.text
    link = re.search(r'href="([^"]+cut_0_depth=[^"]+)"', answer.text)
    assert link
    leads = shop.get(link[1].replace("&amp;", "&"))
    assert leads.status_code == 303
    assert leads.cookies["saved"] == f"cuts-{job.no}-1"
    filled = shop.get(leads.headers["location"])
    assert re.search(r'name="cut_0_depth" value="0\.\d{4} in"', filled.text)
    assert "20 lb" in floor.shown(filled.text)


def test_the_sizes_to_aim_with_follow_the_rows_and_the_unit_follows_what_is_wanted(shop: LiveShop) -> None:
    job = floor.expected(shop)
    sizes = shop.get(board(job.no) + "/aims", **AIM)
    assert '<option value="0.depth" selected>cut 1, face: deep</option>' in sizes.text
    assert "aim_wanted" not in sizes.text
    assert "g·m²" in shop.get(board(job.no) + "/wanted", **{**AIM, "aim_what": "inertia"}).text
    assert 'name="aim_wanted" value="20"' in shop.get(board(job.no) + "/wanted", **AIM).text


@pytest.mark.parametrize("wanted", ["", "heavy <q>", "9000", "-1"])
def test_an_aim_that_is_half_typed_or_out_of_reach_is_no_fault(shop: LiveShop, wanted: str) -> None:
    job = floor.expected(shop)
    answer = shop.get(board(job.no) + "/aim", **{**AIM, "aim_wanted": wanted})
    assert answer.status_code == 200
    assert "<q>" not in answer.text


def test_the_aim_is_not_kept_with_the_cuts(shop: LiveShop) -> None:
    job = floor.expected(shop)
    assert shop.post(board(job.no), **AIM).status_code == 303
    page = shop.get(board(job.no)).text
    assert 'name="cut_0_depth" value=".250"' in page
    assert 'name="aim_wanted" value=""' in page


def test_a_diameter_that_is_half_of_the_drawn_one_is_hinted_at(shop: LiveShop) -> None:
    job = floor.expected(shop)
    typed = {"unit": "in", "cut_0_side": "A", "cut_0_kind": "turn", "cut_0_from": "4", "cut_0_to": "3.9"}
    assert "half of the drawing's: a radius" in floor.shown(removal(shop, job.no, **typed)).replace("&#39;", "'")
