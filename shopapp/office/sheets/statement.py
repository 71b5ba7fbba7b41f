"""What a customer owes on a day, bill by bill; and the reminder of what is past due."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from shopapp.office.sheets.letterhead import Letterhead, Party


@dataclass(frozen=True)
class StatementRow:
    """One bill that is not paid: what it asked, what came off it, what it still asks [cents], days past due."""

    invoice_number: int
    job_no: str
    title: str
    issued_on: str
    due_on: str
    total_cents: int
    off_cents: int
    due_cents: int
    days_late: int


@dataclass(frozen=True)
class StatementSheet:
    """Statement as of a day. `ages` are pairs of words and cents that sum to `total_cents`; `held_cents` is the
    customer's own money that no bill has used, and no part of the total; nor is what was `given_back`, pairs of words
    and cents."""

    letterhead: Letterhead
    party: Party
    number: str
    as_of: str
    issued_on: str
    drawn_by: str
    rows: tuple[StatementRow, ...]
    ages: tuple[tuple[str, int], ...]
    total_cents: int
    held_cents: int = 0
    terms: str = ""
    phrases: tuple[str, ...] = ()
    not_done: tuple[str, ...] = ()
    given_back: tuple[tuple[str, int], ...] = ()

    kind: ClassVar[str] = "statement"


@dataclass(frozen=True)
class ReminderSheet:
    """Reminder of the bills that are past due; `total_cents` is what they still ask."""

    letterhead: Letterhead
    party: Party
    number: str
    as_of: str
    issued_on: str
    drawn_by: str
    rows: tuple[StatementRow, ...]
    total_cents: int
    words: str = ""
    phrases: tuple[str, ...] = ()
    not_done: tuple[str, ...] = ()

    kind: ClassVar[str] = "reminder"
