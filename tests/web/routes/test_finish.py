"""The final check by the form, and the shelf label."""

import re

from shopapp.office import finish, photos, sizes
from shopapp.office.drawing import CutsTyped, Typed
from shopapp.office.jobs import JobFacts
from tests import cast, makers
from tests.papers.reading import text_of
from tests.web.conftest import LiveShop
from tests.web.routes import floor


def bevelled(shop: LiveShop) -> JobFacts:
    """A piece under the tool whose cuts leave an outside and a bevel to look at."""
    job = floor.in_the_rack(shop, pieces=1)
    typed = CutsTyped(
        "in", (Typed("turn", {"to": "7.9"}, "A"), Typed("bevel", {"corner": ".05", "diameter": "7.9"}, "A"))
    )  # fmt: skip
    with shop.database.writing() as db:
        makers.keep_cuts(db, shop.maker, job, typed)
    floor.weigh(shop, job, phase="before", reading="26.5")
    shop.post(f"/jobs/{job.no}/1/move", to="chuck")
    return job


def line_of(shop: LiveShop, job: JobFacts, words: str) -> int:
    with shop.database.reading() as db:
        lines = finish.check(db, floor.piece(shop, job).id).lines
    return next(i for i, line in enumerate(lines) if line.words.startswith(words))


def test_no_size_is_filled_in_from_the_plan(shop: LiveShop) -> None:
    job = bevelled(shop)
    page = shop.get(f"/jobs/{job.no}/1/finish").text
    assert "7.900 in" in page
    assert all(value == "" for value in re.findall(r'name="size_\d+" value="([^"]*)"', page))
    assert " checked" not in page


def test_a_size_is_measured_beside_its_plan_and_a_bevel_ticked(shop: LiveShop) -> None:
    job = bevelled(shop)
    i, bevel = line_of(shop, job, "outside A"), line_of(shop, job, "bevel A")
    typed = {"unit": "in", f"what_{i}": "outside A", f"size_{i}": "7.905", f"with_{i}": "caliper",
             f"tick_{bevel}": "bevel A: size .05, on Ø 7.9"}  # fmt: skip
    answer = shop.client.post(
        f"/jobs/{job.no}/1/finish", data=typed, files={"photo": ("i.jpg", cast.PHOTO)}, headers={"Origin": shop.origin}
    )  # fmt: skip
    assert answer.headers["location"] == f"/jobs/{job.no}/1/finish"
    words = floor.shown(shop.get(f"/jobs/{job.no}/1/finish").text)
    assert "7.905 in +0.005 in" in words
    assert "done: bevel A" in words
    piece = floor.piece(shop, job)
    with shop.database.reading() as db:
        assert [row.instrument for row in sizes.of_piece(db, piece.id)] == ["caliper"]
        assert photos.of_piece(db, piece.id)[-1].what == "finished"


def test_a_size_wants_its_instrument_and_a_list_that_is_still_so(shop: LiveShop) -> None:
    job = bevelled(shop)
    i = line_of(shop, job, "outside A")
    answer = shop.post(f"/jobs/{job.no}/1/finish", unit="in", **{f"what_{i}": "outside A", f"size_{i}": "7 <9>"})
    assert answer.status_code == 422
    assert f'id="f-with_{i}-problem"' in answer.text
    assert "7 &lt;9&gt;" in answer.text
    typed = {f"what_{i}": "outside B", f"size_{i}": "7.9", f"with_{i}": "caliper"}
    assert "The cuts were changed meanwhile." in shop.post(f"/jobs/{job.no}/1/finish", unit="in", **typed).text
    typed = {f"what_{i}": "outside A", f"size_{i}": "about so", f"with_{i}": "caliper"}
    assert f'id="f-size_{i}-problem"' in shop.post(f"/jobs/{job.no}/1/finish", unit="in", **typed).text


def test_an_empty_sending_says_so(shop: LiveShop) -> None:
    job = bevelled(shop)
    answer = shop.post(f"/jobs/{job.no}/1/finish", unit="in")
    assert answer.status_code == 422
    assert "Nothing was measured or ticked." in answer.text


def test_the_prediction_is_run_again_and_the_first_one_stays(shop: LiveShop) -> None:
    job = bevelled(shop)
    assert shop.post(f"/jobs/{job.no}/1/finish/predict").status_code == 422
    i = line_of(shop, job, "outside A")
    typed = {f"what_{i}": "outside A", f"size_{i}": "7.95", f"with_{i}": "caliper"}
    shop.post(f"/jobs/{job.no}/1/finish", unit="in", **typed)
    shop.post(f"/jobs/{job.no}/1/finish/predict")
    words = floor.shown(shop.get(f"/jobs/{job.no}/1/finish").text)
    assert "by the plan" in words
    assert "by the sizes as measured" in words


def test_a_finished_piece_has_its_label(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.finished_job(db, shop.maker, pieces=1)
    answer = shop.post(f"/jobs/{job.no}/1/label")
    text = text_of(shop.get(answer.headers["location"]).content)
    for words in (f"{job.no}-1", "flat on both faces", "23 lb", "3.5 lb off", "face", "crack test"):
        assert words in text


def test_an_unfinished_piece_has_none(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop, pieces=1)
    answer = shop.post(f"/jobs/{job.no}/1/label")
    assert answer.status_code == 409
    assert "That piece is not finished, so there is nothing to label." in answer.text
