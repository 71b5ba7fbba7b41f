"""Invoices: drawn from what is finished, frozen at issue, numbered without gaps."""

from contextlib import suppress
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlmodel import Session, select

from shopapp.office import (
    customers,
    handover,
    history,
    intake,
    invoices,
    jobs,
    ledger,
    numbering,
    papers,
    payments,
    quotes,
    shopbook,
)
from shopapp.office.database import Database
from shopapp.office.errors import TryAgain
from shopapp.office.invoices import LineTyped
from shopapp.office.jobs import PieceAsk
from shopapp.office.pricing import MaterialTyped
from shopapp.office.tables.invoices import InvoiceLine
from tests import makers
from tests.cast import NOON, QUARRY, TODAY
from tests.makers import (
    AN_HOUR,
    Shop,
    agree,
    cut,
    finished_job,
    make_customer,
    make_job,
    pieces_of,
    quote,
    ready_job,
    take_everything_in,
)

TEN_DOLLARS = [LineTyped("deburring", "1", "10")]


def issued(db: Session, shop: Shop, job: jobs.JobFacts, now: datetime = NOON) -> int:
    lines = invoices.draft_lines(db, job.id, now=now)
    return invoices.issue(db, job_id=job.id, lines=lines, **shop.at(now))


def test_a_finished_job_is_billed_as_it_was_quoted(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    bill = ledger.by_no(db, issued(db, shop, job))
    assert (bill.no, bill.net_cents, bill.tax_cents, bill.total_cents) == (501, 7000, 350, 7350)
    assert (bill.issued_on, bill.due_on) == (TODAY, TODAY + timedelta(days=30))
    sheet, _ = papers.sheet(db, "invoice", "501")
    assert sheet.pieces[0] == (
        "1001-1 press plate, plain: 26.5 lb before, 23 lb after, 3.5 lb off (spring, shows 0.5 lb); "
        "by the drawing 3.34 lb: agrees"
    )
    assert [(row.quantity, row.unit_price, row.amount) for row in sheet.lines] == [("70 min", "$60.00/h", "$70.00")]


def test_a_piece_is_billed_once(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    issued(db, shop, job)
    assert invoices.to_bill(db, job.id) == []
    assert invoices.draft_lines(db, job.id, now=NOON) == []
    ids = [piece.id for piece in pieces_of(db, job)]
    with pytest.raises(TryAgain, match="1001-1 is billed already"):
        invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, piece_ids=ids, **shop.at())


def four_of_six(db: Session, shop: Shop, agreed: str = "") -> jobs.JobFacts:
    job = make_job(db, shop, pieces=6)
    agree(db, shop, job, replace(AN_HOUR, pieces="6", agreed_each=agreed))
    cut(db, shop, makers.take_everything_in(db, shop, job)[:4])
    return job


@pytest.mark.parametrize(("agreed", "nets"), [("", (11000, 4000)), ("12.50", (5000, 2500))])
def test_four_of_six_are_billed_and_then_the_other_two(
    db: Session, shop: Shop, agreed: str, nets: tuple[int, int]
) -> None:
    job = four_of_six(db, shop, agreed)
    first = issued(db, shop, job)
    cut(db, shop, pieces_of(db, job)[4:])
    second = issued(db, shop, job)
    assert tuple(ledger.by_no(db, no).net_cents for no in (first, second)) == nets
    assert sum(nets) == quotes.agreed_quote(db, job.id).net_cents
    assert len(invoices.billed(db, job.id)) == 6
    assert len(papers.sheet(db, "invoice", str(second))[0].pieces) == 2


def test_the_rate_of_the_quote_holds_when_the_bill_is_written(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    shopbook.add_rate(db, valid_from=date(2031, 3, 5), cents_per_hour=9900, **shop.at())
    assert ledger.by_no(db, issued(db, shop, job, NOON + timedelta(days=3))).net_cents == 7000


def test_who_is_billed_when_fetched_is_not_billed_when_ready(db: Session, shop: Shop) -> None:
    job = ready_job(db, shop, customer_id=make_customer(db, shop, bill_when="fetched"))
    assert invoices.to_bill(db, job.id) == []
    first = pieces_of(db, job)[0]
    handover.hand_over(db, job_id=job.id, piece_ids=[first.id], taken_by="Marn", **shop.at())
    assert [piece.number for piece in invoices.to_bill(db, job.id)] == ["1001-1"]


def test_a_required_order_number_is_asked_for_and_printed(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, customer_id=make_customer(db, shop, **QUARRY))
    with pytest.raises(TryAgain, match="Whinstone Quarry wants its order number") as refusal:
        invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at())
    assert set(refusal.value.problems) == {"order_number"}
    jobs.change(db, job_id=job.id, order_number="K 77", **shop.at())
    no = invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at())
    assert papers.sheet(db, "invoice", str(no))[0].order_number == "K 77"


@pytest.mark.parametrize(("after", "tax"), [(-1, 50), (0, 0), (9, 0), (10, 50)])
def test_a_certificate_frees_by_the_day_of_the_bill(db: Session, shop: Shop, after: int, tax: int) -> None:
    job = make_job(db, shop)
    customers.add_tax_paper(
        db, customer_id=job.customer_id, number="X-7", issuer="Sluice", valid_from=TODAY,
        valid_to=TODAY + timedelta(days=9), **shop.at(),
    )  # fmt: skip
    no = invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at(NOON + timedelta(days=after)))
    assert ledger.by_no(db, no).tax_cents == tax
    assert ("X-7" in papers.sheet(db, "invoice", str(no))[0].exempt_reason) == (tax == 0)


def test_the_day_of_the_bill_is_the_day_in_the_shop(db: Session, shop: Shop) -> None:
    evening = datetime(2031, 3, 5, 3, tzinfo=UTC)  # eleven at night of the 4th in the shop
    no = invoices.issue(db, job_id=make_job(db, shop).id, lines=TEN_DOLLARS, **shop.at(evening))
    assert ledger.by_no(db, no).issued_on == TODAY


def test_a_deposit_stands_below_the_total_and_lowers_no_tax(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    payments.pay(db, job_id=job.id, amount="4", how="cash", **shop.at())
    no = invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at())
    sheet, _ = papers.sheet(db, "invoice", str(no))
    assert (sheet.totals.net_cents, sheet.totals.tax_cents, sheet.totals.total_cents) == (1000, 50, 1050)
    assert (sheet.deposit_rows, sheet.due_cents) == ((("deposit cash, 4 Mar 2031", 400),), 650)
    assert ledger.by_no(db, no).due_cents == 650


def test_a_deposit_above_the_bill_is_used_up_to_it(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    for amount in ("8", "8"):
        payments.pay(db, job_id=job.id, amount=amount, how="card", **shop.at())
    no = invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at())
    sheet, _ = papers.sheet(db, "invoice", str(no))
    assert (sheet.due_cents, sum(cents for _, cents in sheet.deposit_rows)) == (0, 1050)
    assert [one.left_cents for one in payments.held(db, job.id)] == [550]


def test_a_number_is_given_back_when_issuing_fails(book: Database) -> None:
    with book.writing() as db:
        shop = makers.make_shop(db)
        job = make_job(db, shop)
        assert invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at()) == 501
    with suppress(RuntimeError), book.writing() as db:
        assert invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at()) == 502
        raise RuntimeError
    with book.writing() as db:
        assert invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at()) == 502
        assert [bill.no for bill in ledger.newest(db)] == [502, 501]


def test_an_issued_bill_stays_as_it_was_issued(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    before = papers.sheet(db, "invoice", str(issued(db, shop, job)))
    customers.keep(db, customer_id=job.customer_id, name="Cobbet & Sons", address="Elsewhere", **shop.at())
    shopbook.change(db, name="Another Name", not_done="nothing", **shop.at())
    assert papers.sheet(db, "invoice", "501") == before


@pytest.mark.parametrize(
    ("lines", "field"),
    [
        ([], "line_0"), ([LineTyped("", "", "")], "line_0"), ([LineTyped("", "1", "5")], "line_0"),
        ([*TEN_DOLLARS, LineTyped("bar", "some", "5")], "line_1"), ([LineTyped("bar", "1", "dear")], "line_0"),
        ([LineTyped("bar", "99999", "9999999")], ""),
    ],
)  # fmt: skip
def test_a_line_that_cannot_be_read_stops_the_bill(db: Session, shop: Shop, lines: list[LineTyped], field: str) -> None:
    job = make_job(db, shop)
    with pytest.raises(TryAgain) as refusal:
        invoices.issue(db, job_id=job.id, lines=lines, **shop.at())
    assert set(refusal.value.problems) == {field}
    assert ledger.of_job(db, job.id) == []
    assert numbering.take(db, "invoice") == 501


def test_a_line_keeps_the_price_of_one(db: Session, shop: Shop) -> None:
    lines = [LineTyped("bevels", "3", "4.50"), LineTyped("bench", "20 min", "60")]
    invoices.issue(db, job_id=make_job(db, shop).id, lines=lines, **shop.at())
    kept = db.exec(select(InvoiceLine.quantity, InvoiceLine.unit_cents, InvoiceLine.cents)).all()
    assert [tuple(row) for row in kept] == [("3", 450, 1350), ("20 min", 6000, 2000)]


LINES = st.lists(
    st.builds(
        LineTyped,
        st.just("work"),
        st.one_of(st.integers(1, 400).map(str), st.integers(1, 4000).map(lambda minutes: f"{minutes} min")),
        st.integers(0, 500000).map(lambda cents: f"{cents / 100:.2f}"),
    ),
    min_size=1,
    max_size=12,
)


@given(LINES)
def test_the_lines_of_a_bill_sum_to_its_net(lines: list[LineTyped]) -> None:
    rows = invoices._rows(lines, "$")
    shown = [Fraction(row.amount.removeprefix("$").replace(",", "")) * 100 for row in rows]
    assert shown == [row.cents for row in rows]
    for line, row in zip(lines, rows, strict=True):
        count = Fraction(line.quantity.removesuffix(" min")) / (60 if "min" in line.quantity else 1)
        assert abs(count * Fraction(line.price) * 100 - row.cents) <= Fraction(1, 2)


def test_the_sum_of_the_kept_lines_is_the_kept_net(db: Session, shop: Shop) -> None:
    lines = [LineTyped("a", "35 min", "60"), LineTyped("b", "2.5", "3.33"), LineTyped("c", "1/3", "10")]
    no = invoices.issue(db, job_id=make_job(db, shop).id, lines=lines, **shop.at())
    assert ledger.by_no(db, no).net_cents == sum(db.exec(select(InvoiceLine.cents)).all()) == 3500 + 833 + 333


def test_a_preview_is_what_is_issued(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    payments.pay(db, job_id=job.id, amount="4", how="cash", **shop.at())
    told = invoices.preview(db, job_id=job.id, lines=TEN_DOLLARS, now=NOON)
    no = invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at())
    sheet, _ = papers.sheet(db, "invoice", str(no))
    assert (told.rows, told.totals, told.due_cents) == (sheet.lines, sheet.totals, sheet.due_cents)
    assert history.of_job(db, job.id)[0].words == "invoice 501: $10.50, due 2031-04-03"


def test_work_that_was_called_off_is_billed_by_what_was_set_up(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    agree(db, shop, job)
    jobs.end(db, job_id=job.id, how="called_off", reason="sold the press", **shop.at())
    (line,) = invoices.draft_lines(db, job.id, now=NOON)
    assert (line.quantity, line.price) == ("40 min", "60.00")  # the first setting, as it was quoted
    jobs.spend(db, job_id=job.id, minutes=25, **shop.at())
    assert [one.job_no for one in ledger.called_off_to_bill(db)] == [job.no]
    no = invoices.issue(db, job_id=job.id, lines=invoices.draft_lines(db, job.id, now=NOON), **shop.at())
    assert ledger.by_no(db, no).net_cents == 2500
    assert invoices.draft_lines(db, job.id, now=NOON) == []
    assert ledger.called_off_to_bill(db) == []


def test_what_was_not_taken_up_is_not_billed(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    quote(db, shop, job)
    jobs.end(db, job_id=job.id, how="not_taken_up", reason="too dear", **shop.at())
    assert invoices.draft_lines(db, job.id, now=NOON) == []
    assert invoices.called_off_lines(db, make_job(db, shop).id, now=NOON) == []


def put_right(db: Session, shop: Shop) -> jobs.JobFacts:
    """A job in which the first piece of an earlier one is put right, finished."""
    first = pieces_of(db, finished_job(db, shop, pieces=1))[0]
    job = make_job(db, shop, pieces=0)
    ask = PieceAsk(first.variant_id, "machine", "press 1")
    jobs.add_piece(db, job_id=job.id, ask=ask, rework_of=first.id, **shop.at())
    (piece,) = makers.take_everything_in(db, shop, job)
    makers.weigh(db, shop, piece, "before", "23")
    intake.move(db, piece_id=piece.id, to="chuck", reason="our mistake", **shop.at())
    intake.move(db, piece_id=piece.id, to="checked", **shop.at())
    return job


def test_what_is_put_right_is_billed_at_no_charge_with_words_and_no_tax(db: Session, shop: Shop) -> None:
    job = put_right(db, shop)
    lines = invoices.draft_lines(db, job.id, now=NOON)
    assert [(line.words, line.price) for line in lines] == [("1002-1 put right, first 1001-1: no charge", "0.00")]
    bill = ledger.by_no(db, invoices.issue(db, job_id=job.id, lines=lines, **shop.at()))
    assert (bill.net_cents, bill.tax_cents, bill.total_cents) == (0, 0, 0)
    assert invoices.to_bill(db, job.id) == []
    with pytest.raises(TryAgain, match="Say what this line is for"):
        invoices.preview(db, job_id=job.id, lines=[LineTyped("", "1", "0")], now=NOON)


def test_a_change_of_mind_is_put_right_at_its_price(db: Session, shop: Shop) -> None:
    job = put_right(db, shop)
    agree(db, shop, job, replace(AN_HOUR, pieces="1"))
    assert invoices.draft_lines(db, job.id, now=NOON)[0].quantity == "50 min"


def test_a_discount_on_a_bill_is_a_line_below_zero_and_the_whole_is_not(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    told = invoices.preview(db, job_id=job.id, lines=[*TEN_DOLLARS, LineTyped("late", "1", "−2.50")], now=NOON)
    assert (told.totals.net_cents, told.rows[1].amount, told.rows[1].unit_cents) == (750, "-$2.50", -250)
    with pytest.raises(TryAgain, match="comes to nothing or more"):
        invoices.preview(db, job_id=job.id, lines=[LineTyped("late", "1", "-2.50")], now=NOON)


def test_a_quote_with_a_discount_is_billed_with_it_in_parts_too(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    agree(db, shop, job, replace(AN_HOUR, discount="10 %", discount_reason="cash"))
    cut(db, shop, makers.take_everything_in(db, shop, job)[:1])
    nets = [ledger.by_no(db, issued(db, shop, job)).net_cents]
    cut(db, shop, pieces_of(db, job)[1:])
    nets.append(ledger.by_no(db, issued(db, shop, job)).net_cents)
    assert nets == [4500, 1800]
    assert sum(nets) == quotes.agreed_quote(db, job.id).net_cents


def test_tax_on_a_bill_is_rounded_as_the_shop_says(db: Session, shop: Shop) -> None:
    lines = [LineTyped("a", "1", "0.10"), LineTyped("b", "1", "0.10")]
    job = make_job(db, shop)
    by_document = invoices.preview(db, job_id=job.id, lines=lines, now=NOON).totals
    shopbook.change(db, tax_by="line", **shop.at())
    by_line = invoices.preview(db, job_id=job.id, lines=lines, now=NOON).totals
    assert (by_document.tax_cents, by_line.tax_cents, by_line.tax_by) == (1, 2, "line")


def test_a_count_of_material_stands_on_the_bill_as_it_was_typed(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    bar = MaterialTyped("bar, by the foot", "2.5", "8", "0")
    agree(db, shop, job, replace(AN_HOUR, material=(bar,)))
    cut(db, shop, take_everything_in(db, shop, job))
    lines = invoices.draft_lines(db, job.id, now=NOON)
    assert [line.quantity for line in lines] == ["70 min", "2.5"]
    assert papers.sheet(db, "invoice", str(issued(db, shop, job)))[0].lines[1].quantity == "2.5"
