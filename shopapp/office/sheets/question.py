"""A question to the customer, on paper."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from shopapp.office.sheets.letterhead import Letterhead, Party


@dataclass(frozen=True)
class Shown:
    """A photo that goes with a question: what it shows, and the JPEG itself in base64."""

    words: str
    jpeg: str


@dataclass(frozen=True)
class QuestionSheet:
    """Question letter: what holds the job up, word for word, with photos of it, and room for the answer."""

    letterhead: Letterhead
    party: Party
    number: str
    job_no: str
    title: str
    issued_on: str
    asked_on: str
    drawn_by: str
    question: str
    whom: str = ""
    pieces: tuple[str, ...] = ()
    words: str = ""
    photos: tuple[Shown, ...] = ()
    not_done: tuple[str, ...] = ()

    kind: ClassVar[str] = "question"
