"""Ready, called, fetched: the notice, the calls, and the pieces leaving by the door."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from sqlalchemy import ColumnElement
from sqlalchemy.orm import aliased
from sqlmodel import Session, and_, case, col, exists, func, select

from shopapp.bench import money
from shopapp.office import (
    condition,
    customers,
    history,
    intake,
    invoices,
    jobs,
    papers,
    phrases,
    quotes,
    shelf,
    shopbook,
    standing,
    weighing,
)
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.jobs import JobFacts, PieceFacts
from shopapp.office.sheets.handover import GonePiece, HandOverSheet
from shopapp.office.sheets.ready import ReadyPiece, ReadySheet
from shopapp.office.tables.customers import Customer
from shopapp.office.tables.jobs import Call, HandOver, Job, Piece
from shopapp.office.tables.people import Person
from shopapp.office.tracks import AWAY, CUSTODY, FATES, FINAL
from shopapp.office.weighing import Weighed

OUTCOMES = {
    "told": "told",
    "message": "left a message",
    "no_answer": "no answer",
    "someone_else": "told someone else",
}
HOW_TAKEN = {"signed": "signed for", "known": "known, unsigned"}
BANDS = (14, 30, 60, 90)
"""Days on the pick-up shelf at which a piece that was not fetched comes into the next list."""
STROKES = re.compile(r"[MLHVCSQTZmlhvcsqtz0-9 ,.\-]+")
MOST_STROKES = 20_000


@dataclass(frozen=True)
class CallFacts:
    """A call about a job, and what came of it."""

    outcome: str
    whom: str
    words: str
    initials: str
    at: datetime
    next_on: date | None = None

    @property
    def said(self) -> str:
        """What came of it in a few words."""
        return " ".join(part for part in (OUTCOMES[self.outcome], self.whom, self.words) if part)


@dataclass(frozen=True)
class Uncollected:
    """A job with pieces on the pick-up shelf: since when, how many of them uncut or spoiled, what was done about it."""

    job_no: int
    customer: str
    phone: str
    title: str
    pieces: int
    uncut: int
    spoiled: int
    since: date
    days: int
    calls: int
    last_outcome: str
    last_called_on: date | None
    next_on: date | None

    @property
    def said(self) -> str:
        """How many pieces, and which of them are not finished work: "3 pieces, 1 uncut"."""
        told = [f"{count} {word}" for count, word in ((self.uncut, "uncut"), (self.spoiled, "spoiled")) if count]
        return ", ".join([f"{self.pieces} piece{'' if self.pieces == 1 else 's'}", *told])

    @property
    def band(self) -> int:
        """The highest of the BANDS that it has reached; 0 before the first."""
        return max((days for days in BANDS if self.days >= days), default=0)


@dataclass(frozen=True)
class HandedOver:
    """The number of the receipt, and a warning that names what came along and stays here, or an empty text."""

    number: str
    warning: str


def announce(db: Session, *, job_id: int, words: str = "", now: datetime, by: int) -> str:
    """Put the checked pieces on the pick-up shelf and freeze the ready notice; gives its number."""
    job, shop = jobs.by_id(db, job_id), shopbook.the_shop(db)
    unfinished = [piece for piece in jobs.pieces(db, job_id) if piece.custody not in FINAL]
    if unfinished:
        one = unfinished[0]
        raise InTheWay(f"Piece {one.number} is {CUSTODY[one.custody]}. It is ready when every piece is finished.")
    for piece in jobs.pieces_where(db, and_(Piece.job_id == job_id, Piece.custody == "checked", ~put_right())):
        intake.move(db, piece_id=piece.id, to="shelf", now=now, by=by)
    waiting = jobs.pieces_where(db, and_(Piece.job_id == job_id, _waits()))
    if not waiting:
        raise InTheWay("No piece waits on the shelf, so there is nothing to announce.")
    number = f"{job.no}-R{sum(paper.kind == 'ready' for paper in papers.of_job(db, job_id)) + 1}"
    sheet = ReadySheet(
        letterhead=shop.letterhead(), party=customers.one(db, job.customer_id).party(), job_no=str(job.no),
        title=job.title, issued_on=str(shop.today(now)), drawn_by=history.initials(db, by),
        pieces=_ready_pieces(db, waiting), total_text=to_pay(db, job_id, now=now),
        not_done=quotes.not_done(db, job_id), hours=shop.hours, words=words.strip(),
        phrases=phrases.printed(db, shop.today(now), "ready", "storage"), number=number,
    )  # fmt: skip
    papers.freeze(db, sheet, number=number, job_id=job_id, now=now, by=by)
    history.write(db, now=now, by=by, act="ready", words=f"ready notice {number}", job_id=job_id)
    return number


def _ready_pieces(db: Session, pieces: list[PieceFacts]) -> tuple[ReadyPiece, ...]:
    told = weighing.of_pieces(db, pieces)
    return tuple(
        ReadyPiece(
            number=piece.number, name=piece.told,
            state_words=FATES[piece.fate] if piece.fate else piece.said,
            **_weights(told[piece.id]),
        )
        for piece in pieces
    )  # fmt: skip


def _weights(weighed: Weighed) -> dict[str, str]:
    """What the weigh slip says of a piece, in the same words on every paper."""
    before, after = weighed.before, weighed.after
    scales = dict.fromkeys(row.scale_words for row in (before, after) if row)
    return {
        "before": before.text if before else "", "after": after.text if after else "", "off": weighed.removed_text,
        "predicted": weighed.predicted_text, "scale_words": "; ".join(scales), "verdict": weighed.verdict,
    }  # fmt: skip


def to_pay(db: Session, job_id: int, *, leaving: bool = False, now: datetime) -> str:
    """The one sum that is to be paid: what bills still ask, and what the pieces come to that no bill is written for
    yet, priced as their bill will be. Pieces that are ready count, or where they are leaving those that the bill would
    take now. Empty where the bill cannot be known."""
    shop, pieces = shopbook.the_shop(db), invoices.to_bill(db, job_id, ready=not leaving)
    bills = standing.bills_of(db, [job_id])
    due = max(standing.of_job(db, job_id, now=now).due_cents, 0) if bills else 0
    drawn = invoices.drawn(db, job_id, pieces, now=now) if pieces else None
    if (pieces and drawn is None) or not (pieces or bills):
        return ""
    less = ""
    if drawn and (held := sum(cents for _, cents in drawn.deposits)):
        whole = drawn.totals.total_cents + due
        less = f" ({money.show(whole, shop.currency)} less {money.show(held, shop.currency)} held)"
    return f"To pay: {money.show(due + (drawn.due_cents if drawn else 0), shop.currency)}{less}"


def call(
    db: Session, *, job_id: int, outcome: str, whom: str = "", words: str = "", next_on: date | None = None,
    now: datetime, by: int,
) -> None:  # fmt: skip
    """Write down a call, what came of it, and when to try next."""
    if outcome not in OUTCOMES:
        raise TryAgain({"outcome": "Say what came of the call: told, left a message, no answer, told someone else."})
    if outcome == "someone_else" and not whom.strip():
        raise TryAgain({"whom": "Write who was told."})
    if next_on and next_on < shopbook.the_shop(db).today(now):
        raise TryAgain({"next_on": "That day has passed. Choose today or a day to come."})
    db.add(
        Call(job_id=job_id, outcome=outcome, whom=whom.strip(), words=words.strip(), next_on=next_on, by_id=by, at=now)
    )
    said = " ".join(part for part in (OUTCOMES[outcome], whom.strip(), words.strip()) if part)
    said += f"; next try {next_on}" if next_on else ""
    history.write(db, now=now, by=by, act="called", words=said, job_id=job_id)


def calls(db: Session, job_id: int) -> list[CallFacts]:
    """The calls about a job, newest first."""
    rows = db.exec(
        select(Call.outcome, Call.whom, Call.words, Person.initials, Call.at, Call.next_on)
        .join(Person, Person.id == Call.by_id)
        .where(Call.job_id == job_id)
        .order_by(Call.id.desc())
    )
    return [CallFacts(*row) for row in rows]


def uncollected(db: Session, *, now: datetime) -> list[Uncollected]:
    """Jobs with pieces on the pick-up shelf, those that wait longest first. Nothing is ever done with them here."""
    shop = shopbook.the_shop(db)
    zone, today = ZoneInfo(shop.zone), shop.today(now)
    rows = db.exec(
        select(
            Job.id, Job.no, Customer.name, Customer.phone, Job.title, func.count(Piece.id),
            func.sum(case((Piece.fate == "sent_back", 1), else_=0)),
            func.sum(case((Piece.fate == "spoiled", 1), else_=0)), func.min(Piece.moved_at),
        )
        .join(Customer, Customer.id == Job.customer_id)
        .join(Piece, Piece.job_id == Job.id)
        .where(_waits())
        .group_by(Job.id, Job.no, Customer.name, Customer.phone, Job.title)
        .order_by(func.min(Piece.moved_at), Job.no)
    ).all()  # fmt: skip
    made: dict[int, list[tuple[str, date, date | None]]] = {}
    for job_id, outcome, at, next_on in db.exec(
        select(Call.job_id, Call.outcome, Call.at, Call.next_on)
        .where(Call.job_id.in_([row[0] for row in rows]))
        .order_by(Call.id)
    ):
        made.setdefault(job_id, []).append((outcome, at.astimezone(zone).date(), next_on))
    told = []
    for job_id, *facts, moved in rows:
        since, calls_made = moved.astimezone(zone).date(), made.get(job_id, [])
        last = calls_made[-1] if calls_made else ("", None, None)
        told.append(Uncollected(*facts, since, (today - since).days, len(calls_made), *last))
    return told


def waiting(db: Session, customer_id: int) -> list[PieceFacts]:
    """What a customer may take home: pieces on the pick-up shelf, uncut and spoiled ones too; by number."""
    where = and_(Job.customer_id == customer_id, _waits())
    return sorted(jobs.pieces_where(db, where), key=lambda piece: (piece.job_no, piece.n))


def put_right() -> ColumnElement[bool]:
    """As part of a query: the pieces for which a later job is open, or was, to put them right."""
    later = aliased(Piece)
    return exists().where(later.rework_of == Piece.id, func.coalesce(later.fate, "") != "not_come")


def _waits() -> ColumnElement[bool]:
    """As part of a query: the pieces that wait on the pick-up shelf to be taken home."""
    return and_(col(Piece.custody) == "shelf", ~put_right())


def hand_over(db: Session, *, job_id: int, piece_ids: list[int], taken_by: str, now: datetime, by: int) -> None:
    """Pieces leave the shop: which, and who took them."""
    pieces = _leaving(db, {job_id: piece_ids}, taken_by)
    _leave(db, pieces, HandOver(job_id=job_id, taken_by=taken_by.strip(), by_id=by, at=now), now, by)


def hand_over_many(
    db: Session, *, leaving: Mapping[int, Sequence[int]], taken_by: str, how: str = "known", signature: str = "",
    bit_ids: Sequence[int] = (), stub_back: bool = False, now: datetime, by: int,
) -> HandedOver:  # fmt: skip
    """Pieces of one job or several (job to pieces) leave in one go, signed for once, with one receipt."""
    _look_at_signature(how, signature)
    pieces = _leaving(db, leaving, taken_by)
    told = [jobs.by_id(db, job_id) for job_id in dict.fromkeys(piece.job_id for piece in pieces)]
    if len({job.customer_id for job in told}) > 1:
        raise TryAgain({"pieces": "These jobs are of different customers. Hand them over one customer at a time."})
    ids = [piece.id for piece in pieces]
    warning = condition.give_back(db, piece_ids=ids, bit_ids=list(bit_ids), now=now, by=by)
    back = [f"{bit.words} of {bit.number}" for bit in condition.bits_of(db, ids) if bit.back_at == now]
    signed_for = tuple([leaves_as(piece) for piece in pieces] + back)
    for job in told:
        row = HandOver(
            job_id=job.id, taken_by=taken_by.strip(), how=how, signature=signature.strip(),
            signed_for="\n".join(signed_for), stub_back=stub_back, by_id=by, at=now,
        )  # fmt: skip
        _leave(db, [piece for piece in pieces if piece.job_id == job.id], row, now, by)
    sheet = _receipt(db, told, pieces, row, signed_for, tuple(back), now, by)
    for job in told:
        papers.freeze(db, sheet, number=sheet.number, job_id=job.id, now=now, by=by)
    return HandedOver(sheet.number, warning)


def leaves_as(piece: PieceFacts) -> str:
    """A piece as it is signed for, with the word of one that is spoiled or goes back uncut."""
    return f"{piece.number} {piece.name}" + (f", {FATES[piece.fate]}" if piece.fate else "")


def _look_at_signature(how: str, signature: str) -> None:
    problems = {} if how in HOW_TAKEN else {"how": "Say how they were taken: signed for, or known and unsigned."}
    strokes = signature.strip()
    if how == "signed" and not strokes:
        problems["signature"] = "Have them sign in the field, or choose known, unsigned."
    if strokes and (len(strokes) > MOST_STROKES or not strokes.startswith("M") or not STROKES.fullmatch(strokes)):
        problems["signature"] = "The signature did not come through whole. Clear the field and sign again."
    if problems:
        raise TryAgain(problems)


def _leaving(db: Session, leaving: Mapping[int, Sequence[int]], taken_by: str) -> list[PieceFacts]:
    """The pieces that may leave, or what stands in the way."""
    pieces = [piece for job_id, ids in leaving.items() for piece in jobs.pieces(db, job_id) if piece.id in ids]
    problems = {} if taken_by.strip() else {"taken_by": "Write who took the pieces."}
    if not pieces:
        problems["pieces"] = "Tick the pieces that leave."
    again = set(db.exec(select(Piece.id).where(Piece.id.in_([p.id for p in pieces]), put_right())))
    for piece in pieces:
        if piece.custody == "gone":
            problems["pieces"] = f"Piece {piece.number} is not here any more: {piece.said}."
        elif piece.custody != "shelf":
            problems["pieces"] = f"Piece {piece.number} is {piece.said}, not on the pick-up shelf."
        elif piece.id in again:
            problems["pieces"] = f"Piece {piece.number} is to be put right, under a new number. It leaves under that."
    if problems:
        raise TryAgain(problems)
    return pieces


def _leave(db: Session, pieces: list[PieceFacts], row: HandOver, now: datetime, by: int) -> None:
    """Pieces of one job leave; those that go to the customer's own shelf are written there."""
    db.add(row)
    db.flush()
    for piece in pieces:
        leaves = jobs.piece_row(db, piece.id)
        leaves.hand_over_id = row.id
        intake.lay(db, piece=leaves, at="gone", now=now, by=by)
        if piece.goes_to == "shelf" and piece.worked:
            shelf.put(db, piece_id=piece.id, now=now, by=by)
    db.flush()
    words = f"{', '.join(piece.number for piece in pieces)} taken by {row.taken_by}"
    words += ", signed for" if row.how == "signed" else ""
    history.write(db, now=now, by=by, act="handed over", words=words, job_id=row.job_id)


def _receipt(
    db: Session, told: list[JobFacts], pieces: list[PieceFacts], row: HandOver, signed_for: tuple[str, ...],
    back: tuple[str, ...], now: datetime, by: int,
) -> HandOverSheet:  # fmt: skip
    shop, weighed = shopbook.the_shop(db), weighing.of_pieces(db, pieces)
    ids = [piece.id for piece in pieces]
    stays = [piece for job in told for piece in jobs.pieces(db, job.id) if piece.id not in ids]
    here = [bit for bit in condition.bits_of(db, ids) if bit.back_at is None]
    due = [f"job {job.no}: {text}" for job in told if (text := to_pay(db, job.id, leaving=True, now=now))]
    not_done = dict.fromkeys(line for job in told for line in quotes.not_done(db, job.id))
    return HandOverSheet(
        letterhead=shop.letterhead(), party=customers.one(db, told[0].customer_id).party(),
        number=f"{told[0].no}-H{papers.count(db, 'hand_over', job_id=told[0].id) + 1}",
        job_numbers=tuple(str(job.no) for job in told), issued_on=str(shop.today(now)),
        drawn_by=history.initials(db, by),
        pieces=tuple(
            GonePiece(
                number=piece.number, name=piece.name,
                state_words=FATES[piece.fate] if piece.fate else CUSTODY["gone"],
                destination=piece.goes, **_weights(weighed[piece.id]),
            )
            for piece in pieces
        ),
        taken_by=row.taken_by, how=row.how, signature=row.signature, signed_for=signed_for, bits_back=back,
        bits_here=tuple(f"{bit.words} of {bit.number}" for bit in here),
        left_here=tuple(f"{p.number} {p.name}: {p.said}" for p in stays if p.custody not in AWAY),
        stub_back=row.stub_back, due_text="; ".join(due), not_done=tuple(not_done),
        phrases=phrases.printed(db, shop.today(now), "hand_over", "workmanship"),
        approved=papers.approved(db, *(job.id for job in told)),
    )  # fmt: skip
