"""Each refusal answers with a page that says what to do."""

import logging
import re

import pytest

from shopapp.bench.errors import Refused
from shopapp.office import parts
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from tests.web.conftest import LiveShop


def raising(monkeypatch: pytest.MonkeyPatch, error: Exception) -> None:
    def fall(*_: object, **__: object) -> None:
        raise error

    monkeypatch.setattr(parts, "parts", fall)


@pytest.mark.parametrize(
    ("error", "status"),
    [(NotHere("Gone."), 404), (InTheWay("Wait."), 409), (TryAgain("Mend it."), 422), (Refused("Type it again."), 422)],
    ids=["not here", "in the way", "try again", "refused by the bench"],
)
def test_each_refusal_has_its_status_and_says_its_sentence(
    shop: LiveShop, monkeypatch: pytest.MonkeyPatch, error: Exception, status: int
) -> None:
    raising(monkeypatch, error)
    answer = shop.get("/parts")
    assert answer.status_code == status
    assert f"<p>{error}</p>" in answer.text
    assert "Back to the rail" in answer.text


@pytest.mark.parametrize("path", ["/no-such-page", "/parts/many", "/variants/1/none"])
def test_an_unknown_address_says_so(shop: LiveShop, path: str) -> None:
    answer = shop.get(path)
    assert answer.status_code == 404
    assert "There is no page at that address" in answer.text


def test_a_fault_of_ours_shows_a_reference_and_no_trace(
    shop: LiveShop, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    raising(monkeypatch, RuntimeError("the drawer of secrets"))
    with caplog.at_level(logging.ERROR, logger="shopapp"):
        answer = shop.get("/parts")
    assert answer.status_code == 500
    assert "Something broke here" in answer.text
    reference = re.search(r'class="fig">([0-9a-f]{8})<', answer.text)
    assert reference
    assert any(reference[1] in line for line in caplog.messages)
    assert "the drawer of secrets" in caplog.text
    for word in ("the drawer of secrets", "Traceback", "RuntimeError", "parts.py"):
        assert word not in answer.text


def test_a_hostile_address_is_only_words(shop: LiveShop) -> None:
    assert "<script>alert" not in shop.get("/<script>alert(1)</script>").text


def test_a_page_is_not_posted_to(shop: LiveShop) -> None:
    assert shop.post("/parts").status_code == 405


def test_a_number_longer_than_any_in_the_book_is_not_in_it(shop: LiveShop) -> None:
    answer = shop.get("/jobs/99999999999999999999999")
    assert answer.status_code == 404
    assert "No number in the book is that long" in answer.text
