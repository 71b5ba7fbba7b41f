"""A question to the customer, on paper."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from shopapp.office.sheets.letterhead import Letterhead, Party


@dataclass(frozen=True)
class QuestionSheet:
    """Question letter: what holds the job up, word for word, and room for the answer."""

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

    kind: ClassVar[str] = "question"
