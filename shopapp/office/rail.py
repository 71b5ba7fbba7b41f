"""The rail: what hangs, what is due, what is stuck; beside it, whom to call, what to bill, what lies behind."""

from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from sqlmodel import Session, exists, func, select

from shopapp.office import jobs, shopbook, standing, weighing
from shopapp.office.jobs import PieceFacts
from shopapp.office.tables.customers import Customer
from shopapp.office.tables.invoices import BilledPiece, Invoice
from shopapp.office.tables.jobs import Call, Job, Piece, Stop
from shopapp.office.tracks import AWAY, PieceAt, Tracks, custody_of
from shopapp.office.weighing import Weighed

MOST = 200


@dataclass(frozen=True)
class Ticket:
    """A job as it hangs on the rail."""

    no: int
    customer: str
    title: str
    rush: bool
    promised_on: date | None
    rings: tuple[tuple[str, str], ...]
    tracks: Tracks
    note: str
    late: bool
    weights: str


@dataclass(frozen=True)
class ToDo:
    """A line under the rail: a job, a name, what it is about, a figure."""

    no: int
    who: str
    phone: str
    words: str
    figure: str = ""


@dataclass(frozen=True)
class Rail:
    """The whole first screen."""

    tickets: tuple[Ticket, ...]
    to_call: tuple[ToDo, ...]
    to_bill: tuple[ToDo, ...]
    left_behind: tuple[ToDo, ...]
    more: int


def rail(db: Session, *, now: datetime) -> Rail:
    """What hangs: every job that has not ended and still has a piece here or to come, or none yet."""
    shop = shopbook.the_shop(db)
    today, zone = shop.today(now), ZoneInfo(shop.zone)
    hanging = db.exec(
        select(Job.id, Job.no, Customer.name, Customer.phone, Job.title, Job.rush, Job.promised_on)
        .join(Customer, Customer.id == Job.customer_id)
        .where(Job.ended.is_(None), _still_hangs())
        .order_by(func.coalesce(Job.promised_on, date(9999, 1, 1)), Job.no)
        .limit(MOST + 1)
    ).all()
    more, hanging = max(len(hanging) - MOST, 0), hanging[:MOST]
    told = standing.of_jobs(db, [row[0] for row in hanging], now=now)
    pieces = jobs.pieces_of(db, [row[0] for row in hanging])
    weights = weighing.of_pieces(db, [piece for group in pieces.values() for piece in group])
    tickets = [
        _ticket(row, told[row[0]], pieces.get(row[0], []), weights, today, zone, shop.left_behind_days)
        for row in hanging
    ]
    return Rail(
        tickets=tuple(tickets), to_call=_to_call(db, hanging, told, pieces, today, zone),
        to_bill=_to_bill(db, hanging, pieces), left_behind=_behind(hanging, pieces, told, today, zone), more=more,
    )  # fmt: skip


def count_to_bill(db: Session) -> int:
    """How many jobs have finished pieces that stand on no bill."""
    unbilled = ~exists().where(BilledPiece.piece_id == Piece.id)
    return db.exec(
        select(func.count(func.distinct(Piece.job_id)))
        .join(Job, Job.id == Piece.job_id)
        .where(Piece.custody.in_(("shelf", "gone")), Job.ended.is_(None), unbilled)
    ).one()


def _still_hangs() -> object:
    here = exists().where(Piece.job_id == Job.id, Piece.custody.not_in(AWAY))
    none = ~exists().where(Piece.job_id == Job.id)
    return here | none


def _ticket(row, tracks, pieces, weights, today, zone, days) -> Ticket:
    _, no, customer, _, title, rush, promised = row
    note, late = _due(promised, today, tracks)
    rings = tuple(
        (custody_of(PieceAt(p.custody, p.moved_at.astimezone(zone).date()), today, days), p.number) for p in pieces
    )
    return Ticket(
        no, customer, title, rush, promised, rings, tracks, note, late, _stub([weights[p.id] for p in pieces])
    )


def _due(promised: date | None, today: date, tracks: Tracks) -> tuple[str, bool]:
    if tracks.flag or tracks.headline == "ready, not fetched":
        return tracks.headline, bool(tracks.flag)
    if promised is None:
        return tracks.headline, False
    days = (promised - today).days
    if days < 0:
        return f"{-days} days late" if days < -1 else "a day late", True
    words = {0: "today", 1: "tomorrow"}.get(days) or (f"{promised:%A}" if days < 7 else f"{promised:%d %b}")
    return words, False


def _stub(weights: list[Weighed]) -> str:
    """The weights on a ticket's stub: what came off where that is known, else what it weighs."""
    off = [w.removed_text for w in weights if w.removed_text]
    if off:
        return "−" + " −".join(off[:2]) + (" …" if len(off) > 2 else "")
    first = [w.before.text for w in weights if w.before]
    if first:
        return " ".join(first[:2]) + (" …" if len(first) > 2 else "")
    return "not weighed yet" if weights else ""


def _to_call(db, hanging, told, pieces, today, zone) -> tuple[ToDo, ...]:
    """Ready and nobody told yet, and questions whose day to ask again has come."""
    ids = [row[0] for row in hanging]
    reached = set(db.exec(select(Call.job_id).where(Call.job_id.in_(ids), Call.outcome == "told")).all())
    again = dict(
        db.exec(
            select(Stop.job_id, func.min(Stop.asked_at)).where(
                Stop.job_id.in_(ids), Stop.answered_at.is_(None), Stop.waits_for == "customer",
                Stop.ask_again_on.is_not(None), Stop.ask_again_on <= today,
            ).group_by(Stop.job_id)
        ).all()
    )  # fmt: skip
    rows = []
    for job_id, no, who, phone, *_ in hanging:
        on_shelf = sum(piece.custody == "shelf" for piece in pieces.get(job_id, []))
        if on_shelf and job_id not in reached and told[job_id].flag != "left behind":
            rows.append(ToDo(no, who, phone, f"ready, {on_shelf} on the shelf"))
        if job_id in again:
            days = (today - again[job_id].astimezone(zone).date()).days
            rows.append(ToDo(no, who, phone, f"asked {days} days ago, ask again"))
    return tuple(rows)


def _to_bill(db, hanging, pieces) -> tuple[ToDo, ...]:
    """Jobs with finished pieces that stand on no bill."""
    every = [piece.id for group in pieces.values() for piece in group]
    billed = set(db.exec(select(BilledPiece.piece_id).where(BilledPiece.piece_id.in_(every))).all())
    without = set(
        db.exec(select(Invoice.job_id).where(Invoice.job_id.in_([r[0] for r in hanging]), Invoice.void_on.is_(None)))
    )
    missing = set(
        db.exec(
            select(Job.id)
            .join(Customer, Customer.id == Job.customer_id)
            .where(Job.id.in_([r[0] for r in hanging]), Customer.order_number == "required", Job.order_number == "")
        ).all()
    )
    rows = []
    for job_id, no, who, phone, *_ in hanging:
        done = [p for p in pieces.get(job_id, []) if p.custody in ("shelf", "gone") and p.id not in billed]
        if not done:
            continue
        words = f"{len(done)} of {len(pieces[job_id])} not billed" if job_id in without else f"{len(done)} finished"
        if job_id in missing:
            words = "order number missing"
        rows.append(ToDo(no, who, phone, words))
    return tuple(rows)


def _behind(hanging, pieces, told, today, zone) -> tuple[ToDo, ...]:
    rows = []
    for job_id, no, who, phone, *_ in hanging:
        lying: list[PieceFacts] = [p for p in pieces.get(job_id, []) if p.custody == "shelf"]
        days = max(((today - p.moved_at.astimezone(zone).date()).days for p in lying), default=0)
        if lying and days > 30:
            place = f", place {lying[0].place}" if lying[0].place else ""
            rows.append(ToDo(no, who, phone, f"{lying[0].name}{place}", f"{days} days"))
    return tuple(rows)
