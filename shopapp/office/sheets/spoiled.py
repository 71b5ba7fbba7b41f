"""The record of a piece that was spoiled: what happened, who was told what and when, what was agreed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from shopapp.office.sheets.letterhead import Letterhead, Party
from shopapp.office.sheets.question import Shown


@dataclass(frozen=True)
class SaidRow:
    """One call or talk: when, who of the shop, with whom, how, and what was said, word for word."""

    when: str
    by: str
    whom: str
    how: str
    said: str


@dataclass(frozen=True)
class KeptRow:
    """A weight or a size that was measured and is kept: what, as typed with its unit, by what, when and by whom;
    `struck` is the reason where it was struck through."""

    what: str
    text: str
    instrument: str = ""
    when: str = ""
    struck: str = ""


@dataclass(frozen=True)
class SpoiledSheet:
    """One spoiled piece. `happened_at` and `stopped_at` are texts as printed; `money` are pairs of words and amount as
    printed; `declared` and `risk` as on the stub; `stays` says where the piece is now. `shown` are the pictures
    themselves; records issued long ago have the words of their photos only, and no `number` of their own."""

    letterhead: Letterhead
    party: Party
    job_no: str
    title: str
    issued_on: str
    drawn_by: str
    piece: str
    name: str
    happened: str
    happened_at: str = ""
    found_by: str = ""
    setting: str = ""
    state_in: str = ""
    declared: str = ""
    risk: str = ""
    said: tuple[SaidRow, ...] = ()
    agreed: str = ""
    agreed_by: str = ""
    money: tuple[tuple[str, str], ...] = ()
    photos: tuple[str, ...] = ()
    weights: tuple[KeptRow, ...] = ()
    sizes: tuple[KeptRow, ...] = ()
    stays: str = ""
    not_done: tuple[str, ...] = ()
    address: str = ""
    number: str = ""
    shown: tuple[Shown, ...] = ()

    kind: ClassVar[str] = "spoiled"
