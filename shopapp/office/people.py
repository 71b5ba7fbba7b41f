"""Who works here; their initials stand on every act."""

from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session, select

from shopapp.office import history
from shopapp.office.errors import TryAgain
from shopapp.office.tables.people import Person


@dataclass(frozen=True)
class Hand:
    """One person."""

    id: int
    initials: str
    name: str


def add(db: Session, *, initials: str, name: str, now: datetime, by: int | None = None) -> int:
    """Enter a person; initials are two to four letters, and nobody else's."""
    mark = initials.strip().upper()
    if not (2 <= len(mark) <= 4 and mark.isalpha()):
        raise TryAgain({"initials": "Initials are two to four letters, such as WK."})
    if not name.strip():
        raise TryAgain({"person": "Write the name that belongs to the initials."})
    if by_initials(db, mark):
        raise TryAgain({"initials": f"{mark} is taken. Add a letter."})
    person = Person(initials=mark, name=name.strip())
    db.add(person)
    db.flush()
    history.write(db, now=now, by=by or person.id, act="person", words=f"{mark} is {person.name}")
    return person.id


def everyone(db: Session) -> list[Hand]:
    """All who work here, by initials."""
    rows = db.exec(select(Person.id, Person.initials, Person.name).where(Person.works_here).order_by(Person.initials))
    return [Hand(*row) for row in rows]


def by_initials(db: Session, initials: str) -> Hand | None:
    """The person with these initials."""
    row = db.exec(
        select(Person.id, Person.initials, Person.name).where(Person.initials == initials.strip().upper())
    ).first()
    return Hand(*row) if row else None
