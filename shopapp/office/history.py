"""The day book: every verb writes its line here, in the same transaction as the act."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session, func, select

from shopapp.office.tables.history import Event
from shopapp.office.tables.jobs import Job, Piece
from shopapp.office.tables.people import Person


@dataclass(frozen=True)
class Line:
    """One line of the day book."""

    at: datetime
    initials: str
    act: str
    words: str
    entered_at: datetime | None = None


ENTERED = "entered at"
"""Under this name a session keeps the hour at which acts of an earlier hour are written down."""


def entered_late(db: Session, at: datetime) -> None:
    """What is written in this session from now on was done earlier and is only entered now."""
    db.info[ENTERED] = at


def write(
    db: Session,
    *,
    now: datetime,
    by: int,
    act: str,
    words: str,
    customer_id: int | None = None,
    job_id: int | None = None,
    piece_id: int | None = None,
) -> None:
    """Add a line: who did what, when, and to what. A line of a piece is one of its job, and that of its customer."""
    if job_id is None and piece_id is not None and (piece := db.get(Piece, piece_id)):
        job_id = piece.job_id
    if customer_id is None and job_id is not None and (job := db.get(Job, job_id)):
        customer_id = job.customer_id
    whose = {"customer_id": customer_id, "job_id": job_id, "piece_id": piece_id}
    db.add(Event(at=now, by_id=by, act=act, words=words, entered_at=db.info.get(ENTERED), **whose))


def changes(was: Mapping[str, object], now: Mapping[str, object], called: Mapping[str, str]) -> str:
    """What was written over, with what stood there before: "terms 30 → 14 days"; empty where nothing changed.

    `called` says what a fact is called, with its unit after a bar: "terms|days".
    """
    told = []
    for name, new in now.items():
        if was[name] == new:
            continue
        label, _, unit = called.get(name, name.replace("_", " ")).partition("|")
        told.append(f"{label} {_shown(was[name])} → {_shown(new)}{' ' if unit else ''}{unit}")
    return "; ".join(told)


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return " ".join(str("" if value is None else value).split()) or "none"


def of_job(db: Session, job_id: int, most: int = 200) -> list[Line]:
    """The newest lines of a job first."""
    return _lines(db, Event.job_id == job_id, most)


def of_piece(db: Session, piece_id: int, most: int = 200) -> list[Line]:
    """The newest lines of a piece first."""
    return _lines(db, Event.piece_id == piece_id, most)


def of_customer(db: Session, customer_id: int, most: int = 200) -> list[Line]:
    """The newest lines of a customer first, those of their jobs among them."""
    return _lines(db, Event.customer_id == customer_id, most)


def of_act(db: Session, act: str, most: int = 50) -> list[Line]:
    """The newest lines of one kind of act first."""
    return _lines(db, Event.act == act, most)


def of_the_shop(db: Session, most: int = 200) -> list[Line]:
    """The newest lines of the shop's own book first: rates, taxes, words, numbers, whatever hangs on no job."""
    nobody = Event.customer_id.is_(None) & Event.job_id.is_(None) & Event.piece_id.is_(None)
    return _lines(db, nobody, most)


def of_piece_since(db: Session, piece_id: int, seen: int, *, but_by: int) -> list[Line]:
    """What others than this person wrote of a piece after the line that was seen, newest first."""
    return _lines(db, (Event.piece_id == piece_id) & (Event.id > seen) & (Event.by_id != but_by), 20)


def newest_of_piece(db: Session, piece_id: int) -> int:
    """The row of the newest line of a piece; 0 where there is none."""
    return db.exec(select(func.max(Event.id)).where(Event.piece_id == piece_id)).one() or 0


def _lines(db: Session, where: object, most: int) -> list[Line]:
    rows = db.exec(
        select(Event.at, Person.initials, Event.act, Event.words, Event.entered_at)
        .join(Person, Person.id == Event.by_id)
        .where(where)
        .order_by(Event.id.desc())
        .limit(most)
    )
    return [Line(*row) for row in rows]


def initials(db: Session, person_id: int) -> str:
    """The initials of a person, as they stand on papers."""
    return db.exec(select(Person.initials).where(Person.id == person_id)).one()
