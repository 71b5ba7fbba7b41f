"""One box: a number leads straight there, a word lists what it finds."""

from tests import makers
from tests.web.conftest import LiveShop


def finished(shop: LiveShop) -> int:
    with shop.database.writing() as db:
        return makers.finished_job(db, shop.maker).no


def test_a_number_leads_straight_to_its_job_or_piece(shop: LiveShop) -> None:
    no = finished(shop)
    assert shop.get("/find", q=f" {no} ").headers["location"] == f"/jobs/{no}"
    assert shop.get("/find", q=f"{no}-2").headers["location"] == f"/jobs/{no}/2"


def test_four_letters_show_the_variant_with_what_came_off_last_time(shop: LiveShop) -> None:
    no = finished(shop)
    page = shop.get("/find", q="pres").text
    assert 'href="/variants/1">press plate, plain</a>' in page
    assert f"3.5 lb off {no}-2, agrees" in page


def test_a_name_finds_the_customer_and_a_place_what_lies_in_it(shop: LiveShop) -> None:
    no = finished(shop)
    assert 'href="/customers/1">Cobbet Cider Mill</a>' in shop.get("/find", q="cobbet").text
    page = shop.get("/find", q="b2").text
    assert "In place b2" in page
    assert f'href="/jobs/{no}/1"' in page


def test_what_is_not_in_the_book_is_said_with_what_else_to_type(shop: LiveShop) -> None:
    page = shop.get("/find", q="<b>zz</b>").text
    assert "Nothing in the book is called" in page
    assert "&lt;b&gt;zz&lt;/b&gt;" in page
    assert "<b>zz" not in page
    assert "Nothing in the book" in shop.get("/find", q="99999").text


def test_an_empty_box_waits(shop: LiveShop) -> None:
    answer = shop.get("/find")
    assert answer.status_code == 200
    assert "Nothing in the book" not in answer.text


def test_what_is_found_while_it_is_typed_is_a_part_of_the_page(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        makers.make_variant(db, shop.maker)
    answer = shop.get("/find/found", q="pres")
    assert answer.status_code == 200
    assert "press plate, plain" in answer.text
    assert "<html" not in answer.text
    assert shop.get("/find/found", q="<b>").text.count("<b>") == 0
    assert shop.get("/find/found", q=" ").headers["hx-redirect"] == "/"
