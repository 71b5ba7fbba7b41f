"""The customer's property comes through the door, and each piece's way from there to the shelf.

A piece arrives by being taken in and leaves by being handed over; between them it is moved along its track.
"""

from datetime import datetime

from sqlmodel import Session

from shopapp.office import checking, gate, history, jobs, shelf
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.tables.jobs import Piece
from shopapp.office.tables.parts import Sign, Variant
from shopapp.office.tracks import CUSTODY, FATES, MOVES, said

INSTEAD = {"rack": "Take it in: look at its sign.", "gone": "Hand it over, so that it is known who took it."}
"""How a piece comes to where no move leads."""


def take_in(
    db: Session, *, piece_id: int, sign_id: int, place: str = "", goes_to: str | None = None,
    machine: str | None = None, note: str = "", now: datetime, by: int,
) -> str:  # fmt: skip
    """The piece is here: its variant is the one whose sign was seen. Gives a warning or an empty text."""
    piece = jobs.piece_row(db, piece_id)
    if piece.fate == "not_come":
        raise InTheWay("It is written down that this piece does not come. Add one more piece to the job, if it came.")
    sign = db.get(Sign, sign_id)
    if sign is None:
        raise TryAgain({"sign": "Look at the piece and choose the sign that you see on it."})
    asked = piece.variant_id
    piece.variant_id, piece.sign_seen, piece.place = sign.variant_id, sign.id, place.strip()
    piece.goes_to = goes_to or piece.goes_to
    piece.machine = piece.machine if machine is None else machine.strip()
    piece.note = note.strip() or piece.note
    db.add(piece)
    if piece.custody == "expected":
        lay(db, piece=piece, at="rack", words=f"sign seen: {sign.words}", now=now, by=by)
        if piece.rework_of:
            _comes_back(db, piece, now, by)
    else:
        history.write(db, now=now, by=by, act="sign", words=sign.words, job_id=piece.job_id, piece_id=piece.id)
    if asked is not None and asked != sign.variant_id:
        told, seen = _variant_name(db, asked), _variant_name(db, sign.variant_id)
        warning = f"Asked for was {told}; the sign seen says {seen}. The book now has {seen}: ask if in doubt."
        history.write(db, now=now, by=by, act="look-alike", words=warning, job_id=piece.job_id, piece_id=piece.id)
        return warning
    return ""


def move(
    db: Session, *, piece_id: int, to: str, reason: str = "", place: str | None = None, now: datetime, by: int
) -> None:
    """Move a piece along its track. What can never be got back after the first chip is asked for before it."""
    piece = jobs.piece_row(db, piece_id)
    if piece.fate or to not in MOVES[piece.custody]:
        words = f"This piece is {said(piece.custody, piece.fate)}; from there it cannot become {CUSTODY.get(to, to)}."
        arrives = {"rack": piece.custody == "expected", "gone": piece.custody == "shelf"}.get(to, False)
        raise InTheWay(f"{words} {INSTEAD[to]}" if arrives else words)
    if to == "chuck" and piece.custody == "rack":
        reason = _through_the_gate(db, piece, reason, now, by)
    if to == "checked" and piece.custody == "chuck":
        reason = checking.passes(db, piece_id=piece_id, reason=reason)
    if place is not None:
        piece.place = place.strip()
    lay(db, piece=piece, at=to, words=reason.strip(), now=now, by=by)


def _through_the_gate(db: Session, piece: Piece, reason: str, now: datetime, by: int) -> str:
    """What is missing keeps the piece in the rack, unless a reason is given; gives the words that stay with it."""
    if not reason.strip():
        if refusal := gate.refuses(db, piece.id):
            raise TryAgain({"reason": refusal})
        return ""
    without = gate.waive(db, piece_id=piece.id, reason=reason, now=now, by=by)
    return f"cut without: {without}. {reason.strip()}" if without else reason


def missing_before_cutting(db: Session, piece: Piece) -> list[str]:
    """What is still wanted before the first chip, in words; see the gate."""
    return [fact.words for fact in gate.missing(db, piece.id)]


def lay(
    db: Session, *, piece: Piece, at: str, fate: str | None = None, words: str = "", now: datetime, by: int
) -> None:
    """A piece is somewhere else from now on, or something was decided about it: part of the verbs that do so."""
    piece.custody, piece.moved_at, piece.fate = at, now, fate or piece.fate
    if words and (fate or at == "chuck"):
        piece.note = f"{piece.note}\n{words}".strip()
    db.add(piece)
    db.flush()
    told = FATES[fate] if fate else CUSTODY[at]
    history.write(
        db, now=now, by=by, act=fate or at, words=f"{told}; {words}" if words else told, job_id=piece.job_id,
        piece_id=piece.id,
    )  # fmt: skip


def _comes_back(db: Session, piece: Piece, now: datetime, by: int) -> None:
    """The thing of an older piece is here again, to be put right: it lies no longer where the older one lay."""
    old = jobs.piece_row(db, piece.rework_of or 0)
    if old.custody != "gone":
        words = f"it goes on as {jobs.job_row(db, piece.job_id).no}-{piece.n}"
        lay(db, piece=old, at="gone", fate="again", words=words, now=now, by=by)
    elif old.goes_to == "shelf":
        shelf.take_off(db, piece_id=old.id, now=now, by=by)


def _variant_name(db: Session, variant_id: int) -> str:
    row = db.get(Variant, variant_id)
    return row.name if row else "another kind"
