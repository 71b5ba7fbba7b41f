"""Quoted minutes against those that the same kinds took before, for the owner: corrected, with their range."""

from dataclasses import dataclass

from sqlmodel import Session, col, func, select

from shopapp.bench import estimates
from shopapp.office import jobs, quotes, workings
from shopapp.office.sheets.working import WorkingSheet
from shopapp.office.tables.jobs import Job, Piece, Spent

OVER = ("checked", "shelf", "gone")
MOST = 40


@dataclass(frozen=True)
class Before:
    """An earlier job of these kinds: its quoted minutes and those written down [min]."""

    job_no: int
    quoted: int
    actual: int


@dataclass(frozen=True)
class CorrectedFacts:
    """What the history says of a sheet's minutes, for the owner; `enough` where it corrects them."""

    enough: bool
    minutes: float
    words: str
    before: tuple[Before, ...]
    workings: tuple[WorkingSheet, ...]


def before(db: Session, job_id: int) -> tuple[Before, ...]:
    """Earlier jobs with a piece of a kind in this job, wholly done, quoted and timed; the newest first."""
    kinds = {piece.variant_id for piece in jobs.pieces(db, job_id) if piece.variant_id}
    with_one = select(Piece.job_id).where(Piece.variant_id.in_(kinds))
    open_ones = select(Piece.job_id).where(Piece.custody.not_in(OVER))
    rows = db.exec(
        select(Job.id, Job.no, func.sum(Spent.minutes))
        .join(Spent, Spent.job_id == Job.id)
        .where(Job.id != job_id, Job.id.in_(with_one), Job.id.not_in(open_ones), Job.ended.is_(None))
        .group_by(Job.id, Job.no)
        .order_by(col(Job.no).desc())
        .limit(MOST)
    ).all()
    told = ((no, quotes.agreed_quote(db, one), int(spent)) for one, no, spent in rows)
    return tuple(Before(no, quote.minutes, spent) for no, quote, spent in told if quote and quote.minutes and spent > 0)


def corrected(db: Session, *, job_id: int, minutes: int) -> CorrectedFacts | None:
    """A sheet's minutes corrected by what these kinds took before; nothing for a sheet without minutes."""
    if minutes <= 0:
        return None
    told = before(db, job_id)
    found = estimates.corrected(minutes, [(one.quoted, one.actual) for one in told])
    inputs = (
        ("this sheet", f"{minutes} min"),
        *((f"job {one.job_no}", f"quoted {one.quoted} min, took {one.actual} min") for one in told),
    )
    sheet = workings.of(
        estimates.corrected, figure="minutes by what it took before", value=f"{found.minutes:.0f} min", inputs=inputs
    )
    return CorrectedFacts(found.ratio is not None, found.minutes, found.words, told, (sheet,))
