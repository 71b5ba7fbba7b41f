"""A quote as issued."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from shopapp.office.sheets.letterhead import Letterhead, Party
from shopapp.office.sheets.money import LineRow, Totals
from shopapp.office.sheets.removal import RemovalSheet
from shopapp.office.sheets.section import SectionSheet


@dataclass(frozen=True)
class QuoteSheet:
    """One revision of a quote. `removals` and `sections` belong together pair by pair, one per kind of piece.
    `exempt_reason`: why no tax is on it; `tax_paper_text`: which paper is asked for, where one has run out;
    `priced_for`: how many pieces the price is for."""

    letterhead: Letterhead
    party: Party
    number: str
    revision: str
    job_no: str
    title: str
    issued_on: str
    good_until: str
    drawn_by: str
    pieces: tuple[str, ...]
    lines: tuple[LineRow, ...]
    totals: Totals
    minutes_text: str = ""
    removals: tuple[RemovalSheet, ...] = ()
    sections: tuple[SectionSheet, ...] = ()
    not_done: tuple[str, ...] = ()
    included: tuple[str, ...] = ()
    words: str = ""
    deposit_text: str = ""
    weight_note: str = ""
    phrases: tuple[str, ...] = ()
    exempt_reason: str = ""
    tax_paper_text: str = ""
    priced_for: str = ""

    kind: ClassVar[str] = "quote"
