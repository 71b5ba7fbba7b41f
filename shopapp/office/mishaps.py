"""What goes another way than planned: a piece is spoiled, put right, sent back uncut; something is entered late.

Each is a path of its own with its words, and nothing is deleted.
"""

from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from sqlmodel import Session, select

from shopapp.office import clock, handover, history, intake, jobs, photos, questions, quotes, shopbook, weighing
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.history import Line
from shopapp.office.jobs import PieceAsk, PieceFacts
from shopapp.office.photos import Kept, PhotoFacts
from shopapp.office.pricing import PricingTyped
from shopapp.office.tables.cutrun import Tick
from shopapp.office.tables.jobs import Piece
from shopapp.office.tracks import CUSTODY

WHO_PAYS = "who pays"
"""How the day book marks what was agreed about the money of a spoiled piece."""


@dataclass(frozen=True)
class SpoiledFacts:
    """A spoiled piece: its story, who found it and when, what was agreed about the money, photos of the damage."""

    story: str
    initials: str
    at: datetime
    who_pays: tuple[Line, ...]
    calls: tuple[handover.CallFacts, ...]
    photos: tuple[PhotoFacts, ...]


def spoil(
    db: Session, *, piece_id: int, story: str, photo: Kept | None = None, whom: str = "", said: str = "",
    called_at: datetime | None = None, who_pays: str = "", now: datetime, by: int,
) -> None:  # fmt: skip
    """A customer's piece is spoiled: what happened, its photo, who was called when and what was said, who pays.

    While nobody was called, or it is not settled who pays, the job waits for the customer.
    """
    piece = jobs.piece_row(db, piece_id)
    problems = {} if story.strip() else {"story": "Write what happened, as it was, for whoever reads this later."}
    if said.strip() and not whom.strip():
        problems["whom"] = "Write who said that."
    if whom.strip() and not said.strip():
        problems["said"] = "Write what was said, word for word; it settles arguments later."
    if called_at and called_at > now:
        problems["called_at"] = "That call is still to come. Write when it was."
    if called_at and not whom.strip():
        problems["whom"] = "Write who was called."
    if problems:
        raise TryAgain(problems)
    number = f"{jobs.job_row(db, piece.job_id).no}-{piece.n}"
    if photo:
        photos.keep(db, what="damage", photo=photo, piece_id=piece_id, words=story.strip(), now=now, by=by)
    intake.move(db, piece_id=piece_id, to="spoiled", reason=story, now=now, by=by)
    clock.stop_on_job(db, job_id=piece.job_id, now=now, by=by)
    if whom.strip():
        words = f"{number} is spoiled: {said.strip()}"
        at = called_at or now
        handover.call(
            db, job_id=piece.job_id, outcome="told", whom=whom, words=words, now=at, by=by
        )  # fmt: skip
    if who_pays.strip():
        settle(db, piece_id=piece_id, who_pays=who_pays, now=now, by=by)
    if not (whom.strip() and who_pays.strip()):
        question = f"{number} is spoiled: tell them, and settle who pays for what."
        questions.stop(db, job_id=piece.job_id, waits_for="customer", question=question, now=now, by=by)


def settle(db: Session, *, piece_id: int, who_pays: str, now: datetime, by: int) -> None:
    """What was agreed about the money of a spoiled piece: labour dropped, a replacement, who pays it."""
    piece = jobs.piece_row(db, piece_id)
    if piece.custody != "spoiled":
        raise InTheWay("That piece is not spoiled.")
    if not who_pays.strip():
        raise TryAgain({"who_pays": "Write who pays for what, such as: labour dropped, we pay half of a new one."})
    history.write(
        db, now=now, by=by, act=WHO_PAYS, words=who_pays.strip(), job_id=piece.job_id, piece_id=piece_id
    )  # fmt: skip


def spoiled(db: Session, piece_id: int) -> SpoiledFacts | None:
    """What the book has about a spoiled piece, or None of one that is not."""
    piece = jobs.piece_row(db, piece_id)
    lines = history.of_piece(db, piece_id)
    happened = next((line for line in lines if line.act == "spoiled"), None)
    if piece.custody != "spoiled" or happened is None:
        return None
    return SpoiledFacts(
        story=happened.words.partition("; ")[2],
        initials=happened.initials,
        at=happened.at,
        who_pays=tuple(line for line in reversed(lines) if line.act == WHO_PAYS),
        calls=tuple(reversed(handover.calls(db, piece.job_id))),
        photos=tuple(photo for photo in photos.of_piece(db, piece_id) if photo.what == "damage"),
    )


def rework(db: Session, *, piece_id: int, reason: str, free: bool, now: datetime, by: int) -> int:
    """A new job for a piece that is put right, tied to the old one; gives its number.

    Our own mistake is free, with a price sheet that says so; the customer's change of mind has its price.
    """
    row = jobs.piece_row(db, piece_id)
    job = jobs.by_id(db, row.job_id)
    piece = jobs.piece(db, job.no, row.n)
    if not reason.strip():
        raise TryAgain({"reason": "Write why it is done again; the customer reads it on the bill."})
    if piece.custody not in ("gone", "shelf", "checked"):
        raise InTheWay(f"Piece {piece.number} is {CUSTODY[piece.custody]}. What is finished can be put right.")
    whose = "without charge" if free else "at its price"
    no = jobs.open_job(
        db, customer_id=job.customer_id, title=f"put right: {job.title}",
        asked=f"{piece.number}, {whose}: {reason.strip()}", now=now, by=by,
    )  # fmt: skip
    new = jobs.by_no(db, no).id
    ask = PieceAsk(piece.variant_id, piece.goes_to, piece.machine)
    jobs.add_piece(db, job_id=new, ask=ask, rework_of=piece_id, now=now, by=by)
    if free:
        words = f"put right without charge, from {piece.number}: {reason.strip()}"
        typed = PricingTyped(pieces="1", agreed_each="0.00", agreed_words=words)
        quotes.keep_draft(db, job_id=new, typed=typed, now=now, by=by)
    history.write(
        db, now=now, by=by, act="put right", words=f"in job {no}, {whose}: {reason.strip()}", job_id=piece.job_id,
        piece_id=piece_id,
    )  # fmt: skip
    return no


def reworks(db: Session, piece_ids: list[int]) -> list[PieceFacts]:
    """The pieces of later jobs that put these right."""
    return jobs.pieces_where(db, Piece.rework_of.in_(piece_ids))


def puts_right(db: Session, piece: PieceFacts) -> PieceFacts | None:
    """The older piece that this one puts right."""
    return jobs.pieces_where(db, Piece.id == piece.rework_of)[0] if piece.rework_of else None


def send_back(db: Session, *, piece_id: int, reason: str, now: datetime, by: int) -> None:
    """A piece goes home uncut; one that is set up already comes out of the chuck first, if nothing was cut."""
    piece = jobs.piece_row(db, piece_id)
    if not reason.strip():
        raise TryAgain({"reason": "Write why it goes back uncut."})
    words = f"not cut: {reason.strip()}"
    if piece.custody == "chuck":
        if _is_cut(db, piece_id):
            raise InTheWay("This piece is cut already. Finish it, or write down that it is spoiled.")
        words = f"set up, not cut: {reason.strip()}"
        intake.move(db, piece_id=piece_id, to="rack", now=now, by=by)
    intake.move(db, piece_id=piece_id, to="sent_back", reason=words, now=now, by=by)


def _is_cut(db: Session, piece_id: int) -> bool:
    """Whether a setting is done on it, or it was weighed after its cuts or between them."""
    done = db.exec(select(Tick.id).where(Tick.piece_id == piece_id, Tick.what == "done")).first()
    weighed = [row for row in weighing.readings(db, piece_id) if row.struck is None and row.phase != "before"]
    return done is not None or bool(weighed)


def call_off(db: Session, *, job_id: int, reason: str, now: datetime, by: int) -> int:
    """The customer calls off: what is here goes back uncut, and the minutes spent so far stay to be billed.

    Gives these minutes. Pieces that are cut already keep the job open: they are finished, or spoiled.
    """
    if not reason.strip():
        raise TryAgain({"reason": "Write why it ends here; the next quote is better for it."})
    for piece in jobs.pieces(db, job_id):
        if piece.custody in ("rack", "chuck"):
            send_back(db, piece_id=piece.id, reason=f"called off, {reason.strip()}", now=now, by=by)
    clock.stop_on_job(db, job_id=job_id, now=now, by=by)
    jobs.end(db, job_id=job_id, how="called_off", reason=reason, now=now, by=by)
    return jobs.spent_minutes(db, job_id)


def late_note(db: Session, *, told: datetime, now: datetime, note: str = "") -> str:
    """The note of a reading that was taken before it was entered: on paper, with the shop's power out."""
    if told > now:
        raise TryAgain({"at": "That time is still to come. Write when it was read."})
    if told == now:
        return note.strip()
    zone = ZoneInfo(shopbook.the_shop(db).zone)
    return f"entered late, {now.astimezone(zone):%Y-%m-%d %H:%M}; {note.strip()}".removesuffix("; ")


def entered_late(note: str) -> bool:
    """Whether a note says that its reading was entered late."""
    return note.startswith("entered late, ")
