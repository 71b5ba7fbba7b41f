"""The shop's book while the story is told: one session, and the rows that the story's short names stand for."""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, TypedDict

from shopapp.demo.days import Days
from shopapp.office import jobs
from shopapp.office.jobs import PieceFacts


class Signed(TypedDict):
    """When an act was done, and whose it is."""

    now: datetime
    by: int


@dataclass
class Book:
    """What the story has told so far; `db` is the office's session, handed on and never asked itself."""

    db: Any
    days: Days
    hands: dict[str, int] = field(default_factory=dict)
    scales: dict[str, int] = field(default_factory=dict)
    customers: dict[str, int] = field(default_factory=dict)
    machines: dict[str, int] = field(default_factory=dict)
    parts: dict[str, int] = field(default_factory=dict)
    variants: dict[str, int] = field(default_factory=dict)
    bills: dict[int, int] = field(default_factory=dict)

    def job(self, no: int) -> int:
        """The row of a job."""
        return jobs.by_no(self.db, no).id

    def piece(self, no: int, n: int) -> PieceFacts:
        """A piece as it is now."""
        return jobs.piece(self.db, no, n)

    def signed(self, now: datetime, who: str) -> Signed:
        """When and by whom, as every verb asks."""
        return {"now": now, "by": self.hands[who]}
