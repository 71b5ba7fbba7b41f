"""Money received."""

from datetime import timedelta

import pytest
from sqlmodel import Session

from shopapp.office import history, invoices, jobs, ledger, papers, payments, standing
from shopapp.office.credits import void
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.invoices_lines import LineTyped
from tests.cast import NOON, TODAY, WALK_IN
from tests.makers import Shop, agree, done_job, make_customer, make_job, pieces_of

TEN_DOLLARS = [LineTyped("work", "1", "10")]


def bill(db: Session, shop: Shop, **told: object) -> ledger.InvoiceFacts:
    """A bill over $10.50 for the one piece of a job."""
    job = done_job(db, shop, **told)
    return ledger.by_no(db, invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at()))


def pay(db: Session, shop: Shop, one: ledger.InvoiceFacts, amount: str, **told: object) -> int:
    facts = {"job_id": one.job_id, "amount": amount, "how": "cheque", "invoice_no": one.no, **told}
    return payments.pay(db, **facts, **shop.at())


def test_a_bill_may_be_paid_in_parts(db: Session, shop: Shop) -> None:
    one = bill(db, shop)
    pay(db, shop, one, "4.50")
    pay(db, shop, one, "$6")
    assert ledger.by_no(db, one.no).due_cents == 0
    assert [row.cents for row in payments.of_job(db, one.job_id)] == [450, 600]
    assert payments.held(db, one.job_id) == []


def test_what_is_over_a_bill_is_held_and_pays_the_next(db: Session, shop: Shop) -> None:
    job = done_job(db, shop, pieces=2)
    first, _ = pieces_of(db, job)
    no = invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, piece_ids=[first.id], **shop.at())
    one = ledger.by_no(db, no)
    pay(db, shop, one, "15", reference=" no. 12 ")
    (held,) = payments.held(db, one.job_id)
    assert (held.left_cents, held.reference, ledger.by_no(db, one.no).due_cents) == (450, "no. 12", 0)
    second = invoices.issue(db, job_id=one.job_id, lines=TEN_DOLLARS, **shop.at())
    assert (ledger.by_no(db, second).due_cents, payments.held(db, one.job_id)) == (600, [])


def test_money_before_a_bill_is_held_as_a_deposit(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    payments.pay(db, job_id=job.id, amount="20", how="cash", **shop.at())
    assert payments.held(db, job.id)[0].left_cents == 2000
    assert history.of_job(db, job.id)[0].words == "$20.00 cash held as a deposit"


def test_the_oldest_money_is_used_first(db: Session, shop: Shop) -> None:
    job = done_job(db, shop)
    for amount in ("6", "7"):
        payments.pay(db, job_id=job.id, amount=amount, how="cash", **shop.at())
    invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at())
    assert [row.left_cents for row in payments.of_job(db, job.id)] == [0, 250]


@pytest.mark.parametrize(
    ("told", "field"),
    [
        ({"amount": "0"}, "amount"), ({"amount": "some"}, "amount"), ({"how": "in kind"}, "how"),
        ({"paid_on": TODAY + timedelta(days=1)}, "paid_on"),
    ],
)  # fmt: skip
def test_a_payment_that_cannot_be_is_refused(db: Session, shop: Shop, told: dict[str, object], field: str) -> None:
    one = bill(db, shop)
    with pytest.raises(TryAgain) as refusal:
        pay(db, shop, one, **{"amount": "5", **told})
    assert set(refusal.value.problems) == {field}


def test_money_that_came_earlier_keeps_its_day(db: Session, shop: Shop) -> None:
    one = bill(db, shop)
    pay(db, shop, one, "5", paid_on=TODAY - timedelta(days=3))
    assert payments.of_job(db, one.job_id)[0].paid_on == TODAY - timedelta(days=3)


def test_a_void_bill_takes_no_money(db: Session, shop: Shop) -> None:
    one = bill(db, shop)
    void(db, no=one.no, reason="x", **shop.at())
    with pytest.raises(InTheWay, match="on the invoice that stands"):
        pay(db, shop, one, "5")


def test_a_bill_is_paid_in_its_own_job(db: Session, shop: Shop) -> None:
    one = bill(db, shop)
    with pytest.raises(InTheWay, match="belongs to job 1001"):
        pay(db, shop, one, "5", job_id=make_job(db, shop).id)


def test_a_payment_that_came_back_stays_in_the_book_and_counts_for_nothing(db: Session, shop: Shop) -> None:
    one = bill(db, shop)
    row = pay(db, shop, one, "10.50")
    payments.reverse(db, payment_id=row, reason="cheque came back", **shop.at())
    assert ledger.by_no(db, one.no).due_cents == 1050
    assert standing.of_job(db, one.job_id, now=NOON).money == "billed"
    assert [(kept.cents, kept.left_cents) for kept in payments.of_job(db, one.job_id)] == [(1050, 0)]
    assert payments.on_invoice(db, one.id)[0].reversed_because == "cheque came back"
    assert history.of_job(db, one.job_id)[0].words.endswith("counts for nothing: cheque came back")
    pay(db, shop, one, "10.50", how="cash")
    assert ledger.by_no(db, one.no).due_cents == 0


def test_a_reversed_deposit_is_held_no_more(db: Session, shop: Shop) -> None:
    job = done_job(db, shop)
    row = payments.pay(db, job_id=job.id, amount="20", how="cash", **shop.at())
    payments.reverse(db, payment_id=row, reason="typed twice", **shop.at())
    assert payments.held(db, job.id) == []
    assert standing.held_of(db, [job.id]) == {}
    invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at())
    assert ledger.of_job(db, job.id)[0].due_cents == 1050


def test_a_payment_is_reversed_once_and_with_a_reason(db: Session, shop: Shop) -> None:
    row = pay(db, shop, bill(db, shop), "5")
    with pytest.raises(TryAgain, match="Write why"):
        payments.reverse(db, payment_id=row, reason=" ", **shop.at())
    payments.reverse(db, payment_id=row, reason="wrong job", **shop.at())
    with pytest.raises(InTheWay, match="reversed already"):
        payments.reverse(db, payment_id=row, reason="again", **shop.at())
    with pytest.raises(NotHere):
        payments.reverse(db, payment_id=99, reason="x", **shop.at())


def test_what_was_over_a_bill_pays_the_customers_next_one_in_another_job(db: Session, shop: Shop) -> None:
    one = bill(db, shop)
    pay(db, shop, one, "15")
    assert [held.left_cents for held in payments.credit_of(db, one.customer_id)] == [450]
    two = bill(db, shop)
    assert two.due_cents == 600
    sheet, _ = papers.sheet(db, "invoice", str(two.no))
    assert sheet.deposit_rows == (("credit from job 1001, 4 Mar 2031", 450),)
    assert payments.credit_of(db, one.customer_id) == []


def test_a_deposit_is_kept_for_its_own_job_while_that_has_pieces_to_bill(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    payments.pay(db, job_id=job.id, amount="20", how="cash", **shop.at())
    assert bill(db, shop).due_cents == 1050
    assert [held.left_cents for held in payments.held(db, job.id)] == [2000]
    jobs.end(db, job_id=job.id, how="called_off", reason="sold the press", **shop.at())
    assert bill(db, shop).due_cents == 0


def test_another_customers_money_pays_nothing(db: Session, shop: Shop) -> None:
    pay(db, shop, bill(db, shop), "15")
    other = done_job(db, shop, customer_id=make_customer(db, shop, **WALK_IN))
    no = invoices.issue(db, job_id=other.id, lines=TEN_DOLLARS, **shop.at())
    assert ledger.by_no(db, no).due_cents == 1050


def test_credit_that_came_after_a_bill_is_used_on_it_when_asked(db: Session, shop: Shop) -> None:
    one, two = bill(db, shop), bill(db, shop)
    pay(db, shop, one, "15")
    assert payments.use_credit(db, invoice_no=two.no, **shop.at()) == 450
    assert ledger.by_no(db, two.no).due_cents == 600
    with pytest.raises(InTheWay, match="no credit to use"):
        payments.use_credit(db, invoice_no=two.no, **shop.at())


def test_a_deposit_has_a_receipt_that_is_no_invoice(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    agree(db, shop, job)
    row = payments.pay(db, job_id=job.id, amount="28", how="card", reference="0042", **shop.at())
    kind, number = payments.receipt(db, payment_id=row, **shop.at())
    sheet, _ = papers.sheet(db, kind, number)
    assert (kind, number, sheet.amount, sheet.reference) == ("deposit", "1001-P1", "$28.00", "0042")
    assert (sheet.of_text, sheet.left_text) == ("total by quote A: $73.50", "left after what is held: $45.50")
    assert ledger.of_job(db, job.id) == []
    assert payments.receipt(db, payment_id=row, **shop.at()) == (kind, number)
    assert sum(paper.kind == "deposit" for paper in papers.of_job(db, job.id)) == 1


def test_money_that_no_bill_will_use_is_received_as_credit_and_not_as_a_deposit(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=0)
    row = payments.pay(db, job_id=job.id, amount="28", how="card", **shop.at())
    jobs.end(db, job_id=job.id, how="called_off", reason="bought new", **shop.at())
    sheet, _ = papers.sheet(db, *payments.receipt(db, payment_id=row, **shop.at()))
    assert (sheet.kind, sheet.held_as, sheet.of_text) == ("deposit", "credit", "")


def test_a_receipt_says_which_bill_was_paid_and_what_is_left(db: Session, shop: Shop) -> None:
    one = bill(db, shop)
    first, second = pay(db, shop, one, "4"), pay(db, shop, one, "8")
    sheets = [papers.sheet(db, *payments.receipt(db, payment_id=row, **shop.at()))[0] for row in (first, second)]
    assert [(sheet.number, sheet.rows, sheet.held_cents) for sheet in sheets] == [
        ("1001-P1", (("invoice 501", 400),), 0), ("1001-P2", (("invoice 501", 650),), 150),
    ]  # fmt: skip
    payments.reverse(db, payment_id=first, reason="came back", **shop.at())
    with pytest.raises(InTheWay, match="counts for nothing"):
        payments.receipt(db, payment_id=first, **shop.at())
