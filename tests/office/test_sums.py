"""Each sum of a bill or a payment, now and by the end of a day; against the bare rows."""

from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

from sqlmodel import Session, select

from shopapp.office import credits as notes
from shopapp.office import payments, refunds, shopbook, sums
from shopapp.office.sums import AsOf
from shopapp.office.tables.invoices import Applied, Invoice, Payment
from tests.cast import NOON, TODAY
from tests.makers import Shop
from tests.office.test_payments import bill

DAY = timedelta(days=1)


def then(db: Session, after: int) -> AsOf:
    day, zone = TODAY + after * DAY, ZoneInfo(shopbook.the_shop(db).zone)
    return AsOf(day, datetime.combine(day + DAY, time(), zone))


def told(db: Session, no: int, as_of: AsOf | None = None) -> tuple[int, ...]:
    row = db.exec(select(sums.paid(as_of), sums.credited(as_of), sums.written_off(as_of)).where(Invoice.no == no)).one()
    return tuple(row)


def test_what_has_become_of_a_bill_is_told_for_every_day(db: Session, shop: Shop) -> None:
    """By hand: $10.50, of which 4 are paid, 2 + tax taken back, 1 written off, and that taken back; day after day."""
    one = bill(db, shop)
    payments.pay(db, job_id=one.job_id, amount="4", how="cash", invoice_no=one.no, **shop.at(NOON + 1 * DAY))
    notes.credit(db, no=one.no, amount="2", reason="late", **shop.at(NOON + 2 * DAY))
    notes.write_off(db, no=one.no, amount="1", reason="gone", **shop.at(NOON + 3 * DAY))
    notes.take_back_write_off(db, write_off_id=1, reason="there again", **shop.at(NOON + 5 * DAY))
    assert [told(db, one.no, then(db, after)) for after in range(6)] == [
        (0, 0, 0), (400, 0, 0), (400, 210, 0), (400, 210, 100), (400, 210, 100), (400, 210, 0),
    ]  # fmt: skip
    assert told(db, one.no) == (400, 210, 0)


def test_what_is_left_of_a_payment_is_told_for_every_day(db: Session, shop: Shop) -> None:
    """By hand: 15 on a bill of 10.50, all taken back on day 2, 5 given back on day 3, which was wrong by day 4."""
    one = bill(db, shop)
    row = payments.pay(db, job_id=one.job_id, amount="15", how="cash", invoice_no=one.no, **shop.at())
    notes.credit(db, no=one.no, reason="late", **shop.at(NOON + 2 * DAY))
    at = shop.at(NOON + 3 * DAY)
    refunds.give_back(db, payment_id=row, amount="5", how="cash", reason="asked for it", **at)
    refunds.take_back(db, refund_id=1, reason="not fetched", **shop.at(NOON + 4 * DAY))
    left = [db.exec(select(sums.left(then(db, after))).where(Payment.id == row)).one() for after in range(5)]
    assert left == [450, 450, 1500, 1000, 1500]
    assert [tuple(one) for one in db.exec(select(Applied.cents, Applied.day).order_by(Applied.id))] == [
        (1050, TODAY), (-1050, TODAY + 2 * DAY),
    ]  # fmt: skip


def test_a_bill_stands_until_it_is_void_or_taken_back_as_a_whole(db: Session, shop: Shop) -> None:
    kept, void, back, free = bill(db, shop), bill(db, shop), bill(db, shop), bill(db, shop)
    notes.credit(db, no=kept.no, amount="9.99", reason="late", **shop.at())
    notes.void(db, no=void.no, reason="twice", **shop.at())
    notes.credit(db, no=back.no, reason="twice", **shop.at())
    assert set(db.exec(select(Invoice.no).where(sums.stands()))) == {kept.no, free.no}
