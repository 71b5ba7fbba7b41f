"""Pages and fragments: the template environment, its filters, and the title block that frames each screen."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, tzinfo
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from jinja2_fragments import render_block

KIT = ("_kit/block.html", "_kit/fields.html", "_kit/signs.html", "_kit/sheets.html", "_kit/workings.html")


@dataclass(frozen=True)
class Frame:
    """What the title block at the foot shows, and where its cells lead. `here` names the cell of this screen."""

    shop: str = "The shop"
    sheet: str = ""
    who: str = ""
    to_bill: int = 0
    job: str = ""
    job_url: str = ""
    here: str = "sheet"
    find: str = ""
    rail_url: str = "/"
    shop_url: str = "/about"
    find_url: str = "/find"
    ask_url: str = "/ask"
    money_url: str = "/money"
    book_url: str = "/book"
    who_url: str = "/who"
    scratch_url: str = "/scratch"


def day(value: date | datetime | None) -> str:
    """Write a date so that no reader can swap day and month: 3 Mar 2026."""
    return f"{value.day} {value:%b %Y}" if value else ""


def weekday(value: date | datetime | None) -> str:
    """Write a date with its weekday: Tue 3 Mar 2026."""
    return f"{value:%a} {day(value)}" if value else ""


def counted(values: Iterable[str]) -> list[tuple[str, int]]:
    """Count equal values, in the order in which each first comes."""
    return list(Counter(values).items())


def moment_in(zone: tzinfo) -> Callable[[datetime | None], str]:
    """Give the filter that writes an instant as the shop's clock shows it."""

    def moment(value: datetime | None) -> str:
        if value is None:
            return ""
        if value.tzinfo is None:
            raise ValueError("An instant without a zone cannot be shown.")
        there = value.astimezone(zone)
        return f"{day(there)}, {there:%H:%M}"

    return moment


def environment(
    templates: Path | Iterable[Path], asset: Callable[[str], str], cents: Callable[[int], str], zone: tzinfo = UTC
) -> Environment:
    """Build the environment: escaping, undefined names are errors, the kit and the filters known everywhere."""
    folders = [templates] if isinstance(templates, Path) else list(templates)
    env = Environment(loader=FileSystemLoader(folders), autoescape=True, undefined=StrictUndefined)
    env.filters.update(cents=cents, day=day, weekday=weekday, counted=counted, moment=moment_in(zone))
    env.globals.update(asset=asset, notice="", saved="", frame=Frame())
    env.globals["kit"] = pieces = SimpleNamespace()
    gather(env, pieces)
    return env


def gather(env: Environment, pieces: SimpleNamespace) -> None:
    """Put the macros of all kit files under one name, since a fragment does not run its page's imports."""
    for name in KIT:
        vars(pieces).update(vars_of(env.get_template(name).module))


def vars_of(module: Any) -> dict[str, Any]:
    """Give what a kit file exports."""
    return {name: value for name, value in vars(module).items() if not name.startswith("_")}


class Pages:
    """Renders whole pages and named blocks of them. `framed` builds the title block for a request."""

    def __init__(self, env: Environment, framed: Callable[[Request], Frame] | None = None) -> None:
        self.env = env
        self.framed = framed

    def _with_frame(self, request: Request, context: dict[str, Any]) -> dict[str, Any]:
        if "frame" not in context and self.framed:
            context["frame"] = self.framed(request)
        return {"request": request, **context}

    def page(self, request: Request, template: str, status: int = 200, **context: Any) -> HTMLResponse:
        """Render a whole page."""
        words = self.env.get_template(template).render(self._with_frame(request, context))
        return HTMLResponse(words, status_code=status)

    def fragment(self, request: Request, template: str, block: str, status: int = 200, **context: Any) -> HTMLResponse:
        """Render one block of a page, by its name."""
        words = render_block(self.env, template, block, {"request": request, **context})
        return HTMLResponse(words, status_code=status)


def page(request: Request, template: str, status: int = 200, **context: Any) -> HTMLResponse:
    """Render a page with the app's own Pages, which the door puts at `app.state.pages`."""
    return _pages(request).page(request, template, status, **context)


def fragment(request: Request, template: str, block: str, status: int = 200, **context: Any) -> HTMLResponse:
    """Render a block with the app's own Pages."""
    return _pages(request).fragment(request, template, block, status, **context)


def _pages(request: Request) -> Pages:
    pages: Pages = request.app.state.pages
    return pages
