"""Where a series of numbers begins: a shop that had a paper book before goes on from its last number."""

from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session, exists, select

from shopapp.office import history, numbering
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.tables.invoices import CreditNote, Invoice
from shopapp.office.tables.jobs import Job
from shopapp.office.tables.shopbook import Counter

WORDS = {"job": "jobs", "invoice": "invoices", "credit": "credit notes"}
TABLES = {"job": Job, "invoice": Invoice, "credit": CreditNote}
HIGHEST = 9_999_999


@dataclass(frozen=True)
class SeriesFacts:
    """A series: the number that comes next, and whether one was given out already."""

    code: str
    words: str
    next_number: int
    used: bool


def every(db: Session) -> list[SeriesFacts]:
    """Every series of numbers without gaps."""
    begun = dict(db.exec(select(Counter.name, Counter.next_number)).all())
    return [
        SeriesFacts(code, words, begun.get(code, numbering.FIRST[code]), _used(db, code))
        for code, words in WORDS.items()
    ]


def begin(db: Session, *, code: str, number: int, now: datetime, by: int) -> None:
    """Let a series begin at a number; only while none was given out, for a gap would have to be explained."""
    if code not in WORDS:
        raise TryAgain({"series": f"Which numbers? {', '.join(WORDS.values())}."})
    if not 1 <= number <= HIGHEST:
        raise TryAgain({f"begin_{code}": f"A number from 1 to {HIGHEST}, please."})
    if _used(db, code):
        raise InTheWay(f"A number of the {WORDS[code]} was given out already, so the series goes on from there.")
    row = db.get(Counter, code, with_for_update=True) or Counter(name=code, next_number=number)
    row.next_number = number
    db.add(row)
    db.flush()
    history.write(db, now=now, by=by, act="numbers", words=f"{WORDS[code]} begin at {number}")


def _used(db: Session, code: str) -> bool:
    return bool(db.exec(select(exists().where(TABLES[code].id.is_not(None)))).one())
