"""One box finds it: a job or a piece by number, a customer, a part or variant, what lies in a place."""

import re
from dataclasses import dataclass

from sqlmodel import Session, func, select

from shopapp.office import customers, jobs, parts, weighing
from shopapp.office.customers import CustomerFacts
from shopapp.office.folding import folded
from shopapp.office.jobs import JobFacts, PieceFacts
from shopapp.office.parts import PartFacts, VariantFacts
from shopapp.office.tables.jobs import Job, Piece, worked
from shopapp.office.tables.parts import Part, Variant
from shopapp.office.tracks import AWAY
from shopapp.office.weighing import Weighed

MOST = 12
_NUMBER = re.compile(r"#?([0-9]{1,9})(?:-([0-9]{1,4}))?")


@dataclass(frozen=True)
class LastRemoval:
    """What came off the newest finished piece of a variant, in one line."""

    job_no: int
    number: str
    weighed: Weighed

    @property
    def words(self) -> str:
        """The removal as it is said: "3.5 lb off 1187-1, agrees"."""
        told = self.weighed
        if told.removed_text:
            said = f"{told.removed_text} off {self.number}"
            return f"{said}, {told.verdict}" if told.verdict else said
        return f"{self.number} was not weighed twice"


@dataclass(frozen=True)
class Found:
    """What a word finds, each list short and in its own order."""

    variants: tuple[VariantFacts, ...] = ()
    last: dict[int, LastRemoval] | None = None
    parts: tuple[PartFacts, ...] = ()
    customers: tuple[CustomerFacts, ...] = ()
    places: tuple[PieceFacts, ...] = ()
    jobs: tuple[JobFacts, ...] = ()

    @property
    def nothing(self) -> bool:
        """Whether the word found nothing at all."""
        return not (self.variants or self.parts or self.customers or self.places or self.jobs)


def by_number(db: Session, text: str) -> tuple[int, int | None] | None:
    """The job, or the job and piece, that a number names; nothing where the book has none of it."""
    typed = _NUMBER.fullmatch(text.strip())
    if typed is None:
        return None
    no, n = int(typed[1]), int(typed[2]) if typed[2] else None
    if n is None:
        return (no, None) if db.exec(select(Job.id).where(Job.no == no)).first() else None
    row = db.exec(select(Piece.id).join(Job, Job.id == Piece.job_id).where(Job.no == no, Piece.n == n)).first()
    return (no, n) if row else None


def find(db: Session, text: str) -> Found:
    """Everything that the words find."""
    wanted = folded(text)
    if not wanted:
        return Found()
    found = _variants(db, wanted)
    return Found(
        variants=found,
        last=last_removals(db, [variant.id for variant in found]),
        parts=_parts(db, wanted),
        customers=tuple(customers.listing(db, like=text, most=MOST)),
        places=_places(db, text),
        jobs=_jobs(db, text),
    )


def last_removals(db: Session, variant_ids: list[int]) -> dict[int, LastRemoval]:
    """The newest finished piece of each of these variants, with what came off it."""
    newest = (
        select(func.max(Piece.id))
        .where(Piece.variant_id.in_(variant_ids), Piece.custody.in_(("checked", "shelf", "gone")), worked())
        .group_by(Piece.variant_id)
    )
    pieces = jobs.pieces_where(db, Piece.id.in_(newest))
    told = weighing.of_pieces(db, pieces) if pieces else {}
    return {piece.variant_id or 0: LastRemoval(piece.job_no, piece.number, told[piece.id]) for piece in pieces}


def _variants(db: Session, wanted: str) -> tuple[VariantFacts, ...]:
    ids = db.exec(
        select(Variant.id)
        .where(*(Variant.folded.contains(word, autoescape=True) for word in wanted.split()))
        .order_by(Variant.folded)
        .limit(MOST)
    ).all()
    return tuple(parts.some(db, list(ids)))


def _parts(db: Session, wanted: str) -> tuple[PartFacts, ...]:
    rows = db.exec(
        select(Part.id, Part.name, Part.note, Part.not_done)
        .where(*(Part.folded.contains(word, autoescape=True) for word in wanted.split()))
        .order_by(Part.folded)
        .limit(MOST)
    )
    return tuple(PartFacts(*row) for row in rows)


def _places(db: Session, text: str) -> tuple[PieceFacts, ...]:
    here = func.lower(Piece.place) == text.strip().lower()
    return tuple(jobs.pieces_where(db, here & Piece.custody.not_in(tuple(AWAY)), most=50))


def _jobs(db: Session, text: str) -> tuple[JobFacts, ...]:
    """The newest jobs whose title has the words."""
    like = func.lower(Job.title).contains(text.strip().lower(), autoescape=True)
    return tuple(jobs.jobs_where(db, like, most=MOST))
