"""Where jobs stand: the facts of the three tracks, gathered for many jobs at once."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

from sqlmodel import Session, select

from shopapp.office import shopbook, sums
from shopapp.office.tables.invoices import Invoice, Payment
from shopapp.office.tables.jobs import Job, Piece, Stop
from shopapp.office.tables.quotes import GoAhead, Quote
from shopapp.office.tracks import Bill, Facts, PieceAt, Tracks, tracks


def of_jobs(db: Session, job_ids: list[int], *, now: datetime) -> dict[int, Tracks]:
    """The tracks of each job, in a handful of queries however many jobs."""
    shop = shopbook.the_shop(db)
    today, zone = shop.today(now), ZoneInfo(shop.zone)
    ended = dict(db.exec(select(Job.id, Job.ended).where(Job.id.in_(job_ids))).all())
    pieces: dict[int, list[PieceAt]] = {job_id: [] for job_id in job_ids}
    for job_id, custody, moved, fate in db.exec(
        select(Piece.job_id, Piece.custody, Piece.moved_at, Piece.fate)
        .where(Piece.job_id.in_(job_ids))
        .order_by(Piece.n)
    ):
        pieces[job_id].append(PieceAt(custody, moved.astimezone(zone).date(), fate))
    stops: dict[int, list[tuple[str, date]]] = {job_id: [] for job_id in job_ids}
    for job_id, waits_for, asked in db.exec(
        select(Stop.job_id, Stop.waits_for, Stop.asked_at)
        .where(Stop.job_id.in_(job_ids), Stop.answered_at.is_(None))
        .order_by(Stop.id)
    ):
        stops[job_id].append((waits_for, asked.astimezone(zone).date()))
    quoted = _quoted(db, job_ids)
    agreed = set(db.exec(select(GoAhead.job_id).where(GoAhead.job_id.in_(job_ids))).all())
    bills, held = bills_of(db, job_ids), held_of(db, job_ids)
    return {
        job_id: tracks(
            Facts(
                today=today, ended=ended.get(job_id), pieces=tuple(pieces[job_id]), stops=tuple(stops[job_id]),
                quoted=job_id in quoted, quote_ran_out=job_id in quoted and quoted[job_id] < today,
                agreed=job_id in agreed, bills=tuple(bills.get(job_id, ())), held_cents=held.get(job_id, 0),
                left_behind_days=shop.left_behind_days,
            )
        )
        for job_id in job_ids
    }  # fmt: skip


def of_job(db: Session, job_id: int, *, now: datetime) -> Tracks:
    """The tracks of one job."""
    return of_jobs(db, [job_id], now=now)[job_id]


def bills_of(db: Session, job_ids: list[int]) -> dict[int, list[Bill]]:
    """The invoices of each job that are not void, with what was taken back, paid and written off."""
    told: dict[int, list[Bill]] = {}
    for job_id, *bill in db.exec(
        select(Invoice.job_id, Invoice.total_cents, sums.credited(), sums.paid(), Invoice.due_on, sums.written_off())
        .where(Invoice.job_id.in_(job_ids), Invoice.void_on.is_(None))
        .order_by(Invoice.no)
    ):
        told.setdefault(job_id, []).append(Bill(*bill))
    return told


def held_of(db: Session, job_ids: list[int]) -> dict[int, int]:
    """Money held for each job that no invoice has used yet [cents]."""
    rows = db.exec(
        select(Payment.job_id, sums.left()).where(Payment.job_id.in_(job_ids), ~sums.is_reversed())
    )  # fmt: skip
    told: dict[int, int] = {}
    for job_id, cents in rows:
        if cents:
            told[job_id] = told.get(job_id, 0) + cents
    return told


def _quoted(db: Session, job_ids: list[int]) -> dict[int, date]:
    """The last good day of each job's newest issued quote that was not turned down."""
    rows = db.exec(
        select(Quote.job_id, Quote.good_until)
        .where(Quote.job_id.in_(job_ids), Quote.issued_on.is_not(None), Quote.turned_down_on.is_(None))
        .order_by(Quote.id)
    )
    return dict(rows.all())
