"""How a form is taken in: once, whole or not at all, and never losing what was typed."""

import re
from concurrent.futures import ThreadPoolExecutor

import httpx
import pytest

from shopapp.bench.errors import Impossible
from shopapp.office import parts, payments, quotes
from shopapp.office.errors import InTheWay
from shopapp.office.tables.shopbook import TaxRate
from tests import cast, makers
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


def test_going_back_changing_a_word_and_sending_again_is_asked_about_and_done_on_the_second_press(
    shop: LiveShop,
) -> None:
    made = shop.post("/parts/new", name="press plate", once="k1").headers["location"]
    asked = shop.post("/parts/new", name="drum", note="two <feet>", once="k1")
    assert asked.status_code == 409
    assert "This form was taken in already, 4 Mar 2031, 12:00" in asked.text
    assert f'<a href="{made}">Look at what it made</a>' in asked.text
    assert 'value="drum"' in asked.text
    assert "two &lt;feet&gt;" in asked.text
    assert names(shop) == ["press plate"]
    (key,) = re.findall(r'name="once" value="([^"]+)"', asked.text)
    assert key != "k1"
    assert shop.post("/parts/new", name="drum", note="two <feet>", once=key).status_code == 303
    assert names(shop) == ["drum", "press plate"]


def test_money_is_taken_in_once_however_often_the_form_is_put_right_and_sent(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.ready_job(db, shop.maker)
    paid = {"how": "cash", "once": "p1"}
    answers = [shop.post(f"/jobs/{job.no}/pay", amount=amount, **paid) for amount in ("10", "11", "10")]
    assert [answer.status_code for answer in answers] == [303, 409, 303]
    assert 'value="11"' in answers[1].text
    assert answers[0].headers["location"] == answers[2].headers["location"]
    with shop.database.reading() as db:
        assert [one.cents for one in payments.of_job(db, job.id)] == [1000]


def test_one_form_with_two_ways_to_send_it_is_two_acts(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.make_job(db, shop.maker)
    sheet = {"pieces": "2", "setting_0_first": "40", "setting_0_each": "0", "once": "q1"}
    assert shop.post(f"/jobs/{job.no}/price", **sheet).status_code == 303
    assert shop.post(f"/jobs/{job.no}/price/issue", **sheet).status_code == 303
    with shop.database.reading() as db:
        assert [quote.issued_on for quote in quotes.of_job(db, job.id)] == [cast.TODAY]


def test_a_figure_that_cannot_be_worked_with_keeps_the_page_and_every_word(
    shop: LiveShop, monkeypatch: pytest.MonkeyPatch
) -> None:
    def cannot(*_: object, **__: object) -> int:
        raise Impossible("A plate has two faces. Look at it again.")

    monkeypatch.setattr(parts, "keep_part", cannot)
    answer = shop.post("/parts/new", name="press plate", note="two feet")
    assert answer.status_code == 422
    assert "A plate has two faces" in answer.text
    assert 'value="press plate"' in answer.text
    assert "two feet" in answer.text


def test_a_tax_that_cannot_be_from_an_older_book_loses_no_word_of_a_price(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.make_job(db, shop.maker)
        db.add(TaxRate(valid_from=cast.TODAY, percent="150"))
    answer = shop.post(f"/jobs/{job.no}/price", pieces="1", setting_0_name="side XYZ", setting_0_first="40")
    assert answer.status_code == 409
    assert "Look at the rate in the shop book" in answer.text
    assert 'value="side XYZ"' in answer.text


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
