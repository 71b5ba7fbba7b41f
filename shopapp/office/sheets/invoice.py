"""An invoice as issued."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from shopapp.office.sheets.letterhead import Letterhead, Party
from shopapp.office.sheets.money import LineRow, Totals


@dataclass(frozen=True)
class InvoiceSheet:
    """One invoice. `pieces` is a line of weights per piece; `deposit_rows` are pairs of text and cents already
    held, shown under the total and no part of it; `due_cents` is what is left to pay. `tax_paper_text`: which
    paper is asked for, where one has run out. `void_on` and `void_reason` are never
    issued: they stand on the paper that is handed out of a bill that was struck through."""

    letterhead: Letterhead
    party: Party
    number: int
    job_no: str
    title: str
    order_number: str
    issued_on: str
    due_on: str
    terms: str
    drawn_by: str
    lines: tuple[LineRow, ...]
    totals: Totals
    due_cents: int
    exempt_reason: str = ""
    pieces: tuple[str, ...] = ()
    deposit_rows: tuple[tuple[str, int], ...] = ()
    not_done: tuple[str, ...] = ()
    phrases: tuple[str, ...] = ()
    approved: str = ""
    tax_paper_text: str = ""
    void_on: str = ""
    void_reason: str = ""

    kind: ClassVar[str] = "invoice"
