"""What the story tells of the run at the machine: settings of the jaws, truing, the cut of one piece, trouble."""

from datetime import datetime
from typing import Any

from shopapp.demo.book import Book
from shopapp.demo.pictures import picture
from shopapp.demo.rows import JobRow
from shopapp.office import chuck, cutrun, trouble, truing
from shopapp.office.clock import TICKS
from shopapp.office.runcard import CardTyped
from shopapp.office.truing import TruingTyped


def plan(book: Book, job: JobRow, now: datetime, machine: str, holds: dict[str, str], card: CardTyped) -> None:
    """The settings of a job, every kind of it held the same way on a side."""
    wanted = {
        (one.variant_id, side): holds[side] for one in chuck.sides(book.db, book.job(job.no)) for side in one.sides
    }
    chuck.plan(
        book.db, job_id=book.job(job.no), holds=wanted, typed=card, machine_id=book.machines[machine],
        **book.signed(now, "JT"),
    )  # fmt: skip


def _setting(book: Book, job: JobRow, setting: int) -> int | None:
    return chuck.setting(book.db, book.job(job.no), setting).setting.id if setting else None


def true(
    book: Book, job: JobRow, now: datetime, n: int, stage: str, readings: dict[str, str], setting: int = 0,
    diameter: str = "",
) -> None:  # fmt: skip
    """Indicator readings in tenths round a piece, by surface; a face needs to be told at which diameter."""
    for surface, told in readings.items():
        typed = TruingTyped("tenth", tuple(told.split()), diameter if surface == "face" else "")
        truing.keep(
            book.db, piece_id=book.piece(job.no, n).id, surface=surface, stage=stage, typed=typed,
            setting_id=_setting(book, job, setting), **book.signed(now, "JT"),
        )  # fmt: skip


def cut(book: Book, job: JobRow, now: datetime, n: int, setting: int) -> None:
    """Both ticks are made, and the clock starts with the cut."""
    cutrun.start(
        book.db, setting_id=_setting(book, job, setting) or 0, piece_id=book.piece(job.no, n).id, ticks=tuple(TICKS),
        **book.signed(now, "JT"),
    )  # fmt: skip


def cut_done(book: Book, job: JobRow, now: datetime, n: int, setting: int) -> None:
    """A piece is done in a setting; the clock stops."""
    cutrun.done(
        book.db, setting_id=_setting(book, job, setting) or 0, piece_id=book.piece(job.no, n).id,
        **book.signed(now, "JT"),
    )  # fmt: skip


def note(book: Book, job: JobRow, now: datetime, n: int, **told: Any) -> None:
    """Trouble at the cut, with its photo."""
    trouble.note(
        book.db, job_id=book.job(job.no), piece_id=book.piece(job.no, n).id, photo=picture(job.no, n, "damage"),
        **told, **book.signed(now, "JT"),
    )  # fmt: skip
