"""The letter about pieces that were not fetched: facts, and the owner's own words on storage."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from shopapp.office.sheets.letterhead import Letterhead, Party


@dataclass(frozen=True)
class LetterSheet:
    """Ready letter. `calls` are the calls so far, a line each; `storage` the owner's words, empty where none were
    written. It never speaks of disposal by itself."""

    letterhead: Letterhead
    party: Party
    number: str
    job_no: str
    title: str
    issued_on: str
    drawn_by: str
    pieces: tuple[str, ...]
    ready_since: str
    days: int
    calls: tuple[str, ...] = ()
    total_text: str = ""
    hours: str = ""
    words: str = ""
    storage: str = ""
    not_done: tuple[str, ...] = ()

    kind: ClassVar[str] = "letter"
