"""The story's calendar, moved as a whole so that its last day becomes the shop's today."""

import re
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

TODAY = date(2026, 3, 31)
"""The day on which the story is told."""

ZONE = "America/Denver"
"""Where the invented shop stands; in the evening its day is not the day of UTC."""

_DAY = re.compile(r"\b\d{4}-\d\d-\d\d\b")


@dataclass(frozen=True)
class Days:
    """The story's days moved by a number of days."""

    moved: timedelta

    @classmethod
    def told_at(cls, now: datetime) -> "Days":
        """The calendar for a shop whose wall shows the day of this moment."""
        return cls(now.astimezone(ZoneInfo(ZONE)).date() - TODAY)

    def day(self, told: str) -> date:
        """A day of the story, where it falls now."""
        return date.fromisoformat(told) + self.moved

    def at(self, told: str, hour: int, minute: int = 0) -> datetime:
        """A time by the shop's clock on a day of the story."""
        return datetime.combine(self.day(told), time(hour, minute), ZoneInfo(ZONE))

    def words(self, text: str) -> str:
        """A sentence of the story with its days moved."""
        return _DAY.sub(lambda found: str(self.day(found[0])), text)
