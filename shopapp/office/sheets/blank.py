"""The blank job ticket for days without power: the same questions, to be answered with a pencil and typed in later."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from shopapp.office.sheets.letterhead import Letterhead


@dataclass(frozen=True)
class BlankSheet:
    """A blank ticket with room for `pieces`, and for the finished sizes of six at most. `looked_for` are the words of
    condition; `scales` name each scale with what it shows; `watch` are the bench's cautions; `not_done` what the shop
    never does."""

    letterhead: Letterhead
    issued_on: str
    drawn_by: str
    pieces: int = 2
    looked_for: tuple[str, ...] = ()
    scales: tuple[str, ...] = ()
    watch: tuple[str, ...] = ()
    terms: tuple[str, ...] = ()
    not_done: tuple[str, ...] = ()
    title: str = "Blank job ticket"

    kind: ClassVar[str] = "blank"
