"""Money given back to a customer."""

from datetime import timedelta

import pytest
from sqlmodel import Session

from shopapp.office import credits as notes
from shopapp.office import history, ledger, papers, payments, refunds, standing
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from tests.cast import NOON, TODAY
from tests.makers import Shop, done_job, make_job
from tests.office.test_payments import bill, pay

DAY = timedelta(days=1)


def deposit(db: Session, shop: Shop, amount: str = "20") -> int:
    return payments.pay(db, job_id=make_job(db, shop).id, amount=amount, how="cash", **shop.at())


def give(db: Session, shop: Shop, row: int, amount: str = "", **told: object) -> int:
    return refunds.give_back(
        db, payment_id=row, amount=amount, **{"how": "cash", "reason": "no work", **shop.at(), **told}
    )


def test_a_deposit_is_given_back_in_parts_and_what_came_in_stays(db: Session, shop: Shop) -> None:
    row = deposit(db, shop)
    job = payments.job_of(db, row)
    give(db, shop, row, "5", reference="slip 9")
    assert [(one.cents, one.left_cents, one.given_back_cents) for one in payments.of_job(db, job.id)] == [
        (2000, 1500, 500)
    ]
    assert standing.held_of(db, [job.id]) == {job.id: 1500}
    assert history.of_job(db, job.id)[0].words == "$5.00 given back, cash slip 9: no work"
    give(db, shop, row)
    assert (payments.held(db, job.id), standing.held_of(db, [job.id])) == ([], {})
    assert [(one.cents, one.reference, one.job_no) for one in refunds.of_job(db, job.id)] == [
        (500, "slip 9", job.no), (1500, "", job.no),
    ]  # fmt: skip
    with pytest.raises(InTheWay, match="nothing to give back"):
        give(db, shop, row)


@pytest.mark.parametrize(
    ("told", "field"),
    [
        ({"amount": "4.51"}, "amount"), ({"amount": "0"}, "amount"), ({"amount": "some"}, "amount"),
        ({"how": ""}, "how"), ({"reason": " "}, "reason"), ({"paid_on": TODAY + DAY}, "paid_on"),
        ({"paid_on": TODAY - DAY}, "paid_on"),
    ],
)  # fmt: skip
def test_no_more_is_given_back_than_is_held(db: Session, shop: Shop, told: dict[str, object], field: str) -> None:
    row = pay(db, shop, bill(db, shop), "15")
    with pytest.raises(TryAgain) as refusal:
        give(db, shop, row, **told)
    assert set(refusal.value.problems) == {field}
    give(db, shop, row, "4.50")


def test_what_was_given_back_pays_no_bill(db: Session, shop: Shop) -> None:
    one = bill(db, shop)
    row = pay(db, shop, one, "15")
    give(db, shop, row, "4")
    assert [held.left_cents for held in payments.credit_of(db, one.customer_id)] == [50]
    assert bill(db, shop).due_cents == 1000


def test_money_is_given_back_on_a_day_on_which_it_was_held(db: Session, shop: Shop) -> None:
    one = bill(db, shop)
    row = pay(db, shop, one, "10.50")
    notes.credit(db, no=one.no, reason="a friend", **shop.at(NOON + 3 * DAY))
    with pytest.raises(TryAgain, match="held since 7 Mar 2031"):
        give(db, shop, row, paid_on=TODAY + DAY, now=NOON + 5 * DAY)
    refunds.give_back(db, payment_id=row, how="cash", reason="x", paid_on=TODAY + 4 * DAY, **shop.at(NOON + 5 * DAY))


def test_giving_back_that_was_wrong_stays_in_the_book_and_counts_for_nothing(db: Session, shop: Shop) -> None:
    row = deposit(db, shop)
    back = give(db, shop, row)
    with pytest.raises(InTheWay, match=r"\$20.00 of that payment was given back"):
        payments.reverse(db, payment_id=row, reason="came back", **shop.at())
    with pytest.raises(TryAgain, match="Write why"):
        refunds.take_back(db, refund_id=back, reason=" ", **shop.at())
    refunds.take_back(db, refund_id=back, reason="not fetched", **shop.at())
    assert payments.one(db, row).left_cents == 2000
    assert refunds.one(db, back).wrong_because == "not fetched"
    with pytest.raises(InTheWay, match="already"):
        refunds.take_back(db, refund_id=back, reason="again", **shop.at())
    with pytest.raises(InTheWay, match="no receipt"):
        refunds.receipt(db, refund_id=back, **shop.at())
    payments.reverse(db, payment_id=row, reason="came back", **shop.at())
    assert payments.one(db, row).left_cents == 0
    with pytest.raises(NotHere):
        refunds.take_back(db, refund_id=9, reason="x", **shop.at())


def test_what_is_given_back_has_one_receipt(db: Session, shop: Shop) -> None:
    row = deposit(db, shop)
    job = payments.job_of(db, row)
    give(db, shop, row, "5")
    kind, number = refunds.receipt(db, refund_id=give(db, shop, row, "4"), **shop.at())
    sheet, _ = papers.sheet(db, kind, number)
    assert (number, sheet.is_out, sheet.cents, sheet.reason, sheet.held_cents) == (
        f"{job.no}-G2", True, 400, "no work", 1100,
    )  # fmt: skip
    assert sheet.rows == (("of $20.00 that came in cash, 4 Mar 2031", 400),)
    assert refunds.receipt(db, refund_id=2, **shop.at()) == (kind, number)
    paid = papers.sheet(db, *payments.receipt(db, payment_id=row, **shop.at()))[0]
    assert (paid.kind, paid.given_back_cents, paid.held_cents, paid.due_text) == ("receipt", 900, 1100, "")


def test_a_deposit_for_what_is_given_up_is_credit_and_can_be_given_back(db: Session, shop: Shop) -> None:
    job = done_job(db, shop)
    row = payments.pay(db, job_id=job.id, amount="20", how="card", **shop.at())
    assert payments.credit_of(db, job.customer_id) == []  # its piece is still to be billed
    give(db, shop, row, how="card")
    assert ledger.of_job(db, job.id) == []
