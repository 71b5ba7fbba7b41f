"""Sales without deposits, money that came in, whose money is held."""

from datetime import date, timedelta

import pytest
from sqlmodel import Session

from shopapp.office import credits as notes
from shopapp.office import invoices, jobs, ledger, payments, refunds, takings
from shopapp.office.invoices_lines import LineTyped
from tests import makers
from tests.cast import NOON, TODAY

YEAR = {"since": date(2031, 1, 1), "until": date(2031, 12, 31)}


@pytest.fixture
def shop(db: Session) -> makers.Shop:
    return makers.make_shop(db)


def bill(db: Session, shop: makers.Shop, dollars: str = "100", **told: object) -> int:
    """An invoice over so many dollars and 5 % tax; gives its number."""
    job = makers.done_job(db, shop)
    return invoices.issue(db, job_id=job.id, lines=[LineTyped("turning", "1", dollars)], **{**shop.at(), **told})


def test_a_deposit_is_money_that_came_in_and_no_sale(db: Session, shop: makers.Shop) -> None:
    job = makers.make_job(db, shop)
    payments.pay(db, job_id=job.id, amount="40", how="cash", **shop.at())
    told = takings.sales(db, **YEAR)
    assert (told.net_cents, told.tax_cents, told.came_in_cents) == (0, 0, 4000)


def test_sales_are_bills_before_tax_less_credit_notes(db: Session, shop: makers.Shop) -> None:
    no = bill(db, shop, "100")
    bill(db, shop, "60")
    notes.credit(db, no=no, amount="20", reason="a scratch", **shop.at())
    told = takings.sales(db, **YEAR)
    assert (told.net_cents, told.tax_cents) == (14000, 700)  # by hand: 160 - 20, and 5 % of it


def test_a_void_bill_was_never_a_sale(db: Session, shop: makers.Shop) -> None:
    notes.void(db, no=bill(db, shop), reason="twice", **shop.at())
    assert takings.sales(db, **YEAR).net_cents == 0


def test_a_write_off_takes_no_sale_back(db: Session, shop: makers.Shop) -> None:
    notes.write_off(db, no=bill(db, shop), reason="gone away", **shop.at())
    assert takings.sales(db, **YEAR).net_cents == 10000


def test_a_payment_that_came_back_did_not_come_in(db: Session, shop: makers.Shop) -> None:
    job = makers.make_job(db, shop)
    wrong = payments.pay(db, job_id=job.id, amount="40", how="cheque", **shop.at())
    payments.reverse(db, payment_id=wrong, reason="cheque came back", **shop.at())
    assert takings.sales(db, **YEAR).came_in_cents == 0
    assert takings.held(db) == []


def test_both_days_of_a_span_belong_to_it(db: Session, shop: makers.Shop) -> None:
    for days in (-1, 0, 1, 2):
        bill(db, shop, "1", now=NOON + timedelta(days=days))
    assert takings.sales(db, since=TODAY, until=TODAY + timedelta(days=1)).net_cents == 200


def test_what_is_held_is_a_deposit_while_its_job_is_to_be_billed_and_credit_after(
    db: Session, shop: makers.Shop
) -> None:
    job = makers.ready_job(db, shop)
    payments.pay(db, job_id=job.id, amount="100", how="cash", **shop.at())
    (deposit,) = takings.held(db)
    assert (deposit.left_cents, deposit.is_credit, deposit.job_no) == (10000, False, job.no)
    lines = invoices.draft_lines(db, job.id, now=NOON)
    invoices.issue(db, job_id=job.id, lines=lines, **shop.at())
    (credit,) = takings.held(db)
    assert (credit.left_cents, credit.is_credit, credit.customer) == (2650, True, job.customer)  # 100 - 73.50


def test_money_of_a_job_that_was_called_off_is_credit(db: Session, shop: makers.Shop) -> None:
    job = makers.make_job(db, shop)
    payments.pay(db, job_id=job.id, amount="25", how="card", **shop.at())
    jobs.end(db, job_id=job.id, how="called_off", reason="bought a new one", **shop.at())
    assert [one.is_credit for one in takings.held(db)] == [True]


def test_what_was_written_off_is_told_with_its_reason(db: Session, shop: makers.Shop) -> None:
    no = bill(db, shop)
    notes.write_off(db, no=no, amount="5", reason="not worth a stamp", **shop.at())
    assert takings.written_off(db, ledger.by_no(db, no).id) == [takings.WrittenOff(500, "not worth a stamp", TODAY, 1)]


def month(db: Session, name: int) -> takings.Sales:
    last = {3: 31, 4: 30}[name]
    return takings.sales(db, since=date(2031, name, 1), until=date(2031, name, last))


def test_a_month_that_is_over_stays_and_what_corrects_it_belongs_to_its_own_day(db: Session, shop: makers.Shop) -> None:
    """By hand: 100 and 5 % tax are billed in March and 50 paid; void and bounced cheque are of April."""
    no, april = bill(db, shop), NOON + timedelta(days=40)
    job_id = ledger.by_no(db, no).job_id
    row = payments.pay(db, job_id=job_id, amount="50", how="cheque", invoice_no=no, **shop.at())
    march = month(db, 3)
    assert (march.net_cents, march.tax_cents, march.came_in_cents) == (10000, 500, 5000)
    payments.reverse(db, payment_id=row, reason="bounced", **shop.at(april))
    notes.void(db, no=no, reason="twice", **shop.at(april))
    assert month(db, 3) == march
    told = month(db, 4)
    assert (told.net_cents, told.tax_cents, told.came_in_cents) == (-10000, -500, -5000)
    assert takings.sales(db, **YEAR) == takings.Sales(YEAR["since"], YEAR["until"], 0, 0, 0, 0)


def test_what_was_given_back_is_told_beside_what_came_in(db: Session, shop: makers.Shop) -> None:
    row = payments.pay(db, job_id=makers.make_job(db, shop).id, amount="40", how="cash", **shop.at())
    refunds.give_back(db, payment_id=row, amount="15", how="cash", reason="too much", **shop.at())
    told = takings.sales(db, **YEAR)
    assert (told.came_in_cents, told.out_cents) == (4000, 1500)
    assert [one.left_cents for one in takings.held(db)] == [2500]
    refunds.take_back(db, refund_id=1, reason="not fetched", **shop.at(NOON + timedelta(days=40)))
    assert (month(db, 3).out_cents, month(db, 4).out_cents) == (1500, -1500)
    assert [one.left_cents for one in takings.held(db)] == [4000]
