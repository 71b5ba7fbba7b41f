"""The job ticket that lies at the bench: what is cut where, how it is held, what was weighed, what to watch."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from shopapp.office.sheets.letterhead import Letterhead, Party
from shopapp.office.sheets.removal import RemovalSheet
from shopapp.office.sheets.section import SectionSheet


@dataclass(frozen=True)
class TicketPiece:
    """One piece on the weigh slip. `before` is the weight with its unit, and `scale` the one that showed it; empty
    ones are written by hand. `waived`: what it is cut without ("not weighed before")."""

    number: str
    name: str
    sign: str = ""
    goes_to: str = ""
    place: str = ""
    before: str = ""
    scale: str = ""
    predicted: str = ""
    condition: str = ""
    loose: tuple[str, ...] = ()
    waived: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class WebRow:
    """A web or wall: what it is now, what comes off it, what is left and the least, each as text in both units."""

    name: str
    before: str
    take: str
    left: str
    least: str = ""


@dataclass(frozen=True)
class TicketKind:
    """What is done to pieces of one variant. `twins` are pairs of a look-alike's name and the sign it is told by;
    `jaws_off` what no jaw may press on; `cuts` stand in where no removal could be worked out: side, words, sizes as
    typed. `checks` are pairs of a size to be measured and its plan. `trouble` is what went wrong last time."""

    name: str
    pieces: tuple[str, ...]
    sign: str = ""
    signs: tuple[str, ...] = ()
    twins: tuple[tuple[str, str], ...] = ()
    section: SectionSheet | None = None
    removal: RemovalSheet | None = None
    cuts: tuple[tuple[str, str, str], ...] = ()
    keep_outs: tuple[str, ...] = ()
    jaws_off: tuple[str, ...] = ()
    webs: tuple[WebRow, ...] = ()
    checks: tuple[tuple[str, str], ...] = ()
    last_time: str = ""
    trouble: tuple[str, ...] = ()


@dataclass(frozen=True)
class PassRow:
    """One pass or a run of alike ones ("1-4"): its depth, what is dialled for it, and the dial in all after it."""

    number: str
    depth: str
    dial: str
    dial_so_far: str = ""
    note: str = ""


@dataclass(frozen=True)
class CutCard:
    """One cut in a setting: words and sizes, speed and feed in words, and its passes."""

    words: str
    speed: str = ""
    passes: tuple[PassRow, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class StopSum:
    """Back-off less the extra feed of the last pass is the clearance that stays to a keep-out; `ok`: not under the
    least. `piece` where not for all."""

    back_off: str
    extra: str
    clearance: str
    least: str = ""
    ok: bool = True
    piece: str = ""


@dataclass(frozen=True)
class SettingCard:
    """One setting of the jaws: how it holds, which side of which pieces, on which machine; `true_to` is the datum and
    the limit of truing; `interrupted` names voids that the tool passes over."""

    number: str
    side: str
    hold: str
    pieces: tuple[str, ...]
    machine: str = ""
    true_to: str = ""
    stops: tuple[StopSum, ...] = ()
    cuts: tuple[CutCard, ...] = ()
    minutes: str = ""
    chuck_limit: str = ""
    interrupted: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class TicketSheet:
    """The job ticket. `watch` are the bench's cautions (key, turning by hand, chips, dust); `weights_note` says what
    the scale can judge; `tie` names the job that this one puts right; `promised_words` what was promised to go with
    it; `late` stands where it was entered afterwards."""

    letterhead: Letterhead
    party: Party
    job_no: str
    title: str
    issued_on: str
    drawn_by: str
    pieces: tuple[TicketPiece, ...]
    kinds: tuple[TicketKind, ...] = ()
    settings: tuple[SettingCard, ...] = ()
    address: str = ""
    asked: str = ""
    wanted: str = ""
    promised: str = ""
    order_number: str = ""
    rush: str = ""
    tie: str = ""
    promised_words: tuple[str, ...] = ()
    watch: tuple[str, ...] = ()
    not_done: tuple[str, ...] = ()
    weights_note: str = ""
    late: str = ""
    number: str = ""
    approved: str = ""

    kind: ClassVar[str] = "ticket"
