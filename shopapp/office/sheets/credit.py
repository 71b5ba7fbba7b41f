"""A credit note as issued: it takes back lines of one invoice."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from shopapp.office.sheets.letterhead import Letterhead, Party
from shopapp.office.sheets.money import LineRow, Totals


@dataclass(frozen=True)
class CreditSheet:
    """One credit note. Lines and totals are positive amounts of credit; the paper's name says the direction."""

    letterhead: Letterhead
    party: Party
    number: int
    invoice_number: int
    job_no: str
    title: str
    reason: str
    issued_on: str
    drawn_by: str
    lines: tuple[LineRow, ...]
    totals: Totals
    not_done: tuple[str, ...] = ()

    kind: ClassVar[str] = "credit"
