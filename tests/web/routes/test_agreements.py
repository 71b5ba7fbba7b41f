"""Agreed prices: entered with their days, ended sooner, shown where they are looked for."""

import pytest

from shopapp.office import agreements, parts
from tests import makers
from tests.web.conftest import LiveShop


@pytest.fixture
def told(shop: LiveShop) -> dict[str, str]:
    """What is typed for a price of the plain plate."""
    with shop.database.writing() as db:
        variant_id = makers.make_variant(db, shop.maker)
        customer_id = makers.make_customer(db, shop.maker)
        part_id = parts.parts(db)[0][0].id
    return {
        "customer": str(customer_id), "kind": f"{part_id}-{variant_id}", "each": "62", "from_count": "4",
        "valid_from": "2031-01-01", "valid_to": "2031-12-31", "words": "",
    }  # fmt: skip


def rows(shop: LiveShop) -> list[agreements.AgreementFacts]:
    with shop.database.reading() as db:
        return agreements.every(db)


def test_without_customers_and_parts_the_page_says_what_comes_first(shop: LiveShop) -> None:
    page = shop.get("/book/agreements").text
    assert "so both come first" in page
    assert 'href="/customers/new"' in page


def test_a_price_is_agreed_from_a_count_on_between_two_days(shop: LiveShop, told: dict[str, str]) -> None:
    answer = shop.post("/book/agreements", **told)
    assert answer.status_code == 303
    page = " ".join(shop.get(answer.headers["location"]).text.split())
    for words in ("Cobbet Cider Mill", "press plate, plain", "4 pieces", "$62.00", "1 Jan 2031 to 31 Dec 2031"):
        assert words in page
    assert "WK · agreement" in page
    assert "$62.00" in shop.get(f"/customers/{told['customer']}").text


def test_every_variant_of_a_part_can_be_meant(shop: LiveShop, told: dict[str, str]) -> None:
    shop.post("/book/agreements", **{**told, "kind": told["kind"].split("-")[0]})
    assert [(one.variant_id, one.name) for one in rows(shop)] == [(None, "press plate")]


def test_the_customer_can_be_brought_along(shop: LiveShop, told: dict[str, str]) -> None:
    page = shop.get("/book/agreements", customer=told["customer"]).text
    assert f'<option value="{told["customer"]}" selected>' in page


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"customer": ""}, "customer"), ({"kind": ""}, "kind"), ({"kind": "1-x"}, "kind"), ({"each": ""}, "each"),
        ({"each": "lots"}, "each"), ({"from_count": "0"}, "from_count"), ({"valid_to": ""}, "valid_to"),
        ({"valid_to": "2030-01-01"}, "valid_to"), ({"valid_from": "soon"}, "valid_from"),
    ],
)  # fmt: skip
def test_a_refused_agreement_keeps_every_word(
    shop: LiveShop, told: dict[str, str], wrong: dict[str, str], field: str
) -> None:
    answer = shop.post("/book/agreements", **{**told, "words": "by <i>handshake</i>", **wrong})
    assert answer.status_code == 422
    assert f'id="f-{field}-problem"' in answer.text
    assert 'value="by &lt;i&gt;handshake&lt;/i&gt;"' in answer.text
    assert rows(shop) == []


def test_the_same_days_and_count_twice_are_asked_about(shop: LiveShop, told: dict[str, str]) -> None:
    for _ in range(2):
        assert shop.post("/book/agreements", **told, once="a-1").status_code == 303
    answer = shop.post("/book/agreements", **{**told, "valid_from": "2031-02-01"})
    assert answer.status_code == 422
    assert "End that one first" in answer.text
    assert len(rows(shop)) == 1


def test_one_from_the_same_day_puts_the_first_right_and_one_written_wrong_stays_struck_through(
    shop: LiveShop, told: dict[str, str]
) -> None:
    shop.post("/book/agreements", **{**told, "each": "620"})
    assert shop.post("/book/agreements", **told).status_code == 303
    page = shop.get("/book/agreements").text
    assert "Over or superseded: 1" in page
    assert page.count(">superseded<") == 1
    (right,) = (one for one in rows(shop) if not one.wrong_at)
    assert shop.post(f"/book/agreements/{right.id}/wrong").status_code == 303
    assert "Over or superseded: 2" in shop.get("/book/agreements").text
    assert shop.get(f"/customers/{told['customer']}").text.count(">superseded<") == 2
    assert shop.post(f"/book/agreements/{right.id}/wrong").status_code == 409


def test_an_agreement_ends_sooner_and_then_stands_among_those_that_are_over(
    shop: LiveShop, told: dict[str, str]
) -> None:
    shop.post("/book/agreements", **told)
    (row,) = rows(shop)
    refused = shop.post(f"/book/agreements/{row.id}/end", last_day="2032-02-02")
    assert refused.status_code == 422
    assert 'value="2032-02-02"' in refused.text
    assert 'id="f-last_day-problem"' in refused.text
    assert shop.post(f"/book/agreements/{row.id}/end", last_day="2031-03-03").status_code == 303
    assert "Over or superseded: 1" in shop.get("/book/agreements").text
    assert shop.post("/book/agreements/99/end", last_day="2031-03-03").status_code == 404


def test_a_part_that_is_not_in_the_book_is_told_so(shop: LiveShop, told: dict[str, str]) -> None:
    assert shop.post("/book/agreements", **{**told, "kind": "77"}).status_code == 404
