"""Money out: what is held for a customer and is given back to them, a row of its own; what came in stays as it was."""

from dataclasses import dataclass
from datetime import date, datetime

from sqlmodel import Session, func, select

from shopapp.bench import money
from shopapp.office import customers, history, jobs, papers, payments, shopbook
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.sheets.receipt import ReceiptSheet
from shopapp.office.sums import AsOf
from shopapp.office.tables.invoices import Applied, Payment, Refund, RefundBack
from shopapp.office.tables.jobs import Job


@dataclass(frozen=True)
class GivenBack:
    """Money that was given back [cents]; one that was wrong counts for nothing."""

    id: int
    payment_id: int
    job_no: int
    cents: int
    how: str
    reference: str
    reason: str
    paid_on: date
    wrong_because: str = ""


def give_back(
    db: Session, *, payment_id: int, amount: str = "", how: str, reference: str = "", reason: str,
    paid_on: date | None = None, now: datetime, by: int,
) -> int:  # fmt: skip
    """Give held money of a payment back, all of it where no amount is told; gives the row."""
    shop, held = shopbook.the_shop(db), payments.one(db, payment_id)
    job, day = payments.job_of(db, payment_id), paid_on or shop.today(now)
    if not held.left_cents:
        raise InTheWay("Nothing of that payment is held, so there is nothing to give back.")
    ask = "Write the amount that is given back, more than nothing."
    cents = payments.amount_of(amount, ask) if amount.strip() else held.left_cents
    problems = {} if reason.strip() else {"reason": "Write why it is given back; it stands on the receipt."}
    if cents > held.left_cents:
        left = money.show(held.left_cents, shop.currency)
        problems["amount"] = f"Of that payment {left} is held. Give back that or less."
    if how not in payments.HOW_PAID:
        problems["how"] = "Say how it is given back: cash, card, cheque or transfer."
    problems |= _on_a_day_it_was_held(db, held, day, shop.today(now))
    if problems:
        raise TryAgain(problems)
    row = Refund(
        payment_id=payment_id, cents=cents, how=how, reference=reference.strip(), reason=reason.strip(), paid_on=day,
        by_id=by, at=now,
    )  # fmt: skip
    db.add(row)
    db.flush()
    words = f"{money.show(cents, shop.currency)} given back, {how} {reference.strip()}".strip()
    history.write(
        db, now=now, by=by, act="given back", words=f"{words}: {reason.strip()}", job_id=job.id,
        customer_id=job.customer_id,
    )  # fmt: skip
    return row.id


def _on_a_day_it_was_held(db: Session, held: payments.Held, day: date, today: date) -> dict[str, str]:
    """A day on which the money was there: neither to come, nor before it came in or was last on a bill."""
    moved = db.exec(select(func.max(Applied.day)).where(Applied.payment_id == held.id)).one()
    since = max(held.paid_on, moved or held.paid_on)
    if day > today:
        return {"paid_on": "That day is still to come. Write the day it was given back."}
    if day < since:
        return {"paid_on": f"It is held since {since.day} {since:%b %Y}. Write that day or a later one."}
    return {}


def take_back(db: Session, *, refund_id: int, reason: str, now: datetime, by: int) -> None:
    """Money was not given back after all: the row stays in the book and counts for nothing; it is held again."""
    told = one(db, refund_id)
    if not reason.strip():
        raise TryAgain({"reason": "Write why it counts for nothing, such as typed twice."})
    if told.wrong_because:
        raise InTheWay("That counts for nothing already.")
    db.add(RefundBack(refund_id=refund_id, reason=reason.strip(), by_id=by, at=now))
    db.flush()
    shown = money.show(told.cents, shopbook.the_shop(db).currency)
    words = f"{shown} given back {told.paid_on} counts for nothing: {reason.strip()}"
    job = jobs.by_no(db, told.job_no)
    history.write(db, now=now, by=by, act="held again", words=words, job_id=job.id, customer_id=job.customer_id)


def one(db: Session, refund_id: int) -> GivenBack:
    """Money that was given back, by its row."""
    found = _rows(db, Refund.id == refund_id)
    if not found:
        raise NotHere("That giving back is not in the book.")
    return found[0]


def of_job(db: Session, job_id: int) -> list[GivenBack]:
    """What was given back of a job's payments, oldest first."""
    return _rows(db, Payment.job_id == job_id)


def of_customer(db: Session, customer_id: int, *, since: date, as_of: AsOf) -> list[GivenBack]:
    """What was given back to a customer between two days and was not wrong by then, oldest first."""
    wrong = select(RefundBack.refund_id).where(RefundBack.at < as_of.end)
    between = (Refund.paid_on >= since) & (Refund.paid_on <= as_of.day)
    return _rows(db, (Payment.customer_id == customer_id) & between & Refund.id.not_in(wrong))


def receipt(db: Session, *, refund_id: int, now: datetime, by: int) -> tuple[str, str]:
    """Freeze the receipt for money that was given back, once; gives the paper's kind and number."""
    told, shop = one(db, refund_id), shopbook.the_shop(db)
    if told.wrong_because:
        raise InTheWay("That counts for nothing, so there is no receipt for it.")
    job, paid = jobs.by_no(db, told.job_no), payments.one(db, told.payment_id)
    number = f"{job.no}-G{[each.id for each in of_job(db, job.id)].index(refund_id) + 1}"
    if papers.issued(db, "receipt", number):
        return "receipt", number
    came = (
        f"of {money.show(paid.cents, shop.currency)} that came in {paid.how}, {paid.paid_on.day} {paid.paid_on:%b %Y}"
    )
    sheet = ReceiptSheet(
        letterhead=shop.letterhead(), party=customers.one(db, job.customer_id).party(), number=number,
        job_no=str(job.no), title=job.title, issued_on=str(shop.today(now)), received_on=str(told.paid_on),
        drawn_by=history.initials(db, by), cents=told.cents, amount=money.show(told.cents, shop.currency),
        how=told.how, reference=told.reference, rows=((came, told.cents),), is_out=True, reason=told.reason,
        held_cents=paid.left_cents,
    )  # fmt: skip
    papers.freeze(db, sheet, number=number, job_id=job.id, now=now, by=by)
    words = f"receipt {number} for money given back"
    history.write(db, now=now, by=by, act="receipt", words=words, job_id=job.id, customer_id=job.customer_id)
    return "receipt", number


def _rows(db: Session, where: object) -> list[GivenBack]:
    rows = db.exec(
        select(
            Refund.id, Refund.payment_id, Job.no, Refund.cents, Refund.how, Refund.reference, Refund.reason,
            Refund.paid_on, func.coalesce(RefundBack.reason, ""),
        )
        .join(Payment, Payment.id == Refund.payment_id)
        .join(Job, Job.id == Payment.job_id)
        .outerjoin(RefundBack, RefundBack.refund_id == Refund.id)
        .where(where)
        .order_by(Refund.id)
    )  # fmt: skip
    return [GivenBack(*row) for row in rows]
