"""The customer's stub: what came through the door, in which state, on which terms."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from shopapp.office.sheets.letterhead import Letterhead, Party


@dataclass(frozen=True)
class StubPiece:
    """One piece as it came in. `condition` holds pairs of word and answer, each in words ("cracked", "not looked");
    `declared` is the value as printed, empty where none was declared; `risk` says who carries it; `loose` is what
    came along; `photos` says how many of what ("2 as it came in"). An empty `sign`: nobody looked."""

    number: str
    name: str
    sign: str = ""
    condition: tuple[tuple[str, str], ...] = ()
    declared: str = ""
    risk: str = ""
    loose: tuple[str, ...] = ()
    photos: tuple[str, ...] = ()
    goes_to: str = ""
    weight: str = ""
    note: str = ""


@dataclass(frozen=True)
class StubSheet:
    """The stub as handed over. `drawn_by` took the pieces in; `terms` and `phrases` are the shop's own sentences as
    they stood; `address` is the whole address that opens the job, empty for a paper without a code; `late` says when
    it really was, where it was written down afterwards."""

    letterhead: Letterhead
    party: Party
    job_no: str
    title: str
    issued_on: str
    drawn_by: str
    pieces: tuple[StubPiece, ...]
    address: str = ""
    asked: str = ""
    wanted: str = ""
    promised: str = ""
    brought_by: str = ""
    terms: tuple[str, ...] = ()
    phrases: tuple[str, ...] = ()
    not_done: tuple[str, ...] = ()
    late: str = ""
    number: str = ""

    kind: ClassVar[str] = "stub"
