"""The owner's words: a marked place until they are written, dated ever after."""

from shopapp.office import phrases
from tests import cast
from tests.web.conftest import LiveShop

STORAGE = {"subject": "storage", "words": "Three weeks free.\nThen 2.00 a day.", "valid_from": "2031-03-04"}


def test_every_subject_waits_to_be_written_in_a_new_book(shop: LiveShop) -> None:
    page = shop.get("/book/phrases").text
    assert page.count(">write your own</span>") == len(phrases.SHIPPED)
    for subject in phrases.SHIPPED:
        assert f'id="{subject}"' in page
    # The place to write is never put into the field as if it were the owner's words.
    assert "write your own:" not in page


def test_words_are_kept_from_a_day_on(shop: LiveShop) -> None:
    answer = shop.post("/book/phrases", **STORAGE, keep="phrase-storage")
    assert answer.headers["location"] == "/book/phrases#storage"
    page = shop.get("/book/phrases").text
    assert page.count(">write your own</span>") == len(phrases.SHIPPED) - 1
    assert "Three weeks free.\nThen 2.00 a day." in page
    assert "WK · phrase" in page


def test_words_of_a_later_day_are_shown_as_still_to_come(shop: LiveShop) -> None:
    shop.post("/book/phrases", **{**STORAGE, "valid_from": "2031-06-01"})
    page = shop.get("/book/phrases").text
    assert page.count(">write your own</span>") == len(phrases.SHIPPED)
    assert "from 1 Jun 2031" in page
    with shop.database.reading() as db:
        assert phrases.printed(db, cast.TODAY, "storage") == ()


def test_a_second_text_of_the_same_day_puts_the_first_right_and_both_are_seen(shop: LiveShop) -> None:
    shop.post("/book/phrases", **STORAGE)
    assert shop.post("/book/phrases", **{**STORAGE, "words": "Other <b>words</b>"}).status_code == 303
    page = shop.get("/book/phrases").text
    assert page.count("superseded") == 1
    assert "Other &lt;b&gt;words&lt;/b&gt;" in page
    with shop.database.reading() as db:
        assert phrases.on(db, "storage", cast.TODAY) == "Other <b>words</b>"


def test_the_shipped_place_and_odd_subjects_are_not_kept(shop: LiveShop) -> None:
    answer = shop.post("/book/phrases", **{**STORAGE, "words": phrases.SHIPPED["storage"]})
    assert answer.status_code == 422
    assert 'id="f-words-problem"' in answer.text
    assert shop.post("/book/phrases", **{**STORAGE, "subject": "weather"}).status_code == 422
    assert shop.post("/book/phrases", **{**STORAGE, "valid_from": ""}).status_code == 422


def test_no_words_are_a_choice_too(shop: LiveShop) -> None:
    shop.post("/book/phrases", **{**STORAGE, "words": ""})
    assert "Says nothing, by your own choice" in shop.get("/book/phrases").text


def test_the_same_words_sent_twice_are_kept_once(shop: LiveShop) -> None:
    for _ in range(2):
        assert shop.post("/book/phrases", **STORAGE, once="p-1").status_code == 303
    with shop.database.reading() as db:
        assert len([row for row in phrases.every(db, cast.TODAY) if row.subject == "storage"]) == 1
