"""What holds a job up: a question to the customer, or material on order; the answer is kept word for word."""

from dataclasses import dataclass
from datetime import date, datetime

from sqlmodel import Session, select

from shopapp.office import clock, history
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.tables.jobs import Stop
from shopapp.office.tracks import WAITS_FOR


@dataclass(frozen=True)
class StopFacts:
    """What holds a job up."""

    id: int
    waits_for: str
    question: str
    whom: str
    asked_at: datetime
    ask_again_on: date | None
    answer: str
    answered_at: datetime | None


def stop(
    db: Session, *, job_id: int, waits_for: str, question: str, whom: str = "", ask_again_on: date | None = None,
    now: datetime, by: int,
) -> int:  # fmt: skip
    """Stop a job with a question to the customer, or for material; its clocks stop with it."""
    if not question.strip():
        raise TryAgain({"question": "Write the question, or what is on order, word for word."})
    if waits_for not in WAITS_FOR:
        raise TryAgain({"waits_for": "Say what the job waits for: the customer, or material."})
    row = Stop(
        job_id=job_id, waits_for=waits_for, question=question.strip(), whom=whom.strip(), asked_at=now, asked_by=by,
        ask_again_on=ask_again_on,
    )  # fmt: skip
    db.add(row)
    db.flush()
    clock.stop_on_job(db, job_id=job_id, now=now, by=by)
    history.write(db, now=now, by=by, act="stopped", words=question.strip(), job_id=job_id)
    return row.id


def ask_again(db: Session, *, stop_id: int, next_on: date | None, words: str = "", now: datetime, by: int) -> None:
    """The question was asked once more."""
    row = _stop_row(db, stop_id)
    row.ask_again_on = next_on
    db.add(row)
    history.write(db, now=now, by=by, act="asked again", words=words or row.question, job_id=row.job_id)


def answer(db: Session, *, stop_id: int, words: str, now: datetime, by: int) -> None:
    """The answer, word for word; the job goes on."""
    if not words.strip():
        raise TryAgain({"answer": "Write the answer word for word; it settles arguments later."})
    row = _stop_row(db, stop_id)
    if row.answered_at:
        raise InTheWay("That question has its answer already.")
    row.answer, row.answered_at = words.strip(), now
    db.add(row)
    history.write(db, now=now, by=by, act="answered", words=words.strip(), job_id=row.job_id)


def stops(db: Session, job_id: int) -> list[StopFacts]:
    """The stops of a job, open ones first."""
    columns = [getattr(Stop, name) for name in StopFacts.__dataclass_fields__]
    rows = [StopFacts(*row) for row in db.exec(select(*columns).where(Stop.job_id == job_id).order_by(Stop.id))]
    return sorted(rows, key=lambda row: row.answered_at is not None)


def _stop_row(db: Session, stop_id: int) -> Stop:
    row = db.get(Stop, stop_id)
    if row is None:
        raise NotHere("That question is not in the book.")
    return row
