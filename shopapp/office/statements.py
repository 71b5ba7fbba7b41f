"""What a customer owes as of a day, aged from the due dates: the statement, and the reminder of what is past due."""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from sqlmodel import Session, func, or_, select

from shopapp.bench import money
from shopapp.office import customers, history, papers, payments, phrases, shopbook
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.ledger import AGES, age_of
from shopapp.office.sheets.statement import ReminderSheet, StatementRow, StatementSheet
from shopapp.office.shopbook import ShopFacts
from shopapp.office.tables.invoices import Applied, CreditNote, Invoice, Payment, Reversal, WriteOff
from shopapp.office.tables.jobs import Job


@dataclass(frozen=True)
class Account:
    """What a customer owes as of a day: bills still open, by age [cents], and money of theirs that no bill has used."""

    as_of: date
    rows: tuple[StatementRow, ...]
    ages: tuple[int, ...]
    held_cents: int

    @property
    def total_cents(self) -> int:
        """All that is owed [cents]; held money is no part of it."""
        return sum(self.ages)

    @property
    def late(self) -> tuple[StatementRow, ...]:
        """The bills that are past due."""
        return tuple(row for row in self.rows if row.days_late > 0)


def account(db: Session, *, customer_id: int, as_of: date) -> Account:
    """A customer's open bills as of a day: issued by then and not void by then, less what came off by then."""
    end = _end_of(shopbook.the_shop(db), as_of)
    paid = _by_invoice(
        db,
        select(Applied.invoice_id, func.sum(Applied.cents))
        .join(Payment, Payment.id == Applied.payment_id)
        .outerjoin(Reversal, Reversal.payment_id == Payment.id)
        .where(Payment.customer_id == customer_id, Payment.paid_on <= as_of)
        .where(or_(Reversal.id.is_(None), Reversal.at >= end))
        .group_by(Applied.invoice_id),
    )
    back = _by_invoice(
        db,
        select(CreditNote.invoice_id, func.sum(CreditNote.total_cents))
        .join(Invoice, Invoice.id == CreditNote.invoice_id)
        .where(Invoice.customer_id == customer_id, CreditNote.issued_on <= as_of)
        .group_by(CreditNote.invoice_id),
    )
    off = _by_invoice(
        db,
        select(WriteOff.invoice_id, func.sum(WriteOff.cents))
        .join(Invoice, Invoice.id == WriteOff.invoice_id)
        .where(Invoice.customer_id == customer_id, WriteOff.at < end)
        .group_by(WriteOff.invoice_id),
    )
    rows, ages = [], [0] * len(AGES)
    for invoice_id, no, job_no, title, issued_on, due_on, total in _bills(db, customer_id, as_of):
        gone = paid.get(invoice_id, 0) + back.get(invoice_id, 0) + off.get(invoice_id, 0)
        if total - gone <= 0:
            continue
        late = max((as_of - due_on).days, 0)
        rows.append(StatementRow(no, str(job_no), title, str(issued_on), str(due_on), total, gone, total - gone, late))
        ages[age_of(due_on, as_of)] += total - gone
    return Account(as_of, tuple(rows), tuple(ages), _held(db, customer_id))


def issue(db: Session, *, customer_id: int, as_of: date | None = None, now: datetime, by: int) -> str:
    """Freeze the statement of a customer as of a day, today where none is told; gives its number."""
    shop, customer = shopbook.the_shop(db), customers.one(db, customer_id)
    day = _day(as_of, shop.today(now))
    told = account(db, customer_id=customer_id, as_of=day)
    number = _number(db, "statement", "S", customer_id)
    sheet = StatementSheet(
        letterhead=shop.letterhead(), party=customer.party(), number=number, as_of=str(day),
        issued_on=str(shop.today(now)), drawn_by=history.initials(db, by), rows=told.rows,
        ages=tuple(zip(AGES, told.ages, strict=True)), total_cents=told.total_cents, held_cents=told.held_cents,
        terms=customer.terms(), phrases=phrases.printed(db, shop.today(now), "terms"),
    )  # fmt: skip
    papers.freeze(db, sheet, number=number, customer_id=customer_id, now=now, by=by)
    words = f"statement {number} as of {day}: {money.show(told.total_cents, shop.currency)}"
    history.write(db, now=now, by=by, act="statement", words=words, customer_id=customer_id)
    return number


def remind(db: Session, *, customer_id: int, words: str = "", now: datetime, by: int) -> str:
    """Freeze a reminder of the bills that are past due today; gives its number."""
    shop, customer = shopbook.the_shop(db), customers.one(db, customer_id)
    day = shop.today(now)
    late = account(db, customer_id=customer_id, as_of=day).late
    if not late:
        raise InTheWay(f"{customer.name} has no bill that is past due, so there is nothing to remind of.")
    number, total = _number(db, "reminder", "M", customer_id), sum(row.due_cents for row in late)
    sheet = ReminderSheet(
        letterhead=shop.letterhead(), party=customer.party(), number=number, as_of=str(day), issued_on=str(day),
        drawn_by=history.initials(db, by), rows=late, total_cents=total, words=words.strip(),
        phrases=phrases.printed(db, day, "reminder", "terms"),
    )  # fmt: skip
    papers.freeze(db, sheet, number=number, customer_id=customer_id, now=now, by=by)
    said = f"reminder {number}: {money.show(total, shop.currency)} past due"
    history.write(db, now=now, by=by, act="reminded", words=said, customer_id=customer_id)
    return number


def _bills(db: Session, customer_id: int, as_of: date) -> list[tuple[int, int, int, str, date, date, int]]:
    rows = db.exec(
        select(Invoice.id, Invoice.no, Job.no, Job.title, Invoice.issued_on, Invoice.due_on, Invoice.total_cents)
        .join(Job, Job.id == Invoice.job_id)
        .where(
            Invoice.customer_id == customer_id, Invoice.issued_on <= as_of,
            func.coalesce(Invoice.void_on, date.max) > as_of,
        )
        .order_by(Invoice.due_on, Invoice.no)
    )  # fmt: skip
    return [tuple(row) for row in rows]


def _by_invoice(db: Session, query: object) -> dict[int, int]:
    return {invoice_id: int(cents) for invoice_id, cents in db.exec(query)}


def _held(db: Session, customer_id: int) -> int:
    """The customer's money that no bill has used by now, deposits among it [cents]."""
    return sum(payment.left_cents for payment in payments.of_customer(db, customer_id))


def _day(as_of: date | None, today: date) -> date:
    if as_of and as_of > today:
        raise TryAgain({"as_of": "That day is still to come. Choose today or a day before."})
    return as_of or today


def _end_of(shop: ShopFacts, day: date) -> datetime:
    """The moment at which a day of the shop's calendar is over."""
    return datetime.combine(day + timedelta(days=1), time(), ZoneInfo(shop.zone))


def _number(db: Session, kind: str, letter: str, customer_id: int) -> str:
    return f"{letter}{customer_id}-{papers.count(db, kind, customer_id=customer_id) + 1}"
