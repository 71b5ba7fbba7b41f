"""Jobs and their pieces: opened by a call, changed, ended; minutes spent on them."""

from dataclasses import dataclass
from datetime import date, datetime

from sqlmodel import Session, func, select

from shopapp.office import history, numbering
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.tables.customers import Customer
from shopapp.office.tables.jobs import Job, Piece, Spent
from shopapp.office.tables.parts import Part, Sign, Variant
from shopapp.office.tracks import ENDED, HERE, said, state

CALLED = {"asked": "their words", "order_number": "their order number"}
"""What a fact is called in the day book."""


@dataclass(frozen=True)
class PieceAsk:
    """A piece as it is asked for: which variant the caller means, and where it goes afterwards."""

    variant_id: int | None = None
    goes_to: str = "machine"
    machine: str = ""


@dataclass(frozen=True)
class JobFacts:
    """A job as the book has it today."""

    id: int
    no: int
    customer_id: int
    customer: str
    title: str
    asked: str
    wanted_by: date | None
    promised_on: date | None
    rush: bool
    order_number: str
    opened_at: datetime
    ended: str | None


@dataclass(frozen=True)
class PieceFacts:
    """A piece as the book has it today."""

    id: int
    job_id: int
    job_no: int
    n: int
    variant_id: int | None
    part: str | None
    variant: str | None
    sign_seen: str | None
    goes_to: str
    machine: str
    place: str
    custody: str
    moved_at: datetime
    rework_of: int | None
    note: str
    fate: str | None = None

    @property
    def state(self) -> str:
        """The code of the state that it is shown in: where it is, or what was decided about it."""
        return state(self.custody, self.fate)

    @property
    def said(self) -> str:
        """Its state in words."""
        return said(self.custody, self.fate)

    @property
    def worked(self) -> bool:
        """Whether its work was not given up: neither spoiled nor sent back uncut, and it came."""
        return self.fate in (None, "again")

    @property
    def number(self) -> str:
        """The piece's number as it is said: 1187-1."""
        return f"{self.job_no}-{self.n}"

    @property
    def name(self) -> str:
        """Part and variant, or that it is not known yet which it is."""
        return f"{self.part}, {self.variant}" if self.variant else "not told apart yet"

    @property
    def goes(self) -> str:
        """Where it goes when it is done, in words for the customer; empty where nobody said."""
        return "for your shelf" if self.goes_to == "shelf" else f"for {self.machine}" if self.machine else ""

    @property
    def told(self) -> str:
        """What it is and where it goes, in words for the customer; empty where neither is known yet."""
        return ", ".join(words for words in (self.name if self.variant else "", self.goes) if words)

    @property
    def destination(self) -> str:
        """Where it goes when it is done."""
        return "customer's shelf" if self.goes_to == "shelf" else f"machine: {self.machine or 'not said'}"


def open_job(
    db: Session, *, customer_id: int, title: str, asked: str = "", wanted_by: date | None = None,
    promised_on: date | None = None, rush: bool = False, order_number: str = "",
    pieces: tuple[PieceAsk, ...] = (), now: datetime, by: int,
) -> int:  # fmt: skip
    """Enter a job with its pieces, still expected; gives the job's number."""
    if not title.strip():
        raise TryAgain({"title": "Write in a few words what is to be done, such as skim one disc."})
    if db.get(Customer, customer_id) is None:
        raise NotHere("That customer is not in the book.")
    job = Job(
        no=numbering.take(db, "job"), customer_id=customer_id, title=title.strip(), asked=asked.strip(),
        wanted_by=wanted_by, promised_on=promised_on, rush=rush, order_number=order_number.strip(),
        opened_at=now, opened_by=by,
    )  # fmt: skip
    db.add(job)
    db.flush()
    words = f"{job.title}; {len(pieces)} pieces" if pieces else job.title
    history.write(db, now=now, by=by, act="asked", words=words, job_id=job.id, customer_id=customer_id)
    for ask in pieces:
        add_piece(db, job_id=job.id, ask=ask, now=now, by=by)
    return job.no


def change(db: Session, *, job_id: int, now: datetime, by: int, **told: object) -> None:
    """Write over what the book has of a job: title, words, dates, rush, order number."""
    if "title" in told and not str(told["title"]).strip():
        raise TryAgain({"title": "Write in a few words what is to be done, such as skim one disc."})
    job = job_row(db, job_id)
    words = history.changes(vars(job), told, CALLED)
    for name, value in told.items():
        setattr(job, name, value)
    db.add(job)
    if words:
        history.write(db, now=now, by=by, act="job", words=words, job_id=job_id)


def add_piece(db: Session, *, job_id: int, ask: PieceAsk, rework_of: int | None = None, now: datetime, by: int) -> int:
    """One more piece in a job, with the next number; gives its row's id."""
    job = job_row(db, job_id)
    if job.ended:
        raise InTheWay(f"Job {job.no} was {ENDED[job.ended]}. Open a new job for this piece.")
    last = db.exec(select(func.max(Piece.n)).where(Piece.job_id == job_id)).one()
    if (last or 0) >= 200:
        raise InTheWay("Two hundred pieces are the most a job carries. Open a second job.")
    piece = Piece(
        job_id=job_id, n=(last or 0) + 1, variant_id=ask.variant_id, goes_to=ask.goes_to, machine=ask.machine.strip(),
        rework_of=rework_of, moved_at=now,
    )  # fmt: skip
    db.add(piece)
    db.flush()
    history.write(
        db, now=now, by=by, act="expected", words=f"{job.no}-{piece.n} expected", job_id=job_id, piece_id=piece.id
    )
    return piece.id


def end(db: Session, *, job_id: int, how: str, reason: str, now: datetime, by: int) -> None:
    """The job ends before its work is done: not taken up, or called off."""
    if not reason.strip():
        raise TryAgain({"reason": "Write why it ends here; the next quote is better for it."})
    if how not in ENDED:
        raise TryAgain({"how": "Say how it ends: not taken up, or called off."})
    job = job_row(db, job_id)
    here = select(Piece.n).where(Piece.job_id == job_id, Piece.custody.in_(HERE), Piece.fate.is_(None))
    if n := db.exec(here.order_by(Piece.n)).first():
        raise InTheWay(f"Piece {job.no}-{n} is under way. Send it back or finish it first.")
    job.ended = how
    db.add(job)
    history.write(db, now=now, by=by, act=ENDED[how], words=reason.strip(), job_id=job_id)


def spend(db: Session, *, job_id: int, minutes: int, words: str = "", now: datetime, by: int) -> None:
    """Write down minutes spent on a job."""
    if not 0 < minutes <= 24 * 60:
        raise TryAgain({"minutes": "Write the minutes of one stretch of work, up to a day: 45, or 1h 30."})
    db.add(Spent(job_id=job_id, minutes=minutes, words=words.strip(), by_id=by, at=now))
    history.write(db, now=now, by=by, act="minutes", words=f"{minutes} min {words}".strip(), job_id=job_id)


def spent_minutes(db: Session, job_id: int) -> int:
    """All minutes spent on a job."""
    return int(db.exec(select(func.coalesce(func.sum(Spent.minutes), 0)).where(Spent.job_id == job_id)).one())


_JOB = (
    select(
        Job.id, Job.no, Job.customer_id, Customer.name, Job.title, Job.asked, Job.wanted_by, Job.promised_on,
        Job.rush, Job.order_number, Job.opened_at, Job.ended,
    ).join(Customer, Customer.id == Job.customer_id)
)  # fmt: skip
_PIECE = (
    select(
        Piece.id, Piece.job_id, Job.no, Piece.n, Piece.variant_id, Part.name, Variant.name, Sign.words, Piece.goes_to,
        Piece.machine, Piece.place, Piece.custody, Piece.moved_at, Piece.rework_of, Piece.note,
        Piece.fate,
    )
    .join(Job, Job.id == Piece.job_id)
    .outerjoin(Variant, Variant.id == Piece.variant_id)
    .outerjoin(Part, Part.id == Variant.part_id)
    .outerjoin(Sign, Sign.id == Piece.sign_seen)
)  # fmt: skip


def by_no(db: Session, no: int) -> JobFacts:
    """The job with this number."""
    row = db.exec(_JOB.where(Job.no == no)).first()
    if row is None:
        raise NotHere(f"There is no job {no} in the book.")
    return JobFacts(*row)


def by_id(db: Session, job_id: int) -> JobFacts:
    """The job of this row."""
    row = db.exec(_JOB.where(Job.id == job_id)).first()
    if row is None:
        raise NotHere("That job is not in the book.")
    return JobFacts(*row)


def of_customer(db: Session, customer_id: int, most: int = 20) -> list[JobFacts]:
    """The newest jobs of a customer."""
    rows = db.exec(_JOB.where(Job.customer_id == customer_id).order_by(Job.no.desc()).limit(most))
    return [JobFacts(*row) for row in rows]


def pieces(db: Session, job_id: int) -> list[PieceFacts]:
    """The pieces of a job by number."""
    return [PieceFacts(*row) for row in db.exec(_PIECE.where(Piece.job_id == job_id).order_by(Piece.n))]


def jobs_where(db: Session, where: object, *, most: int) -> list[JobFacts]:
    """The newest jobs that a search asks for."""
    return [JobFacts(*row) for row in db.exec(_JOB.where(where).order_by(Job.no.desc()).limit(most))]


def pieces_where(db: Session, where: object, *, most: int | None = None) -> list[PieceFacts]:
    """The pieces that a search asks for, newest job first."""
    rows = db.exec(_PIECE.where(where).order_by(Job.no.desc(), Piece.n).limit(most))
    return [PieceFacts(*row) for row in rows]


def pieces_of(db: Session, job_ids: list[int]) -> dict[int, list[PieceFacts]]:
    """The pieces of several jobs, by the row of the job."""
    told: dict[int, list[PieceFacts]] = {}
    for row in db.exec(_PIECE.where(Piece.job_id.in_(job_ids)).order_by(Piece.job_id, Piece.n)):
        told.setdefault(row[1], []).append(PieceFacts(*row))
    return told


def piece(db: Session, no: int, n: int) -> PieceFacts:
    """The piece with this number."""
    row = db.exec(_PIECE.where(Job.no == no, Piece.n == n)).first()
    if row is None:
        raise NotHere(f"There is no piece {no}-{n} in the book.")
    return PieceFacts(*row)


def job_row(db: Session, job_id: int) -> Job:
    """The row of a job, for verbs that change it."""
    row = db.get(Job, job_id)
    if row is None:
        raise NotHere("That job is not in the book.")
    return row


def piece_row(db: Session, piece_id: int) -> Piece:
    """The row of a piece, for verbs that change it."""
    row = db.get(Piece, piece_id)
    if row is None:
        raise NotHere("That piece is not in the book.")
    return row
