"""Ready, called, fetched: the notice, the calls, and the pieces leaving by the door."""

from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session, select

from shopapp.bench import money
from shopapp.office import customers, history, intake, jobs, papers, quotes, shopbook, standing, weighing
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.jobs import PieceFacts
from shopapp.office.sheets.ready import ReadyPiece, ReadySheet
from shopapp.office.tables.jobs import Call, HandOver, Piece
from shopapp.office.tables.people import Person
from shopapp.office.tracks import CUSTODY, FINAL

OUTCOMES = {
    "told": "told",
    "message": "left a message",
    "no_answer": "no answer",
    "someone_else": "told someone else",
}


@dataclass(frozen=True)
class CallFacts:
    """A call about a job, and what came of it."""

    outcome: str
    whom: str
    words: str
    initials: str
    at: datetime


def announce(db: Session, *, job_id: int, words: str = "", now: datetime, by: int) -> str:
    """Put the checked pieces on the pick-up shelf and freeze the ready notice; gives its number."""
    job, shop = jobs.by_id(db, job_id), shopbook.the_shop(db)
    unfinished = [piece for piece in jobs.pieces(db, job_id) if piece.custody not in FINAL]
    if unfinished:
        one = unfinished[0]
        raise InTheWay(f"Piece {one.number} is {CUSTODY[one.custody]}. It is ready when every piece is finished.")
    for piece in jobs.pieces(db, job_id):
        if piece.custody == "checked":
            intake.move(db, piece_id=piece.id, to="shelf", now=now, by=by)
    waiting = [piece for piece in jobs.pieces(db, job_id) if piece.custody in ("shelf", "spoiled")]
    if not any(piece.custody == "shelf" for piece in waiting):
        raise InTheWay("No piece waits on the shelf, so there is nothing to announce.")
    number = f"{job.no}-R{sum(paper.kind == 'ready' for paper in papers.of_job(db, job_id)) + 1}"
    sheet = ReadySheet(
        letterhead=shop.letterhead(), party=customers.one(db, job.customer_id).party(), job_no=str(job.no),
        title=job.title, issued_on=str(shop.today(now)), drawn_by=history.initials(db, by),
        pieces=_ready_pieces(db, waiting), total_text=_to_pay(db, job_id, shop.currency, now),
        not_done=quotes.not_done(db, job_id), hours=shop.hours, words=words.strip(),
    )  # fmt: skip
    papers.freeze(db, sheet, number=number, job_id=job_id, now=now, by=by)
    history.write(db, now=now, by=by, act="ready", words=f"ready notice {number}", job_id=job_id)
    return number


def _ready_pieces(db: Session, pieces: list[PieceFacts]) -> tuple[ReadyPiece, ...]:
    told = weighing.of_pieces(db, pieces)
    return tuple(
        ReadyPiece(
            number=piece.number, name=f"{piece.name}, {piece.destination}", state_words=CUSTODY[piece.custody],
            before=told[piece.id].before.text if told[piece.id].before else "",
            after=told[piece.id].after.text if told[piece.id].after else "",
            off=told[piece.id].removed_text, predicted=told[piece.id].predicted_text,
            scale_words=told[piece.id].before.scale_words if told[piece.id].before else "",
            verdict=told[piece.id].verdict,
        )
        for piece in pieces
    )  # fmt: skip


def _to_pay(db: Session, job_id: int, currency: str, now: datetime) -> str:
    """What is to be paid: what bills still ask, or what the agreed quote says while there is no bill."""
    if standing.bills_of(db, [job_id]):
        due = standing.of_job(db, job_id, now=now).due_cents
        return f"To pay: {money.show(max(due, 0), currency)}"
    quote = quotes.agreed_quote(db, job_id)
    if quote is None:
        return ""
    held = standing.held_of(db, [job_id]).get(job_id, 0)
    less = f", less {money.show(held, currency)} held as deposit" if held else ""
    return f"Total by quote {quote.revision}: {money.show(quote.total_cents, currency)}{less}"


def call(db: Session, *, job_id: int, outcome: str, whom: str = "", words: str = "", now: datetime, by: int) -> None:
    """Write down a call and what came of it."""
    if outcome not in OUTCOMES:
        raise TryAgain({"outcome": "Say what came of the call: told, left a message, no answer, told someone else."})
    if outcome == "someone_else" and not whom.strip():
        raise TryAgain({"whom": "Write who was told."})
    db.add(Call(job_id=job_id, outcome=outcome, whom=whom.strip(), words=words.strip(), by_id=by, at=now))
    said = " ".join(part for part in (OUTCOMES[outcome], whom.strip(), words.strip()) if part)
    history.write(db, now=now, by=by, act="called", words=said, job_id=job_id)


def calls(db: Session, job_id: int) -> list[CallFacts]:
    """The calls about a job, newest first."""
    rows = db.exec(
        select(Call.outcome, Call.whom, Call.words, Person.initials, Call.at)
        .join(Person, Person.id == Call.by_id)
        .where(Call.job_id == job_id)
        .order_by(Call.id.desc())
    )
    return [CallFacts(*row) for row in rows]


def hand_over(db: Session, *, job_id: int, piece_ids: list[int], taken_by: str, now: datetime, by: int) -> None:
    """Pieces leave the shop: which, and who took them."""
    pieces = [piece for piece in jobs.pieces(db, job_id) if piece.id in piece_ids]
    problems = {} if taken_by.strip() else {"taken_by": "Write who took the pieces."}
    if not pieces:
        problems["pieces"] = "Tick the pieces that leave."
    for piece in pieces:
        if piece.custody not in ("shelf", "spoiled"):
            problems["pieces"] = f"Piece {piece.number} is {CUSTODY[piece.custody]}, not on the pick-up shelf."
    if problems:
        raise TryAgain(problems)
    row = HandOver(job_id=job_id, taken_by=taken_by.strip(), by_id=by, at=now)
    db.add(row)
    db.flush()
    for piece in pieces:
        if piece.custody == "shelf":
            intake.move(db, piece_id=piece.id, to="gone", now=now, by=by)
        db.get(Piece, piece.id).hand_over_id = row.id
    db.flush()
    words = f"{', '.join(piece.number for piece in pieces)} taken by {taken_by.strip()}"
    history.write(db, now=now, by=by, act="handed over", words=words, job_id=job_id)
