"""What is billed, paid, taken back and owed, read from rows that are only ever added."""

from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import ColumnElement
from sqlmodel import Session, and_, exists, func, or_, select

from shopapp.office import shopbook, sums
from shopapp.office.errors import NotHere
from shopapp.office.tables.customers import Customer
from shopapp.office.tables.history import Event
from shopapp.office.tables.invoices import Invoice
from shopapp.office.tables.jobs import Job, Piece, Spent, worked
from shopapp.office.tracks import Bill, Facts, tracks


@dataclass(frozen=True)
class InvoiceFacts:
    """An invoice with what has become of it [cents]."""

    id: int
    no: int
    customer_id: int
    customer: str
    job_id: int
    job_no: int
    issued_on: date
    due_on: date
    net_cents: int
    tax_cents: int
    total_cents: int
    credited_cents: int
    paid_cents: int
    void_on: date | None
    void_reason: str
    written_off_cents: int = 0
    credited_net_cents: int = 0

    @property
    def stands(self) -> bool:
        """Whether it is neither void nor taken back as a whole; then its pieces are billed by it."""
        return not self.void_on and (not self.total_cents or self.credited_cents < self.total_cents)

    @property
    def kept_net_cents(self) -> int:
        """What stands of it before tax [cents]: its net less credit notes, nothing of a void one."""
        return 0 if self.void_on else self.net_cents - self.credited_net_cents

    @property
    def asked_cents(self) -> int:
        """What it asks after credit notes and what was written off [cents], paid or not."""
        return self.total_cents - self.credited_cents - self.written_off_cents

    @property
    def due_cents(self) -> int:
        """What is still owed on it [cents]; nothing on a void one."""
        return 0 if self.void_on else self.asked_cents - self.paid_cents

    def state(self, today: date) -> tuple[str, bool]:
        """The invoice's own word on the money track, and whether it is overdue."""
        if self.void_on:
            return "void", False
        bill = Bill(self.total_cents, self.credited_cents, self.paid_cents, self.due_on, self.written_off_cents)
        told = tracks(Facts(today=today, bills=(bill,)))
        return told.money, told.overdue


AGES = ("not yet due", "1 to 30 days", "31 to 60 days", "61 to 90 days", "over 90 days")


@dataclass(frozen=True)
class Owing:
    """What one customer owes, by days past due [cents], in the order of AGES."""

    customer_id: int
    customer: str
    ages: tuple[int, ...]

    @property
    def total(self) -> int:
        """All that the customer owes [cents]."""
        return sum(self.ages)


@dataclass(frozen=True)
class ToBill:
    """A job with finished pieces that stand on no bill, by the customer's rule."""

    job_no: int
    customer: str
    title: str
    finished: int
    order_missing: bool


def unbilled() -> ColumnElement[bool]:
    """Whether a piece is finished by its customer's rule and stands on no bill; asked with the piece's customer."""
    by_rule = or_(Piece.custody == "gone", and_(Piece.custody == "shelf", Customer.bill_when == "ready"))
    return and_(by_rule, worked(), ~sums.on_a_bill())


def to_bill(db: Session, *, most: int = 200) -> list[ToBill]:
    """Jobs to bill, those longest in the book first; of closed ones and those called off too, so that none is lost."""
    rows = db.exec(
        select(Job.no, Customer.name, Job.title, func.count(Piece.id), Customer.order_number, Job.order_number)
        .join(Customer, Customer.id == Job.customer_id)
        .join(Piece, Piece.job_id == Job.id)
        .where(unbilled())
        .group_by(Job.id, Job.no, Customer.id, Customer.name, Job.title, Customer.order_number, Job.order_number)
        .order_by(Job.no)
        .limit(most)
    )
    return [
        ToBill(no, customer, title, count, rule == "required" and not order)
        for no, customer, title, count, rule, order in rows
    ]


def set_up_to_bill() -> ColumnElement[bool]:
    """Whether a job was called off after it was set up, by minutes written down or a piece in the chuck, and no bill
    of it stands."""
    begun = or_(
        exists().where(Spent.job_id == Job.id), exists().where(Event.job_id == Job.id, Event.act == "chuck")
    )  # fmt: skip
    return and_(Job.ended == "called_off", begun, ~exists().where(Invoice.job_id == Job.id, sums.stands()))


def called_off_to_bill(db: Session, *, most: int = 200) -> list[ToBill]:
    """Jobs that were called off after they were set up, of which nothing is billed and no piece is to be."""
    pieces = exists().where(Piece.job_id == Job.id, unbilled())
    rows = db.exec(
        select(Job.no, Customer.name, Job.title, Customer.order_number, Job.order_number)
        .join(Customer, Customer.id == Job.customer_id)
        .where(set_up_to_bill(), ~pieces)
        .order_by(Job.no)
        .limit(most)
    )
    return [ToBill(*row[:3], 0, row[3] == "required" and not row[4]) for row in rows]


def by_no(db: Session, no: int) -> InvoiceFacts:
    """The invoice with this number."""
    found = rows(db, Invoice.no == no)
    if not found:
        raise NotHere(f"There is no invoice {no} in the book.")
    return found[0]


def of_job(db: Session, job_id: int) -> list[InvoiceFacts]:
    """The invoices of a job, void ones among them."""
    return rows(db, Invoice.job_id == job_id)


def of_customer(db: Session, customer_id: int) -> list[InvoiceFacts]:
    """Every invoice of a customer, newest first, void ones among them."""
    return rows(db, Invoice.customer_id == customer_id)


def newest(db: Session, *, before_no: int | None = None, most: int = 50) -> list[InvoiceFacts]:
    """Invoices, newest first; `before_no` turns the page."""
    return rows(db, Invoice.no < before_no if before_no else Invoice.no > 0, most)[:most]


def owing(db: Session, *, now: datetime) -> list[Owing]:
    """Who owes what, by calendar days past due in the shop's zone, most first."""
    today = shopbook.the_shop(db).today(now)
    ages: dict[tuple[int, str], list[int]] = {}
    not_paid = Invoice.total_cents > sums.paid()  # asked first: for nearly every bill of a long book this is enough
    for invoice in rows(db, and_(Invoice.void_on.is_(None), not_paid, due() > 0)):
        line = ages.setdefault((invoice.customer_id, invoice.customer), [0] * len(AGES))
        line[age_of(invoice.due_on, today)] += invoice.due_cents
    told = [Owing(*who, tuple(line)) for who, line in ages.items()]
    return sorted(told, key=lambda row: -row.total)


def due() -> ColumnElement[int]:
    """What a bill still asks [cents], as part of a query."""
    return Invoice.total_cents - sums.credited() - sums.paid() - sums.written_off()


def rows(db: Session, where: object, most: int | None = None) -> list[InvoiceFacts]:
    """Invoices with what has become of them, newest first."""
    query = (
        select(
            Invoice.id, Invoice.no, Invoice.customer_id, Customer.name, Invoice.job_id, Job.no, Invoice.issued_on,
            Invoice.due_on, Invoice.net_cents, Invoice.tax_cents, Invoice.total_cents, sums.credited(), sums.paid(),
            Invoice.void_on, Invoice.void_reason, sums.written_off(), sums.credited_net(),
        )
        .join(Customer, Customer.id == Invoice.customer_id)
        .join(Job, Job.id == Invoice.job_id)
        .where(where)
        .order_by(Invoice.no.desc())
        .limit(most)
    )  # fmt: skip
    return [InvoiceFacts(*row) for row in db.exec(query)]


def age_of(due_on: date, today: date) -> int:
    """The place in AGES of a bill that is due on a day."""
    late = (today - due_on).days
    return 0 if late <= 0 else min(1 + (late - 1) // 30, 4)
