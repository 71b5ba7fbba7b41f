"""What is done at the door and at the bench with one piece of the story, and the clock that runs with it."""

from datetime import datetime

from shopapp.demo.book import Book
from shopapp.demo.drawings import MEASURED
from shopapp.demo.floor import BITS, CHECKED, DECLARED, LOOKED, LOOKS, SHOWN_FINISHED
from shopapp.demo.pictures import picture
from shopapp.demo.rows import JobRow, PieceRow, Struck
from shopapp.demo.shop import CUSTOMERS
from shopapp.office import clock, condition, finish, intake, mishaps, parts, photos, sizes, weighing

CONTACT = {row.key: row.contact for row in CUSTOMERS}


def take_in(book: Book, now: datetime, job: JobRow, n: int, piece: PieceRow) -> None:
    """The piece comes in; one that waits for its weight has not been looked at yet either."""
    sign = parts.variant(book.db, book.variants[piece.variant]).signs[0]
    piece_id, signed = book.piece(job.no, n).id, book.signed(now, "JT")
    if piece.before or job.cut:
        photos.keep(book.db, what="intake", photo=picture(job.no, n), piece_id=piece_id, **signed)
        answers = {**LOOKED, **LOOKS.get((job.no, n), {})}
        condition.look(book.db, piece_id=piece_id, answers=answers, **signed)
        if answers["cracked"] == "yes":
            shown = picture(job.no, n, "damage")
            photos.keep(book.db, what="damage", photo=shown, words=piece.note, piece_id=piece_id, **signed)
    intake.take_in(book.db, piece_id=piece_id, sign_id=sign.id, place=job.place, note=piece.note, **signed)
    if worth := DECLARED.get((job.no, n)):
        condition.declare(book.db, piece_id=piece_id, amount=worth[0], risk=worth[1], **signed)
    condition.add_bits(book.db, piece_id=piece_id, lines=list(BITS.get((job.no, n), ())), **signed)


def weigh(book: Book, now: datetime, job: JobRow, n: int, piece: PieceRow, phase: str) -> None:
    """Write a weight down; where the story has a wrong one, that is written first."""
    told = (piece.scale, piece.before if phase == "before" else piece.after)
    if piece.struck and piece.struck.phase == phase:
        told = (piece.struck.scale, piece.struck.typed)
    _write_down(book, now, book.piece(job.no, n).id, phase, *told)


def put_right(book: Book, now: datetime, job: JobRow, n: int, piece: PieceRow, wrong: Struck) -> None:
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


def into_the_chuck(book: Book, now: datetime, job: JobRow, n: int, piece: PieceRow) -> None:
    """Web and wall are measured where they were not yet; what was not weighed goes in with its reason."""
    piece_id, signed = book.piece(job.no, n).id, book.signed(now, "JT")
    known = {size.name for size in sizes.of_piece(book.db, piece_id)}
    for name, typed in MEASURED.get(piece.variant, ()):
        if name not in known:
            sizes.measure(
                book.db, piece_id=piece_id, name=name, typed=typed, unit="in", instrument="dial caliper", **signed
            )  # fmt: skip
    reason = piece.why if not piece.before else ""
    intake.move(book.db, piece_id=piece_id, to="chuck", reason=reason, **signed)


def spoil(book: Book, now: datetime, job: JobRow, n: int, piece: PieceRow) -> None:
    """The customer's piece is spoiled: its photo, the call of the same hour, and who pays for what."""
    said, who_pays = piece.settled
    mishaps.spoil(
        book.db, piece_id=book.piece(job.no, n).id, story=piece.why, photo=picture(job.no, n, "damage"),
        whom=CONTACT[job.customer], said=said, who_pays=who_pays, **book.signed(now, "JT"),
    )  # fmt: skip


def check(book: Book, now: datetime, job: JobRow, n: int, piece: PieceRow) -> None:
    """The last look at a piece: sizes where the story has them, every tick of its list, its photo."""
    piece_id, signed = book.piece(job.no, n).id, book.signed(now, "JT")
    if job.no in SHOWN_FINISHED:
        photos.keep(book.db, what="finished", photo=picture(job.no, n, "finished"), piece_id=piece_id, **signed)
    if measured := CHECKED.get((job.no, n)):
        for name, typed, instrument in measured:
            sizes.measure(
                book.db, piece_id=piece_id, name=name, typed=typed, unit="in", instrument=instrument, **signed
            )  # fmt: skip
        for line in finish.check(book.db, piece_id).lines:
            if line.kind == "tick":
                finish.tick(book.db, piece_id=piece_id, what=line.words, **signed)
        finish.rerun(book.db, piece_id=piece_id, **signed)
    intake.move(book.db, piece_id=piece_id, to="checked", reason="looked over, no more was measured", **signed)


def start_clock(book: Book, now: datetime, job: JobRow) -> None:
    """The clock starts with the work."""
    clock.start(book.db, job_id=book.job(job.no), **book.signed(now, "JT"))


def stop_clock(book: Book, now: datetime, job: JobRow) -> None:
    """The clock stops, and its minutes are the job's."""
    signed = book.signed(now, "JT")
    running = clock.running(book.db, signed["by"])
    if running is None or running.job_no != job.no:
        raise LookupError(f"The story of job {job.no} stops a clock that does not run.")
    clock.stop(book.db, clock_id=running.id, **signed)
