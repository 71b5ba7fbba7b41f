"""What two people may do at the desk of one shop: each act in a transaction of its own, on a row that there is."""

from collections.abc import Callable
from datetime import date, datetime, timedelta
from typing import Any

from sqlmodel import Session, and_, select

from shopapp.office import credits as notes
from shopapp.office import (
    handover,
    intake,
    invoices,
    jobs,
    ledger,
    mishaps,
    payments,
    quotes,
    refunds,
    statements,
    takings,
)
from shopapp.office.database import Database
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.invoices_lines import LineTyped
from shopapp.office.jobs import PieceAsk
from shopapp.office.pricing import PricingTyped, SettingTyped
from shopapp.office.tables.history import Event
from shopapp.office.tables.invoices import (
    BilledPiece,
    CreditNote,
    Invoice,
    Payment,
    Refund,
    WriteOff,
)
from shopapp.office.tables.jobs import Job, Piece
from tests.cast import NOON, TODAY

DAY = timedelta(days=1)
ACTS = (
    "asks", "does_a_job", "does_a_job", "revises", "pays_beforehand", "finishes_a_piece", "hands_over",
    "bills_what_is_ready", "bills_some_of_it", "bills_some_of_it", "bills_by_hand", "pays_a_bill", "pays_a_bill",
    "reverses_a_payment", "takes_money_back", "takes_all_back", "takes_tax_back", "voids", "writes_off",
    "asks_for_it_again", "uses_credit", "gives_back", "gave_nothing_back", "calls_off", "days_go_by", "days_go_by",
)  # fmt: skip


def dollars(cents: int) -> str:
    return f"{cents / 100:.2f}"


class Acts:
    """The acts, and the book on which they act."""

    book: Database
    now: datetime
    people: list[int]
    customers: list[int]
    plate: int
    sign: int
    told: dict[date, tuple[object, ...]]

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
                self.bill_as_drawn(db, job_id, None, **at)

            self.act(who, act, undone=cents % 4 == 0)

    def bill_as_drawn(self, db: Session, job_id: int, piece_ids: list[int] | None, **at: Any) -> None:
        """By the lines as they are drawn all bills of the job come to the whole price of what is billed, or to what
        they came to before where that was more."""
        before = kept(db, job_id)
        lines = invoices.draft_lines(db, job_id, now=self.now, piece_ids=piece_ids)
        invoices.issue(db, job_id=job_id, lines=lines, piece_ids=piece_ids, **at)
        quote, count = quotes.agreed_quote(db, job_id), len(invoices.billed(db, job_id))
        if quote and count:
            day = quote.issued_on
            whole = quotes.preview(db, job_id=job_id, typed=quote.pricing, day=day, pieces=count).price.net
            assert kept(db, job_id) == max(before, whole)

    def bills_some_of_it(self, who: int, which: int, cents: int) -> None:
        """Some ticks are taken away, and the lines drawn for those that are left, or left as they were."""
        if job_id := self.some(which, Piece.job_id):

            def act(db: Session, **at: Any) -> None:
                ids = [piece.id for piece in invoices.to_bill(db, job_id)][: 1 + cents % 2]
                if cents % 5:
                    self.bill_as_drawn(db, job_id, ids, **at)
                else:
                    lines = invoices.draft_lines(db, job_id, now=self.now)
                    invoices.issue(db, job_id=job_id, lines=lines, piece_ids=ids, **at)

            self.act(who, act)

    def bills_by_hand(self, who: int, which: int, cents: int) -> None:
        if job_id := self.some(which, Piece.job_id):
            lines = [LineTyped("work", "1", dollars(cents)), LineTyped("less", "1", dollars(-(cents // 7)))]

            def act(db: Session, **at: Any) -> None:
                ids = [piece.id for piece in invoices.to_bill(db, job_id)][: cents % 3]
                invoices.issue(db, job_id=job_id, lines=lines, piece_ids=ids, **at)

            self.act(who, act)

    def calls_off(self, who: int, which: int, cents: int) -> None:
        """After a piece was set up, or before."""
        if cents % 3 == 0 and (job_id := self.some(which, Job.id)):

            def act(db: Session, **at: Any) -> None:
                if cents % 2:
                    jobs.spend(db, job_id=job_id, minutes=1 + cents % 200, **at)
                mishaps.call_off(db, job_id=job_id, reason="found one", **at)

            self.act(who, act)

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

    def takes_all_back(self, who: int, which: int, cents: int) -> None:
        """As a whole, and its pieces may be billed anew."""
        if no := self.some(which, Invoice.no):

            def act(db: Session, **at: Any) -> None:
                notes.credit(db, no=no, reason="wrong words", **at)
                assert not set(invoices.billed(db, ledger.by_no(db, no).job_id)) & self.on_it(db, no)

            self.act(who, act)

    def on_it(self, db: Session, no: int) -> set[int]:
        where = BilledPiece.invoice_id == ledger.by_no(db, no).id
        return set(of(db, BilledPiece.piece_id, where))

    def takes_tax_back(self, who: int, which: int, cents: int) -> None:
        if no := self.some(which, Invoice.no):
            amount = dollars(cents % 300) if cents % 2 else ""
            told = {"no": no, "amount": amount, "tax_only": True, "reason": "certificate"}
            self.act(who, lambda db, **at: notes.credit(db, **told, **at))

    def asks_for_it_again(self, who: int, which: int, cents: int) -> None:
        if row := self.some(which, WriteOff.id):
            told = {"write_off_id": row, "reason": "paid after all"}
            self.act(who, lambda db, **at: notes.take_back_write_off(db, **told, **at))

    def gives_back(self, who: int, which: int, cents: int) -> None:
        if row := self.some(which, Payment.id):
            amount = dollars(cents) if cents % 2 else ""

            def act(db: Session, **at: Any) -> None:
                back = refunds.give_back(db, payment_id=row, amount=amount, how="cash", reason="asked", **at)
                refunds.receipt(db, refund_id=back, **at)

            self.act(who, act)

    def gave_nothing_back(self, who: int, which: int, cents: int) -> None:
        if row := self.some(which, Refund.id):
            self.act(who, lambda db, **at: refunds.take_back(db, refund_id=row, reason="not fetched", **at))

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
        """What was told of a day that is over is kept, to be asked again."""
        if days := which % 46:
            day = TODAY + (self.now - NOON)
            with self.book.reading() as db:
                self.told[day] = self.of_day(db, day)
            self.now += days * DAY

    def of_day(self, db: Session, day: date) -> tuple[object, ...]:
        """Each customer's statement as of a day, and what was sold up to it."""
        accounts = (statements.account(db, customer_id=one, as_of=day) for one in self.customers)
        return (*accounts, takings.sales(db, since=TODAY, until=day))


def kept(db: Session, job_id: int) -> int:
    """What the bills of a job come to before tax, less what was taken back."""
    net = sum(of(db, Invoice.net_cents, and_(Invoice.job_id == job_id, Invoice.void_on.is_(None))))
    mine = CreditNote.invoice_id.in_(select(Invoice.id).where(Invoice.job_id == job_id))
    return net - sum(of(db, CreditNote.net_cents, mine))


def of(db: Session, column: object, where: object) -> list[int]:
    return list(db.exec(select(column).where(where)).all())
