"""What is billed, paid, taken back and owed, read from rows that are only ever added."""

from dataclasses import dataclass
from datetime import date, datetime

from sqlmodel import Session, and_, exists, func, or_, select

from shopapp.office import shopbook, standing
from shopapp.office.errors import NotHere
from shopapp.office.tables.customers import Customer
from shopapp.office.tables.invoices import Applied, BilledPiece, CreditNote, Invoice, WriteOff
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


def to_bill(db: Session, *, most: int = 200) -> list[ToBill]:
    """Jobs to bill, those longest in the book first; of closed ones too, so that none goes unbilled."""
    by_rule = or_(Piece.custody == "gone", and_(Piece.custody == "shelf", Customer.bill_when == "ready"))
    rows = db.exec(
        select(Job.no, Customer.name, Job.title, func.count(Piece.id), Customer.order_number, Job.order_number)
        .join(Customer, Customer.id == Job.customer_id)
        .join(Piece, Piece.job_id == Job.id)
        .where(by_rule, worked(), Job.ended.is_(None), ~exists().where(BilledPiece.piece_id == Piece.id))
        .group_by(Job.id, Job.no, Customer.id, Customer.name, Job.title, Customer.order_number, Job.order_number)
        .order_by(Job.no)
        .limit(most)
    )
    return [
        ToBill(no, customer, title, count, rule == "required" and not order)
        for no, customer, title, count, rule, order in rows
    ]


def called_off_to_bill(db: Session, *, most: int = 200) -> list[ToBill]:
    """Jobs that were called off after minutes were spent on them, and have no bill."""
    rows = db.exec(
        select(Job.no, Customer.name, Job.title, Customer.order_number, Job.order_number)
        .join(Customer, Customer.id == Job.customer_id)
        .where(
            Job.ended == "called_off",
            exists().where(Spent.job_id == Job.id),
            ~exists().where(Invoice.job_id == Job.id, Invoice.void_on.is_(None)),
        )
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
    for invoice in rows(db, Invoice.void_on.is_(None)):
        if invoice.due_cents > 0:
            line = ages.setdefault((invoice.customer_id, invoice.customer), [0] * len(AGES))
            line[age_of(invoice.due_on, today)] += invoice.due_cents
    told = [Owing(*who, tuple(line)) for who, line in ages.items()]
    return sorted(told, key=lambda row: -row.total)


def rows(db: Session, where: object, most: int | None = None) -> list[InvoiceFacts]:
    """Invoices with what has become of them, newest first."""
    paid = _sums(Applied.invoice_id, Applied.cents, Applied.payment_id.not_in(standing.reversed_ones()))
    back = _sums(CreditNote.invoice_id, CreditNote.total_cents)
    off = _sums(WriteOff.invoice_id, WriteOff.cents)
    query = (
        select(
            Invoice.id, Invoice.no, Invoice.customer_id, Customer.name, Invoice.job_id, Job.no, Invoice.issued_on,
            Invoice.due_on, Invoice.net_cents, Invoice.tax_cents, Invoice.total_cents,
            func.coalesce(back.c.cents, 0), func.coalesce(paid.c.cents, 0), Invoice.void_on, Invoice.void_reason,
            func.coalesce(off.c.cents, 0),
        )
        .join(Customer, Customer.id == Invoice.customer_id)
        .join(Job, Job.id == Invoice.job_id)
        .outerjoin(paid, paid.c.invoice_id == Invoice.id)
        .outerjoin(back, back.c.invoice_id == Invoice.id)
        .outerjoin(off, off.c.invoice_id == Invoice.id)
        .where(where)
        .order_by(Invoice.no.desc())
        .limit(most)
    )  # fmt: skip
    return [InvoiceFacts(*row[:11], int(row[11]), int(row[12]), *row[13:15], int(row[15])) for row in db.exec(query)]


def _sums(invoice_id: object, cents: object, *where: object) -> object:
    """Cents by invoice, as part of a query."""
    query = select(invoice_id.label("invoice_id"), func.sum(cents).label("cents"))
    return query.where(*where).group_by(invoice_id).subquery()


def age_of(due_on: date, today: date) -> int:
    """The place in AGES of a bill that is due on a day."""
    late = (today - due_on).days
    return 0 if late <= 0 else min(1 + (late - 1) // 30, 4)
