"""What hangs on the wall for every page: the shop's facts, its clock and its money, and the title block."""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from fastapi import Request

from shopapp.office import money, people, rail, shopbook
from shopapp.office.database import Database
from shopapp.office.shopbook import ShopFacts
from shopapp.web.render import Frame, day, moment_in, weekday

FRESH = 5.0
"""Seconds for which the facts are believed; another process may have changed them since."""


class Wall:
    """The shop's facts, read again when they are old or when this process wrote something."""

    def __init__(self, database: Database, ticks: Callable[[], float] = time.monotonic) -> None:
        self._database, self._ticks = database, ticks
        self._facts: ShopFacts | None = None
        self._read_at: float | None = None

    def facts(self) -> ShopFacts | None:
        """The shop's facts, or None while the book is empty."""
        if self._facts is None or self._read_at is None or self._ticks() - self._read_at > FRESH:
            with self._database.reading() as db:
                self._facts, self._read_at = shopbook.shop(db), self._ticks()
        return self._facts

    def forget(self) -> None:
        """Read the facts anew next time."""
        self._read_at = None

    def cents(self, value: int) -> str:
        """Whole cents as the shop writes money."""
        facts = self.facts()
        return money.show(value, facts.currency if facts else "$")

    def day(self, value: date | datetime | None) -> str:
        """A day, or the day of an instant, by the shop's calendar."""
        return day(self._there(value))

    def weekday(self, value: date | datetime | None) -> str:
        """The same with its weekday."""
        return weekday(self._there(value))

    def _there(self, value: date | datetime | None) -> date | datetime | None:
        """An instant as it is at the shop; a day as it is."""
        facts = self.facts()
        if isinstance(value, datetime) and value.tzinfo and facts:
            return value.astimezone(ZoneInfo(facts.zone))
        return value

    def moment(self, value: datetime | None) -> str:
        """An instant as the shop's clock shows it."""
        facts = self.facts()
        return moment_in(ZoneInfo(facts.zone if facts else "UTC"))(value)

    def framed(self, request: Request) -> Frame:
        """The title block of a request."""
        facts = self.facts()
        with self._database.reading() as db:
            mark = request.cookies.get("who", "")
            who = people.by_initials(db, mark) if mark else None
            return Frame(
                shop=facts.name if facts else "A new shop",
                who=who.initials if who else "",
                to_bill=rail.count_to_bill(db),
                **_urls(request.app),
            )


def _urls(app: Any) -> dict[str, str]:
    cells = {
        "rail_url": "rail.page", "shop_url": "about.page", "find_url": "find.page", "ask_url": "jobs.new",
        "money_url": "money.page", "book_url": "shopbook.page", "who_url": "people.page",
    }  # fmt: skip
    return {cell: str(app.url_path_for(name)) for cell, name in cells.items()}
