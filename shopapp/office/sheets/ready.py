"""The notice that pieces wait on the pick-up shelf."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from shopapp.office.sheets.letterhead import Letterhead, Party


@dataclass(frozen=True)
class ReadyPiece:
    """One piece: its number (1187-1), what it is, where it stands, its weights as text, the scale, the verdict."""

    number: str
    name: str
    state_words: str
    before: str = ""
    after: str = ""
    off: str = ""
    predicted: str = ""
    scale_words: str = ""
    verdict: str = ""


@dataclass(frozen=True)
class ReadySheet:
    """A ready notice as sent; `total_text` says what is to be paid, `hours` when the door is open. Notices
    issued long ago have no `number` of their own."""

    letterhead: Letterhead
    party: Party
    job_no: str
    title: str
    issued_on: str
    drawn_by: str
    pieces: tuple[ReadyPiece, ...]
    total_text: str = ""
    not_done: tuple[str, ...] = ()
    hours: str = ""
    words: str = ""
    phrases: tuple[str, ...] = ()
    number: str = ""
    approved: str = ""

    kind: ClassVar[str] = "ready"
