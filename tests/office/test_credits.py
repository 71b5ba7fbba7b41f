"""What corrects a bill without changing it."""

import pytest
from sqlmodel import Session, select

from shopapp.office import customers, history, invoices, ledger, mail, papers, payments, standing, takings
from shopapp.office.credits import credit, take_back_write_off, void, write_off
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.invoices_lines import LineTyped
from shopapp.office.tables.invoices import BilledPiece, Invoice
from tests.cast import NOON, TODAY
from tests.makers import Shop, done_job, finished_job


def bill(db: Session, shop: Shop, price: str = "10") -> int:
    job = done_job(db, shop)
    return invoices.issue(db, job_id=job.id, lines=[LineTyped("work", "1", price)], **shop.at())


def test_a_void_bill_keeps_its_number_and_frees_its_pieces(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    lines = invoices.draft_lines(db, job.id, now=shop.at()["now"])
    first = invoices.issue(db, job_id=job.id, lines=lines, **shop.at())
    void(db, no=first, reason="wrong address", **shop.at())
    assert len(invoices.to_bill(db, job.id)) == 2
    second = invoices.issue(db, job_id=job.id, lines=lines, **shop.at())
    assert [(one.no, one.void_reason, one.due_cents) for one in ledger.of_job(db, job.id)] == [
        (second, "", 7350), (first, "wrong address", 0),
    ]  # fmt: skip
    assert papers.sheet(db, "invoice", str(first))[0].number == first


def test_a_void_says_why_and_comes_once(db: Session, shop: Shop) -> None:
    no = bill(db, shop)
    with pytest.raises(TryAgain, match="Write why it is void"):
        void(db, no=no, reason=" ", **shop.at())
    void(db, no=no, reason="twice written", **shop.at())
    with pytest.raises(InTheWay, match="void already"):
        void(db, no=no, reason="again", **shop.at())
    with pytest.raises(NotHere):
        void(db, no=999, reason="x", **shop.at())


def test_a_bill_on_which_money_moved_is_credited_and_not_voided(db: Session, shop: Shop) -> None:
    paid, credited = bill(db, shop), bill(db, shop)
    job_id = ledger.by_no(db, paid).job_id
    payments.pay(db, job_id=job_id, amount="1", how="cash", invoice_no=paid, **shop.at())
    credit(db, no=credited, amount="1", reason="late", **shop.at())
    for no in (paid, credited):
        with pytest.raises(InTheWay, match="credit note instead"):
            void(db, no=no, reason="x", **shop.at())


def test_a_credit_takes_its_tax_back_with_it(db: Session, shop: Shop) -> None:
    no = bill(db, shop)
    assert credit(db, no=no, amount="4", reason="spoiled one", **shop.at()) == 1
    facts = ledger.by_no(db, no)
    assert (facts.credited_cents, facts.due_cents) == (420, 630)
    sheet, _ = papers.sheet(db, "credit", "1")
    assert (sheet.invoice_number, sheet.totals.tax_cents, sheet.totals.total_cents) == (no, 20, 420)
    assert history.of_job(db, facts.job_id)[0].act == "credited"


def test_the_tax_is_that_of_the_bill_and_not_of_the_day(db: Session, shop: Shop) -> None:
    no = bill(db, shop)
    customers.add_tax_paper(
        db, customer_id=ledger.by_no(db, no).customer_id, number="X", issuer="", valid_from=TODAY, valid_to=TODAY,
        **shop.at(),
    )  # fmt: skip
    credit(db, no=no, amount="4", reason="late", **shop.at())
    assert ledger.by_no(db, no).credited_cents == 420


@pytest.mark.parametrize("price", ["10", "157.67", "0.31", "9.99"])
def test_a_bill_can_be_taken_back_in_parts_to_the_last_cent(db: Session, shop: Shop, price: str) -> None:
    no = bill(db, shop, price)
    net = ledger.by_no(db, no).net_cents
    parts = [net // 3, net // 3, net - 2 * (net // 3)]
    for cents in parts:
        credit(db, no=no, amount=f"{cents / 100:.2f}", reason="in parts", **shop.at())
    facts = ledger.by_no(db, no)
    assert (facts.credited_cents, facts.due_cents) == (facts.total_cents, 0)


@pytest.mark.parametrize(
    ("told", "field"),
    [
        ({"amount": "10.01"}, "amount"),
        ({"amount": "0"}, "amount"),
        ({"amount": "all"}, "amount"),
        ({"reason": ""}, "reason"),
    ],
)
def test_no_more_is_taken_back_than_was_asked(db: Session, shop: Shop, told: dict[str, str], field: str) -> None:
    no = bill(db, shop)
    with pytest.raises(TryAgain) as refusal:
        credit(db, no=no, **{"amount": "1", "reason": "late", **told}, **shop.at())
    assert set(refusal.value.problems) == {field}
    assert ledger.by_no(db, no).credited_cents == 0


def test_nothing_is_taken_back_from_a_void_bill(db: Session, shop: Shop) -> None:
    no = bill(db, shop)
    void(db, no=no, reason="x", **shop.at())
    with pytest.raises(TryAgain):
        credit(db, no=no, amount="1", reason="late", **shop.at())


def test_what_will_not_be_paid_is_written_off_with_its_reason(db: Session, shop: Shop) -> None:
    no = bill(db, shop)
    facts = ledger.by_no(db, no)
    assert write_off(db, no=no, amount="4", reason="a cracked plate", **shop.at()) == 400
    assert (ledger.by_no(db, no).due_cents, ledger.by_no(db, no).written_off_cents) == (650, 400)
    assert standing.of_job(db, facts.job_id, now=NOON).money == "billed"
    assert write_off(db, no=no, reason="moved away", **shop.at()) == 650
    assert ledger.by_no(db, no).state(TODAY) == ("written off", False)
    told = standing.of_job(db, facts.job_id, now=NOON)
    assert (told.money, told.due_cents, told.overdue) == ("written off", 0, False)
    assert history.of_job(db, facts.job_id)[0].words == f"$6.50 of invoice {no} written off: moved away"


@pytest.mark.parametrize(
    ("told", "field"),
    [
        ({"amount": "10.51"}, "amount"), ({"amount": "0"}, "amount"), ({"amount": "all"}, "amount"),
        ({"reason": ""}, "reason"),
    ],
)  # fmt: skip
def test_no_more_is_written_off_than_is_due(db: Session, shop: Shop, told: dict[str, str], field: str) -> None:
    no = bill(db, shop)
    with pytest.raises(TryAgain) as refusal:
        write_off(db, no=no, **{"amount": "1", "reason": "gone", **told}, **shop.at())
    assert set(refusal.value.problems) == {field}


def test_a_bill_that_was_written_off_is_neither_voided_nor_credited_beyond_it(db: Session, shop: Shop) -> None:
    no = bill(db, shop)
    write_off(db, no=no, amount="5.50", reason="gone", **shop.at())
    with pytest.raises(InTheWay):
        void(db, no=no, reason="x", **shop.at())
    with pytest.raises(TryAgain, match="More cannot be taken back"):
        credit(db, no=no, amount="5", reason="late", **shop.at())


def test_a_bill_whose_payment_was_reversed_may_be_voided(db: Session, shop: Shop) -> None:
    no = bill(db, shop)
    row = payments.pay(db, job_id=ledger.by_no(db, no).job_id, amount="1", how="cash", invoice_no=no, **shop.at())
    payments.reverse(db, payment_id=row, reason="wrong job", **shop.at())
    void(db, no=no, reason="wrong job", **shop.at())
    assert ledger.by_no(db, no).void_on == TODAY


def test_money_paid_on_what_is_taken_back_is_held_under_the_customers_name(db: Session, shop: Shop) -> None:
    no = bill(db, shop)
    job_id = ledger.by_no(db, no).job_id
    for amount in ("6", "4.50"):
        payments.pay(db, job_id=job_id, amount=amount, how="cash", invoice_no=no, **shop.at())
    credit(db, no=no, amount="5", reason="spoiled one", **shop.at())
    facts = ledger.by_no(db, no)
    assert (facts.due_cents, facts.paid_cents) == (0, 525)
    assert [held.left_cents for held in payments.of_job(db, job_id)] == [75, 450]
    assert history.of_job(db, job_id)[0].words.endswith("$5.25 paid on it is held for the customer")


def test_a_void_bill_lets_the_deposit_go_that_it_had_used(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    payments.pay(db, job_id=job.id, amount="20", how="cash", **shop.at())
    lines = invoices.draft_lines(db, job.id, now=NOON)
    no = invoices.issue(db, job_id=job.id, lines=lines, **shop.at())
    void(db, no=no, reason="wrong words", **shop.at())
    assert [held.left_cents for held in payments.held(db, job.id)] == [2000]
    assert (
        history.of_job(db, job.id)[0].words == f"invoice {no} void: wrong words; $20.00 that it had used is held again"
    )
    again = invoices.issue(db, job_id=job.id, lines=lines, **shop.at())
    assert ledger.by_no(db, again).due_cents == 5350
    assert payments.held(db, job.id) == []


def test_a_void_bill_is_not_sent_any_more(db: Session, shop: Shop) -> None:
    no = bill(db, shop)
    told = {"kind": "invoice", "number": str(no), "subject": "Invoice", **shop.at()}
    waits, stuck, on_its_way = (mail.post(db, to=f"{who}@mill.example", **told) for who in ("a", "b", "c"))
    mail.failed(db, letter_id=stuck, fault="550", now=NOON, for_good=True)
    mail.claim(db, letter_id=on_its_way, now=NOON)
    void(db, no=no, reason="twice", **shop.at())
    assert [mail.one(db, row).state for row in (waits, stuck, on_its_way)] == ["called_back", "called_back", "sending"]
    assert [letter.id for letter in mail.due(db, now=NOON)] == []
    lines = history.of_job(db, ledger.by_no(db, no).job_id)
    assert "too late to call back, on its way to c@mill.example" in lines[0].words
    with pytest.raises(InTheWay, match="is void, so it is not sent"):
        mail.post(db, to="d@mill.example", **told)


def test_tax_alone_is_taken_back_when_the_certificate_came_later(db: Session, shop: Shop) -> None:
    no = bill(db, shop, "153.28")
    number = credit(db, no=no, tax_only=True, reason="certificate X-7 came later", **shop.at())
    sheet, _ = papers.sheet(db, "credit", str(number))
    # By hand: 5 % of 153.28 is 7.664, so $7.66.
    assert (sheet.totals.net_cents, sheet.totals.tax_cents, sheet.totals.total_cents) == (0, 766, 766)
    told = ledger.by_no(db, no)
    assert (told.due_cents, told.kept_net_cents, told.stands) == (15328, 15328, True)
    assert invoices.to_bill(db, told.job_id) == []
    with pytest.raises(TryAgain, match="Nothing of tax is left"):
        credit(db, no=no, tax_only=True, reason="again", **shop.at())


@pytest.mark.parametrize(("amount", "good"), [("7.67", False), ("7.66", True), ("3", True), ("0", False)])
def test_no_more_tax_is_taken_back_than_was_asked(db: Session, shop: Shop, amount: str, good: bool) -> None:
    no = bill(db, shop, "153.28")
    told = {"no": no, "amount": amount, "tax_only": True, "reason": "certificate", **shop.at()}
    if good:
        credit(db, **told)
    else:
        with pytest.raises(TryAgain):
            credit(db, **told)
    assert ledger.by_no(db, no).credited_net_cents == 0


def test_net_and_tax_are_each_bounded(db: Session, shop: Shop) -> None:
    """Of eleven notes of 9 cents each has no tax of its own; a last one of 6 would take 5 cents of tax as net."""
    no = bill(db, shop, "1")
    for _ in range(11):
        credit(db, no=no, amount="0.09", reason="bit by bit", **shop.at())
    with pytest.raises(TryAgain, match="More cannot be taken back"):
        credit(db, no=no, amount="0.06", reason="the rest", **shop.at())
    credit(db, no=no, amount="0.01", reason="the rest", **shop.at())
    told = ledger.by_no(db, no)
    assert (told.credited_net_cents, told.credited_cents, told.due_cents) == (100, 105, 0)


def test_without_an_amount_all_that_is_left_is_taken_back_and_the_pieces_are_free(db: Session, shop: Shop) -> None:
    no = bill(db, shop)
    job_id = ledger.by_no(db, no).job_id
    credit(db, no=no, amount="4", reason="late", **shop.at())
    assert invoices.to_bill(db, job_id) == []
    credit(db, no=no, reason="and the rest", **shop.at())
    assert ledger.by_no(db, no).credited_cents == 1050
    assert len(invoices.to_bill(db, job_id)) == 1
    assert history.of_job(db, job_id)[0].words.endswith("its pieces may be billed again")
    with pytest.raises(TryAgain, match="Nothing is left"):
        credit(db, no=no, reason="more", **shop.at())


def test_what_was_written_off_and_paid_after_all_is_asked_for_again_first(db: Session, shop: Shop) -> None:
    no = bill(db, shop)
    facts = ledger.by_no(db, no)
    write_off(db, no=no, reason="moved away", **shop.at())
    with pytest.raises(TryAgain, match="Write why it is asked for again"):
        take_back_write_off(db, write_off_id=1, reason="", **shop.at())
    assert take_back_write_off(db, write_off_id=1, reason="they paid after all", **shop.at()) == no
    assert (ledger.by_no(db, no).due_cents, ledger.by_no(db, no).state(TODAY)) == (1050, ("billed", False))
    assert standing.of_job(db, facts.job_id, now=NOON).money == "billed"
    payments.pay(db, job_id=facts.job_id, amount="10.50", how="cash", invoice_no=no, **shop.at())
    assert standing.of_job(db, facts.job_id, now=NOON).money == "paid"
    assert payments.held(db, facts.job_id) == []
    (kept,) = takings.written_off(db, facts.id)
    assert (kept.cents, kept.reason, kept.back_because, kept.back_on) == (
        1050,
        "moved away",
        "they paid after all",
        TODAY,
    )
    with pytest.raises(InTheWay, match="taken back already"):
        take_back_write_off(db, write_off_id=1, reason="again", **shop.at())
    with pytest.raises(NotHere):
        take_back_write_off(db, write_off_id=9, reason="x", **shop.at())


def test_on_which_bills_a_piece_has_stood_stays_in_the_book(db: Session, shop: Shop) -> None:
    first = bill(db, shop)
    job_id = ledger.by_no(db, first).job_id
    void(db, no=first, reason="wrong words", **shop.at())
    lines = [LineTyped("work", "1", "10")]
    second = invoices.issue(db, job_id=job_id, lines=lines, **shop.at())
    credit(db, no=second, reason="wrong again", **shop.at())
    third = invoices.issue(db, job_id=job_id, lines=lines, **shop.at())
    stood = select(Invoice.no).join(BilledPiece, BilledPiece.invoice_id == Invoice.id).order_by(Invoice.no)
    assert list(db.exec(stood)) == [first, second, third]
    assert len(invoices.billed(db, job_id)) == 1
    assert (invoices.to_bill(db, job_id), ledger.to_bill(db)) == ([], [])
