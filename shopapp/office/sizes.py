"""Sizes measured on a piece: as typed, with the instrument; two statements about one thing are held together."""

from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session, select

from shopapp.bench import clash, quantities
from shopapp.bench.errors import BenchError
from shopapp.office import equipment, history, jobs, slips
from shopapp.office.errors import TryAgain
from shopapp.office.tables.people import Person
from shopapp.office.tables.weighing import Size

INSTRUMENTS = {"caliper": 0.025, "micrometer": 0.003, "rule": 0.5, "tape": 1.0, "told, not measured": 0.0}
"""What an instrument is good to in a shop, plus or minus [mm]; common practice, no source."""


def instruments(db: Session) -> dict[str, float]:
    """What a size can be measured with, and what each is good to [mm]: the shop's own instruments, then their kinds."""
    return {one.name: one.good_to_mm for one in equipment.instruments(db)} | INSTRUMENTS


@dataclass(frozen=True)
class SizeFacts:
    """One measured size."""

    name: str
    typed: str
    unit: str
    mm: float
    instrument: str
    note: str
    initials: str
    at: datetime

    @property
    def echo(self) -> str:
        """The size in both units."""
        return quantities.echo_length(quantities.length(self.typed, self.unit))


def measure(
    db: Session, *, piece_id: int, name: str, typed: str, unit: str, instrument: str, note: str = "",
    sure: bool = False, now: datetime, by: int,
) -> None:  # fmt: skip
    """Write a measured size down; asks where the note beside it says something else.

    A size that looks like a slip of the unit or of a radius against last time's is asked about until one is `sure`.
    """
    piece = jobs.piece_row(db, piece_id)
    problems = {} if name.strip() else {"size_name": "Name what was measured, such as web or outside."}
    good_to = instruments(db)
    if instrument not in good_to:
        problems["instrument"] = "Choose what it was measured with."
    try:
        size = quantities.length(typed, unit)
        said = clash.statements(note)
    except BenchError as refusal:
        raise TryAgain({**problems, "size": str(refusal)}) from refusal
    found = [clash.clash(size, other, good_to.get(instrument, 0.0)) for other in said]
    if question := next((one.words for one in found if one), ""):
        problems["size_note"] = question
    if not sure and (question := slips.of_size(db, piece_id=piece_id, name=name, mm=size.amount)):
        problems["size_sure"] = question
    if problems:
        raise TryAgain(problems)
    db.add(
        Size(
            piece_id=piece_id, name=name.strip(), typed=" ".join(typed.split()), unit=unit, mm=size.amount,
            instrument=instrument, note=note.strip(), by_id=by, at=now,
        )
    )  # fmt: skip
    words = f"{name.strip()} {typed.strip()} ({quantities.echo_length(size)}), {instrument}"
    history.write(db, now=now, by=by, act="measured", words=words, job_id=piece.job_id, piece_id=piece_id)


def asks(db: Session, *, typed: str, unit: str, note: str, instrument: str) -> str:
    """The question that a half-typed size and the words beside it raise together, or an empty text."""
    if not (typed.strip() and note.strip()):
        return ""
    try:
        size = quantities.length(typed, unit)
        said = clash.statements(note)
    except BenchError:
        return ""
    good_to = instruments(db).get(instrument, 0.0)
    found = [clash.clash(size, other, good_to) for other in said]
    return next((one.words for one in found if one), "")


def of_piece(db: Session, piece_id: int) -> list[SizeFacts]:
    """The sizes of a piece in the order measured."""
    rows = db.exec(
        select(Size.name, Size.typed, Size.unit, Size.mm, Size.instrument, Size.note, Person.initials, Size.at)
        .join(Person, Person.id == Size.by_id)
        .where(Size.piece_id == piece_id)
        .order_by(Size.id)
    )
    return [SizeFacts(*row) for row in rows]


def echo(text: str, unit: str) -> str:
    """What a half-typed length says in both units; a hint where it cannot be read yet."""
    if not text.strip():
        return ""
    try:
        return quantities.echo_length(quantities.length(text, unit))
    except BenchError as hint:
        return str(hint)


def echo_mass(text: str, unit: str) -> str:
    """What a half-typed weight says in both units; a hint where it cannot be read yet."""
    if not text.strip():
        return ""
    try:
        return quantities.echo_mass(quantities.mass(text, unit))
    except BenchError as hint:
        return str(hint)
