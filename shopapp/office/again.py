"""Same again: a new job from an earlier one, with its pieces, cuts and price sheet.

What was seen, weighed, measured or said of the old pieces is never copied: these are other pieces.
"""

from dataclasses import replace
from datetime import datetime

from sqlmodel import Session, exists, select

from shopapp.office import cutting, history, jobs, quotes
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.jobs import JobFacts, PieceAsk
from shopapp.office.tables.customers import Customer
from shopapp.office.tables.jobs import Job, Piece

RECENT_JOBS = 40
"""How far back in the newest jobs the strip of recent customers looks."""


def recent(db: Session, *, most: int = 6) -> list[tuple[int, str]]:
    """The customers of the newest jobs, row and name, the newest first."""
    newest = db.exec(
        select(Customer.id, Customer.name)
        .join(Job, Job.customer_id == Customer.id)
        .order_by(Job.no.desc())
        .limit(RECENT_JOBS)
    )
    found: dict[int, str] = {row[0]: row[1] for row in newest}
    return list(found.items())[:most]


def last_job(db: Session, customer_id: int) -> JobFacts | None:
    """The customer's newest job with pieces, to be done again."""
    found = db.exec(
        select(Job.id)
        .where(Job.customer_id == customer_id, exists().where(Piece.job_id == Job.id, Piece.rework_of.is_(None)))
        .order_by(Job.no.desc())
    ).first()
    return jobs.by_id(db, found) if found else None


def same_again(db: Session, *, job_id: int, now: datetime, by: int) -> int:
    """Open the same job again for the same customer; gives its number. What could not be copied stands in its book."""
    old = jobs.by_id(db, job_id)
    asks = tuple(
        PieceAsk(piece.variant_id, piece.goes_to, piece.machine)
        for piece in jobs.pieces(db, job_id)
        if piece.rework_of is None
    )
    if not asks:
        raise InTheWay(f"Job {old.no} has no piece to be done again. Open a new job.")
    asked = f"same again as job {old.no}"
    no = jobs.open_job(
        db, customer_id=old.customer_id, title=old.title, asked=asked, pieces=asks, now=now, by=by
    )  # fmt: skip
    new = jobs.by_no(db, no).id
    _copy_cuts(db, job_id, new, now, by)
    _copy_price(db, job_id, new, len(asks), now, by)
    return no


def _copy_cuts(db: Session, old: int, new: int, now: datetime, by: int) -> None:
    """The cuts as typed, summed anew on today's drawing. The web that was measured then is not copied with them."""
    wanted = {piece.variant_id for piece in jobs.pieces(db, new)}
    for (_, variant_id), plan in sorted(cutting.newest_plans(db, {old}).items()):
        if variant_id not in wanted:
            continue
        typed = replace(plan.typed, web="", web_note="")
        try:
            cutting.keep_cuts(db, job_id=new, variant_id=variant_id, typed=typed, now=now, by=by)
        except TryAgain as refusal:
            words = f"the cuts were not copied, type them for these pieces: {refusal}"
            history.write(db, now=now, by=by, act="same again", words=words, job_id=new)


def _copy_price(db: Session, old: int, new: int, pieces: int, now: datetime, by: int) -> None:
    """The price sheet that was agreed, or the last one, as a draft at today's rate; no rush, no discount of then."""
    last = quotes.agreed_quote(db, old) or next(iter(quotes.of_job(db, old)[::-1]), None)
    if last is None:
        return
    typed = replace(last.pricing, pieces=str(pieces), rush=False, discount="", discount_reason="", held=None)
    try:
        quotes.keep_draft(db, job_id=new, typed=typed, now=now, by=by)
    except TryAgain as refusal:
        words = f"the price sheet was not copied, draw it up anew: {refusal}"
        history.write(db, now=now, by=by, act="same again", words=words, job_id=new)
