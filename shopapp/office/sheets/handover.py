"""The receipt for pieces that left: which, with what, and who took them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from shopapp.office.sheets.letterhead import Letterhead, Party


@dataclass(frozen=True)
class GonePiece:
    """One piece that left: its number, what it is, its state, where it goes, its weights as text, the scale and the
    verdict in the words of the weigh slip."""

    number: str
    name: str
    state_words: str
    before: str = ""
    after: str = ""
    off: str = ""
    destination: str = ""
    predicted: str = ""
    scale_words: str = ""
    verdict: str = ""


@dataclass(frozen=True)
class HandOverSheet:
    """Hand-over receipt, for one job or several. `signature` is the path of an SVG drawing in a field of 600 by 200,
    empty where the taker is known and did not sign; `signed_for` is what stood above the line, line by line."""

    letterhead: Letterhead
    party: Party
    number: str
    job_numbers: tuple[str, ...]
    issued_on: str
    drawn_by: str
    pieces: tuple[GonePiece, ...]
    taken_by: str
    how: str = "known"
    signature: str = ""
    signed_for: tuple[str, ...] = ()
    bits_back: tuple[str, ...] = ()
    bits_here: tuple[str, ...] = ()
    left_here: tuple[str, ...] = ()
    stub_back: bool = False
    due_text: str = ""
    not_done: tuple[str, ...] = ()
    phrases: tuple[str, ...] = ()
    approved: str = ""

    kind: ClassVar[str] = "hand_over"
