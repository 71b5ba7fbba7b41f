"""Invoices: drawn from what is finished, frozen at issue, numbered without gaps."""

from contextlib import suppress
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest
from sqlmodel import Session, select

from shopapp.office import credits as notes
from shopapp.office import (
    customers,
    handover,
    history,
    intake,
    invoices,
    jobs,
    ledger,
    mishaps,
    numbering,
    papers,
    payments,
    quotes,
    rail,
    shopbook,
)
from shopapp.office.database import Database
from shopapp.office.errors import TryAgain
from shopapp.office.invoices_lines import LineTyped
from shopapp.office.pricing import MaterialTyped
from shopapp.office.tables.invoices import InvoiceLine
from tests import makers
from tests.cast import NOON, QUARRY, TODAY
from tests.makers import (
    AN_HOUR,
    Shop,
    agree,
    cut,
    done_job,
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
    job = done_job(db, shop, customer_id=make_customer(db, shop, **QUARRY))
    with pytest.raises(TryAgain, match="Whinstone Quarry wants its order number") as refusal:
        invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at())
    assert set(refusal.value.problems) == {"order_number"}
    jobs.change(db, job_id=job.id, order_number="K 77", **shop.at())
    no = invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at())
    assert papers.sheet(db, "invoice", str(no))[0].order_number == "K 77"


@pytest.mark.parametrize(("after", "tax"), [(-1, 50), (0, 0), (9, 0), (10, 50)])
def test_a_certificate_frees_by_the_day_of_the_bill(db: Session, shop: Shop, after: int, tax: int) -> None:
    job = done_job(db, shop)
    customers.add_tax_paper(
        db, customer_id=job.customer_id, number="X-7", issuer="Sluice", valid_from=TODAY,
        valid_to=TODAY + timedelta(days=9), **shop.at(),
    )  # fmt: skip
    no = invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at(NOON + timedelta(days=after)))
    assert ledger.by_no(db, no).tax_cents == tax
    assert ("X-7" in papers.sheet(db, "invoice", str(no))[0].exempt_reason) == (tax == 0)


def test_the_day_of_the_bill_is_the_day_in_the_shop(db: Session, shop: Shop) -> None:
    evening = datetime(2031, 3, 5, 3, tzinfo=UTC)  # eleven at night of the 4th in the shop
    no = invoices.issue(db, job_id=done_job(db, shop).id, lines=TEN_DOLLARS, **shop.at(evening))
    assert ledger.by_no(db, no).issued_on == TODAY


def test_a_deposit_stands_below_the_total_and_lowers_no_tax(db: Session, shop: Shop) -> None:
    job = done_job(db, shop)
    payments.pay(db, job_id=job.id, amount="4", how="cash", **shop.at())
    no = invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at())
    sheet, _ = papers.sheet(db, "invoice", str(no))
    assert (sheet.totals.net_cents, sheet.totals.tax_cents, sheet.totals.total_cents) == (1000, 50, 1050)
    assert (sheet.deposit_rows, sheet.due_cents) == ((("deposit cash, 4 Mar 2031", 400),), 650)
    assert ledger.by_no(db, no).due_cents == 650


def test_a_deposit_above_the_bill_is_used_up_to_it(db: Session, shop: Shop) -> None:
    job = done_job(db, shop)
    for amount in ("8", "8"):
        payments.pay(db, job_id=job.id, amount=amount, how="card", **shop.at())
    no = invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at())
    sheet, _ = papers.sheet(db, "invoice", str(no))
    assert (sheet.due_cents, sum(cents for _, cents in sheet.deposit_rows)) == (0, 1050)
    assert [one.left_cents for one in payments.held(db, job.id)] == [550]


def test_a_number_is_given_back_when_issuing_fails(book: Database) -> None:
    with book.writing() as db:
        shop = makers.make_shop(db)
        assert invoices.issue(db, job_id=done_job(db, shop).id, lines=TEN_DOLLARS, **shop.at()) == 501
        job = done_job(db, shop)
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
    invoices.issue(db, job_id=done_job(db, shop).id, lines=lines, **shop.at())
    kept = db.exec(select(InvoiceLine.quantity, InvoiceLine.unit_cents, InvoiceLine.cents)).all()
    assert [tuple(row) for row in kept] == [("3", 450, 1350), ("20 min", 6000, 2000)]


def test_the_sum_of_the_kept_lines_is_the_kept_net(db: Session, shop: Shop) -> None:
    lines = [LineTyped("a", "35 min", "60"), LineTyped("b", "2.5", "3.33"), LineTyped("c", "1/3", "10")]
    no = invoices.issue(db, job_id=done_job(db, shop).id, lines=lines, **shop.at())
    assert ledger.by_no(db, no).net_cents == sum(db.exec(select(InvoiceLine.cents)).all()) == 3500 + 833 + 333


def test_a_preview_is_what_is_issued(db: Session, shop: Shop) -> None:
    job = done_job(db, shop)
    payments.pay(db, job_id=job.id, amount="4", how="cash", **shop.at())
    told = invoices.preview(db, job_id=job.id, lines=TEN_DOLLARS, now=NOON)
    no = invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at())
    sheet, _ = papers.sheet(db, "invoice", str(no))
    assert (told.rows, told.totals, told.due_cents) == (sheet.lines, sheet.totals, sheet.due_cents)
    assert history.of_job(db, job.id)[0].words == "invoice 501: $10.50, due 2031-04-03"


def begun_and_called_off(db: Session, shop: Shop) -> jobs.JobFacts:
    """Two pieces came, one was in the chuck, then the customer called off."""
    job = make_job(db, shop)
    agree(db, shop, job)
    first, _ = makers.take_everything_in(db, shop, job)
    intake.move(db, piece_id=first.id, to="chuck", reason="he waits", **shop.at())
    mishaps.call_off(db, job_id=job.id, reason="sold the press", **shop.at())
    return jobs.by_no(db, job.no)


def test_work_that_was_called_off_is_billed_by_what_was_set_up(db: Session, shop: Shop) -> None:
    job = begun_and_called_off(db, shop)
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
    with pytest.raises(TryAgain, match="No piece of this job is finished"):
        invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at())


def put_right(db: Session, shop: Shop, *, free: bool = True) -> jobs.JobFacts:
    """A job in which the first piece of an earlier one is put right, finished."""
    first = pieces_of(db, finished_job(db, shop, pieces=1))[0]
    no = mishaps.rework(db, piece_id=first.id, reason="out of line", free=free, **shop.at())
    job = jobs.by_no(db, no)
    (piece,) = makers.take_everything_in(db, shop, job)
    makers.weigh(db, shop, piece, "before", "23")
    intake.move(db, piece_id=piece.id, to="chuck", reason="our mistake", **shop.at())
    intake.move(db, piece_id=piece.id, to="checked", reason="seen by eye", **shop.at())
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
    job = put_right(db, shop, free=False)
    agree(db, shop, job, replace(AN_HOUR, pieces="1"))
    assert invoices.draft_lines(db, job.id, now=NOON)[0].quantity == "50 min"


def test_a_change_of_mind_whose_price_was_never_agreed_is_not_free(db: Session, shop: Shop) -> None:
    job = put_right(db, shop, free=False)
    assert invoices.draft_lines(db, job.id, now=NOON) == []
    assert invoices.price_is_wanted(db, job.id)
    assert not invoices.price_is_wanted(db, put_right(db, shop).id)
    makers.quote(db, shop, job, replace(AN_HOUR, pieces="1"))
    assert invoices.price_is_wanted(db, job.id)
    quotes.go_ahead(db, job_id=job.id, said_by="Marn", how="phone", **shop.at())
    assert not invoices.price_is_wanted(db, job.id)


def test_nothing_finished_is_nothing_to_bill(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    agree(db, shop, job)
    makers.take_everything_in(db, shop, job)
    for piece_ids in (None, []):
        with pytest.raises(TryAgain, match="No piece of this job is finished"):
            invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, piece_ids=piece_ids, **shop.at())
    assert numbering.take(db, "invoice") == 501


def test_a_bill_is_for_the_pieces_that_are_ticked(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    with pytest.raises(TryAgain, match="Tick the pieces"):
        invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, piece_ids=[], **shop.at())
    issued(db, shop, job)
    for piece_ids in (None, []):
        with pytest.raises(TryAgain, match="billed already, by invoice 501"):
            invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, piece_ids=piece_ids, **shop.at())


def test_the_set_up_of_what_was_called_off_is_billed_once(db: Session, shop: Shop) -> None:
    job = begun_and_called_off(db, shop)
    lines = invoices.draft_lines(db, job.id, now=NOON)
    no = invoices.issue(db, job_id=job.id, lines=lines, piece_ids=[], **shop.at())
    with pytest.raises(TryAgain, match=f"billed already, by invoice {no}"):
        invoices.issue(db, job_id=job.id, lines=lines, piece_ids=[], **shop.at())
    notes.credit(db, no=no, reason="a friend", **shop.at())
    assert invoices.draft_lines(db, job.id, now=NOON) == lines
    assert [one.job_no for one in ledger.called_off_to_bill(db)] == [job.no]


def test_nothing_was_set_up_where_nothing_came(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    agree(db, shop, job)
    mishaps.call_off(db, job_id=job.id, reason="found one", **shop.at())
    assert (invoices.draft_lines(db, job.id, now=NOON), ledger.called_off_to_bill(db)) == ([], [])
    with pytest.raises(TryAgain, match="No minutes are written down"):
        invoices.issue(db, job_id=job.id, lines=TEN_DOLLARS, **shop.at())
    jobs.spend(db, job_id=job.id, minutes=25, **shop.at())
    assert invoices.draft_lines(db, job.id, now=NOON)[0].quantity == "25 min"


@pytest.mark.parametrize("bill_when", ["ready", "fetched"])
def test_what_is_gone_stays_to_bill_when_the_rest_is_called_off(db: Session, shop: Shop, bill_when: str) -> None:
    job = make_job(db, shop, customer_id=make_customer(db, shop, bill_when=bill_when))
    agree(db, shop, job)
    first, _ = makers.take_everything_in(db, shop, job)
    cut(db, shop, [first])
    makers.fetch(db, shop, jobs.piece(db, job.no, 1))
    mishaps.call_off(db, job_id=job.id, reason="changed their mind", **shop.at())
    assert [one.job_no for one in ledger.to_bill(db)] == [job.no]
    assert (ledger.called_off_to_bill(db), rail.count_to_bill(db)) == ([], 1)
    assert [one.no for one in rail.to_bill(db)] == [job.no]
    assert ledger.by_no(db, issued(db, shop, job)).net_cents == 5000  # one piece: 40 + 10 min at $60.00
    assert (ledger.to_bill(db), ledger.called_off_to_bill(db), rail.to_bill(db)) == ([], [], ())


def test_a_discount_on_a_bill_is_a_line_below_zero_and_the_whole_is_not(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    told = invoices.preview(db, job_id=job.id, lines=[*TEN_DOLLARS, LineTyped("late", "1", "−2.50")], now=NOON)
    assert (told.totals.net_cents, told.rows[1].amount, told.rows[1].unit_cents) == (750, "-$2.50", -250)
    with pytest.raises(TryAgain, match="comes to nothing or more"):
        invoices.preview(db, job_id=job.id, lines=[LineTyped("late", "1", "-2.50")], now=NOON)


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
