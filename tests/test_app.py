"""The door: it opens the book, puts the rooms together and closes up."""

import gc
import importlib
import pkgutil
from collections.abc import Awaitable, Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import anyio
import httpx
import pytest
from anyio import to_thread
from fastapi import FastAPI
from fastapi.routing import APIRoute
from sqlalchemy import inspect

from shopapp.app import build, open_book
from shopapp.office import jobs
from shopapp.office.database import Database
from shopapp.office.tables.every import METADATA
from shopapp.settings import Settings
from shopapp.web import routes
from tests import makers
from tests.cast import NOON


@pytest.fixture
def app(book: Database) -> Iterator[FastAPI]:
    """The app on an empty book, at noon of the cast."""
    return build(book, clock=lambda: NOON)


def apart(work: Callable[[], Awaitable[Any]]) -> Any:
    """What an asynchronous piece of work gives, in a thread of its own: a browser test leaves its loop in this one."""
    with ThreadPoolExecutor(1) as pool:
        return pool.submit(anyio.run, work).result()


def answer(app: FastAPI, path: str) -> httpx.Response:
    async def ask() -> httpx.Response:
        async with httpx.AsyncClient(transport=httpx.ASGITransport(app), base_url="http://shop.example") as client:
            return await client.get(path)

    return apart(ask)


def test_a_missing_book_is_made_with_its_folder_and_its_tables(tmp_path: Path) -> None:
    settings = Settings(data=tmp_path / "deep" / "down", database_url=None)
    book = open_book(settings)
    assert (settings.data / "shop.db").is_file()
    assert set(METADATA.tables) <= set(inspect(book.engine).get_table_names())
    book.close()


def test_a_book_that_is_there_is_opened_and_not_made_anew(tmp_path: Path) -> None:
    settings = Settings(data=tmp_path, database_url=None)
    first = open_book(settings)
    with first.writing() as db:
        makers.make_job(db, makers.make_shop(db))
    first.close()
    again = open_book(settings)
    with again.reading() as db:
        assert jobs.by_no(db, 1001).customer == "Cobbet Cider Mill"
    again.close()


def test_the_book_may_lie_on_a_server(tmp_path: Path, empty_postgres_url: str) -> None:
    book = open_book(Settings(data=tmp_path, database_url=empty_postgres_url))
    assert book.engine.dialect.name == "postgresql"
    assert "job" in inspect(book.engine).get_table_names()
    assert list(tmp_path.iterdir()) == []
    book.close()


def test_an_empty_book_asks_for_the_shop_first(app: FastAPI) -> None:
    first = answer(app, "/")
    assert (first.status_code, first.headers["location"]) == (303, app.url_path_for("shopbook.first"))
    assert answer(app, first.headers["location"]).status_code == 200


def test_a_shop_that_is_set_up_shows_its_rail(app: FastAPI, book: Database) -> None:
    with book.writing() as db:
        makers.make_job(db, makers.make_shop(db))
    page = answer(app, "/")
    assert page.status_code == 200
    assert "Cobbet Cider Mill" in page.text


@pytest.mark.parametrize("path", ["/docs", "/redoc", "/openapi.json", "/no/such/page", "/static/no.css"])
def test_there_is_nothing_where_nothing_was_put(app: FastAPI, path: str) -> None:
    assert answer(app, path).status_code == 404


@pytest.mark.parametrize("subject", [found.name for found in pkgutil.iter_modules(routes.__path__)])
def test_every_route_of_a_subject_is_named_by_it_and_reached(app: FastAPI, subject: str) -> None:
    router = importlib.import_module(f"{routes.__name__}.{subject}").router
    assert router.routes
    for route in router.routes:
        assert isinstance(route, APIRoute)
        assert route.name.startswith(f"{subject}."), route.path
        assert app.url_path_for(route.name, **dict.fromkeys(route.param_convertors, 1))


def test_the_app_lives_with_eight_threads_and_closes_its_book(app: FastAPI, book: Database) -> None:
    async def live() -> float:
        async with app.router.lifespan_context(app):
            with book.reading() as db:
                assert jobs.pieces(db, 1) == []
            return to_thread.current_default_thread_limiter().total_tokens

    try:
        assert apart(live) == 8
    finally:
        gc.unfreeze()
    assert book.engine.pool.checkedin() == 0


def test_a_postman_goes_round_only_where_the_shop_has_a_mail_server(book: Database) -> None:
    assert build(book).state.postman is None
    app = build(book, smtp_url="smtp://127.0.0.1:9", mail_from="book@quill.example")
    assert app.state.postman.is_alive()
    app.state.postman.stop()
    assert not app.state.postman.is_alive()
