"""How much came off last time: removal, minutes and price of the newest pieces of one variant."""

from dataclasses import dataclass
from datetime import date

from sqlmodel import Session, func, select

from shopapp.office import jobs, ledger, shopbook, sums, together, weighing
from shopapp.office.tables.jobs import Job, Piece, Spent, worked
from shopapp.office.together import Jointly
from shopapp.office.tracks import FINAL
from shopapp.office.weighing import Weighed


@dataclass(frozen=True)
class LastTime:
    """One earlier piece of this variant. Minutes and price are the job's, shared by its pieces."""

    number: str
    job_no: int
    customer: str
    on: date
    weighed: Weighed
    jointly: Jointly
    minutes: int | None
    cents: int | None

    @property
    def off(self) -> str:
        """What came off by its own two weights; where it has not both, the average of those it was weighed with."""
        return self.weighed.removed_text or self.jointly.off_words

    @property
    def verdict(self) -> str:
        """The verdict on its own two weights; where it has not both, on the average."""
        return self.weighed.verdict if self.weighed.removed_text else self.jointly.verdict

    @property
    def scale_words(self) -> str:
        """The scale that the last weight was read on."""
        after = self.weighed.after or self.jointly.after
        return after.scale_words if after else ""


def of_variant(db: Session, variant_id: int, *, most: int = 5) -> list[LastTime]:
    """The newest finished pieces of a variant, across all customers; what was put right tells no first time."""
    rows = db.exec(
        select(Job.no, Piece.n)
        .join(Job, Job.id == Piece.job_id)
        .where(Piece.variant_id == variant_id, Piece.custody.in_(FINAL), Piece.rework_of.is_(None), worked())
        .order_by(Job.no.desc(), Piece.n)
        .limit(most)
    ).all()
    pieces = [jobs.piece(db, no, n) for no, n in rows]
    told = weighing.of_pieces(db, pieces) if pieces else {}
    at_once = together.of_pieces(db, pieces) if pieces else {}
    shares = _shares(db, sorted({piece.job_id for piece in pieces}))
    shop = shopbook.the_shop(db)
    return [
        LastTime(
            number=piece.number,
            job_no=piece.job_no,
            customer=jobs.by_id(db, piece.job_id).customer,
            on=shop.today(piece.moved_at),
            weighed=told[piece.id],
            jointly=at_once[piece.id],
            minutes=shares[piece.job_id][0],
            cents=shares[piece.job_id][1],
        )
        for piece in pieces
    ]


def offs(last: list[LastTime]) -> list[tuple[str, str]]:
    """Each of these pieces with its two weights and what came off, for the working."""
    told = []
    for time in last:
        own, at_once = time.weighed, time.jointly
        if own.before and own.after:
            told.append((time.number, f"{own.before.text} − {own.after.text} = {own.removed_text}"))
        elif at_once.before and at_once.after:
            said = f"{at_once.before.text} − {at_once.after.text} = {at_once.removed_text}"
            told.append((at_once.numbers, f"{said}, {at_once.each_text} each on the average"))
    return list(dict.fromkeys(told))


def _shares(db: Session, job_ids: list[int]) -> dict[int, tuple[int | None, int | None]]:
    """Minutes and net price of each job, a piece's share of both."""
    counts = dict(
        db.exec(select(Piece.job_id, func.count()).where(Piece.job_id.in_(job_ids)).group_by(Piece.job_id)).all()
    )
    minutes = dict(
        db.exec(
            select(Spent.job_id, func.sum(Spent.minutes)).where(Spent.job_id.in_(job_ids)).group_by(Spent.job_id)
        ).all()
    )
    told = {}
    for job_id in job_ids:
        net = sum(row.net_cents for row in ledger.of_job(db, job_id) if row.stands)
        billed = db.exec(select(func.count(Piece.id)).where(Piece.job_id == job_id, sums.on_a_bill())).one()
        spent = minutes.get(job_id)
        told[job_id] = (
            round(int(spent) / counts[job_id]) if spent else None,
            round(net / billed) if billed else None,
        )
    return told
