"""The customer's property comes through the door, and each piece's way from there to the shelf."""

from datetime import datetime

from sqlmodel import Session

from shopapp.office import checking, gate, history
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.jobs import piece_row
from shopapp.office.tables.jobs import Piece
from shopapp.office.tables.parts import Sign, Variant
from shopapp.office.tracks import CUSTODY, MOVES


def take_in(
    db: Session, *, piece_id: int, sign_id: int, place: str = "", goes_to: str | None = None,
    machine: str | None = None, note: str = "", now: datetime, by: int,
) -> str:  # fmt: skip
    """The piece is here: its variant is the one whose sign was seen. Gives a warning or an empty text."""
    piece = piece_row(db, piece_id)
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
        _to(db, piece, "rack", now, by, f"sign seen: {sign.words}")
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
    piece = piece_row(db, piece_id)
    if to not in MOVES.get(piece.custody, ()):
        raise InTheWay(f"This piece is {CUSTODY[piece.custody]}; from there it cannot become {CUSTODY.get(to, to)}.")
    if to == "chuck" and piece.custody == "rack":
        reason = _through_the_gate(db, piece, reason, now, by)
    if to == "checked" and piece.custody == "chuck":
        reason = checking.passes(db, piece_id=piece_id, reason=reason)
    if to in ("spoiled", "sent_back") and not reason.strip():
        raise TryAgain({"reason": "Write what happened, for the customer and for whoever reads this later."})
    if place is not None:
        piece.place = place.strip()
    _to(db, piece, to, now, by, reason.strip())


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


def _to(db: Session, piece: Piece, to: str, now: datetime, by: int, words: str) -> None:
    piece.custody, piece.moved_at = to, now
    if words and to in ("spoiled", "sent_back", "chuck"):
        piece.note = f"{piece.note}\n{words}".strip()
    db.add(piece)
    db.flush()
    said = f"{CUSTODY[to]}; {words}" if words else CUSTODY[to]
    history.write(db, now=now, by=by, act=to, words=said, job_id=piece.job_id, piece_id=piece.id)


def _variant_name(db: Session, variant_id: int) -> str:
    row = db.get(Variant, variant_id)
    return row.name if row else "another kind"
