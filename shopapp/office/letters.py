"""Papers that tell: the ready letter, the question, the record of a spoiled piece, shelf labels."""

import base64
import re
from datetime import date, datetime
from zoneinfo import ZoneInfo

from sqlmodel import Session

from shopapp.bench import money
from shopapp.office import (
    condition,
    customers,
    cutting,
    handover,
    history,
    jobs,
    ledger,
    mishaps,
    papers,
    photos,
    phrases,
    questions,
    quotes,
    shopbook,
    sizes,
    weighing,
)
from shopapp.office.credits import on_invoice
from shopapp.office.errors import InTheWay, NotHere
from shopapp.office.jobs import JobFacts, PieceFacts
from shopapp.office.photos import PhotoFacts
from shopapp.office.sheets.label import LabelSheet, ShelfLabel
from shopapp.office.sheets.letter import LetterSheet
from shopapp.office.sheets.question import QuestionSheet, Shown
from shopapp.office.sheets.spoiled import KeptRow, SaidRow, SpoiledSheet
from shopapp.office.tables.jobs import Stop
from shopapp.office.weighing import Weighed

ON_PAPER = 900
"""The longest side of a photo on a letter [pixels]."""
MOST_PHOTOS = 4
ABOUT_SPOILED = re.compile(r"\d+-\d+ is spoiled: ")
"""How the words of a call begin that told of a spoiled piece (mishaps.spoil)."""


def ready_letter(db: Session, *, job_id: int, words: str = "", now: datetime, by: int) -> str:
    """Freeze the letter about finished pieces that were not fetched; gives its number.

    It says what waits, since when and what was tried, and the owner's own words on storage where there are any.
    """
    job, shop = jobs.by_id(db, job_id), shopbook.the_shop(db)
    waiting = next((one for one in handover.uncollected(db, now=now) if one.job_no == job.no), None)
    if waiting is None:
        raise InTheWay("No piece waits on the shelf, so there is nothing to write about.")
    today, pieces = shop.today(now), [p for p in handover.waiting(db, job.customer_id) if p.job_id == job_id]
    number = f"{job.no}-L{papers.count(db, 'letter', job_id=job_id) + 1}"
    sheet = LetterSheet(
        letterhead=shop.letterhead(), party=customers.one(db, job.customer_id).party(), number=number,
        job_no=str(job.no), title=job.title, issued_on=str(today), drawn_by=history.initials(db, by),
        pieces=tuple(handover.leaves_as(p) for p in pieces),
        ready_since=str(waiting.since), days=waiting.days, calls=_tried(db, job_id, pieces, ZoneInfo(shop.zone)),
        total_text=handover.to_pay(db, job_id, now=now), hours=shop.hours, words=words.strip(),
        storage="\n".join(phrases.printed(db, today, "storage")), not_done=quotes.not_done(db, job_id),
    )  # fmt: skip
    return _issue(db, sheet, number, job, f"ready letter {number}, {waiting.days} days on the shelf", now, by)


def _tried(db: Session, job_id: int, waiting: list[PieceFacts], zone: ZoneInfo) -> tuple[str, ...]:
    """The calls about fetching, a day and what came of it each: since the pieces wait, and none about a spoiled one.
    What was noted of them is for the shop."""
    since = min(piece.moved_at for piece in waiting)
    return tuple(
        f"{_day(one.at.astimezone(zone).date())}: {handover.OUTCOMES[one.outcome]}"
        for one in reversed(handover.calls(db, job_id))
        if one.at >= since and not ABOUT_SPOILED.match(one.words)
    )


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
        whom=stop.whom, words=words.strip(),
        pieces=tuple(f"{p.number} {p.name if p.variant else ''}".strip() for p in jobs.pieces(db, job.id)),
        photos=_with_question(db, stop), not_done=quotes.not_done(db, job.id),
    )  # fmt: skip
    return _issue(db, sheet, number, job, f"question letter {number}", now, by)


def _with_question(db: Session, stop: Stop) -> tuple[Shown, ...]:
    """The photos that were taken with a question: those from when it was asked to when the next one was."""
    later = [one.asked_at for one in questions.stops(db, stop.job_id) if one.asked_at > stop.asked_at]
    mine = [
        photo for photo in photos.of_job(db, stop.job_id)
        if photo.what == "question" and photo.at >= stop.asked_at and all(photo.at < at for at in later)
    ]  # fmt: skip
    return tuple(_shown(db, photo, photo.words) for photo in mine[:MOST_PHOTOS])


def _shown(db: Session, photo: PhotoFacts, words: str) -> Shown:
    """A photo as it stands on paper, with these words under it."""
    return Shown(words, base64.b64encode(photos.small(photos.jpeg(db, photo.id)[0], ON_PAPER)).decode())


def spoiled(db: Session, *, piece_id: int, address: str = "", now: datetime, by: int) -> str:
    """Freeze the record of a spoiled piece, facts as they stand now; gives its number.

    `address`: where the app is reached, for the code that opens the piece.
    """
    told, shop = mishaps.spoiled(db, piece_id), shopbook.the_shop(db)
    row = jobs.piece_row(db, piece_id)
    job = jobs.by_id(db, row.job_id)
    piece = jobs.piece(db, job.no, row.n)
    if told is None:
        raise InTheWay(f"Piece {piece.number} is {piece.said}, not spoiled.")
    zone, declared = ZoneInfo(shop.zone), condition.declared(db, piece_id)
    number = f"{piece.number}-X{papers.count(db, 'spoiled', job_id=job.id) + 1}"
    sheet = SpoiledSheet(
        letterhead=shop.letterhead(), party=customers.one(db, job.customer_id).party(), job_no=str(job.no),
        title=job.title, issued_on=str(shop.today(now)), drawn_by=history.initials(db, by), piece=piece.number,
        name=piece.name, happened=told.story, happened_at=_moment(told.at, zone), found_by=told.initials,
        state_in=condition.summary(condition.standing(db, piece_id)),
        declared=money.show(declared.cents, shop.currency) if declared and declared.cents else "",
        risk=condition.RISKS[declared.risk] if declared else "",
        said=tuple(
            SaidRow(_moment(one.at, zone), one.initials, one.whom, handover.OUTCOMES[one.outcome], one.words)
            for one in told.calls
        ),
        agreed="\n".join(line.words for line in told.who_pays),
        money=_taken_back(db, job.id, shop.currency), number=number,
        shown=tuple(_shown(db, photo, _caption(photo, told.story)) for photo in told.photos[:MOST_PHOTOS]),
        weights=_weights(db, piece_id, zone), sizes=_sizes(db, piece_id, zone), stays=piece.place,
        not_done=quotes.not_done(db, job.id), address=f"{address}/pieces/{piece.number}" if address else "",
    )  # fmt: skip
    return _issue(db, sheet, number, job, f"record {number} of the spoiled piece", now, by)


def _caption(photo: PhotoFacts, story: str) -> str:
    """The words under a photo of the damage; those that tell the whole story again are left out."""
    return photo.words if photo.words.strip() != story.strip() else photos.KINDS[photo.what]


def labels(
    db: Session, *, job_id: int, piece_id: int | None = None, address: str = "", now: datetime, by: int
) -> str:  # fmt: skip
    """Freeze the labels of the finished pieces that go to the customer's own shelf, or of one finished piece wherever
    it goes; gives the sheet's number."""
    job, shop = jobs.by_id(db, job_id), shopbook.the_shop(db)
    pieces = [
        piece for piece in jobs.pieces(db, job_id)
        if piece.custody in ("checked", "shelf", "gone") and piece.worked
        and (piece.goes_to == "shelf" if piece_id is None else piece.id == piece_id)
    ]  # fmt: skip
    if not pieces and piece_id is None:
        raise InTheWay("No finished piece of this job goes to the customer's shelf, so there is nothing to label.")
    if not pieces:
        raise InTheWay("That piece is not finished, so there is nothing to label.")
    told = weighing.of_pieces(db, pieces)
    number = f"{job.no}-S{papers.count(db, 'label', job_id=job_id) + 1}"
    sheet = LabelSheet(
        letterhead=shop.letterhead(), party=customers.one(db, job.customer_id).party(), job_no=str(job.no),
        title=job.title, issued_on=str(shop.today(now)), drawn_by=history.initials(db, by),
        labels=tuple(_label(db, piece, told[piece.id], str(shop.today(piece.moved_at)), address) for piece in pieces),
        not_done=quotes.not_done(db, job_id),
    )  # fmt: skip
    return _issue(db, sheet, number, job, f"shelf labels {number}", now, by)


def _label(db: Session, piece: PieceFacts, weighed: Weighed, day: str, address: str) -> ShelfLabel:
    plan = cutting.plan(db, piece.job_id, piece.variant_id or 0)
    cut = [f"{row.words} {row.side}, {row.sizes_as_typed}" for row in plan.removal.rows] if plan else []
    off = [f"{weighed.removed_text} off"] if weighed.removed_text else []
    return ShelfLabel(
        number=piece.number, name=piece.name, sign=piece.sign_seen or "",
        weight=weighed.after.text if weighed.after else "", scale=weighed.after.scale_words if weighed.after else "",
        done=(*off, *cut), finished_on=day,
        goes_to="your shelf" if piece.goes_to == "shelf" else piece.machine,
        address=f"{address}/pieces/{piece.number}" if address else "",
    )  # fmt: skip


def _issue(
    db: Session, sheet: LetterSheet | QuestionSheet | SpoiledSheet | LabelSheet, number: str, job: JobFacts,
    words: str, now: datetime, by: int,
) -> str:  # fmt: skip
    papers.freeze(db, sheet, number=number, job_id=job.id, now=now, by=by)
    history.write(db, now=now, by=by, act="paper", words=words, job_id=job.id)
    return number


def _weights(db: Session, piece_id: int, zone: ZoneInfo) -> tuple[KeptRow, ...]:
    return tuple(
        KeptRow(one.phase, one.text, one.scale_words, f"{_moment(one.at, zone)}, {one.initials}", one.struck or "")
        for one in weighing.readings(db, piece_id)
    )


def _sizes(db: Session, piece_id: int, zone: ZoneInfo) -> tuple[KeptRow, ...]:
    return tuple(
        KeptRow(one.name, f"{one.typed} {one.unit}", one.instrument, f"{_moment(one.at, zone)}, {one.initials}")
        for one in sizes.of_piece(db, piece_id)
    )


def _taken_back(db: Session, job_id: int, currency: str) -> tuple[tuple[str, str], ...]:
    """The money that was taken back in a job, a pair of words and amount for each credit note."""
    return tuple(
        (f"credit note {note.no} on invoice {bill.no}, {note.reason}", money.show(note.total_cents, currency))
        for bill in ledger.of_job(db, job_id)
        for note in on_invoice(db, bill.id)
    )


def _day(day: date) -> str:
    return f"{day.day} {day:%b %Y}"


def _moment(at: datetime, zone: ZoneInfo) -> str:
    here = at.astimezone(zone)
    return f"{_day(here.date())} {here:%H:%M}"
