"""The tags that are tied to the pieces and their boxes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from shopapp.office.sheets.letterhead import Letterhead, Party


@dataclass(frozen=True)
class Tag:
    """One piece; it is printed twice, for the part and for its box. `address` is the whole address that opens it."""

    number: str
    name: str
    sign: str = ""
    goes_to: str = ""
    promised: str = ""
    place: str = ""
    address: str = ""


@dataclass(frozen=True)
class TagsSheet:
    """The tags of a job."""

    letterhead: Letterhead
    party: Party
    job_no: str
    title: str
    issued_on: str
    drawn_by: str
    tags: tuple[Tag, ...]
    not_done: tuple[str, ...] = ()
    number: str = ""

    kind: ClassVar[str] = "tags"
