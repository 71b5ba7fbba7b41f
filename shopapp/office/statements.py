"""What a customer owes as of a day, aged from the due dates: the statement, and the reminder of what is past due."""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from sqlmodel import Session, func, select

from shopapp.bench import money
from shopapp.office import customers, history, papers, payments, phrases, refunds, shopbook, sums
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.ledger import AGES, age_of
from shopapp.office.payments import Held
from shopapp.office.refunds import GivenBack
from shopapp.office.sheets.statement import ReminderSheet, StatementRow, StatementSheet
from shopapp.office.shopbook import ShopFacts
from shopapp.office.sums import AsOf
from shopapp.office.tables.invoices import Invoice
from shopapp.office.tables.jobs import Job

GIVEN_BACK_SHOWN = timedelta(days=90)
"""How long what was given back stands on a statement."""


@dataclass(frozen=True)
class Account:
    """What a customer owed at the end of a day: bills still open, by age [cents]; money of theirs that no bill had
    used; what was given back to them shortly before."""

    as_of: date
    rows: tuple[StatementRow, ...]
    ages: tuple[int, ...]
    held: tuple[Held, ...]
    given_back: tuple[GivenBack, ...] = ()

    @property
    def held_cents(self) -> int:
        """The customer's money that no bill had used, deposits among it [cents]."""
        return sum(payment.left_cents for payment in self.held)

    @property
    def total_cents(self) -> int:
        """All that is owed [cents]; held money is no part of it."""
        return sum(self.ages)

    @property
    def late(self) -> tuple[StatementRow, ...]:
        """The bills that are past due."""
        return tuple(row for row in self.rows if row.days_late > 0)


def account(db: Session, *, customer_id: int, as_of: date) -> Account:
    """A customer's open bills as of a day: issued by then and not void by then, less what came off by then. Asked again
    later it is the same, whatever was written since."""
    then = _end_of(shopbook.the_shop(db), as_of)
    rows, ages = [], [0] * len(AGES)
    for no, job_no, title, issued_on, due_on, total, *came_off in _bills(db, customer_id, then):
        gone = sum(came_off)
        late = max((as_of - due_on).days, 0)
        rows.append(StatementRow(no, str(job_no), title, str(issued_on), str(due_on), total, gone, total - gone, late))
        ages[age_of(due_on, as_of)] += total - gone
    held = tuple(payments.held_of_customer(db, customer_id, as_of=then))
    back = refunds.of_customer(db, customer_id, since=as_of - GIVEN_BACK_SHOWN, as_of=then)
    return Account(as_of, tuple(rows), tuple(ages), held, tuple(back))


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
        given_back=tuple(_given(one) for one in told.given_back), terms=customer.terms(),
        phrases=phrases.printed(db, shop.today(now), "terms"),
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


def _bills(db: Session, customer_id: int, then: AsOf) -> list[tuple[Any, ...]]:
    """Bills that were open on a day, with what had been taken back, paid and written off by then [cents]."""
    return [
        tuple(row)
        for row in db.exec(
            select(
                Invoice.no, Job.no, Job.title, Invoice.issued_on, Invoice.due_on, Invoice.total_cents,
                sums.credited(then), sums.paid(then), sums.written_off(then),
            )
            .join(Job, Job.id == Invoice.job_id)
            .where(
                Invoice.customer_id == customer_id, Invoice.issued_on <= then.day,
                func.coalesce(Invoice.void_on, date.max) > then.day,
                Invoice.total_cents > sums.credited(then) + sums.paid(then) + sums.written_off(then),
            )
            .order_by(Invoice.due_on, Invoice.no)
        )
    ]  # fmt: skip


def _given(back: GivenBack) -> tuple[str, int]:
    """Money that was given back, as a statement names it, and its cents."""
    return f"{back.paid_on.day} {back.paid_on:%b %Y}, {back.how}: {back.reason}", back.cents


def _day(as_of: date | None, today: date) -> date:
    if as_of and as_of > today:
        raise TryAgain({"as_of": "That day is still to come. Choose today or a day before."})
    return as_of or today


def _end_of(shop: ShopFacts, day: date) -> AsOf:
    """The moment at which a day of the shop's calendar is over."""
    return AsOf(day, datetime.combine(day + timedelta(days=1), time(), ZoneInfo(shop.zone)))


def _number(db: Session, kind: str, letter: str, customer_id: int) -> str:
    return f"{letter}{customer_id}-{papers.count(db, kind, customer_id=customer_id) + 1}"
