"""While the caller is on the line: their last jobs, with price, minutes and removal of each kind, in a few queries."""

from dataclasses import dataclass
from datetime import date

from sqlmodel import Session, func, select

from shopapp.office import jobs, shopbook, sums, weighing
from shopapp.office.tables.invoices import Invoice
from shopapp.office.tables.jobs import Piece, Spent
from shopapp.office.tables.quotes import Quote


@dataclass(frozen=True)
class KindTold:
    """What came off the pieces of one kind in a job: "2 x carrier, plain: 3.5 lb off"."""

    variant_id: int | None
    name: str
    pieces: int
    off: str


@dataclass(frozen=True)
class JobTold:
    """One earlier job. Net price and minutes are for all its pieces; `quoted` says that no bill stands yet [cents]."""

    no: int
    title: str
    opened_on: date
    kinds: tuple[KindTold, ...]
    pieces: int
    net_cents: int | None
    quoted: bool
    minutes: int | None

    @property
    def each_cents(self) -> int | None:
        """The net price of one piece [cents], half-up; None without a price or a piece."""
        if self.net_cents is None or not self.pieces:
            return None
        return (2 * self.net_cents + self.pieces) // (2 * self.pieces)


def last_jobs(db: Session, customer_id: int, *, most: int = 3) -> list[JobTold]:
    """The newest jobs of a customer, newest first, for the ask slip."""
    told = jobs.of_customer(db, customer_id, most=most)
    ids = [job.id for job in told]
    if not ids:
        return []
    pieces = jobs.pieces_of(db, ids)
    weighed = weighing.of_pieces(db, [piece for some in pieces.values() for piece in some])
    spent = _sums(db, select(Spent.job_id, func.sum(Spent.minutes)).where(Spent.job_id.in_(ids)), Spent.job_id)
    net = select(Invoice.job_id, func.sum(Invoice.net_cents)).where(Invoice.job_id.in_(ids), sums.stands())
    billed, priced = _sums(db, net, Invoice.job_id), _counts(db, ids)
    quoted = _quotes(db, ids)
    zone_day = shopbook.the_shop(db).today
    return [
        JobTold(
            no=job.no, title=job.title, opened_on=zone_day(job.opened_at),
            kinds=_kinds(pieces.get(job.id, []), weighed),
            pieces=priced.get(job.id, 0) or len(pieces.get(job.id, [])),
            net_cents=billed.get(job.id, quoted.get(job.id)), quoted=job.id not in billed,
            minutes=spent.get(job.id),
        )
        for job in told
    ]  # fmt: skip


def _kinds(pieces: list[jobs.PieceFacts], weighed: dict[int, weighing.Weighed]) -> tuple[KindTold, ...]:
    """The kinds in a job with what came off each: one text where the pieces agree, otherwise one after another."""
    kinds: dict[int | None, list[jobs.PieceFacts]] = {}
    for piece in pieces:
        kinds.setdefault(piece.variant_id, []).append(piece)
    told = []
    for variant_id, alike in kinds.items():
        offs = [weighed[piece.id].removed_text for piece in alike if weighed[piece.id].removed_text]
        off = f"{', '.join(dict.fromkeys(offs))} off" if offs else ""
        told.append(KindTold(variant_id, alike[0].name, len(alike), off))
    return tuple(told)


def _quotes(db: Session, ids: list[int]) -> dict[int, int]:
    """The net of each job's newest issued quote [cents]."""
    rows = db.exec(
        select(Quote.job_id, Quote.net_cents)
        .where(Quote.job_id.in_(ids), Quote.issued_on.is_not(None))
        .order_by(Quote.id)
    )
    return dict(rows.all())


def _counts(db: Session, ids: list[int]) -> dict[int, int]:
    """How many pieces of each job stand on a bill."""
    query = select(Piece.job_id, func.count(Piece.id)).where(Piece.job_id.in_(ids), sums.on_a_bill())
    return _sums(db, query, Piece.job_id)


def _sums(db: Session, query: object, by: object) -> dict[int, int]:
    return {job_id: int(total) for job_id, total in db.exec(query.group_by(by))}
