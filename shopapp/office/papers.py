"""Issued papers: the sheet is frozen with its hash at issue; the bytes are kept at the first pressing."""

from dataclasses import dataclass, replace
from datetime import date, datetime

from sqlmodel import Session, func, select

from shopapp.office import customers, jobs, parts, shopbook
from shopapp.office.errors import NotHere
from shopapp.office.sheets.canon import Sheet, from_json, sha256, to_json
from shopapp.office.sheets.invoice import InvoiceSheet
from shopapp.office.sheets.quote import QuoteSheet
from shopapp.office.tables.invoices import Invoice
from shopapp.office.tables.jobs import Job
from shopapp.office.tables.papers import Paper, Pressed
from shopapp.office.tables.quotes import GoAhead, Quote


@dataclass(frozen=True)
class PaperFacts:
    """An issued paper, without its sheet."""

    id: int
    kind: str
    number: str
    sha256: str
    at: datetime


def freeze(
    db: Session, sheet: Sheet, *, number: str, job_id: int | None = None, customer_id: int | None = None,
    now: datetime, by: int,
) -> int:  # fmt: skip
    """Keep a sheet as issued, of a job or of a customer; gives the paper's row id.

    What every paper says is put on it here where its verb has not: what is not done, and who said go ahead.
    """
    text = to_json(_whole(db, sheet, job_id))
    paper = Paper(
        kind=sheet.kind, number=number, job_id=job_id, customer_id=customer_id, sheet=text, sha256=sha256(text),
        by_id=by, at=now,
    )  # fmt: skip
    db.add(paper)
    db.flush()
    return paper.id


def _whole(db: Session, sheet: Sheet, job_id: int | None) -> Sheet:
    told: dict[str, str | tuple[str, ...]] = {}
    if getattr(sheet, "not_done", None) == ():
        told["not_done"] = not_done(db, job_id)
    if job_id and getattr(sheet, "approved", None) == "":
        told["approved"] = approved(db, job_id)
    if job_id and isinstance(sheet, QuoteSheet | InvoiceSheet):
        told |= _about_tax(db, jobs.by_id(db, job_id).customer_id, date.fromisoformat(sheet.issued_on))
    return replace(sheet, **told)


def _about_tax(db: Session, customer_id: int, day: date) -> dict[str, str]:
    """Why no tax is on a price, or the paper that is asked for where the customer's has run out."""
    if paper := customers.exempt_on(db, customer_id, day):
        return {"exempt_reason": paper.reason()}
    if not (past := [paper for paper in customers.tax_papers(db, customer_id) if paper.valid_to < day]):
        return {}
    end = past[0].valid_to
    words = f"Your certificate {past[0].number} ran out on {end.day} {end:%b %Y}, so there is tax on this."
    return {"tax_paper_text": f"{words} Send us the new one before you pay, and we put it right."}


def not_done(db: Session, job_id: int | None = None) -> tuple[str, ...]:
    """What is not done here: the shop's lines, then those of the parts in a job."""
    lines = list(shopbook.the_shop(db).not_done_lines())
    pieces = jobs.pieces(db, job_id) if job_id else []
    for variant_id in sorted({piece.variant_id for piece in pieces if piece.variant_id}):
        part = parts.part(db, parts.variant(db, variant_id).part_id)
        lines += [line.strip() for line in part.not_done.splitlines() if line.strip()]
    return tuple(dict.fromkeys(lines))


def approved(db: Session, *job_ids: int) -> str:
    """Who said go ahead to these jobs, to which quote and on which day, for the title block; empty before that."""
    shop, told = shopbook.the_shop(db), {}
    for job_id, whom, revision, at in db.exec(
        select(GoAhead.job_id, GoAhead.said_by, Quote.revision, GoAhead.at)
        .outerjoin(Quote, Quote.id == GoAhead.quote_id)
        .where(GoAhead.job_id.in_(job_ids))
        .order_by(GoAhead.id)
    ):
        day = shop.today(at)
        words = (whom, f"quote {revision}" if revision else "", f"{day.day} {day:%b %Y}")
        told[job_id] = ", ".join(word for word in words if word)
    return "; ".join(dict.fromkeys(told[job_id] for job_id in job_ids if job_id in told))


def served(db: Session, kind: str, number: str) -> tuple[Sheet, str]:
    """The paper as it is handed out, and its hash: the newest issued sheet, and of a void invoice another sheet made
    from it, which says since when and why. What was issued stays as it is."""
    issued_one, digest = sheet(db, kind, number)
    if not isinstance(issued_one, InvoiceSheet):
        return issued_one, digest
    told = db.exec(select(Invoice.void_on, Invoice.void_reason).where(Invoice.no == issued_one.number)).first()
    if told is None or told[0] is None:
        return issued_one, digest
    void = replace(issued_one, void_on=str(told[0]), void_reason=told[1] or "")
    return void, sha256(to_json(void))


def sheet(db: Session, kind: str, number: str) -> tuple[Sheet, str]:
    """The newest issued sheet of that kind and number, and its hash."""
    row = db.exec(
        select(Paper.sheet, Paper.sha256).where(Paper.kind == kind, Paper.number == number).order_by(Paper.id.desc())
    ).first()
    if row is None:
        raise NotHere(f"No {kind} {number} was issued.")
    return from_json(kind, row[0]), row[1]


def by_hash(db: Session, digest: str) -> Sheet:
    """The issued sheet with this hash."""
    row = db.exec(select(Paper.kind, Paper.sheet).where(Paper.sha256 == digest)).first()
    if row is None:
        raise NotHere("That paper is not in the book.")
    return from_json(row[0], row[1])


def of_job(db: Session, job_id: int) -> list[PaperFacts]:
    """The papers of a job, newest first."""
    rows = db.exec(
        select(Paper.id, Paper.kind, Paper.number, Paper.sha256, Paper.at)
        .where(Paper.job_id == job_id)
        .order_by(Paper.id.desc())
    )
    return [PaperFacts(*row) for row in rows]


def of_customer(db: Session, customer_id: int) -> list[PaperFacts]:
    """The papers that belong to a customer and to no one job, such as statements, newest first."""
    rows = db.exec(
        select(Paper.id, Paper.kind, Paper.number, Paper.sha256, Paper.at)
        .where(Paper.customer_id == customer_id, Paper.job_id.is_(None))
        .order_by(Paper.id.desc())
    )
    return [PaperFacts(*row) for row in rows]


def newest(db: Session, kind: str, job_nos: list[int]) -> dict[int, str]:
    """The number of the newest paper of a kind for each of these jobs that has one, by the job's number."""
    rows = db.exec(
        select(Job.no, Paper.number)
        .join(Job, Job.id == Paper.job_id)
        .where(Paper.kind == kind, Job.no.in_(job_nos))
        .order_by(Paper.id)
    )
    return dict(rows.all())


def count(db: Session, kind: str, *, job_id: int | None = None, customer_id: int | None = None) -> int:
    """How many papers of a kind a job, or a customer, has; the next one's number is one more."""
    whose = Paper.job_id == job_id if job_id else Paper.customer_id == customer_id
    return int(db.exec(select(func.count(Paper.id)).where(Paper.kind == kind, whose)).one())


def issued(db: Session, kind: str, number: str) -> bool:
    """Whether a paper of that kind and number was issued."""
    return db.exec(select(Paper.id).where(Paper.kind == kind, Paper.number == number)).first() is not None


def pressed(db: Session, digest: str) -> bytes | None:
    """The bytes pressed from the sheet with this hash, if it was pressed before."""
    return db.exec(select(Pressed.pdf).where(Pressed.sha256 == digest)).first()


def keep_pressed(db: Session, digest: str, pdf: bytes, *, now: datetime) -> None:
    """Keep the first pressing; a second one of the same sheet is let go."""
    if pressed(db, digest) is None:
        db.add(Pressed(sha256=digest, pdf=pdf, at=now))
        db.flush()
