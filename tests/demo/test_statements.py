"""The statements of the invented shop, on the last day of its story."""

from datetime import timedelta

from sqlmodel import Session

from shopapp.office import customers, statements
from tests.demo.conftest import NOW

TODAY = NOW.date()


def accounts(db: Session) -> dict[str, statements.Account]:
    everyone = customers.listing(db, most=200)
    told = {one.name: statements.account(db, customer_id=one.id, as_of=TODAY) for one in everyone}
    return {name: account for name, account in told.items() if account.total_cents}


def test_the_statements_say_what_each_customer_owes_by_age(db: Session) -> None:
    told = accounts(db)
    assert {name: account.total_cents for name, account in told.items()} == {
        "Snickerby Sawmill": 19213, "Mottlebury Pottery School": 16291, "Fenlatch Grain Growers": 11350,
        "Plumwick Press Room": 7615,
    }  # fmt: skip
    ages = tuple(sum(account.ages[i] for account in told.values()) for i in range(5))
    assert ages == (4888, 11350, 30616, 0, 7615)
    assert sum(ages) == 54469


def test_a_day_before_the_first_bill_nobody_owes(db: Session) -> None:
    long_ago = TODAY - timedelta(days=400)
    everyone = customers.listing(db, most=200)
    assert not any(statements.account(db, customer_id=one.id, as_of=long_ago).rows for one in everyone)
