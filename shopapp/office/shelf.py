"""The customer's own shelf: what lies there as far as we were told, and what they have used from it."""

from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session, func, select

from shopapp.office import history, jobs
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.tables.customers import Customer, ShelfEntry
from shopapp.office.tables.jobs import Job, Piece
from shopapp.office.tables.parts import Part, Variant


@dataclass(frozen=True)
class OnShelf:
    """How many of a variant lie on a customer's shelf, and when that was last told."""

    variant_id: int
    part: str
    variant: str
    count: int
    told_at: datetime

    @property
    def name(self) -> str:
        """Part and variant."""
        return f"{self.part}, {self.variant}"


@dataclass(frozen=True)
class Used:
    """One was used: how many are left, and the newest job that a repeat would be like."""

    left: int
    variant_id: int
    last_job_no: int | None
    title: str

    @property
    def offer(self) -> str:
        """What to ask the customer."""
        left = "None is left" if self.left == 0 else f"{self.left} left"
        return f"{left} on their shelf. Order another, like job {self.last_job_no}?" if self.last_job_no else f"{left}."


def tally(db: Session, customer_id: int) -> list[OnShelf]:
    """What lies on a customer's shelf by variant; what was used up stays in the list with none."""
    rows = db.exec(
        select(Variant.id, Part.name, Variant.name, func.sum(ShelfEntry.change), func.max(ShelfEntry.at))
        .join(Variant, Variant.id == ShelfEntry.variant_id)
        .join(Part, Part.id == Variant.part_id)
        .where(ShelfEntry.customer_id == customer_id)
        .group_by(Variant.id, Part.name, Variant.name)
        .order_by(Part.name, Variant.name)
    )
    return [OnShelf(row[0], row[1], row[2], int(row[3]), row[4]) for row in rows]


def put(db: Session, *, piece_id: int, now: datetime, by: int) -> None:
    """A piece that was handed over goes to its customer's shelf; written once for a piece."""
    piece = db.get(Piece, piece_id)
    job = db.get(Job, piece.job_id) if piece else None
    if piece is None or job is None or piece.variant_id is None:
        return
    if db.exec(select(ShelfEntry.id).where(ShelfEntry.piece_id == piece_id)).first():
        return
    number = f"{job.no}-{piece.n}"
    db.add(
        ShelfEntry(
            customer_id=job.customer_id, variant_id=piece.variant_id, piece_id=piece_id, change=1, words=number,
            by_id=by, at=now,
        )
    )  # fmt: skip
    db.flush()
    history.write(
        db, now=now, by=by, act="shelf", words=f"{number} lies on their own shelf", customer_id=job.customer_id,
        job_id=job.id, piece_id=piece_id,
    )  # fmt: skip


def take_off(db: Session, *, piece_id: int, now: datetime, by: int) -> None:
    """A piece that lay on its customer's shelf is here again, to be put right; what was used up lies there no more."""
    piece = jobs.piece_row(db, piece_id)
    job = jobs.job_row(db, piece.job_id)
    put_there = db.exec(
        select(ShelfEntry.variant_id, func.sum(ShelfEntry.change))
        .where(ShelfEntry.piece_id == piece_id)
        .group_by(ShelfEntry.variant_id)
    ).first()
    if put_there is None or put_there[1] < 1:
        return
    lies = next((row.count for row in tally(db, job.customer_id) if row.variant_id == put_there[0]), 0)
    if lies > 0:
        words = f"{job.no}-{piece.n} came back to be put right"
        _write(db, job.customer_id, put_there[0], -1, words, now, by, piece_id=piece_id)


def use_one(db: Session, *, customer_id: int, variant_id: int, words: str = "", now: datetime, by: int) -> Used:
    """The customer has used one; gives what is left and which job a repeat would be like."""
    here = next((row for row in tally(db, customer_id) if row.variant_id == variant_id), None)
    if here is None or here.count < 1:
        raise InTheWay("By our tally none of these lies on their shelf. Put the tally right first.")
    _write(db, customer_id, variant_id, -1, words.strip() or "used one", now, by)
    last = db.exec(
        select(Job.no, Job.title)
        .join(Piece, Piece.job_id == Job.id)
        .where(Job.customer_id == customer_id, Piece.variant_id == variant_id)
        .order_by(Job.no.desc())
    ).first()
    no, title = last or (None, "")
    return Used(here.count - 1, variant_id, no, title)


def put_right(
    db: Session, *, customer_id: int, variant_id: int, count: int, words: str, now: datetime, by: int
) -> None:
    """The customer says how many lie there; the difference is written with the reason."""
    if db.get(Customer, customer_id) is None or db.get(Variant, variant_id) is None:
        raise NotHere("That customer or variant is not in the book.")
    here = next((row.count for row in tally(db, customer_id) if row.variant_id == variant_id), 0)
    problems = {} if words.strip() else {"words": "Write who counted, or why the tally was wrong."}
    if not 0 <= count <= 999:
        problems["count"] = "Write how many lie there, none or more."
    elif count == here:
        problems["count"] = f"The tally says {here} already."
    if problems:
        raise TryAgain(problems)
    _write(db, customer_id, variant_id, count - here, words.strip(), now, by)


def _write(
    db: Session, customer_id: int, variant_id: int, change: int, words: str, now: datetime, by: int,
    piece_id: int | None = None,
) -> None:  # fmt: skip
    db.add(
        ShelfEntry(
            customer_id=customer_id, variant_id=variant_id, piece_id=piece_id, change=change, words=words, by_id=by,
            at=now,
        )
    )  # fmt: skip
    db.flush()
    variant = db.get_one(Variant, variant_id)
    part = db.get_one(Part, variant.part_id)
    said = f"{part.name}, {variant.name}: {change:+d}, {words}"
    history.write(db, now=now, by=by, act="shelf", words=said, customer_id=customer_id, piece_id=piece_id)
