"""What goes another way than planned: a piece is spoiled, put right, sent back uncut, did not come; something is
entered late.

Each is a path of its own with its words, and nothing is deleted. What is decided about a piece does not take it out of
the shop: it lies on the pick-up shelf until somebody takes it home.
"""

from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from sqlmodel import Session, func, select

from shopapp.office import (
    clock,
    handover,
    history,
    intake,
    jobs,
    photos,
    plausible,
    questions,
    quotes,
    shopbook,
    weighing,
)
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.history import Line
from shopapp.office.jobs import PieceAsk, PieceFacts
from shopapp.office.photos import Kept, PhotoFacts
from shopapp.office.pricing import PricingTyped
from shopapp.office.tables.cutrun import Tick
from shopapp.office.tables.invoices import BilledPiece, CreditNote, Invoice
from shopapp.office.tables.jobs import Piece
from shopapp.office.tracks import ENDED, HERE
from shopapp.office.tracks import said as where_it_is

WHO_PAYS = "who pays"
"""How the day book marks what was agreed about the money of a spoiled piece."""


@dataclass(frozen=True)
class SpoiledFacts:
    """A spoiled piece: its story, who found it and when, what was agreed about the money, photos of the damage; the
    bill that it stands on, and the cents of that bill that were taken back, before tax.
    """

    story: str
    initials: str
    at: datetime
    who_pays: tuple[Line, ...]
    calls: tuple[handover.CallFacts, ...]
    photos: tuple[PhotoFacts, ...]
    bill: int | None = None
    back_cents: int = 0


def spoil(
    db: Session, *, piece_id: int, story: str, photo: Kept | None = None, whom: str = "", said: str = "",
    called_at: datetime | None = None, who_pays: str = "", now: datetime, by: int,
) -> None:  # fmt: skip
    """A customer's piece is spoiled: what happened, its photo, who was called when and what was said, who pays.

    It may lie anywhere in the shop. While nobody was called, or it is not settled who pays, the job waits for the
    customer.
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
    if piece.custody not in HERE or piece.fate == "spoiled":
        raise InTheWay(f"This piece is {where_it_is(piece.custody, piece.fate)}: nothing can be spoiled here.")
    number = f"{jobs.job_row(db, piece.job_id).no}-{piece.n}"
    if photo:
        photos.keep(db, what="damage", photo=photo, piece_id=piece_id, words=story.strip(), now=now, by=by)
    intake.lay(db, piece=piece, at="shelf", fate="spoiled", words=story.strip(), now=now, by=by)
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
        if bill := _bill_of(db, piece_id)[0]:
            question += f" It stands on invoice {bill}: what is not to be paid is taken back by a credit note."
        questions.stop(db, job_id=piece.job_id, waits_for="customer", question=question, now=now, by=by)


def settle(db: Session, *, piece_id: int, who_pays: str, now: datetime, by: int) -> None:
    """What was agreed about the money of a spoiled piece: labour dropped, a replacement, who pays it."""
    piece = jobs.piece_row(db, piece_id)
    if piece.fate != "spoiled":
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
    if piece.fate != "spoiled" or happened is None:
        return None
    bill, back = _bill_of(db, piece_id)
    return SpoiledFacts(
        story=happened.words.partition("; ")[2],
        initials=happened.initials,
        at=happened.at,
        who_pays=tuple(line for line in reversed(lines) if line.act == WHO_PAYS),
        calls=tuple(reversed(handover.calls(db, piece.job_id))),
        photos=tuple(photo for photo in photos.of_piece(db, piece_id) if photo.what == "damage"),
        bill=bill,
        back_cents=back,
    )


def _bill_of(db: Session, piece_id: int) -> tuple[int | None, int]:
    """The bill that a piece stood on last, if any, and the cents that were taken back of it."""
    row = db.exec(
        select(Invoice.no, func.coalesce(func.sum(CreditNote.net_cents), 0))
        .join(BilledPiece, BilledPiece.invoice_id == Invoice.id)
        .outerjoin(CreditNote, CreditNote.invoice_id == Invoice.id)
        .where(BilledPiece.piece_id == piece_id, Invoice.void_on.is_(None))
        .group_by(Invoice.no)
        .order_by(Invoice.no.desc())
    ).first()
    return (row[0], int(row[1])) if row else (None, 0)


def rework(db: Session, *, piece_id: int, reason: str, free: bool, now: datetime, by: int) -> int:
    """A new job for a piece that is put right, tied to the old one; gives its number. A piece has one such job, and
    what comes of it has the next.

    Our own mistake is free, with a price sheet that says so; the customer's change of mind has its price.
    """
    row = jobs.piece_row(db, piece_id)
    job = jobs.by_id(db, row.job_id)
    piece = jobs.piece(db, job.no, row.n)
    if not reason.strip():
        raise TryAgain({"reason": "Write why it is done again; the customer reads it on the bill."})
    if later := [one for one in reworks(db, [piece_id]) if one.fate != "not_come"]:
        raise InTheWay(
            f"Piece {piece.number} goes on as {later[0].number}. What is wrong is put right under that number."
        )
    if piece.custody not in ("gone", "shelf", "checked") or piece.fate:
        raise InTheWay(f"Piece {piece.number} is {piece.said}. What is finished can be put right.")
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
    """A piece goes back uncut: out of rack or chuck onto the pick-up shelf, where it lies until it is taken home."""
    piece = jobs.piece_row(db, piece_id)
    if not reason.strip():
        raise TryAgain({"reason": "Write why it goes back uncut."})
    if piece.custody not in ("rack", "chuck"):
        raise InTheWay(
            f"This piece is {where_it_is(piece.custody, piece.fate)}. What lies in rack or chuck goes back uncut."
        )
    if _is_cut(db, piece_id):
        raise InTheWay("This piece is cut already. Finish it, or write down that it is spoiled.")
    words = f"{'set up, ' if piece.custody == 'chuck' else ''}not cut: {reason.strip()}"
    intake.lay(db, piece=piece, at="shelf", fate="sent_back", words=words, now=now, by=by)


def does_not_come(db: Session, *, piece_id: int, reason: str, now: datetime, by: int) -> None:
    """A piece that was expected does not come: the job goes on, or ends, without it."""
    piece = jobs.piece_row(db, piece_id)
    if not reason.strip():
        raise TryAgain({"reason": "Write why it does not come, as they told it."})
    if piece.custody != "expected":
        raise InTheWay(f"This piece is {where_it_is(piece.custody, piece.fate)}. What is expected can stay away.")
    intake.lay(db, piece=piece, at="gone", fate="not_come", words=reason.strip(), now=now, by=by)


def _is_cut(db: Session, piece_id: int) -> bool:
    """Whether a setting is done on it, or it was weighed after its cuts or between them."""
    done = db.exec(select(Tick.id).where(Tick.piece_id == piece_id, Tick.what == "done")).first()
    weighed = [row for row in weighing.readings(db, piece_id) if row.struck is None and row.phase != "before"]
    return done is not None or bool(weighed)


def call_off(db: Session, *, job_id: int, reason: str, now: datetime, by: int) -> int:
    """The customer calls off, and the minutes spent so far stay to be billed; gives these minutes."""
    end(db, job_id=job_id, how="called_off", reason=reason, now=now, by=by)
    return jobs.spent_minutes(db, job_id)


def end(db: Session, *, job_id: int, how: str, reason: str, now: datetime, by: int) -> None:
    """A job ends before its work is done: what is here goes back uncut, what did not come does not come any more.

    Pieces that are cut already keep the job open: they are finished, or spoiled.
    """
    told = reason.strip()
    if told and how in ENDED:
        for piece in jobs.pieces(db, job_id):
            if piece.custody in ("rack", "chuck"):
                send_back(db, piece_id=piece.id, reason=f"{ENDED[how]}, {told}", now=now, by=by)
            elif piece.custody == "expected":
                does_not_come(db, piece_id=piece.id, reason=f"{ENDED[how]}, {told}", now=now, by=by)
        clock.stop_on_job(db, job_id=job_id, now=now, by=by)
    jobs.end(db, job_id=job_id, how=how, reason=reason, now=now, by=by)


def late_note(db: Session, *, told: datetime, now: datetime, note: str = "") -> str:
    """The note of a reading that was taken before it was entered: on paper, with the shop's power out."""
    if told > now:
        raise TryAgain({"at": "That time is still to come. Write when it was read."})
    if told == now:
        return note.strip()
    zone = ZoneInfo(shopbook.the_shop(db).zone)
    return f"{plausible.LATE}{now.astimezone(zone):%Y-%m-%d %H:%M}; {note.strip()}".removesuffix("; ")


def entered_late(note: str) -> bool:
    """Whether a note says that its reading was entered late."""
    return note.startswith(plausible.LATE)
