"""What every answer carries and every posting must show."""

import pytest

from tests.web.conftest import LiveShop

FIELDS = {"initials": "WK", "to": "/"}


def post(shop: LiveShop, **headers: str) -> int:
    return shop.client.post(
        "/who", data=FIELDS, headers={k.replace("_", "-"): v for k, v in headers.items()}
    ).status_code


def test_what_a_page_of_ours_sends_is_taken_in(shop: LiveShop) -> None:
    assert post(shop, origin=shop.origin) == 303


@pytest.mark.parametrize("origin", ["https://elsewhere.example", "null", "", "http://127.0.0.1:1"])
def test_what_another_site_sends_is_refused(shop: LiveShop, origin: str) -> None:
    answer = shop.client.post("/who", data=FIELDS, headers={"Origin": origin})
    assert answer.status_code == 403
    assert "sent from another site" in answer.text
    assert "set-cookie" not in answer.headers


def test_without_an_origin_the_browsers_own_word_counts(shop: LiveShop) -> None:
    assert post(shop, sec_fetch_site="same-origin") == 303
    assert post(shop, sec_fetch_site="cross-site") == 403
    assert post(shop, sec_fetch_site="same-site") == 403
    assert post(shop) == 303


def test_a_refused_posting_writes_nothing(shop: LiveShop) -> None:
    answer = shop.client.post("/parts/new", data={"name": "x"}, headers={"Origin": "https://elsewhere.example"})
    assert answer.status_code == 403
    assert "No parts yet" in shop.get("/parts").text


@pytest.mark.parametrize("path", ["/parts", "/no-such-page", "/first", "/parts/99", "/echo/length?x=1"])
def test_every_answer_carries_its_headers(shop: LiveShop, path: str) -> None:
    headers = shop.get(path).headers
    policy = headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "frame-ancestors 'none'" in policy
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "same-origin"


def test_a_refusal_carries_them_as_well(shop: LiveShop) -> None:
    answer = shop.client.post("/who", data=FIELDS, headers={"Origin": "null"})
    assert "content-security-policy" in answer.headers


def test_pages_hold_no_inline_script_or_style(shop: LiveShop) -> None:
    for path in ("/parts", "/book", "/customers/new", "/about"):
        page = shop.get(path).text
        assert "<script>" not in page
        assert " style=" not in page
        assert " onclick=" not in page
