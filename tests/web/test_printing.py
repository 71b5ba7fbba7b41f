"""A paper on its way to the browser: pressed once, named so that it can be found again."""

import pytest

from shopapp.papers.press import PressFailed
from shopapp.web.desk import Desk
from shopapp.web.printing import printed
from tests.web.conftest import LiveShop

DIGEST = "ab" * 32


class Asked:
    """As much of a request as printing looks at."""

    def __init__(self, mark: str = "") -> None:
        self.headers = {"if-none-match": mark} if mark else {}


def at_the_desk(shop: LiveShop, db: object, mark: str = "") -> Desk:
    return Desk(Asked(mark), shop.database, db, shop.now)  # type: ignore[arg-type]


def test_the_first_pressing_is_served_ever_after(shop: LiveShop) -> None:
    presses = []

    def press() -> bytes:
        presses.append(1)
        return b"%PDF-first"

    for _ in range(2):
        with shop.database.reading() as db:
            answer = printed(at_the_desk(shop, db), "Quote 1001 A", "Cobbet", DIGEST, press)
        assert answer.body == b"%PDF-first"
    assert presses == [1]


def test_a_browser_that_has_it_is_told_so(shop: LiveShop) -> None:
    with shop.database.reading() as db:
        answer = printed(at_the_desk(shop, db, f'"{DIGEST}"'), "Quote 1001 A", "Cobbet", DIGEST, lambda: b"never")
    assert (answer.status_code, answer.headers["etag"]) == (304, f'"{DIGEST}"')


@pytest.mark.parametrize("whom", ["Cöbbet & Sons", '"; rm -rf', "x" * 500])
def test_the_files_name_is_only_a_name(shop: LiveShop, whom: str) -> None:
    with shop.database.reading() as db:
        answer = printed(at_the_desk(shop, db), "Quote 1001 A", whom, DIGEST, lambda: b"%PDF")
    name = answer.headers["content-disposition"]
    assert name.startswith('inline; filename="Quote 1001 A')
    assert name.count('"') == 2
    assert len(name) < 600


def test_a_paper_that_cannot_be_pressed_says_that_it_is_issued_all_the_same(
    shop: LiveShop, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown = {}
    monkeypatch.setattr(Desk, "page", lambda _desk, _template, **told: shown.update(told))

    def press() -> bytes:
        raise PressFailed("The press stopped twice on this paper.")

    with shop.database.reading() as db:
        printed(at_the_desk(shop, db), "Invoice 501", "Cobbet", DIGEST, press)
    assert shown["status"] == 503
    assert "Invoice 501 is issued and safe in the book" in shown["words"]
