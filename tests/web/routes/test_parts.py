"""Parts with their look-alikes side by side."""

from tests import cast, makers
from tests.web.conftest import LiveShop


def test_a_part_is_entered_and_asks_for_its_first_variant(shop: LiveShop) -> None:
    answer = shop.post("/parts/new", name="press plate", note="comes in pairs")
    assert answer.status_code == 303
    page = shop.get(answer.headers["location"]).text
    assert "press plate" in page
    assert "Write the first variant" in page


def test_an_empty_list_says_what_to_do(shop: LiveShop) -> None:
    assert "No parts yet" in shop.get("/parts").text


def test_the_list_counts_look_alikes(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        makers.make_variant(db, shop.maker)
        makers.make_variant(db, shop.maker, **cast.LIPPED)
    page = shop.get("/parts").text
    assert cast.PLATE in page
    assert 'data-head="Look-alikes">2<' in page


def test_look_alikes_stand_side_by_side_with_the_deciding_sign_first(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        makers.make_variant(db, shop.maker)
        makers.make_variant(
            db, shop.maker, **{**cast.LIPPED, "signs": ["one drain hole", "lip on one face"]}, deciding=1
        )
    page = shop.get("/parts/1").text
    assert page.index("lip on one face") < page.index("one drain hole")
    assert page.count(">decides</span>") == 2
    assert page.count("never cut here yet") == 2


def test_a_look_alike_says_what_came_off_last_time(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.finished_job(db, shop.maker, pieces=1)
    assert f"3.5 lb off {job.no}-1, agrees" in shop.get("/parts/1").text


def test_a_nameless_part_is_asked_about_and_its_note_kept(shop: LiveShop) -> None:
    answer = shop.post("/parts/new", name="  ", note="with <em>two</em> feet")
    assert answer.status_code == 422
    assert "Name the part as the shop speaks of it" in answer.text
    assert "with &lt;em&gt;two&lt;/em&gt; feet" in answer.text


def test_a_part_is_written_over(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        part_id = makers.make_part(db, shop.maker)
        makers.make_part(db, shop.maker, name="drum end")
    assert shop.post(f"/parts/{part_id}", name="cider press plate", note="").status_code == 303
    assert "cider press plate" in shop.get(f"/parts/{part_id}").text
    answer = shop.post(f"/parts/{part_id}", name="Drum End", note="")
    assert answer.status_code == 422
    assert 'value="Drum End"' in answer.text


def test_sent_twice_is_entered_once(shop: LiveShop) -> None:
    assert {shop.post("/parts/new", name="x", once="p").headers["location"] for _ in range(2)} == {"/parts/1"}


def test_a_part_that_is_not_in_the_book_is_told_so(shop: LiveShop) -> None:
    assert shop.get("/parts/5").status_code == 404
    assert shop.get("/parts/five").status_code == 404
