"""What a customer owes as of a day, and the reminder."""

from datetime import UTC, datetime, timedelta

import pytest
from sqlmodel import Session

from shopapp.office import credits as notes
from shopapp.office import history, invoices, ledger, papers, payments, phrases, refunds, statements
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.invoices_lines import LineTyped
from tests.cast import NOON, TODAY, WALK_IN
from tests.makers import Shop, agree, done_job, make_customer, make_job, the_mill

DAY = timedelta(days=1)


def bill(db: Session, shop: Shop, price: str = "100", now: datetime = NOON, **told: object) -> int:
    job = done_job(db, shop, **told)
    return invoices.issue(db, job_id=job.id, lines=[LineTyped("work", "1", price)], **shop.at(now))


def pay(db: Session, shop: Shop, no: int, amount: str, now: datetime = NOON) -> int:
    job_id = ledger.by_no(db, no).job_id
    return payments.pay(db, job_id=job_id, amount=amount, how="cash", invoice_no=no, **shop.at(now))


def account(db: Session, shop: Shop, after: int = 0) -> statements.Account:
    return statements.account(db, customer_id=the_mill(db, shop), as_of=TODAY + after * DAY)


@pytest.mark.parametrize(
    ("late", "age"), [(-1, 0), (0, 0), (1, 1), (30, 1), (31, 2), (60, 2), (61, 3), (90, 3), (91, 4)]
)
def test_a_bill_ages_from_the_day_it_is_due(db: Session, shop: Shop, late: int, age: int) -> None:
    bill(db, shop)  # due thirty days later
    told = account(db, shop, 30 + late)
    assert [cents for cents in told.ages if cents] == [10500]
    assert told.ages[age] == 10500
    assert told.rows[0].days_late == max(late, 0)


def test_the_ages_sum_to_what_the_ledger_says_is_owed(db: Session, shop: Shop) -> None:
    first = bill(db, shop, "33.33")
    bill(db, shop, "12.34", NOON + 40 * DAY)
    pay(db, shop, first, "5")
    later = NOON + 60 * DAY
    (owing,) = ledger.owing(db, now=later)
    told = account(db, shop, 60)
    assert (told.ages, told.total_cents) == (owing.ages, owing.total)
    assert sum(row.due_cents for row in told.rows) == told.total_cents


def test_drafts_and_voids_are_no_part_of_it(db: Session, shop: Shop) -> None:
    agree(db, shop, make_job(db, shop))
    no = bill(db, shop)
    notes.void(db, no=no, reason="twice", **shop.at(NOON + 2 * DAY))
    assert account(db, shop, 2).rows == ()
    assert account(db, shop, 1).total_cents == 10500  # it was not void on that day yet


def test_what_came_off_by_the_day_counts_and_what_came_later_does_not(db: Session, shop: Shop) -> None:
    no = bill(db, shop)
    pay(db, shop, no, "10", NOON + 1 * DAY)
    notes.credit(db, no=no, amount="20", reason="late", **shop.at(NOON + 2 * DAY))
    notes.write_off(db, no=no, amount="4", reason="gone", **shop.at(NOON + 3 * DAY))
    assert [account(db, shop, n).total_cents for n in range(-1, 4)] == [0, 10500, 9500, 7400, 7000]


def test_a_reversed_payment_counts_until_it_came_back(db: Session, shop: Shop) -> None:
    no = bill(db, shop)
    row = pay(db, shop, no, "105")
    payments.reverse(db, payment_id=row, reason="cheque came back", **shop.at(NOON + 3 * DAY))
    assert [account(db, shop, n).total_cents for n in (0, 2, 3)] == [0, 0, 10500]


def test_the_day_is_the_day_in_the_shop(db: Session, shop: Shop) -> None:
    no = bill(db, shop)
    evening = datetime(2031, 3, 5, 3, tzinfo=UTC)  # eleven at night of the 4th in the shop
    notes.write_off(db, no=no, reason="gone", **shop.at(evening))
    assert account(db, shop).total_cents == 0


def test_a_statement_is_frozen_with_its_ages_and_what_is_held(db: Session, shop: Shop) -> None:
    no = bill(db, shop)
    payments.pay(db, job_id=make_job(db, shop).id, amount="7", how="cash", **shop.at())
    number = statements.issue(db, customer_id=the_mill(db, shop), **shop.at(NOON + 31 * DAY))
    sheet, _ = papers.sheet(db, "statement", number)
    assert dict(sheet.ages) == {
        "not yet due": 0, "1 to 30 days": 10500, "31 to 60 days": 0, "61 to 90 days": 0, "over 90 days": 0,
    }  # fmt: skip
    assert (sheet.total_cents, sheet.held_cents, sheet.rows[0].invoice_number) == (10500, 700, no)
    pay(db, shop, no, "105", NOON + 32 * DAY)
    assert papers.sheet(db, "statement", number)[0] == sheet
    assert [one.number for one in papers.of_customer(db, the_mill(db, shop))] == [number]
    again = statements.issue(db, customer_id=the_mill(db, shop), as_of=TODAY, **shop.at(NOON + 33 * DAY))
    assert again != number
    with pytest.raises(TryAgain, match="still to come"):
        statements.issue(db, customer_id=the_mill(db, shop), as_of=TODAY + DAY, **shop.at())


def test_a_reminder_names_only_what_is_past_due_in_the_owners_words(db: Session, shop: Shop) -> None:
    phrases.keep(db, subject="reminder", words="Please look into this.", valid_from=TODAY, **shop.at())
    late = bill(db, shop)
    bill(db, shop, "1", NOON + 30 * DAY)
    now = NOON + 35 * DAY
    sheet, _ = papers.sheet(db, "reminder", statements.remind(db, customer_id=the_mill(db, shop), **shop.at(now)))
    assert ([row.invoice_number for row in sheet.rows], sheet.total_cents) == ([late], 10500)
    assert sheet.phrases == ("Please look into this.",)


def test_nobody_is_reminded_of_nothing(db: Session, shop: Shop) -> None:
    bill(db, shop)
    with pytest.raises(InTheWay, match="nothing to remind"):
        statements.remind(db, customer_id=the_mill(db, shop), **shop.at(NOON + 30 * DAY))


def test_one_customers_statement_has_no_bill_of_another(db: Session, shop: Shop) -> None:
    bill(db, shop, customer_id=make_customer(db, shop, **WALK_IN))
    assert account(db, shop).rows == ()
    statements.issue(db, customer_id=the_mill(db, shop), **shop.at())
    assert history.of_job(db, 1)[0].act == "billed"


def test_a_day_that_is_past_is_told_the_same_whatever_is_done_later(db: Session, shop: Shop) -> None:
    """By hand: two bills of $105.00, 205 paid on the first of them: 105 is owed and 100 held, then and ever after."""
    first, second = bill(db, shop), bill(db, shop)
    row = pay(db, shop, first, "205", NOON + 6 * DAY)
    told = account(db, shop, 27)
    assert (told.total_cents, told.held_cents) == (10500, 10000)
    payments.use_credit(db, invoice_no=second, **shop.at(NOON + 47 * DAY))
    assert account(db, shop, 27) == told
    notes.credit(db, no=first, reason="a friend", **shop.at(NOON + 52 * DAY))
    assert account(db, shop, 27) == told
    refunds.give_back(db, payment_id=row, how="cash", reason="asked for it", **shop.at(NOON + 53 * DAY))
    notes.write_off(db, no=second, reason="gone", **shop.at(NOON + 54 * DAY))
    notes.take_back_write_off(db, write_off_id=1, reason="there again", **shop.at(NOON + 55 * DAY))
    assert account(db, shop, 27) == told
    assert [account(db, shop, n).total_cents for n in (47, 52, 54, 55)] == [500, 500, 0, 500]
    assert [account(db, shop, n).held_cents for n in (47, 52, 53)] == [0, 10500, 0]


def test_what_was_given_back_stands_on_the_statement(db: Session, shop: Shop) -> None:
    no = bill(db, shop)
    row = pay(db, shop, no, "125")
    refunds.give_back(db, payment_id=row, how="cash", reason="they asked for it", **shop.at(NOON + 2 * DAY))
    number = statements.issue(db, customer_id=the_mill(db, shop), **shop.at(NOON + 3 * DAY))
    sheet, _ = papers.sheet(db, "statement", number)
    assert (sheet.given_back, sheet.held_cents) == ((("6 Mar 2031, cash: they asked for it", 2000),), 0)
    assert account(db, shop, 1).given_back == account(db, shop, 2 + 91).given_back == ()
    refunds.take_back(db, refund_id=1, reason="not fetched", **shop.at(NOON + 4 * DAY))
    assert [len(account(db, shop, n).given_back) for n in (3, 4)] == [1, 0]


def test_a_payment_that_came_back_later_was_held_as_it_was(db: Session, shop: Shop) -> None:
    row = payments.pay(db, job_id=make_job(db, shop).id, amount="7", how="cheque", **shop.at())
    told = account(db, shop)
    payments.reverse(db, payment_id=row, reason="came back", **shop.at(NOON + 3 * DAY))
    assert account(db, shop) == told
    assert (told.held_cents, account(db, shop, 3).held) == (700, ())
