"""What happens to a job besides its usual way: each verb of a story row, told to the office."""

from collections.abc import Callable
from datetime import datetime
from typing import Any

from shopapp.demo import run_acts
from shopapp.demo.book import Book
from shopapp.demo.drawings import CUTS
from shopapp.demo.pictures import picture
from shopapp.demo.rows import JobRow, LineTyped
from shopapp.office import credits as taken_back
from shopapp.office import (
    cutting,
    handover,
    intake,
    invoices,
    jobs,
    letters,
    mishaps,
    parts,
    photos,
    questions,
    quotes,
    shelf,
    sizes,
    statements,
    together,
    weighing,
)


def _call(book: Book, job: JobRow, now: datetime, next_on: str = "", **told: Any) -> None:
    again = book.days.day(next_on) if next_on else None
    handover.call(book.db, job_id=book.job(job.no), next_on=again, **told, **book.signed(now, "WK"))


def _stop(book: Book, job: JobRow, now: datetime, ask_again_on: str, photo_of: int = 0, **told: Any) -> None:
    """A question or an order holds the job up; `photo_of` is the piece that its photo shows."""
    again = book.days.day(ask_again_on)
    if photo_of:
        shown, signed = picture(job.no, photo_of, "damage"), book.signed(now, "JT")
        photos.keep(book.db, what="question", photo=shown, piece_id=book.piece(job.no, photo_of).id, **signed)
    questions.stop(book.db, job_id=book.job(job.no), ask_again_on=again, **told, **book.signed(now, "WK"))


def _open_stop(book: Book, job: JobRow) -> int:
    return questions.stops(book.db, book.job(job.no))[0].id


def _ask_again(book: Book, job: JobRow, now: datetime, next_on: str) -> None:
    again = book.days.day(next_on)
    questions.ask_again(book.db, stop_id=_open_stop(book, job), next_on=again, **book.signed(now, "WK"))


def _answer(book: Book, job: JobRow, now: datetime, words: str) -> None:
    questions.answer(book.db, stop_id=_open_stop(book, job), words=words, **book.signed(now, "WK"))


def _end(book: Book, job: JobRow, now: datetime, how: str, reason: str) -> None:
    mishaps.end(book.db, job_id=book.job(job.no), how=how, reason=reason, **book.signed(now, "WK"))


def _call_off(book: Book, job: JobRow, now: datetime, reason: str) -> None:
    mishaps.call_off(book.db, job_id=book.job(job.no), reason=reason, **book.signed(now, "WK"))


def _turn_down(book: Book, job: JobRow, now: datetime) -> None:
    newest = quotes.of_job(book.db, book.job(job.no))[-1]
    quotes.turn_down(book.db, quote_id=newest.id, **book.signed(now, "WK"))


def _size(book: Book, job: JobRow, now: datetime, n: int, **told: Any) -> None:
    sizes.measure(book.db, piece_id=book.piece(job.no, n).id, unit="in", **told, **book.signed(now, "JT"))


def _weigh(book: Book, job: JobRow, now: datetime, n: int, scale: str, **told: Any) -> None:
    piece_id, scale_id = book.piece(job.no, n).id, book.scales[scale]
    weighing.weigh(book.db, piece_id=piece_id, scale_id=scale_id, zero_seen=True, **told, **book.signed(now, "JT"))


def _weigh_at_once(book: Book, job: JobRow, now: datetime, scale: str, **told: Any) -> None:
    """All pieces of the job on the scale at once."""
    ids = [piece.id for piece in jobs.pieces(book.db, book.job(job.no))]
    signed = book.signed(now, "JT")
    together.weigh(book.db, piece_ids=ids, scale_id=book.scales[scale], zero_seen=True, **told, **signed)


def _move(book: Book, job: JobRow, now: datetime, n: int, **told: Any) -> None:
    intake.move(book.db, piece_id=book.piece(job.no, n).id, **told, **book.signed(now, "JT"))


def _sign(book: Book, job: JobRow, now: datetime, n: int, variant: str, note: str) -> None:
    piece = book.piece(job.no, n)
    sign = parts.variant(book.db, book.variants[variant]).signs[0]
    intake.take_in(
        book.db, piece_id=piece.id, sign_id=sign.id, place=piece.place, note=note, **book.signed(now, "JT")
    )  # fmt: skip


def keep_cuts(book: Book, job: JobRow, now: datetime, variant: str) -> None:
    """The cuts for one variant in a job, as they are always typed for it."""
    cutting.keep_cuts(
        book.db, job_id=book.job(job.no), variant_id=book.variants[variant], typed=CUTS[variant],
        **book.signed(now, "WK"),
    )  # fmt: skip


def _void(book: Book, job: JobRow, now: datetime, lines: tuple[LineTyped, ...], reason: str) -> None:
    """A bill that came too early: issued on this job and struck through the same minute."""
    signed = book.signed(now, "WK")
    no = invoices.issue(book.db, job_id=book.job(job.no), lines=list(lines), **signed)
    taken_back.void(book.db, no=no, reason=reason, **signed)


def _credit(book: Book, job: JobRow, now: datetime, amount: str, reason: str) -> None:
    taken_back.credit(book.db, no=book.bills[job.no], amount=amount, reason=reason, **book.signed(now, "WK"))


def _ask_by_letter(book: Book, job: JobRow, now: datetime) -> None:
    letters.question(book.db, stop_id=_open_stop(book, job), **book.signed(now, "WK"))


def _ready_letter(book: Book, job: JobRow, now: datetime) -> None:
    letters.ready_letter(book.db, job_id=book.job(job.no), **book.signed(now, "WK"))


def _labels(book: Book, job: JobRow, now: datetime) -> None:
    letters.labels(book.db, job_id=book.job(job.no), **book.signed(now, "JT"))


def _record(book: Book, job: JobRow, now: datetime, n: int) -> None:
    letters.spoiled(book.db, piece_id=book.piece(job.no, n).id, **book.signed(now, "WK"))


def _statement(book: Book, job: JobRow, now: datetime) -> None:
    statements.issue(book.db, customer_id=book.customers[job.customer], **book.signed(now, "WK"))


def _remind(book: Book, job: JobRow, now: datetime) -> None:
    statements.remind(book.db, customer_id=book.customers[job.customer], **book.signed(now, "WK"))


def _used(book: Book, job: JobRow, now: datetime, variant: str, words: str) -> None:
    """The customer tells that one from their own shelf was used."""
    shelf.use_one(
        book.db, customer_id=book.customers[job.customer], variant_id=book.variants[variant], words=words,
        **book.signed(now, "WK"),
    )  # fmt: skip


BESIDES: dict[str, Callable[..., None]] = {
    "call": _call, "stop": _stop, "ask_again": _ask_again, "answer": _answer, "end": _end, "turn_down": _turn_down,
    "size": _size, "weigh": _weigh, "weigh_at_once": _weigh_at_once, "move": _move, "sign": _sign,
    "cuts": keep_cuts, "void": _void, "credit": _credit,
    "call_off": _call_off, "question_letter": _ask_by_letter, "ready_letter": _ready_letter, "labels": _labels,
    "record": _record, "statement": _statement, "remind": _remind, "used": _used,
    "plan": run_acts.plan, "true": run_acts.true, "run": run_acts.cut, "run_done": run_acts.cut_done,
    "trouble": run_acts.note,
}  # fmt: skip
"""The verbs that a row's `also` may name."""
