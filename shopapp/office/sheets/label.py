"""The small label of a piece that lies on a shelf until it is wanted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from shopapp.office.sheets.letterhead import Letterhead, Party


@dataclass(frozen=True)
class ShelfLabel:
    """One piece as it was finished: `weight` with its unit, empty where it was not weighed; `scale` what the scale
    shows ("shows halves of a pound"); `done` what was done, in few words; `finished_on` the day."""

    number: str
    name: str
    sign: str = ""
    weight: str = ""
    scale: str = ""
    done: tuple[str, ...] = ()
    finished_on: str = ""
    goes_to: str = ""
    address: str = ""


@dataclass(frozen=True)
class LabelSheet:
    """The shelf labels of a job, one small sheet each."""

    letterhead: Letterhead
    party: Party
    job_no: str
    title: str
    issued_on: str
    drawn_by: str
    labels: tuple[ShelfLabel, ...]
    not_done: tuple[str, ...] = ()

    kind: ClassVar[str] = "label"
