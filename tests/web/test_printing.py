"""A paper on its way to the browser: named for people, kept under its hash, and a press that fails loses nothing."""

from collections.abc import Callable, Iterator

import pytest
from fastapi import APIRouter
from starlette.responses import Response

from shopapp.office import papers
from shopapp.papers.press import PressFailed
from shopapp.web.desk import At
from shopapp.web.printing import printed
from tests.web.conftest import House, LiveShop

BYTES = b"%PDF-1.7 of a test"


@pytest.fixture
def press(house: House) -> Iterator[list[Callable[[], bytes]]]:
    """What presses, at an address of its own that stands for all papers."""
    waiting: list[Callable[[], bytes]] = []
    router = APIRouter()

    @router.get("/a-paper.pdf")
    def paper(desk: At) -> Response:
        return printed(desk, "Stub 1001-T1", 'Mühle "Süd"', "d" * 64, waiting[-1])

    before = list(house.app.router.routes)
    house.app.include_router(router)
    yield waiting
    house.app.router.routes[:] = before


def fail() -> bytes:
    raise PressFailed("The press stopped twice on this paper.")


def test_it_is_pressed_once_and_has_a_name_that_speaks(
    shop: LiveShop, press: list[Callable[[], bytes]]
) -> None:  # fmt: skip
    press.append(lambda: BYTES)
    first = shop.get("/a-paper.pdf")
    assert first.content == BYTES
    assert first.headers["content-disposition"] == (
        'inline; filename="Stub 1001-T1, M_hle S_d.pdf"; '
        "filename*=UTF-8''Stub%201001-T1%2C%20M%C3%BChle%20S%C3%BCd.pdf"
    )
    assert "default-src 'none'" in first.headers["content-security-policy"]
    press.append(fail)
    assert shop.get("/a-paper.pdf").content == BYTES
    with shop.database.reading() as db:
        assert papers.pressed(db, "d" * 64) == BYTES


def test_a_browser_that_has_it_is_told_so(shop: LiveShop, press: list[Callable[[], bytes]]) -> None:
    press.append(fail)
    answer = shop.client.get("/a-paper.pdf", headers={"If-None-Match": f'"{"d" * 64}"'})
    assert (answer.status_code, answer.content) == (304, b"")


def test_a_press_that_fails_says_that_the_paper_is_safe(shop: LiveShop, press: list[Callable[[], bytes]]) -> None:
    press.append(fail)
    answer = shop.get("/a-paper.pdf")
    assert answer.status_code == 503
    assert "Stub 1001-T1 is issued and safe in the book" in answer.text
