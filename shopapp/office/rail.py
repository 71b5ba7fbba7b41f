"""The rail: what hangs, what is due, what is stuck; beside it, whom to call, what to bill, what lies behind."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import NamedTuple
from zoneinfo import ZoneInfo

from sqlalchemy import ColumnElement, and_, or_
from sqlalchemy.orm import aliased
from sqlmodel import Session, col, exists, func, select

from shopapp.office import jobs, ledger, shopbook, standing, sums, weighing
from shopapp.office.jobs import PieceFacts
from shopapp.office.shopbook import ShopFacts
from shopapp.office.tables.customers import Customer
from shopapp.office.tables.jobs import Call, Job, Piece, Stop
from shopapp.office.tracks import AWAY, HERE, PieceAt, Tracks, state_of
from shopapp.office.weighing import Weighed

MOST = 200
FINISHED = ("shelf", "gone")


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


class Hanging(NamedTuple):
    """A job that hangs, as it is read from the book."""

    id: int
    no: int
    who: str
    phone: str
    title: str
    rush: bool
    promised_on: date | None


@dataclass(frozen=True)
class ToDo:
    """A line under the rail: a job, a name, what it is about, a figure."""

    no: int
    who: str
    phone: str
    words: str
    figure: str = ""
    is_ready: bool = False


@dataclass(frozen=True)
class Rail:
    """The whole first screen."""

    tickets: tuple[Ticket, ...]
    to_call: tuple[ToDo, ...]
    to_bill: tuple[ToDo, ...]
    left_behind: tuple[ToDo, ...]
    more: int
    offs: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Board:
    """Everything that the first screen is made from, read once."""

    hanging: list[Hanging]
    tracks: dict[int, Tracks]
    pieces: dict[int, list[PieceFacts]]
    weights: dict[int, Weighed]
    shop: ShopFacts
    today: date

    def day(self, at: datetime) -> date:
        """The calendar day of a moment on the shop's wall."""
        return at.astimezone(ZoneInfo(self.shop.zone)).date()

    def of(self, job: Hanging) -> list[PieceFacts]:
        """The pieces of a job."""
        return self.pieces.get(job.id, [])


def rail(db: Session, *, now: datetime) -> Rail:
    """What hangs: every job with a piece here, ended or not, or with one to come, or with none yet."""
    hanging = _hanging(db, or_(and_(Job.ended.is_(None), _still_hangs()), _lies_here()), most=MOST + 1)
    board = _board(db, hanging[:MOST], now)
    return Rail(
        tickets=tuple(_ticket(board, job) for job in board.hanging),
        to_call=_to_call(db, board),
        to_bill=to_bill(db),
        left_behind=_behind(board),
        more=len(hanging) - len(board.hanging),
        offs=_offs(board),
    )


def count_to_bill(db: Session) -> int:
    """How many jobs have finished pieces that stand on no bill."""
    return db.exec(select(func.count()).select_from(Job).where(_unbilled())).one()


def _board(db: Session, hanging: list[Hanging], now: datetime) -> Board:
    ids, shop = [job.id for job in hanging], shopbook.the_shop(db)
    pieces = jobs.pieces_of(db, ids)
    weights = weighing.of_pieces(db, [piece for group in pieces.values() for piece in group])
    return Board(hanging, standing.of_jobs(db, ids, now=now), pieces, weights, shop, shop.today(now))


def _hanging(db: Session, *where: ColumnElement[bool], most: int) -> list[Hanging]:
    rows = db.exec(
        select(Job.id, Job.no, Customer.name, Customer.phone, Job.title, Job.rush, Job.promised_on)
        .join(Customer, Customer.id == Job.customer_id)
        .where(*where)
        .order_by(func.coalesce(Job.promised_on, date(9999, 1, 1)), Job.no)
        .limit(most)
    )
    return [Hanging(*row) for row in rows]


def _still_hangs() -> ColumnElement[bool]:
    here = exists().where(Piece.job_id == Job.id, Piece.custody.not_in(AWAY))
    none = ~exists().where(Piece.job_id == Job.id)
    return here | none


def _lies_here() -> ColumnElement[bool]:
    return exists().where(Piece.job_id == Job.id, col(Piece.custody).in_(HERE))


def _unbilled() -> ColumnElement[bool]:
    """Of whatever job, one that was called off too: what is finished and on no bill is never lost."""
    its_job = aliased(Job)
    of_jobs = (
        select(Piece.job_id)
        .join(its_job, its_job.id == Piece.job_id)
        .join(Customer, Customer.id == its_job.customer_id)
        .where(ledger.unbilled())
        .correlate(None)
    )
    return col(Job.id).in_(of_jobs)


def _ticket(board: Board, job: Hanging) -> Ticket:
    tracks, pieces = board.tracks[job.id], board.of(job)
    note, late = _due(job.promised_on, board.today, tracks)
    days = board.shop.left_behind_days
    rings = tuple(
        (state_of(PieceAt(p.custody, board.day(p.moved_at), p.fate), board.today, days), p.number) for p in pieces
    )
    stub = _stub([board.weights[piece.id] for piece in pieces])
    return Ticket(job.no, job.who, job.title, job.rush, job.promised_on, rings, tracks, note, late, stub)


def _due(promised: date | None, today: date, tracks: Tracks) -> tuple[str, bool]:
    if tracks.flag or tracks.headline == "ready, not fetched":
        return tracks.headline, bool(tracks.flag)
    if promised is None:
        return tracks.headline, False
    days = (promised - today).days
    if days < 0:
        return f"{-days} days late" if days < -1 else "a day late", True
    words = {0: "today", 1: "tomorrow"}.get(days) or (f"{promised:%A}" if days < 7 else f"{promised.day} {promised:%b}")
    return words, False


def _stub(weights: list[Weighed]) -> str:
    """The weights on a ticket's stub: what came off where that is known, else what it weighs."""
    off = [w.removed_text for w in weights if w.removed_text]
    if off:
        return ", ".join(off[:2]) + (" …" if len(off) > 2 else "") + " off"
    first = [w.before.text for w in weights if w.before]
    if first:
        return " ".join(first[:2]) + (" …" if len(first) > 2 else "")
    return "not weighed yet" if weights else ""


def _offs(board: Board) -> tuple[tuple[str, str], ...]:
    """Each piece whose removal stands on a stub, with its two weights."""
    pieces = [piece for job in board.hanging for piece in board.of(job)]
    told = [(piece.number, board.weights[piece.id]) for piece in pieces]
    return tuple(
        (number, f"{one.before.text} − {one.after.text} = {one.removed_text}")
        for number, one in told
        if one.before and one.after
    )


def _to_call(db: Session, board: Board) -> tuple[ToDo, ...]:
    """Ready and nobody told yet, unless the next try is on a day to come; questions whose day to ask again has come."""
    ids = [job.id for job in board.hanging]
    reached = set(db.exec(select(Call.job_id).where(Call.job_id.in_(ids), Call.outcome == "told")).all())
    calls = select(Call.job_id, Call.next_on).where(Call.job_id.in_(ids)).order_by(Call.id)
    later = {job_id for job_id, day in dict(db.exec(calls).all()).items() if day and day > board.today}
    asked = select(Stop.job_id, func.min(Stop.asked_at)).where(
        Stop.job_id.in_(ids), Stop.answered_at.is_(None), Stop.waits_for == "customer",
        Stop.ask_again_on.is_not(None), col(Stop.ask_again_on) <= board.today,
    )  # fmt: skip
    again = dict(db.exec(asked.group_by(Stop.job_id)).all())
    rows = []
    for job in board.hanging:
        on_shelf = [piece for piece in board.of(job) if piece.custody == "shelf"]
        if on_shelf and job.id not in reached | later and board.tracks[job.id].flag != "left behind":
            state = "ready" if any(piece.worked for piece in on_shelf) else "to be fetched"
            rows.append(ToDo(job.no, job.who, job.phone, f"{state}, {len(on_shelf)} on the shelf", is_ready=True))
        if job.id in again:
            days = (board.today - board.day(again[job.id])).days
            rows.append(ToDo(job.no, job.who, job.phone, f"asked {days} days ago, ask again"))
    return tuple(rows)


def to_bill(db: Session) -> tuple[ToDo, ...]:
    """Jobs with finished pieces that stand on no bill."""
    waiting = _hanging(db, _unbilled(), most=MOST)
    pieces = jobs.pieces_of(db, [job.id for job in waiting])
    every = [piece.id for group in pieces.values() for piece in group]
    billed = set(db.exec(select(Piece.id).where(Piece.id.in_(every), sums.on_a_bill())).all())
    missing = set(
        db.exec(
            select(Job.id)
            .join(Customer, Customer.id == Job.customer_id)
            .where(Job.id.in_([job.id for job in waiting]), Customer.order_number == "required", Job.order_number == "")
        ).all()
    )
    rows = []
    for job in waiting:
        left = sum(piece.custody in FINISHED and piece.worked and piece.id not in billed for piece in pieces[job.id])
        words = "order number missing" if job.id in missing else f"{left} of {len(pieces[job.id])} not billed"
        rows.append(ToDo(job.no, job.who, job.phone, words))
    return tuple(rows)


def _behind(board: Board) -> tuple[ToDo, ...]:
    rows = []
    for job in board.hanging:
        lying = [piece for piece in board.of(job) if piece.custody == "shelf"]
        days = max(((board.today - board.day(piece.moved_at)).days for piece in lying), default=0)
        if lying and days > board.shop.left_behind_days:
            place = f", place {lying[0].place}" if lying[0].place else ""
            rows.append(ToDo(job.no, job.who, job.phone, f"{lying[0].name}{place}", f"{days} days"))
    return tuple(rows)
