"""How a form is taken in: once, whole or not at all, and never losing what was typed."""

from concurrent.futures import ThreadPoolExecutor

import httpx
import pytest

from shopapp.office import parts
from shopapp.office.errors import InTheWay
from tests.web.conftest import LiveShop


def names(shop: LiveShop) -> list[str]:
    with shop.database.reading() as db:
        return [part.name for part, _ in parts.parts(db)]


def test_the_same_sending_twice_is_done_once(shop: LiveShop) -> None:
    first = shop.post("/parts/new", name="press plate", once="k1")
    second = shop.post("/parts/new", name="press plate", once="k1")
    assert first.status_code == second.status_code == 303
    assert first.headers["location"] == second.headers["location"]
    assert names(shop) == ["press plate"]


def test_going_back_changing_a_word_and_sending_again_is_another_sending(shop: LiveShop) -> None:
    shop.post("/parts/new", name="press plate", once="k1")
    shop.post("/parts/new", name="drum", once="k1")
    assert names(shop) == ["drum", "press plate"]


def test_the_same_sending_at_the_same_moment_is_done_once(shop: LiveShop) -> None:
    def send(_: int) -> httpx.Response:
        with httpx.Client(base_url=shop.origin, cookies={"who": "WK"}) as client:
            return client.post("/parts/new", data={"name": "drum", "once": "k2"}, headers={"Origin": shop.origin})

    with ThreadPoolExecutor(2) as pool:
        answers = list(pool.map(send, range(2)))
    assert [answer.status_code for answer in answers] == [303, 303]
    assert len({answer.headers["location"] for answer in answers}) == 1
    assert names(shop) == ["drum"]


def test_a_refused_form_comes_back_with_its_words_and_its_key(shop: LiveShop) -> None:
    answer = shop.post("/parts/new", name="", note="two feet", once="k3")
    assert answer.status_code == 422
    assert "two feet" in answer.text
    assert 'name="once" value="k3"' in answer.text
    assert shop.post("/parts/new", name="plate", note="two feet", once="k3").status_code == 303


def test_a_rule_that_stands_in_the_way_answers_so_and_keeps_the_words(
    shop: LiveShop, monkeypatch: pytest.MonkeyPatch
) -> None:
    def in_the_way(*_: object, **__: object) -> int:
        raise InTheWay("Another hand has changed it. Look again.")

    monkeypatch.setattr(parts, "keep_part", in_the_way)
    answer = shop.post("/parts/new", name="press plate")
    assert answer.status_code == 409
    assert "Another hand has changed it" in answer.text
    assert 'value="press plate"' in answer.text


def test_what_half_happened_is_undone(shop: LiveShop, monkeypatch: pytest.MonkeyPatch) -> None:
    real = parts.keep_part

    def half(*args: object, **told: object) -> int:
        real(*args, **told)  # type: ignore[arg-type]
        raise InTheWay("No.")

    monkeypatch.setattr(parts, "keep_part", half)
    assert shop.post("/parts/new", name="press plate", once="k4").status_code == 409
    monkeypatch.undo()
    assert names(shop) == []
    assert shop.post("/parts/new", name="press plate", once="k4").status_code == 303


def test_nobody_acts_without_initials(shop: LiveShop) -> None:
    shop.client.cookies.clear()
    for cookie in ({}, {"who": "ZZ"}):
        shop.client.cookies.update(cookie)
        answer = shop.post("/parts/new", name="press plate")
        assert answer.status_code == 422
        assert "Say who you are first" in answer.text
        assert 'value="press plate"' in answer.text
    assert names(shop) == []


@pytest.mark.parametrize("path", ["/parts", "/customers/new", "/book", "/about", "/who", "/find?q=x"])
def test_an_empty_book_leads_every_page_to_the_first(new_shop: LiveShop, path: str) -> None:
    answer = new_shop.get(path)
    assert answer.status_code == 303
    assert answer.headers["location"] == "/first"


def test_a_notice_and_what_was_saved_are_told_once(shop: LiveShop) -> None:
    shop.post("/parts/new", name="press plate")
    shop.post("/parts/1", name="press plate", note="é", keep="part-1")
    page = shop.get("/parts/1").text
    assert "Written." in page
    assert '<meta name="saved" content="part-1">' in page
    again = shop.get("/parts/1").text
    assert "Written." not in again
    assert 'name="saved"' not in again


def test_the_title_block_names_who_acts(shop: LiveShop) -> None:
    assert "<b>WK</b>" in shop.get("/parts").text
    shop.client.cookies.clear()
    assert "<b>Who?</b>" in shop.get("/parts").text


def test_the_way_back_stays_in_the_house(shop: LiveShop) -> None:
    page = shop.client.get("/who", headers={"Referer": "https://elsewhere.example/parts"}).text
    assert 'name="to" value="/"' in page


def test_a_flood_of_fields_is_not_read(shop: LiveShop) -> None:
    answer = shop.post("/parts/new", **{f"x{i}": "1" for i in range(2500)})
    assert answer.status_code == 400
