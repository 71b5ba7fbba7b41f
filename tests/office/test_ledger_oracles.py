"""Two people at one desk, in any order: whatever they do, the cents add up and nothing issued changes.

Random sequences of the office's acts against sums that are worked out here from the bare rows.
"""

import random
import shutil
import tempfile
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule, run_state_machine_as_test
from sqlmodel import Session, select

from shopapp.office import (
    agreements,
    handover,
    intake,
    invoices,
    jobs,
    ledger,
    parts,
    payments,
    people,
    quotes,
    standing,
    statements,
)
from shopapp.office import credits as notes
from shopapp.office.database import Database, sqlite_url
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.invoices import LineTyped
from shopapp.office.jobs import PieceAsk
from shopapp.office.pricing import PricingTyped, SettingTyped
from shopapp.office.sheets.canon import sha256
from shopapp.office.tables.history import Event
from shopapp.office.tables.invoices import (
    Applied,
    BilledPiece,
    CreditNote,
    Invoice,
    InvoiceLine,
    Payment,
    Reversal,
    WriteOff,
)
from shopapp.office.tables.jobs import Job, Piece
from shopapp.office.tables.papers import Paper
from tests import makers
from tests.cast import NOON, SECOND, TODAY, WALK_IN

DAY = timedelta(days=1)
ACTS = (
    "asks", "does_a_job", "does_a_job", "revises", "pays_beforehand", "finishes_a_piece", "hands_over",
    "bills_what_is_ready", "bills_what_is_ready", "bills_by_hand", "pays_a_bill", "pays_a_bill", "reverses_a_payment",
    "takes_money_back", "voids", "writes_off", "uses_credit", "days_go_by",
)  # fmt: skip


def dollars(cents: int) -> str:
    return f"{cents / 100:.2f}"


class TheDesk(RuleBasedStateMachine):
    """What two people may do at the desk of one shop."""

    empty_book: Path

    def __init__(self) -> None:
        super().__init__()
        self.place = Path(tempfile.mkdtemp())
        shutil.copy(self.empty_book, self.place / "shop.db")
        self.book, self.now = Database(sqlite_url(self.place / "shop.db")), NOON
        self.papers: dict[int, tuple[str, str]] = {}
        with self.book.writing() as db:
            shop = makers.make_shop(db)
            self.people = [shop.by, people.add(db, **SECOND, now=NOON)]
            self.customers = [makers.the_mill(db, shop), makers.make_customer(db, shop, **WALK_IN, bill_when="fetched")]
            self.plate = makers.make_variant(db, shop, body=None)
            self.sign = parts.variant(db, self.plate).signs[0].id
            agreements.add(
                db, customer_id=self.customers[0], part_id=parts.parts(db)[0][0].id, from_count="2", each="31.07",
                valid_from=TODAY, valid_to=TODAY + 9 * DAY, **shop.at(),
            )  # fmt: skip

    def teardown(self) -> None:
        self.book.close()
        shutil.rmtree(self.place)

    def act(self, who: int, act: Callable[..., object], *, undone: bool = False) -> None:
        """One act in a transaction of its own: what is refused or undone leaves no trace, what is done its line."""
        by = self.people[who]
        before = self.lines()
        try:
            with self.book.writing() as db:
                act(db, now=self.now, by=by)
                if undone:
                    raise RuntimeError
        except (TryAgain, InTheWay, RuntimeError):
            assert self.lines() == before
        else:
            after = self.lines()
            assert len(after) > len(before)
            assert {line[1] for line in after[len(before) :]} == {by}

    def lines(self) -> list[tuple[int, int]]:
        with self.book.reading() as db:
            return [tuple(row) for row in db.exec(select(Event.id, Event.by_id).order_by(Event.id))]

    def some(self, which: int, column: Any) -> int | None:
        """One of the rows that there are, the newest first, by its column."""
        with self.book.reading() as db:
            found = db.exec(select(column).order_by(column)).all()
        return found[-1 - which % len(found)] if found else None

    @rule(seed=st.integers(0, 2**32))
    def does(self, seed: int) -> None:
        """One of the acts by one of the two, on one of the rows that there are, all as likely as each other."""
        chance = random.Random(seed)
        getattr(self, chance.choice(ACTS))(chance.randrange(2), chance.randrange(100), chance.randrange(1, 20_000))

    def asks(self, who: int, which: int, cents: int) -> None:
        pieces = (PieceAsk(self.plate, "shelf" if which % 2 else "machine"),) * (cents % 4)
        self.act(who, lambda db, **at: self.open(db, which, pieces, **at))

    def open(self, db: Session, which: int, pieces: tuple[PieceAsk, ...], **at: Any) -> int:
        no = jobs.open_job(db, customer_id=self.customers[which % 2], title="skim plates", pieces=pieces, **at)
        return jobs.by_no(db, no).id

    def does_a_job(self, who: int, which: int, cents: int) -> None:
        """Asked, quoted, agreed, and some of the pieces finished."""
        typed = PricingTyped(
            str(1 + cents % 3), (SettingTyped("a", str(1 + cents % 300), "11", "3"),), rush=cents % 5 == 0,
            discount="3 %", discount_reason="cash",
        )  # fmt: skip

        def act(db: Session, **at: Any) -> None:
            job_id = self.open(db, which, (PieceAsk(self.plate, "shelf"),) * (1 + cents % 3), **at)
            quotes.issue(db, quote_id=quotes.keep_draft(db, job_id=job_id, typed=typed, **at), **at)
            quotes.go_ahead(db, job_id=job_id, said_by="M", how="phone", **at)
            for piece in jobs.pieces(db, job_id)[: 1 + which % 3]:
                self.finish(db, piece.id, **at)

        self.act(who, act)

    def finish(self, db: Session, piece_id: int, **at: Any) -> None:
        intake.take_in(db, piece_id=piece_id, sign_id=self.sign, **at)
        for to in ("chuck", "checked", "shelf"):
            intake.move(db, piece_id=piece_id, to=to, reason="he waits", **at)

    def revises(self, who: int, which: int, cents: int) -> None:
        if job_id := self.some(which, Job.id):
            typed = PricingTyped("2", (SettingTyped("a", str(cents % 300), "7"),))

            def act(db: Session, **at: Any) -> None:
                number = quotes.issue(db, quote_id=quotes.keep_draft(db, job_id=job_id, typed=typed, **at), **at)
                if cents % 2:
                    quotes.go_ahead(db, job_id=job_id, said_by="M", how="phone", revision=number.split()[1], **at)

            self.act(who, act)

    def pays_beforehand(self, who: int, which: int, cents: int) -> None:
        if job_id := self.some(which, Job.id):
            self.act(who, lambda db, **at: payments.pay(db, job_id=job_id, amount=dollars(cents), how="cash", **at))

    def finishes_a_piece(self, who: int, which: int, cents: int) -> None:
        if piece_id := self.some(which, Piece.id):
            self.act(who, lambda db, **at: self.finish(db, piece_id, **at))

    def hands_over(self, who: int, which: int, cents: int) -> None:
        if piece_id := self.some(which, Piece.id):
            with self.book.reading() as db:
                leaving = {db.get_one(Piece, piece_id).job_id: [piece_id]}
            self.act(who, lambda db, **at: handover.hand_over_many(db, leaving=leaving, taken_by="M", **at))

    def bills_what_is_ready(self, who: int, which: int, cents: int) -> None:
        if job_id := self.some(which, Piece.job_id):

            def act(db: Session, **at: Any) -> None:
                lines = invoices.draft_lines(db, job_id, now=self.now)
                invoices.issue(db, job_id=job_id, lines=lines, **at)

            self.act(who, act, undone=cents % 4 == 0)

    def bills_by_hand(self, who: int, which: int, cents: int) -> None:
        if job_id := self.some(which, Job.id):
            lines = [LineTyped("work", "1", dollars(cents)), LineTyped("less", "1", dollars(-(cents // 7)))]
            self.act(who, lambda db, **at: invoices.issue(db, job_id=job_id, lines=lines, piece_ids=[], **at))

    def pays_a_bill(self, who: int, which: int, cents: int) -> None:
        """In full where the cents are even."""
        if no := self.some(which, Invoice.no):

            def act(db: Session, **at: Any) -> None:
                bill = ledger.by_no(db, no)
                amount = bill.due_cents if cents % 2 == 0 and bill.due_cents else cents
                row = payments.pay(db, job_id=bill.job_id, amount=dollars(amount), how="card", invoice_no=no, **at)
                payments.receipt(db, payment_id=row, **at)

            self.act(who, act)

    def reverses_a_payment(self, who: int, which: int, cents: int) -> None:
        if row := self.some(which, Payment.id):
            self.act(who, lambda db, **at: payments.reverse(db, payment_id=row, reason="came back", **at))

    def takes_money_back(self, who: int, which: int, cents: int) -> None:
        """All of it, or a part."""
        if no := self.some(which, Invoice.no):

            def act(db: Session, **at: Any) -> None:
                net = ledger.by_no(db, no).net_cents
                amount = dollars(net if cents % 4 == 0 else net * (cents % 100) // 100)
                notes.credit(db, no=no, amount=amount, reason="late", **at)

            self.act(who, act)

    def voids(self, who: int, which: int, cents: int) -> None:
        if no := self.some(which, Invoice.no):
            self.act(who, lambda db, **at: notes.void(db, no=no, reason="twice", **at))

    def writes_off(self, who: int, which: int, cents: int) -> None:
        if no := self.some(which, Invoice.no):
            amount = dollars(cents) if cents % 2 else ""
            self.act(who, lambda db, **at: notes.write_off(db, no=no, amount=amount, reason="gone", **at))

    def uses_credit(self, who: int, which: int, cents: int) -> None:
        if no := self.some(which, Invoice.no):
            self.act(who, lambda db, **at: payments.use_credit(db, invoice_no=no, **at))

    def days_go_by(self, who: int, which: int, cents: int) -> None:
        self.now += which % 46 * DAY

    @invariant()
    def numbers_have_no_gaps(self) -> None:
        with self.book.reading() as db:
            for column, first in ((Job.no, 1001), (Invoice.no, 501), (CreditNote.no, 1)):
                numbers = db.exec(select(column).order_by(column)).all()
                assert numbers == list(range(first, first + len(numbers)))

    @invariant()
    def the_cents_of_every_bill_add_up(self) -> None:
        with self.book.reading() as db:
            gone = set(db.exec(select(Reversal.payment_id)).all())
            for bill in db.exec(select(Invoice)).all():
                assert bill.net_cents + bill.tax_cents == bill.total_cents
                assert bill.net_cents == sum(of(db, InvoiceLine.cents, InvoiceLine.invoice_id == bill.id))
                used = db.exec(select(Applied.payment_id, Applied.cents).where(Applied.invoice_id == bill.id)).all()
                paid = sum(cents for payment_id, cents in used if payment_id not in gone)
                back = sum(of(db, CreditNote.total_cents, CreditNote.invoice_id == bill.id))
                off = sum(of(db, WriteOff.cents, WriteOff.invoice_id == bill.id))
                facts = ledger.by_no(db, bill.no)
                assert facts.due_cents == (0 if bill.void_on else bill.total_cents - paid - back - off)
                assert facts.due_cents >= 0

    @invariant()
    def no_payment_is_used_beyond_what_came_in(self) -> None:
        with self.book.reading() as db:
            gone, left = set(db.exec(select(Reversal.payment_id)).all()), 0
            for payment in db.exec(select(Payment)).all():
                used = sum(of(db, Applied.cents, Applied.payment_id == payment.id))
                assert 0 <= used <= payment.cents
                left += 0 if payment.id in gone else payment.cents - used
            ids = list(db.exec(select(Job.id)).all())
            assert sum(standing.held_of(db, ids).values()) == left
            held = [payments.of_customer(db, customer) for customer in self.customers]
            assert sum(one.left_cents for some in held for one in some) == left

    @invariant()
    def what_is_owed_is_the_same_from_every_side(self) -> None:
        with self.book.reading() as db:
            day = TODAY + (self.now - NOON)
            owing = {row.customer_id: row.ages for row in ledger.owing(db, now=self.now)}
            for customer in self.customers:
                told = statements.account(db, customer_id=customer, as_of=day)
                assert told.ages == owing.get(customer, (0,) * 5)
            ids = list(db.exec(select(Job.id)).all())
            by_job = sum(tracks.due_cents for tracks in standing.of_jobs(db, ids, now=self.now).values())
            assert by_job == sum(sum(ages) for ages in owing.values())

    @invariant()
    def a_piece_stands_on_one_bill_at_most_and_on_no_void_one(self) -> None:
        with self.book.reading() as db:
            billed = db.exec(
                select(BilledPiece.piece_id, Invoice.void_on, Piece.custody, Piece.job_id, Invoice.job_id)
                .join(Invoice, Invoice.id == BilledPiece.invoice_id)
                .join(Piece, Piece.id == BilledPiece.piece_id)
            ).all()
            assert len({row[0] for row in billed}) == len(billed)
            for _, void_on, custody, of_piece, of_bill in billed:
                assert (void_on, of_piece) == (None, of_bill)
                assert custody in ("checked", "shelf", "gone")

    @invariant()
    def issued_papers_stay_as_they_were(self) -> None:
        with self.book.reading() as db:
            now = {row[0]: (row[1], row[2]) for row in db.exec(select(Paper.id, Paper.sheet, Paper.sha256))}
            for row, kept in self.papers.items():
                assert now[row] == kept
            for row in now.keys() - self.papers.keys():
                assert sha256(now[row][0]) == now[row][1]
            self.papers = now
            frozen = set(db.exec(select(Paper.number).where(Paper.kind == "invoice")).all())
            assert frozen == {str(no) for no in db.exec(select(Invoice.no)).all()}


def of(db: Session, column: object, where: object) -> list[int]:
    return list(db.exec(select(column).where(where)).all())


def test_two_people_at_one_desk_keep_the_book_straight(migrated_file: Path) -> None:
    machine = type("OneDesk", (TheDesk,), {"empty_book": migrated_file})
    run_state_machine_as_test(
        machine,
        settings=settings(
            max_examples=15, stateful_step_count=30, deadline=None, suppress_health_check=list(HealthCheck),
            phases=(Phase.reuse, Phase.generate),
        ),
    )  # fmt: skip
