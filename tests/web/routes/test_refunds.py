"""Money that is given back: beside the payment that it came from, with its receipt."""

import pytest

from shopapp.office import payments, refunds
from shopapp.office.jobs import JobFacts
from tests import makers
from tests.web.conftest import LiveShop

CASH = {"give_amount": "", "give_reason": "no <work>", "give_reference": "", "give_on": "2031-03-04",
        "give_how": "cash"}  # fmt: skip


@pytest.fixture
def job(shop: LiveShop) -> JobFacts:
    """A job with a deposit of $50.00."""
    with shop.database.writing() as db:
        told = makers.make_job(db, shop.maker)
        payments.pay(db, job_id=told.id, amount="50", how="card", **shop.maker.at())
        return told


def left(shop: LiveShop) -> int:
    with shop.database.reading() as db:
        return payments.one(db, 1).left_cents


def test_held_money_is_given_back_by_one_button(shop: LiveShop, job: JobFacts) -> None:
    assert "give $50.00 of 4 Mar 2031 back to them" in shop.get(f"/jobs/{job.no}/pay").text
    for _ in range(2):
        answer = shop.post("/payments/1/give-back", **CASH, once="g-1")
        assert answer.headers["location"] == f"/jobs/{job.no}/pay"
    page = shop.get(f"/jobs/{job.no}/pay").text
    assert "What was given back" in page
    assert "no &lt;work&gt;" in page
    assert "back to them" not in page
    assert left(shop) == 0


@pytest.mark.parametrize(
    ("told", "field", "words"),
    [
        ({"give_amount": "51"}, "give_amount", "$50.00 is held"),
        ({"give_amount": "some"}, "give_amount", "amount of money"),
        ({"give_reason": " "}, "give_reason", "Write why"),
        ({"give_how": ""}, "give_how", "Say how it is given back"),
        ({"give_on": "2031-03-05"}, "give_on", "still to come"),
        ({"give_on": "today"}, "give_on", "year-month-day"),
    ],
)
def test_what_cannot_be_is_refused_and_keeps_every_word(
    shop: LiveShop, job: JobFacts, told: dict[str, str], field: str, words: str
) -> None:
    answer = shop.post("/payments/1/give-back", **{**CASH, "give_reference": "slip <9>", **told})
    assert answer.status_code == 422
    assert f'id="f-{field}-problem"' in answer.text
    assert f'href="#f-{field}"' in answer.text
    assert words in answer.text
    assert 'value="slip &lt;9&gt;"' in answer.text
    assert left(shop) == 5000


def test_what_is_given_back_has_its_receipt(shop: LiveShop, job: JobFacts) -> None:
    shop.post("/payments/1/give-back", **CASH)
    where = shop.post("/refunds/1/receipt").headers["location"]
    assert where == f"/papers/receipt/{job.no}-G1.pdf"
    assert shop.get(where).headers["content-type"] == "application/pdf"


def test_giving_back_that_was_wrong_is_struck_and_held_again(shop: LiveShop, job: JobFacts) -> None:
    shop.post("/payments/1/give-back", **{**CASH, "give_amount": "20"})
    refused = shop.post("/refunds/1/back", out_reason=" ")
    assert refused.status_code == 422
    assert 'id="f-out_reason-problem"' in refused.text
    assert shop.post("/refunds/1/back", out_reason="not <fetched>").status_code == 303
    page = shop.get(f"/jobs/{job.no}/pay").text
    assert "counts for nothing: not &lt;fetched&gt;" in page
    assert left(shop) == 5000
    assert shop.post("/refunds/1/back", out_reason="again").status_code == 409
    assert shop.post("/refunds/1/receipt").status_code == 409
    with shop.database.reading() as db:
        assert refunds.one(db, 1).wrong_because == "not <fetched>"


def test_what_is_not_in_the_book_is_not_found(shop: LiveShop) -> None:
    assert shop.post("/payments/9/give-back", **CASH).status_code == 404
    assert shop.post("/refunds/9/back", out_reason="x").status_code == 404
    assert shop.post("/refunds/9/receipt").status_code == 404
