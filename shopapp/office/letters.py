"""Papers that tell: the ready letter, the question, the record of a spoiled piece, shelf labels, the blank ticket."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

from sqlmodel import Session, select

from shopapp.bench import money
from shopapp.office import (
    condition,
    customers,
    handover,
    history,
    jobs,
    ledger,
    papers,
    phrases,
    quotes,
    shopbook,
    weighing,
)
from shopapp.office.credits import on_invoice
from shopapp.office.errors import InTheWay, NotHere
from shopapp.office.jobs import JobFacts, PieceFacts
from shopapp.office.sheets.label import LabelSheet, ShelfLabel
from shopapp.office.sheets.letter import LetterSheet
from shopapp.office.sheets.question import QuestionSheet
from shopapp.office.sheets.spoiled import SpoiledSheet
from shopapp.office.sheets.ticket import TicketSheet
from shopapp.office.tables.history import Event
from shopapp.office.tables.jobs import Stop
from shopapp.office.tracks import CUSTODY

BLANK = (
    "Customer", "Phone", "Part and variant", "Sign seen", "What is to be done", "Wanted by", "Declared value",
    "Came along", "Cracked, chipped, rusted, welded, bent, bits missing", "Weight before, by which scale",
    "Web and wall, measured with", "Asked by, answered by", "Cuts, side A", "Cuts, side B", "Minutes",
    "Weight after, by which scale", "Told when, by whom", "Taken by, signed",
)  # fmt: skip
"""What a blank ticket asks, in the order of the work."""


def ready_letter(db: Session, *, job_id: int, words: str = "", now: datetime, by: int) -> str:
    """Freeze the letter about finished pieces that were not fetched; gives its number.

    It says what waits, since when and what was tried, and the owner's own words on storage where there are any.
    """
    job, shop = jobs.by_id(db, job_id), shopbook.the_shop(db)
    waiting = next((one for one in handover.uncollected(db, now=now) if one.job_no == job.no), None)
    if waiting is None:
        raise InTheWay("No piece waits on the shelf, so there is nothing to write about.")
    zone, today = ZoneInfo(shop.zone), shop.today(now)
    calls = [
        f"{_day(one.at.astimezone(zone).date())}: {one.said} ({one.initials})"
        for one in reversed(handover.calls(db, job_id))
    ]
    number = f"{job.no}-L{papers.count(db, 'letter', job_id=job_id) + 1}"
    sheet = LetterSheet(
        letterhead=shop.letterhead(), party=customers.one(db, job.customer_id).party(), number=number,
        job_no=str(job.no), title=job.title, issued_on=str(today), drawn_by=history.initials(db, by),
        pieces=tuple(f"{p.number} {p.name}" for p in jobs.pieces(db, job_id) if p.custody == "shelf"),
        ready_since=str(waiting.since), days=waiting.days, calls=tuple(calls),
        total_text=handover.to_pay(db, job_id, shop.currency, now), hours=shop.hours, words=words.strip(),
        storage="\n".join(phrases.printed(db, today, "storage")), not_done=quotes.not_done(db, job_id),
    )  # fmt: skip
    return _issue(db, sheet, job, f"ready letter {number}, {waiting.days} days on the shelf", now, by)


def question(db: Session, *, stop_id: int, words: str = "", now: datetime, by: int) -> str:
    """Freeze the letter that puts an open question to the customer; gives its number."""
    stop, shop = db.get(Stop, stop_id), shopbook.the_shop(db)
    if stop is None:
        raise NotHere("That question is not in the book.")
    if stop.answered_at or stop.waits_for != "customer":
        raise InTheWay("That one is answered, or it waits for material: there is nothing to ask the customer.")
    job = jobs.by_id(db, stop.job_id)
    number = f"{job.no}-Q{papers.count(db, 'question', job_id=job.id) + 1}"
    sheet = QuestionSheet(
        letterhead=shop.letterhead(), party=customers.one(db, job.customer_id).party(), number=number,
        job_no=str(job.no), title=job.title, issued_on=str(shop.today(now)),
        asked_on=str(shop.today(stop.asked_at)), drawn_by=history.initials(db, by), question=stop.question,
        whom=stop.whom, pieces=tuple(f"{p.number} {p.name}" for p in jobs.pieces(db, job.id)), words=words.strip(),
    )  # fmt: skip
    return _issue(db, sheet, job, f"question letter {number}", now, by)


def spoiled(db: Session, *, piece_id: int, words: str = "", now: datetime, by: int) -> str:
    """Freeze the record of a spoiled piece, facts as they stand now; gives its number."""
    row, shop = jobs.piece_row(db, piece_id), shopbook.the_shop(db)
    job = jobs.by_id(db, row.job_id)
    piece = next(one for one in jobs.pieces(db, job.id) if one.id == piece_id)
    if piece.custody != "spoiled":
        raise InTheWay(f"Piece {piece.number} is {CUSTODY[piece.custody]}, not spoiled.")
    zone = ZoneInfo(shop.zone)
    said = db.exec(
        select(Event.words).where(Event.piece_id == piece_id, Event.act == "spoiled").order_by(Event.id.desc())
    ).first()
    declared = condition.declared(db, piece_id)
    number = f"{piece.number}-X{papers.count(db, 'spoiled', job_id=job.id) + 1}"
    sheet = SpoiledSheet(
        letterhead=shop.letterhead(), party=customers.one(db, job.customer_id).party(), number=number,
        job_no=str(job.no), title=job.title, issued_on=str(shop.today(now)), drawn_by=history.initials(db, by),
        piece=piece.number, name=piece.name, spoiled_on=str(shop.today(piece.moved_at)),
        what=(said or "").removeprefix(f"{CUSTODY['spoiled']}; "), weights=_weights(db, piece),
        calls=tuple(f"{_day(one.at.astimezone(zone).date())}: {one.said}" for one in handover.calls(db, job.id)),
        declared=declared.said if declared else "", money=_taken_back(db, job.id, shop.currency), words=words.strip(),
    )  # fmt: skip
    return _issue(db, sheet, job, f"record {number} of the spoiled piece", now, by)


def labels(db: Session, *, job_id: int, now: datetime, by: int) -> str:
    """Freeze the labels of the finished pieces that go to the customer's own shelf; gives the sheet's number."""
    job, shop = jobs.by_id(db, job_id), shopbook.the_shop(db)
    pieces = [
        piece for piece in jobs.pieces(db, job_id)
        if piece.goes_to == "shelf" and piece.custody in ("checked", "shelf", "gone")
    ]  # fmt: skip
    if not pieces:
        raise InTheWay("No finished piece of this job goes to the customer's shelf, so there is nothing to label.")
    told = weighing.of_pieces(db, pieces)
    number = f"{job.no}-S{papers.count(db, 'label', job_id=job_id) + 1}"
    sheet = LabelSheet(
        letterhead=shop.letterhead(), party=customers.one(db, job.customer_id).party(), number=number,
        job_no=str(job.no), title=job.title, issued_on=str(shop.today(now)),
        labels=tuple(
            ShelfLabel(
                number=piece.number, name=piece.name, off=told[piece.id].removed_text,
                after=told[piece.id].after.text if told[piece.id].after else "",
                finished_on=str(shop.today(piece.moved_at)),
            )
            for piece in pieces
        ),
    )  # fmt: skip
    return _issue(db, sheet, job, f"shelf labels {number}", now, by)


def blank_ticket(db: Session, *, pieces: int = 4) -> TicketSheet:
    """A ticket to be written by hand while the power is off; it belongs to no job yet and is not kept."""
    shop = shopbook.the_shop(db)
    return TicketSheet(
        letterhead=shop.letterhead(), number="blank", fields=BLANK, pieces=pieces, not_done=shop.not_done_lines()
    )


def _issue(
    db: Session, sheet: LetterSheet | QuestionSheet | SpoiledSheet | LabelSheet, job: JobFacts, words: str,
    now: datetime, by: int,
) -> str:  # fmt: skip
    papers.freeze(db, sheet, number=sheet.number, job_id=job.id, now=now, by=by)
    history.write(db, now=now, by=by, act="paper", words=words, job_id=job.id)
    return sheet.number


def _weights(db: Session, piece: PieceFacts) -> tuple[str, ...]:
    told = weighing.of_pieces(db, [piece])[piece.id]
    before = f"before: {told.before.text} ({told.before.scale_words})" if told.before else "not weighed before"
    after = f"after: {told.after.text} ({told.after.scale_words})" if told.after else "no weight after: spoiled"
    return before, after


def _taken_back(db: Session, job_id: int, currency: str) -> tuple[str, ...]:
    """The money that was taken back in a job, a line for each credit note."""
    return tuple(
        f"credit note {note.no} on invoice {bill.no}: {money.show(note.total_cents, currency)}, {note.reason}"
        for bill in ledger.of_job(db, job_id)
        for note in on_invoice(db, bill.id)
    )


def _day(day: date) -> str:
    return f"{day.day} {day:%b %Y}"
