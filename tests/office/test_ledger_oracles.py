"""Two people at one desk, in any order: whatever they do, the cents add up and nothing issued changes.

Random sequences of the office's acts against sums that are worked out here from the bare rows.
"""

import random
import shutil
import tempfile
from datetime import date
from pathlib import Path

from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule, run_state_machine_as_test
from sqlmodel import and_, func, select

from shopapp.office import (
    agreements,
    invoices,
    ledger,
    parts,
    payments,
    people,
    standing,
    statements,
)
from shopapp.office.database import Database, sqlite_url
from shopapp.office.sheets.canon import sha256
from shopapp.office.tables.invoices import (
    Applied,
    BilledPiece,
    CreditNote,
    Invoice,
    InvoiceLine,
    Payment,
    Refund,
    RefundBack,
    Reversal,
    WriteOff,
    WriteOffBack,
)
from shopapp.office.tables.jobs import Job, Piece
from shopapp.office.tables.papers import Paper
from tests import makers
from tests.cast import NOON, SECOND, TODAY, WALK_IN
from tests.office.desk_acts import ACTS, DAY, Acts, of


class TheDesk(Acts, RuleBasedStateMachine):
    """What two people may do at the desk of one shop."""

    empty_book: Path

    def __init__(self) -> None:
        super().__init__()
        self.place = Path(tempfile.mkdtemp())
        shutil.copy(self.empty_book, self.place / "shop.db")
        self.book, self.now = Database(sqlite_url(self.place / "shop.db")), NOON
        self.papers: dict[int, tuple[str, str]] = {}
        self.told: dict[date, tuple[object, ...]] = {}
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

    @rule(seed=st.integers(0, 2**32))
    def does(self, seed: int) -> None:
        """One of the acts by one of the two, on one of the rows that there are, all as likely as each other."""
        chance = random.Random(seed)
        getattr(self, chance.choice(ACTS))(chance.randrange(2), chance.randrange(100), chance.randrange(1, 20_000))

    @invariant()
    def a_day_that_is_over_is_told_the_same_ever_after(self) -> None:
        with self.book.reading() as db:
            for day, told in list(self.told.items())[-4:]:
                assert self.of_day(db, day) == told

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
                again = WriteOff.id.not_in(select(WriteOffBack.write_off_id))
                off = sum(of(db, WriteOff.cents, and_(WriteOff.invoice_id == bill.id, again)))
                for taken, whole in ((CreditNote.net_cents, bill.net_cents), (CreditNote.tax_cents, bill.tax_cents)):
                    assert 0 <= sum(of(db, taken, CreditNote.invoice_id == bill.id)) <= whole
                facts = ledger.by_no(db, bill.no)
                assert facts.due_cents == (0 if bill.void_on else bill.total_cents - paid - back - off)
                assert facts.due_cents >= 0

    @invariant()
    def no_payment_is_used_beyond_what_came_in(self) -> None:
        with self.book.reading() as db:
            gone, left = set(db.exec(select(Reversal.payment_id)).all()), 0
            for payment in db.exec(select(Payment)).all():
                used = sum(of(db, Applied.cents, Applied.payment_id == payment.id))
                given = and_(Refund.payment_id == payment.id, Refund.id.not_in(select(RefundBack.refund_id)))
                out = sum(of(db, Refund.cents, given))
                assert 0 <= used <= used + out <= payment.cents
                assert not (payment.id in gone and used + out)
                left += 0 if payment.id in gone else payment.cents - used - out
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
    def a_piece_is_billed_by_one_bill_at_most_that_stands(self) -> None:
        with self.book.reading() as db:
            back = select(CreditNote.invoice_id, func.sum(CreditNote.total_cents)).group_by(CreditNote.invoice_id)
            taken, standing_on = dict(db.exec(back).all()), []
            for piece_id, bill, custody, of_piece in db.exec(
                select(BilledPiece.piece_id, Invoice, Piece.custody, Piece.job_id)
                .join(Invoice, Invoice.id == BilledPiece.invoice_id)
                .join(Piece, Piece.id == BilledPiece.piece_id)
            ).all():
                assert (of_piece, custody in ("checked", "shelf", "gone")) == (bill.job_id, True)
                if not bill.void_on and (not bill.total_cents or taken.get(bill.id, 0) < bill.total_cents):
                    standing_on.append(piece_id)
            assert len(set(standing_on)) == len(standing_on)
            told = [invoices.billed(db, job_id) for job_id in db.exec(select(Job.id)).all()]
            assert set().union(*told) == set(standing_on)

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


def test_two_people_at_one_desk_keep_the_book_straight(migrated_file: Path) -> None:
    machine = type("OneDesk", (TheDesk,), {"empty_book": migrated_file})
    run_state_machine_as_test(
        machine,
        settings=settings(
            max_examples=15, stateful_step_count=30, deadline=None, derandomize=True,
            suppress_health_check=list(HealthCheck), phases=(Phase.reuse, Phase.generate),
        ),
    )  # fmt: skip
