"""Money that comes in: on a bill, over a bill, before there is one."""

import re

import pytest

from shopapp.office import ledger, papers, payments
from shopapp.office.jobs import JobFacts
from tests import makers
from tests.web.conftest import LiveShop

CASH = {"amount": "50", "how": "cash", "reference": "", "paid_on": "2031-03-04"}


@pytest.fixture
def job(shop: LiveShop) -> JobFacts:
    """A job with both pieces on the shelf."""
    with shop.database.writing() as db:
        return makers.ready_job(db, shop.maker)


def bill(shop: LiveShop, job: JobFacts) -> None:
    """Invoice 501 over $73.50."""
    shop.post(f"/jobs/{job.no}/bill", line_0_words="turning", line_0_price="70", piece_1="yes", piece_2="yes")


def held(shop: LiveShop, job: JobFacts) -> list[int]:
    with shop.database.reading() as db:
        return [payment.left_cents for payment in payments.held(db, job.id)]


def test_a_payment_on_a_bill_lowers_what_is_due(shop: LiveShop, job: JobFacts) -> None:
    bill(shop, job)
    answer = shop.post(f"/jobs/{job.no}/pay", **CASH, invoice="501")
    assert answer.headers["location"] == "/invoices/501"
    page = shop.get("/invoices/501").text
    for words in ("part paid", "Paid 4 Mar 2031, cash", "−$50.00", "$23.50"):
        assert words in page


def test_the_rest_pays_the_bill(shop: LiveShop, job: JobFacts) -> None:
    bill(shop, job)
    shop.post(
        f"/jobs/{job.no}/pay", **{**CASH, "amount": "73.50", "how": "cheque", "reference": "no 331"}, invoice="501"
    )
    page = shop.get("/invoices/501").text
    assert "no 331" in page
    assert "Nothing is due on it." in page
    assert 'name="amount"' not in page


def test_what_is_over_a_bill_stays_the_customers(shop: LiveShop, job: JobFacts) -> None:
    bill(shop, job)
    shop.post(f"/jobs/{job.no}/pay", **{**CASH, "amount": "80"}, invoice="501")
    assert held(shop, job) == [650]


def test_a_deposit_is_held_until_a_bill_uses_it(shop: LiveShop, job: JobFacts) -> None:
    page = shop.get(f"/jobs/{job.no}/pay").text
    assert "No bill of this job is open" in page
    assert 'name="amount" value=""' in page
    answer = shop.post(f"/jobs/{job.no}/pay", **CASH)
    assert answer.headers["location"] == f"/jobs/{job.no}/price"
    assert "$50.00</span> held since 4 Mar 2031,\ncash" in shop.get(f"/jobs/{job.no}/price").text
    assert held(shop, job) == [5000]


def test_with_an_open_bill_the_form_asks_which(shop: LiveShop, job: JobFacts) -> None:
    bill(shop, job)
    page = shop.get(f"/jobs/{job.no}/pay", invoice="501").text
    assert 'name="invoice" value="501" checked' in page
    assert "$73.50 due" in page


@pytest.mark.parametrize(
    ("told", "field", "words"),
    [
        ({"amount": "lots"}, "amount", "no amount of money"),
        ({"amount": "0"}, "amount", "more than nothing"),
        ({"how": ""}, "how", "Say how it was paid"),
        ({"paid_on": "2031-03-05"}, "paid_on", "still to come"),
        ({"paid_on": "yesterday"}, "paid_on", "year-month-day"),
    ],
)
def test_a_refused_payment_keeps_every_typed_word(
    shop: LiveShop, job: JobFacts, told: dict[str, str], field: str, words: str
) -> None:
    answer = shop.post(f"/jobs/{job.no}/pay", **{**CASH, "reference": "slip <9>", **told})
    assert answer.status_code == 422
    assert f'id="f-{field}-problem"' in answer.text
    assert words in answer.text
    assert 'value="slip &lt;9&gt;"' in answer.text
    assert held(shop, job) == []


def test_the_same_payment_sent_twice_is_one_payment(shop: LiveShop, job: JobFacts) -> None:
    for _ in range(2):
        shop.post(f"/jobs/{job.no}/pay", **CASH, once="p-1")
    assert held(shop, job) == [5000]


def test_a_bill_of_another_job_is_not_paid_here(shop: LiveShop, job: JobFacts) -> None:
    bill(shop, job)
    with shop.database.writing() as db:
        other = makers.make_job(db, shop.maker)
    answer = shop.post(f"/jobs/{other.no}/pay", **CASH, invoice="501")
    assert answer.status_code == 422
    assert "not a bill of job" in answer.text
    with shop.database.reading() as db:
        assert ledger.by_no(db, 501).paid_cents == 0


def test_a_void_bill_takes_no_money(shop: LiveShop, job: JobFacts) -> None:
    bill(shop, job)
    shop.post("/invoices/501/void", void_reason="twice")
    answer = shop.post(f"/jobs/{job.no}/pay", **CASH, invoice="501")
    assert answer.status_code == 409
    assert 'value="50"' in answer.text


def test_the_deposit_that_is_asked_stands_in_the_field(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        customer_id = makers.make_customer(db, shop.maker, name="Sluice & Son", deposit_percent="40")
        job = makers.make_job(db, shop.maker, customer_id=customer_id)
    assert 'name="amount" value=""' in shop.get(f"/jobs/{job.no}/pay").text
    with shop.database.writing() as db:
        makers.agree(db, shop.maker, job)
    # By hand: 40 % of the net of $70.00.
    assert 'name="amount" value="28.00"' in shop.get(f"/jobs/{job.no}/pay").text
    shop.post(f"/jobs/{job.no}/pay", **{**CASH, "amount": "10"})
    assert 'name="amount" value="18.00"' in shop.get(f"/jobs/{job.no}/pay").text


def test_a_deposit_has_its_receipt_and_the_same_one_ever_after(shop: LiveShop, job: JobFacts) -> None:
    shop.post(f"/jobs/{job.no}/pay", **CASH)
    assert 'action="/payments/1/receipt"' in shop.get(f"/jobs/{job.no}/price").text
    places = {shop.post("/payments/1/receipt").headers["location"] for _ in range(2)}
    assert places == {f"/papers/deposit/{job.no}-P1.pdf"}
    with shop.database.reading() as db:
        sheet, _ = papers.sheet(db, "deposit", f"{job.no}-P1")
    # By hand: $73.50 by the agreed quote, less the 50.00 in hand.
    assert (sheet.amount, sheet.left_text) == ("$50.00", "left after what is held: $23.50")
    bill(shop, job)
    assert "held since" not in shop.get(f"/jobs/{job.no}/price").text


def test_a_payment_that_came_back_counts_for_nothing_and_stays_in_the_book(shop: LiveShop, job: JobFacts) -> None:
    shop.post(f"/jobs/{job.no}/pay", **CASH)
    refused = shop.post("/payments/1/reverse", reason=" ", payment="1")
    assert refused.status_code == 422
    assert 'id="f-reason-1-problem"' in refused.text
    assert shop.post("/payments/1/reverse", reason="cheque <came> back").status_code == 303
    page = shop.get(f"/jobs/{job.no}/pay").text
    assert "counts for nothing: cheque &lt;came&gt; back" in page
    assert "$50.00" in page
    assert held(shop, job) == []
    assert shop.post("/payments/1/reverse", reason="again").status_code == 409
    assert shop.post("/payments/1/receipt").status_code == 409


def test_a_payment_that_is_not_in_the_book_has_no_receipt(shop: LiveShop) -> None:
    assert shop.post("/payments/9/receipt").status_code == 404
    assert shop.post("/payments/9/reverse", reason="x").status_code == 404


def test_the_one_bill_that_is_open_need_not_be_named(shop: LiveShop, job: JobFacts) -> None:
    bill(shop, job)
    page = shop.get(f"/jobs/{job.no}/pay").text
    assert 'name="amount" value="73.50"' in page
    assert 'name="invoice" value="501" checked' in page


def test_a_payment_on_the_bill_is_one_button(shop: LiveShop, job: JobFacts) -> None:
    bill(shop, job)
    page = shop.get("/invoices/501").text
    assert 'name="amount" value="73.50"' in page
    assert re.findall(r'name="how" value="(\w+)"', page) == ["cash", "card", "cheque", "transfer"]
    shop.post(f"/jobs/{job.no}/pay", amount="73.50", how="card", paid_on="2031-03-04", invoice="501")
    assert "Nothing is due on it." in shop.get("/invoices/501").text


def test_a_wrong_payment_stays_struck_through_and_is_due_again(shop: LiveShop, job: JobFacts) -> None:
    bill(shop, job)
    with shop.database.writing() as db:
        row = payments.pay(db, job_id=job.id, amount="73.50", how="cheque", invoice_no=501, **shop.maker.at())
    assert shop.post(f"/payments/{row}/reverse", reason="cheque came <back>").status_code == 303
    page = shop.get("/invoices/501").text
    assert "<s>Paid 4 Mar 2031, cheque</s>" in page
    assert "counts for nothing: cheque came &lt;back&gt;" in page
    assert 'name="amount" value="73.50"' in page
    assert "Void invoice 501" in page  # no money has moved on it
