"""The gate before the first chip: six facts that can never be got back once the tool has touched the piece."""

from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session, select

from shopapp.office import condition, cutting, history, jobs, photos
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.folding import folded
from shopapp.office.tables.intake import Waiver
from shopapp.office.tables.jobs import Piece, Stop
from shopapp.office.tables.parts import Sign
from shopapp.office.tables.quotes import GoAhead
from shopapp.office.tables.shopbook import Scale
from shopapp.office.tables.weighing import Reading, Size, Strike
from shopapp.office.tracks import ENDED

NOT_MEASURED = "told, not measured"
"""What stands in the place of the instrument where a size was only heard of."""


@dataclass(frozen=True)
class Fact:
    """One of the six: how it stands in words, whether it is there, what to do if not, what papers say if waived."""

    key: str
    words: str
    ok: bool
    what_to_do: str = ""
    printed: str = ""


def gate(db: Session, piece_id: int) -> tuple[Fact, ...]:
    """The six facts of a piece as they stand now."""
    piece = jobs.piece_row(db, piece_id)
    return (
        _sign(db, piece),
        _weight(db, piece),
        _photos(db, piece),
        _condition(db, piece),
        _web(db, piece),
        _go_ahead(db, piece),
    )


def missing(db: Session, piece_id: int) -> list[Fact]:
    """The facts that are not there, in the order in which they are looked for."""
    return [fact for fact in gate(db, piece_id) if not fact.ok]


def refuses(db: Session, piece_id: int) -> str:
    """The sentence that refuses the first chip and names what is missing, or an empty text.

    What was waived once is not asked for again. Nothing is cut in a job that has ended, whatever is said.
    """
    _goes_on(db, jobs.piece_row(db, piece_id))
    waived = set(waived_words(db, piece_id))
    lacking = [fact for fact in missing(db, piece_id) if fact.printed not in waived]
    if not lacking:
        return ""
    return f"Before the first chip: {'; '.join(fact.words for fact in lacking)}. Or say why it goes without."


def waive(db: Session, *, piece_id: int, reason: str, now: datetime, by: int) -> str:
    """The piece is cut although facts are missing: which, and why, is written down. Gives what it goes without."""
    if not reason.strip():
        raise TryAgain({"reason": "Say why it goes without; it stands on the papers later."})
    piece = jobs.piece_row(db, piece_id)
    _goes_on(db, piece)
    waived = set(waived_words(db, piece_id))
    lacking = [fact for fact in missing(db, piece_id) if fact.printed not in waived]
    if not lacking:
        return ""
    printed = "\n".join(fact.printed for fact in lacking)
    db.add(Waiver(piece_id=piece_id, missing=printed, reason=reason.strip(), by_id=by, at=now))
    db.flush()
    words = "; ".join(fact.words for fact in lacking)
    said = f"{words}. {reason.strip()}"
    history.write(db, now=now, by=by, act="waived", words=said, job_id=piece.job_id, piece_id=piece_id)
    return words


def waived_words(db: Session, piece_id: int) -> tuple[str, ...]:
    """What papers say that a piece was cut without: "not weighed before"."""
    rows = db.exec(select(Waiver.missing).where(Waiver.piece_id == piece_id).order_by(Waiver.id))
    return tuple(dict.fromkeys(line for text in rows for line in text.splitlines()))


def _goes_on(db: Session, piece: Piece) -> None:
    job = jobs.by_id(db, piece.job_id)
    if job.ended:
        raise InTheWay(f"Job {job.no} was {ENDED[job.ended]}: nothing is cut in it. Send {job.no}-{piece.n} back.")


def _sign(db: Session, piece: Piece) -> Fact:
    seen = db.get(Sign, piece.sign_seen) if piece.sign_seen else None
    if seen is None:
        return Fact("sign", "no deciding sign was looked at", False, "Look at the piece and choose the sign.",
                    "cut without a look at its sign")  # fmt: skip
    return Fact("sign", f"sign seen: {seen.words}", True)


def _weight(db: Session, piece: Piece) -> Fact:
    row = db.exec(
        select(Reading.typed, Reading.unit, Scale.name)
        .join(Scale, Scale.id == Reading.scale_id)
        .outerjoin(Strike, Strike.reading_id == Reading.id)
        .where(Reading.piece_id == piece.id, Reading.phase == "before", Strike.id.is_(None))
        .order_by(Reading.id.desc())
    ).first()
    if row is None:
        return Fact("weight", "it was not weighed", False, "Weigh it in.", "not weighed before")
    return Fact("weight", f"weighed in: {row[0]} {row[1]} on {row[2]}", True)


def _photos(db: Session, piece: Piece) -> Fact:
    count = sum(photo.what in ("intake", "damage") for photo in photos.of_piece(db, piece.id))
    if not count:
        return Fact("photos", "no photo was taken", False, "Take its photo: front, back, any damage.",
                    "no photo before")  # fmt: skip
    return Fact("photos", f"{count} photos" if count > 1 else "1 photo", True)


def _condition(db: Session, piece: Piece) -> Fact:
    state = condition.standing(db, piece.id)
    cracked = state[0]
    said = condition.summary(state)
    if cracked.answer == "not_looked":
        return Fact("condition", "nobody looked for cracks", False, "Look for cracks and answer yes or no.",
                    "not looked at for cracks")  # fmt: skip
    if cracked.answer == "yes" and cracked.at and not _told_since(db, piece.job_id, cracked.at):
        return Fact("condition", "it is cracked and the customer has not been heard since", False,
                    "Stop the job with the question, or get a go-ahead that knows of the crack.",
                    "cracked, and cut before the customer was heard")  # fmt: skip
    return Fact("condition", said, True)


def _told_since(db: Session, job_id: int, seen: datetime) -> bool:
    """Whether the customer said something after the crack was seen: a go-ahead, or the answer to a question."""
    moments = [
        *db.exec(select(GoAhead.at).where(GoAhead.job_id == job_id)),
        *db.exec(select(Stop.answered_at).where(Stop.job_id == job_id, Stop.waits_for == "customer")),
    ]
    return any(moment is not None and moment > seen for moment in moments)


def _web(db: Session, piece: Piece) -> Fact:
    """Web and wall, where the drawing of its kind names a least one."""
    _, body = cutting.body_of(db, piece.variant_id) if piece.variant_id else (None, None)
    wanted = [name for name in ("web", "wall") if body and getattr(body, f"{name}_least").strip()]
    if not wanted:
        return Fact("web", "no least web or wall is named", True)
    sizes = db.exec(
        select(Size.name, Size.typed, Size.unit)
        .where(Size.piece_id == piece.id, Size.instrument != NOT_MEASURED)
        .order_by(Size.id)
    ).all()
    found = {name: f"{typed} {unit}" for size, typed, unit in sizes for name in wanted if is_before(size, name)}
    if lacking := [name for name in wanted if name not in found]:
        both = " and ".join(lacking)
        was = "were" if len(lacking) > 1 else "was"
        return Fact("web", f"{both} {was} not measured", False, f"Measure {both} where it is thinnest.",
                    f"{both} not measured before")  # fmt: skip
    return Fact("web", ", ".join(f"{name} {text}" for name, text in found.items()), True)


def is_before(size_name: str, what: str) -> bool:
    """Whether a size is the web or wall as it came in, and not what the cuts left: "web", "Web at the hub"."""
    words = folded(size_name).split()
    return what in words and "left" not in words


def _go_ahead(db: Session, piece: Piece) -> Fact:
    question = db.exec(
        select(Stop.question)
        .where(Stop.job_id == piece.job_id, Stop.waits_for == "customer", Stop.answered_at.is_(None))
        .order_by(Stop.id)
    ).first()
    yes = db.exec(
        select(GoAhead.said_by, GoAhead.how).where(GoAhead.job_id == piece.job_id).order_by(GoAhead.id.desc())
    ).first()
    if yes is None:
        return Fact("go_ahead", "the customer has not said go ahead", False, "Ask for the yes; write down whose it is.",
                    "cut before the customer said go ahead")  # fmt: skip
    if question is not None:
        line = " ".join(question.split())
        said = line if len(line) <= 60 else f"{line[:58]} …"
        return Fact("go_ahead", f"a question is open: {said}", False, "Write the answer down word for word.",
                    f"cut with a question open: {said}")  # fmt: skip
    return Fact("go_ahead", f"{yes[0]} said go ahead", True)
