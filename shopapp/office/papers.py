"""Issued papers: the sheet is frozen with its hash at issue; the bytes are kept at the first pressing."""

from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session, func, select

from shopapp.office.errors import NotHere
from shopapp.office.sheets.canon import Sheet, from_json, sha256, to_json
from shopapp.office.tables.jobs import Job
from shopapp.office.tables.papers import Paper, Pressed


@dataclass(frozen=True)
class PaperFacts:
    """An issued paper, without its sheet."""

    id: int
    kind: str
    number: str
    sha256: str
    at: datetime


def freeze(
    db: Session, sheet: Sheet, *, number: str, job_id: int | None = None, customer_id: int | None = None,
    now: datetime, by: int,
) -> int:  # fmt: skip
    """Keep a sheet as issued, of a job or of a customer; gives the paper's row id."""
    text = to_json(sheet)
    paper = Paper(
        kind=sheet.kind, number=number, job_id=job_id, customer_id=customer_id, sheet=text, sha256=sha256(text),
        by_id=by, at=now,
    )  # fmt: skip
    db.add(paper)
    db.flush()
    return paper.id


def sheet(db: Session, kind: str, number: str) -> tuple[Sheet, str]:
    """The newest issued sheet of that kind and number, and its hash."""
    row = db.exec(
        select(Paper.sheet, Paper.sha256).where(Paper.kind == kind, Paper.number == number).order_by(Paper.id.desc())
    ).first()
    if row is None:
        raise NotHere(f"No {kind} {number} was issued.")
    return from_json(kind, row[0]), row[1]


def by_hash(db: Session, digest: str) -> Sheet:
    """The issued sheet with this hash."""
    row = db.exec(select(Paper.kind, Paper.sheet).where(Paper.sha256 == digest)).first()
    if row is None:
        raise NotHere("That paper is not in the book.")
    return from_json(row[0], row[1])


def of_job(db: Session, job_id: int) -> list[PaperFacts]:
    """The papers of a job, newest first."""
    rows = db.exec(
        select(Paper.id, Paper.kind, Paper.number, Paper.sha256, Paper.at)
        .where(Paper.job_id == job_id)
        .order_by(Paper.id.desc())
    )
    return [PaperFacts(*row) for row in rows]


def of_customer(db: Session, customer_id: int) -> list[PaperFacts]:
    """The papers that belong to a customer and to no one job, such as statements, newest first."""
    rows = db.exec(
        select(Paper.id, Paper.kind, Paper.number, Paper.sha256, Paper.at)
        .where(Paper.customer_id == customer_id, Paper.job_id.is_(None))
        .order_by(Paper.id.desc())
    )
    return [PaperFacts(*row) for row in rows]


def newest(db: Session, kind: str, job_nos: list[int]) -> dict[int, str]:
    """The number of the newest paper of a kind for each of these jobs that has one, by the job's number."""
    rows = db.exec(
        select(Job.no, Paper.number)
        .join(Job, Job.id == Paper.job_id)
        .where(Paper.kind == kind, Job.no.in_(job_nos))
        .order_by(Paper.id)
    )
    return dict(rows.all())


def count(db: Session, kind: str, *, job_id: int | None = None, customer_id: int | None = None) -> int:
    """How many papers of a kind a job, or a customer, has; the next one's number is one more."""
    whose = Paper.job_id == job_id if job_id else Paper.customer_id == customer_id
    return int(db.exec(select(func.count(Paper.id)).where(Paper.kind == kind, whose)).one())


def issued(db: Session, kind: str, number: str) -> bool:
    """Whether a paper of that kind and number was issued."""
    return db.exec(select(Paper.id).where(Paper.kind == kind, Paper.number == number)).first() is not None


def pressed(db: Session, digest: str) -> bytes | None:
    """The bytes pressed from the sheet with this hash, if it was pressed before."""
    return db.exec(select(Pressed.pdf).where(Pressed.sha256 == digest)).first()


def keep_pressed(db: Session, digest: str, pdf: bytes, *, now: datetime) -> None:
    """Keep the first pressing; a second one of the same sheet is let go."""
    if pressed(db, digest) is None:
        db.add(Pressed(sha256=digest, pdf=pdf, at=now))
        db.flush()
