"""Trouble at the cut: a note with its photo, shown first the next time this kind comes in."""

from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session, select

from shopapp.office import history, jobs, photos
from shopapp.office.errors import NotHere, TryAgain
from shopapp.office.photos import Kept
from shopapp.office.tables.cutrun import Trouble
from shopapp.office.tables.jobs import Job, Piece
from shopapp.office.tables.people import Person


@dataclass(frozen=True)
class TroubleFacts:
    """A note of trouble."""

    id: int
    job_no: int
    piece_n: int | None
    variant_id: int | None
    photo_id: int | None
    words: str
    initials: str
    at: datetime

    @property
    def number(self) -> str:
        """Where it was: the piece, or the job."""
        return f"{self.job_no}-{self.piece_n}" if self.piece_n else f"job {self.job_no}"


def note(
    db: Session, *, job_id: int, words: str, piece_id: int | None = None, variant_id: int | None = None,
    photo: Kept | None = None, now: datetime, by: int,
) -> int:  # fmt: skip
    """Write down what went wrong at the cut; the note belongs to the kind of the piece where none is named."""
    if not words.strip():
        raise TryAgain({"words": "Write what went wrong, and what helped, in a few words."})
    job = jobs.job_row(db, job_id)
    if piece_id is not None:
        piece = jobs.piece_row(db, piece_id)
        if piece.job_id != job.id:
            raise NotHere("That piece is not in this job.")
        variant_id = variant_id or piece.variant_id
    photo_id = None
    if photo:
        told = {"piece_id": piece_id} if piece_id is not None else {"job_id": job_id}
        photo_id = photos.keep(db, what="trouble", photo=photo, words=words.strip()[:200], **told, now=now, by=by)
    row = Trouble(
        job_id=job_id, piece_id=piece_id, variant_id=variant_id, photo_id=photo_id, words=words.strip(), by_id=by,
        at=now,
    )  # fmt: skip
    db.add(row)
    db.flush()
    history.write(db, now=now, by=by, act="trouble", words=words.strip(), job_id=job_id, piece_id=piece_id)
    return row.id


def of_variant(db: Session, variant_id: int, most: int = 5) -> list[TroubleFacts]:
    """The trouble with a kind, the newest first."""
    return _listed(db, Trouble.variant_id == variant_id, most)


def of_job(db: Session, job_id: int, most: int = 20) -> list[TroubleFacts]:
    """The trouble in a job, the newest first."""
    return _listed(db, Trouble.job_id == job_id, most)


def _listed(db: Session, where: object, most: int) -> list[TroubleFacts]:
    rows = db.exec(
        select(
            Trouble.id, Job.no, Piece.n, Trouble.variant_id, Trouble.photo_id, Trouble.words, Person.initials,
            Trouble.at,
        )
        .join(Job, Job.id == Trouble.job_id)
        .outerjoin(Piece, Piece.id == Trouble.piece_id)
        .join(Person, Person.id == Trouble.by_id)
        .where(where)
        .order_by(Trouble.id.desc())
        .limit(most)
    )  # fmt: skip
    return [TroubleFacts(*row) for row in rows]
