"""The day book: every verb writes its line here, in the same transaction as the act."""

from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session, func, select

from shopapp.office.tables.history import Event
from shopapp.office.tables.people import Person


@dataclass(frozen=True)
class Line:
    """One line of the day book."""

    at: datetime
    initials: str
    act: str
    words: str


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
    """Add a line: who did what, when, and to what."""
    db.add(Event(at=now, by_id=by, act=act, words=words, customer_id=customer_id, job_id=job_id, piece_id=piece_id))


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
        select(Event.at, Person.initials, Event.act, Event.words)
        .join(Person, Person.id == Event.by_id)
        .where(where)
        .order_by(Event.id.desc())
        .limit(most)
    )
    return [Line(*row) for row in rows]


def initials(db: Session, person_id: int) -> str:
    """The initials of a person, as they stand on papers."""
    return db.exec(select(Person.initials).where(Person.id == person_id)).one()
