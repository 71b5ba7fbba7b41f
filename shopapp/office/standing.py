"""Where jobs stand: the facts of the three tracks, gathered for many jobs at once."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

from sqlmodel import Session, func, select

from shopapp.office import shopbook
from shopapp.office.tables.invoices import Applied, CreditNote, Invoice, Payment, Reversal, WriteOff
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
    """The invoices of each job that are not void, with what was taken back and paid."""
    credited = dict(
        db.exec(
            select(CreditNote.invoice_id, func.sum(CreditNote.total_cents))
            .join(Invoice, Invoice.id == CreditNote.invoice_id)
            .where(Invoice.job_id.in_(job_ids))
            .group_by(CreditNote.invoice_id)
        ).all()
    )
    paid = dict(
        db.exec(
            select(Applied.invoice_id, func.sum(Applied.cents))
            .join(Invoice, Invoice.id == Applied.invoice_id)
            .where(Invoice.job_id.in_(job_ids), Applied.payment_id.not_in(reversed_ones()))
            .group_by(Applied.invoice_id)
        ).all()
    )
    written_off = dict(
        db.exec(
            select(WriteOff.invoice_id, func.sum(WriteOff.cents))
            .join(Invoice, Invoice.id == WriteOff.invoice_id)
            .where(Invoice.job_id.in_(job_ids))
            .group_by(WriteOff.invoice_id)
        ).all()
    )
    told: dict[int, list[Bill]] = {}
    for invoice_id, job_id, total, due_on in db.exec(
        select(Invoice.id, Invoice.job_id, Invoice.total_cents, Invoice.due_on)
        .where(Invoice.job_id.in_(job_ids), Invoice.void_on.is_(None))
        .order_by(Invoice.no)
    ):
        off = int(written_off.get(invoice_id, 0))
        bill = Bill(total, int(credited.get(invoice_id, 0)), int(paid.get(invoice_id, 0)), due_on, off)
        told.setdefault(job_id, []).append(bill)
    return told


def held_of(db: Session, job_ids: list[int]) -> dict[int, int]:
    """Money held for each job that no invoice has used yet [cents]."""
    used = select(Applied.payment_id, func.sum(Applied.cents).label("cents")).group_by(Applied.payment_id).subquery()
    rows = db.exec(
        select(Payment.job_id, func.sum(Payment.cents - func.coalesce(used.c.cents, 0)))
        .outerjoin(used, used.c.payment_id == Payment.id)
        .where(Payment.job_id.in_(job_ids), Payment.id.not_in(reversed_ones()))
        .group_by(Payment.job_id)
    )
    return {job_id: int(cents) for job_id, cents in rows if cents}


def reversed_ones() -> object:
    """The payments that count for nothing, as part of a query."""
    return select(Reversal.payment_id)


def _quoted(db: Session, job_ids: list[int]) -> dict[int, date]:
    """The last good day of each job's newest issued quote that was not turned down."""
    rows = db.exec(
        select(Quote.job_id, Quote.good_until)
        .where(Quote.job_id.in_(job_ids), Quote.issued_on.is_not(None), Quote.turned_down_on.is_(None))
        .order_by(Quote.id)
    )
    return dict(rows.all())
