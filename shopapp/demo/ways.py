"""The usual way of a job, from the call to the paid bill: a story row laid out as acts, each at its moment."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from typing import Any

from shopapp.demo import bench_acts
from shopapp.demo.bench_acts import CONTACT
from shopapp.demo.besides import BESIDES, keep_cuts
from shopapp.demo.book import Book
from shopapp.demo.pictures import strokes
from shopapp.demo.rows import JobRow, Paid, PieceRow
from shopapp.demo.shop import UNSIGNED
from shopapp.office import condition, handover, intake, invoices, jobs, payments, quotes
from shopapp.office.pricing import PricingTyped, SettingTyped


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
        (job.ready_on, _clock(late + 1), _announce),
        (job.called_on, _clock(late + 1, 20), _call),
        (job.billed, _clock(late + 2), _bill),
    ]
    yield from (Act(day, minute, partial(do, job=job)) for day, minute, do in told if day)
    for day, until, minutes in _clocked(job, late):
        yield Act(day, until - minutes, partial(bench_acts.start_clock, job=job))
        yield Act(day, until, partial(bench_acts.stop_clock, job=job))
    for n, piece in enumerate(job.pieces, 1):
        yield from _piece_acts(job, n, piece, late)
    for day in sorted({job.gone_on(piece) for piece in job.pieces} - {""}):
        yield Act(day, _clock(late + 1, 40), partial(_hand_over, job=job, day=day))
    for paid in job.paid:
        yield Act(paid.day, _clock(late + 2, 20), partial(_pay, job=job, paid=paid))
    for also in job.also:
        do = BESIDES[also.verb]
        yield Act(also.day, _clock(also.hour, also.minute), partial(_besides, job=job, do=do, told=also.told))


def _clocked(job: JobRow, late: int) -> Iterator[tuple[str, int, int]]:
    """When the clock ran on a job: the day, until when, for how long. Two fifths of it on the day of the first cut."""
    if job.run or not job.spent:
        return
    first = job.spent * 2 // 5 if job.done else job.spent
    yield job.cut or job.came, _clock(11, 50) if job.cut == job.done else _clock(16, 50), first
    if job.done:
        yield job.done, _clock(late, 55), job.spent - first


def _piece_acts(job: JobRow, n: int, piece: PieceRow, late: int) -> Iterator[Act]:
    told: dict[str, Any] = {"job": job, "n": n, "piece": piece}
    if job.came:
        yield Act(job.came, _clock(13, 10) + n, partial(bench_acts.take_in, **told))
        if piece.before:
            yield Act(job.came, _clock(13, 20) + n, partial(bench_acts.weigh, phase="before", **told))
    if wrong := piece.struck:
        day, minute = (job.came, _clock(13, 20)) if wrong.phase == "before" else (job.done, _clock(late, 30))
        yield Act(day, minute + 8 + n, partial(bench_acts.put_right, wrong=wrong, **told))
    if job.cut:
        start = _clock(14) if job.cut == job.came else _clock(8, 15)
        yield Act(job.cut, start + (400 if job.run else 40) * (n - 1), partial(bench_acts.into_the_chuck, **told))
        if piece.until == "spoiled":
            yield Act(job.cut, start + 45, partial(bench_acts.spoil, **told))
    if job.done and not piece.until:
        if piece.after:
            yield Act(job.done, _clock(late, 30) + n, partial(bench_acts.weigh, phase="after", **told))
        yield Act(job.done, _clock(late, 45) + n, partial(bench_acts.check, **told))


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
        extras=job.extras, rush=job.rush,
    )  # fmt: skip


def _agree(book: Book, now: datetime, job: JobRow) -> None:
    quotes.go_ahead(
        book.db, job_id=book.job(job.no), said_by=CONTACT[job.customer], how=job.how, order_number=job.order,
        **book.signed(now, "WK"),
    )  # fmt: skip


def _announce(book: Book, now: datetime, job: JobRow) -> None:
    handover.announce(book.db, job_id=book.job(job.no), **book.signed(now, "WK"))


def _call(book: Book, now: datetime, job: JobRow) -> None:
    handover.call(
        book.db, job_id=book.job(job.no), outcome="told", whom=CONTACT[job.customer],
        next_on=book.days.day(job.next_try) if job.next_try else None, **book.signed(now, "WK"),
    )  # fmt: skip


def _hand_over(book: Book, now: datetime, job: JobRow, day: str) -> None:
    """The pieces of that day leave with what came along; what is fetched before its notice is put up first."""
    signed = book.signed(now, "WK")
    leaving = [book.piece(job.no, n) for n, row in enumerate(job.pieces, 1) if job.gone_on(row) == day]
    for piece in leaving:
        if piece.custody == "checked":
            intake.move(book.db, piece_id=piece.id, to="shelf", **signed)
    ids = [piece.id for piece in leaving]
    bits = [bit.id for bit in condition.bits_of(book.db, ids)]
    taken_by, how = CONTACT[job.customer], "known" if job.customer in UNSIGNED else "signed"
    handover.hand_over_many(
        book.db, leaving={book.job(job.no): ids}, taken_by=taken_by, how=how,
        signature=strokes(taken_by) if how == "signed" else "", bit_ids=bits, stub_back=how == "signed", **signed,
    )  # fmt: skip


def _bill(book: Book, now: datetime, job: JobRow) -> None:
    job_id = book.job(job.no)
    lines = list(job.lines) or invoices.draft_lines(book.db, job_id, now=now)
    book.bills[job.no] = invoices.issue(book.db, job_id=job_id, lines=lines, **book.signed(now, "WK"))


def _pay(book: Book, now: datetime, job: JobRow, paid: Paid) -> None:
    payments.pay(
        book.db, job_id=book.job(job.no), amount=paid.amount, how=paid.how, reference=paid.reference,
        invoice_no=book.bills.get(job.no), **book.signed(now, "WK"),
    )  # fmt: skip
