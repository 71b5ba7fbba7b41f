"""The usual way of a job, from the call to the paid bill: a story row laid out as acts, each at its moment."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from typing import Any

from shopapp.demo.besides import BESIDES, keep_cuts
from shopapp.demo.book import Book
from shopapp.demo.drawings import MEASURED
from shopapp.demo.pictures import picture
from shopapp.demo.rows import JobRow, Paid, PieceRow, Struck
from shopapp.demo.shop import CUSTOMERS
from shopapp.office import (
    condition,
    handover,
    intake,
    invoices,
    jobs,
    parts,
    payments,
    photos,
    quotes,
    sizes,
    weighing,
)
from shopapp.office.pricing import PricingTyped, SettingTyped

LOOKED = {"cracked": "no", "chipped": "no", "welded": "no", "missing_bits": "no"}
"""What is always looked at on a piece of the story."""
CONTACT = {row.key: row.contact for row in CUSTOMERS}


@dataclass(frozen=True)
class Act:
    """One act: the story's day, the minute by the shop's clock, and what is told to the office then."""

    day: str
    minute: int
    do: Callable[[Book, datetime], None]


def acts(job: JobRow) -> Iterator[Act]:
    """Everything that happens to a job; a day that did not come leaves its act out."""
    yield Act(job.opened, _clock(8, 40), partial(_open, job=job))
    late = 9 if job.rush else 14
    told = [
        (job.quoted, _clock(9, 20), _quote),
        (job.agreed, _clock(10), _agree),
        (job.done, _clock(late, 55), _spend_rest),
        (job.ready_on, _clock(late + 1), _announce),
        (job.called_on, _clock(late + 1, 20), _call),
        (job.billed, _clock(late + 2), _bill),
    ]
    yield from (Act(day, minute, partial(do, job=job)) for day, minute, do in told if day)
    if spent_on := job.cut or job.came:
        yield Act(spent_on, _clock(16, 50), partial(_spend_first, job=job))
    for n, piece in enumerate(job.pieces, 1):
        yield from _piece_acts(job, n, piece, late)
    for day in sorted({job.gone_on(piece) for piece in job.pieces} - {""}):
        yield Act(day, _clock(late + 1, 40), partial(_hand_over, job=job, day=day))
    for paid in job.paid:
        yield Act(paid.day, _clock(late + 2, 20), partial(_pay, job=job, paid=paid))
    for also in job.also:
        do = BESIDES[also.verb]
        yield Act(also.day, _clock(also.hour, also.minute), partial(_besides, job=job, do=do, told=also.told))


def _piece_acts(job: JobRow, n: int, piece: PieceRow, late: int) -> Iterator[Act]:
    told: dict[str, Any] = {"job": job, "n": n, "piece": piece}
    if job.came:
        yield Act(job.came, _clock(13, 10) + n, partial(_take_in, **told))
        if piece.before:
            yield Act(job.came, _clock(13, 20) + n, partial(_weigh, phase="before", **told))
    if wrong := piece.struck:
        day, minute = (job.came, _clock(13, 20)) if wrong.phase == "before" else (job.done, _clock(late, 30))
        yield Act(day, minute + 8 + n, partial(_put_right, wrong=wrong, **told))
    if job.cut:
        start = _clock(14) if job.cut == job.came else _clock(8, 15)
        yield Act(job.cut, start + n, partial(_into_the_chuck, **told))
        if piece.until == "spoiled":
            yield Act(job.cut, start + 45, partial(_spoil, **told))
    if job.done and not piece.until:
        if piece.after:
            yield Act(job.done, _clock(late, 30) + n, partial(_weigh, phase="after", **told))
        yield Act(job.done, _clock(late, 45) + n, partial(_check, **told))


def _clock(hour: int, minute: int = 0) -> int:
    return hour * 60 + minute


def _moved(book: Book, told: object) -> object:
    """Words with the story's days moved; a day alone is left for the verb to move."""
    return book.days.words(told) if isinstance(told, str) and " " in told else told


def _besides(book: Book, now: datetime, job: JobRow, do: Callable[..., None], told: dict[str, object]) -> None:
    do(book, job, now, **{name: _moved(book, value) for name, value in told.items()})


def _open(book: Book, now: datetime, job: JobRow) -> None:
    signed = book.signed(now, "WK")
    asks = [jobs.PieceAsk(book.variants[p.variant], "machine" if p.machine else "shelf", p.machine) for p in job.pieces]
    new = [ask for ask, piece in zip(asks, job.pieces, strict=True) if piece.rework_of is None]
    no = jobs.open_job(
        book.db, customer_id=book.customers[job.customer], title=job.title, asked=book.days.words(job.asked),
        promised_on=book.days.day(job.promised) if job.promised else None, rush=job.rush, pieces=tuple(new), **signed,
    )  # fmt: skip
    if no != job.no:
        raise LookupError(f"The story's job {job.no} became {no}: its rows are not in order.")
    for ask, piece in zip(asks, job.pieces, strict=True):
        if piece.rework_of:
            first = book.piece(*piece.rework_of).id
            jobs.add_piece(book.db, job_id=book.job(no), ask=ask, rework_of=first, **signed)


def _quote(book: Book, now: datetime, job: JobRow) -> None:
    for variant in dict.fromkeys(piece.variant for piece in job.pieces):
        keep_cuts(book, job, now, variant)
    draft = quotes.keep_draft(book.db, job_id=book.job(job.no), typed=_pricing(job), **book.signed(now, "WK"))
    quotes.issue(book.db, quote_id=draft, **book.signed(now, "WK"))


def _pricing(job: JobRow) -> PricingTyped:
    if job.price is None:
        raise LookupError(f"The story of job {job.no} has a quote and no price.")
    first, each, cut = (str(minutes) for minutes in job.price.minutes)
    return PricingTyped(
        pieces=str(job.count or len(job.pieces)), settings=(SettingTyped("true up and cut", first, each, cut),),
        extras=job.extras, rush=job.rush, agreed_each=job.price.each, agreed_words=job.price.words,
    )  # fmt: skip


def _agree(book: Book, now: datetime, job: JobRow) -> None:
    quotes.go_ahead(
        book.db, job_id=book.job(job.no), said_by=CONTACT[job.customer], how=job.how, order_number=job.order,
        **book.signed(now, "WK"),
    )  # fmt: skip


def _take_in(book: Book, now: datetime, job: JobRow, n: int, piece: PieceRow) -> None:
    """The piece comes in; one that waits for its weight has not been looked at yet either."""
    sign = parts.variant(book.db, book.variants[piece.variant]).signs[0]
    piece_id, signed = book.piece(job.no, n).id, book.signed(now, "JT")
    if piece.before or job.cut:
        photos.keep(book.db, what="intake", raw=picture(job.no, n), piece_id=piece_id, **signed)
        condition.look(book.db, piece_id=piece_id, answers=LOOKED, **signed)
    intake.take_in(
        book.db, piece_id=piece_id, sign_id=sign.id, place=job.place, note=piece.note, **signed,
    )  # fmt: skip


def _weigh(book: Book, now: datetime, job: JobRow, n: int, piece: PieceRow, phase: str) -> None:
    """Write a weight down; where the story has a wrong one, that is written first."""
    told = (piece.scale, piece.before if phase == "before" else piece.after)
    if piece.struck and piece.struck.phase == phase:
        told = (piece.struck.scale, piece.struck.typed)
    _write_down(book, now, book.piece(job.no, n).id, phase, *told)


def _put_right(book: Book, now: datetime, job: JobRow, n: int, piece: PieceRow, wrong: Struck) -> None:
    """Strike the wrong weight through, with its reason, and write the right one."""
    piece_id = book.piece(job.no, n).id
    written = next(r for r in weighing.readings(book.db, piece_id) if r.phase == wrong.phase and r.struck is None)
    weighing.strike(book.db, reading_id=written.id, reason=book.days.words(wrong.why), **book.signed(now, "JT"))
    right = piece.before if wrong.phase == "before" else piece.after
    _write_down(book, now, piece_id, wrong.phase, piece.scale, right)


def _write_down(book: Book, now: datetime, piece_id: int, phase: str, scale: str, typed: str) -> None:
    weighing.weigh(
        book.db, piece_id=piece_id, scale_id=book.scales[scale], phase=phase, typed=typed, zero_seen=True,
        **book.signed(now, "JT"),
    )  # fmt: skip


def _into_the_chuck(book: Book, now: datetime, job: JobRow, n: int, piece: PieceRow) -> None:
    """Web and wall are measured where they were not yet; what was not weighed goes in with its reason."""
    piece_id, signed = book.piece(job.no, n).id, book.signed(now, "JT")
    known = {size.name for size in sizes.of_piece(book.db, piece_id)}
    for name, typed in MEASURED.get(piece.variant, ()):
        if name not in known:
            sizes.measure(
                book.db, piece_id=piece_id, name=name, typed=typed, unit="in", instrument="caliper", **signed
            )  # fmt: skip
    reason = piece.why if not piece.before else ""
    intake.move(book.db, piece_id=piece_id, to="chuck", reason=reason, **signed)


def _spoil(book: Book, now: datetime, job: JobRow, n: int, piece: PieceRow) -> None:
    piece_id = book.piece(job.no, n).id
    intake.move(book.db, piece_id=piece_id, to="spoiled", reason=piece.why, **book.signed(now, "JT"))


def _check(book: Book, now: datetime, job: JobRow, n: int, piece: PieceRow) -> None:
    intake.move(book.db, piece_id=book.piece(job.no, n).id, to="checked", **book.signed(now, "JT"))


def _spend_first(book: Book, now: datetime, job: JobRow) -> None:
    """The first part of the minutes: two fifths, or all where the work never got further."""
    minutes = job.spent * 2 // 5 if job.done else job.spent
    if minutes:
        words = "trued up" if job.cut else "weighed and looked at"
        jobs.spend(book.db, job_id=book.job(job.no), minutes=minutes, words=words, **book.signed(now, "JT"))


def _spend_rest(book: Book, now: datetime, job: JobRow) -> None:
    minutes = job.spent - job.spent * 2 // 5
    jobs.spend(book.db, job_id=book.job(job.no), minutes=minutes, words="cut", **book.signed(now, "JT"))


def _announce(book: Book, now: datetime, job: JobRow) -> None:
    handover.announce(book.db, job_id=book.job(job.no), **book.signed(now, "WK"))


def _call(book: Book, now: datetime, job: JobRow) -> None:
    whom = CONTACT[job.customer]
    handover.call(book.db, job_id=book.job(job.no), outcome="told", whom=whom, **book.signed(now, "WK"))


def _hand_over(book: Book, now: datetime, job: JobRow, day: str) -> None:
    """The pieces of that day leave; what the customer came for before the notice went out is put up first."""
    signed = book.signed(now, "WK")
    leaving = [book.piece(job.no, n) for n, row in enumerate(job.pieces, 1) if job.gone_on(row) == day]
    for piece in leaving:
        if piece.custody == "checked":
            intake.move(book.db, piece_id=piece.id, to="shelf", **signed)
    handover.hand_over(
        book.db, job_id=book.job(job.no), piece_ids=[p.id for p in leaving], taken_by=CONTACT[job.customer], **signed
    )


def _bill(book: Book, now: datetime, job: JobRow) -> None:
    job_id = book.job(job.no)
    lines = list(job.lines) or invoices.draft_lines(book.db, job_id, now=now)
    book.bills[job.no] = invoices.issue(book.db, job_id=job_id, lines=lines, **book.signed(now, "WK"))


def _pay(book: Book, now: datetime, job: JobRow, paid: Paid) -> None:
    payments.pay(
        book.db, job_id=book.job(job.no), amount=paid.amount, how=paid.how, reference=paid.reference,
        invoice_no=book.bills.get(job.no), **book.signed(now, "WK"),
    )  # fmt: skip
