"""The door: the one file that sees every room, reads the settings and puts the app together."""

import gc
import importlib
import pkgutil
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from datetime import datetime

from anyio import to_thread
from fastapi import FastAPI

from shopapp.office.database import Database, sqlite_url
from shopapp.office.migrating import migrate
from shopapp.papers import press
from shopapp.papers.places import migrations_dir, static_dir, templates_dir
from shopapp.settings import Settings
from shopapp.web import desk, errors, postman, routes
from shopapp.web.assets import Assets
from shopapp.web.render import Pages, environment
from shopapp.web.routes import papers as papers_routes
from shopapp.web.security import Doorkeeper
from shopapp.web.sending import Sendings
from shopapp.web.wall import Wall


def open_book(settings: Settings) -> Database:
    """The database of the settings, made where it is missing and brought in step."""
    settings.data.mkdir(parents=True, exist_ok=True)
    database = Database(settings.database_url or sqlite_url(settings.data / "shop.db"))
    migrate(database, migrations_dir())
    return database


def build(
    database: Database, *, clock: Callable[[], datetime] = desk.utc_now, smtp_url: str | None = None,
    mail_from: str | None = None,
) -> FastAPI:  # fmt: skip
    """The app on a database. `clock` is the only way that time comes in; mail is sent where there is a server."""
    app = FastAPI(title="shop", docs_url=None, redoc_url=None, openapi_url=None, lifespan=_life)
    app.state.database, app.state.clock, app.state.wall = database, clock, Wall(database)
    assets = Assets(static_dir())
    app.mount("/static", assets)
    env = environment(templates_dir(), assets.url, cents=app.state.wall.cents)
    wall = app.state.wall
    env.filters.update(moment=wall.moment, day=wall.day, weekday=wall.weekday)
    env.globals["url"] = app.url_path_for
    app.state.pages = Pages(env, framed=app.state.wall.framed)
    for found in pkgutil.iter_modules(routes.__path__):
        app.include_router(importlib.import_module(f"{routes.__name__}.{found.name}").router)
    app.state.postman = postman.start(database, smtp_url, mail_from, papers_routes.PRESSES, clock)
    errors.handle(app)
    app.add_middleware(Doorkeeper)
    app.add_middleware(Sendings)
    return app


@asynccontextmanager
async def _life(app: FastAPI) -> AsyncIterator[None]:
    to_thread.current_default_thread_limiter().total_tokens = 8
    gc.collect()
    gc.freeze()
    yield
    if app.state.postman:
        app.state.postman.stop()
    press.close()
    app.state.database.close()
