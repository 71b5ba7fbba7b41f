"""How a job's story is written down: a row with its days, its pieces, its money, and what else happened."""

from dataclasses import dataclass, field
from typing import Any

from shopapp.office.invoices_lines import LineTyped
from shopapp.office.pricing import ExtraTyped
from shopapp.office.runcard import CardTyped

__all__ = ["Also", "CardTyped", "ExtraTyped", "JobRow", "LineTyped", "Paid", "PieceRow", "Price", "Struck"]


@dataclass(frozen=True)
class Struck:
    """A reading that was wrong and is struck through: before or after, on which scale, and why."""

    phase: str
    scale: str
    typed: str
    why: str


@dataclass(frozen=True)
class PieceRow:
    """A piece: which variant is asked for, its machine (none: the customer's shelf), its weights as typed.

    `sign` is the variant whose sign is seen, where it is not the one asked for; `until` is where the piece's way ends
    before its job's days would take it further: expected, rack, chuck or spoiled. `settled` is what was said on the
    phone of a spoiled piece, and who pays for what.
    """

    variant: str
    machine: str = ""
    before: str = ""
    after: str = ""
    scale: str = "CNTR"
    struck: Struck | None = None
    until: str = ""
    why: str = ""
    gone: str = ""
    note: str = ""
    rework_of: tuple[int, int] | None = None
    settled: tuple[str, str] = ("", "")


@dataclass(frozen=True)
class Price:
    """Minutes for the first piece in the chuck, each further one and cutting; a price agreed on goes before them."""

    minutes: tuple[int, int, int]


@dataclass(frozen=True)
class Paid:
    """Money that came in; before the bill it is a deposit."""

    day: str
    amount: str
    how: str
    reference: str = ""


@dataclass(frozen=True)
class Also:
    """Something that happened besides the usual way of a job: a day, a verb of acts.py, what is told."""

    day: str
    verb: str
    told: dict[str, Any] = field(default_factory=dict)
    hour: int = 11
    minute: int = 0


@dataclass(frozen=True)
class JobRow:
    """A job's story. A day left empty did not come; `ready` and `called` follow `done` where they are None.

    With `run` its clock is that of its cut run, and stands among what else happened.
    """

    no: int
    customer: str
    title: str
    opened: str
    asked: str = ""
    pieces: tuple[PieceRow, ...] = ()
    count: int = 0
    price: Price | None = None
    extras: tuple[ExtraTyped, ...] = ()
    rush: bool = False
    quoted: str = ""
    agreed: str = ""
    how: str = "phone"
    order: str = ""
    promised: str = ""
    place: str = ""
    came: str = ""
    cut: str = ""
    done: str = ""
    ready: str | None = None
    called: str | None = None
    next_try: str = ""
    gone: str = ""
    billed: str = ""
    spent: int = 0
    run: bool = False
    lines: tuple[LineTyped, ...] = ()
    paid: tuple[Paid, ...] = ()
    also: tuple[Also, ...] = ()

    @property
    def ready_on(self) -> str:
        """The day the ready notice went out."""
        return self.done if self.ready is None else self.ready

    @property
    def called_on(self) -> str:
        """The day the customer was told."""
        return self.ready_on if self.called is None else self.called

    def gone_on(self, piece: PieceRow) -> str:
        """The day a piece left."""
        return piece.gone or self.gone
