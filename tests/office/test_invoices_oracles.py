"""A job billed in parts: whatever was billed before, by whatever lines, the parts come to the whole price."""

from dataclasses import replace
from datetime import datetime

import pytest
from sqlmodel import Session

from shopapp.office import credits as notes
from shopapp.office import invoices, jobs, ledger, papers, payments, quotes, shopbook
from shopapp.office.invoices_lines import LineTyped
from tests import makers
from tests.cast import NOON
from tests.makers import AN_HOUR, Shop, agree, cut, finished_job, make_job, pieces_of, quote


def issued(db: Session, shop: Shop, job: jobs.JobFacts, now: datetime = NOON) -> int:
    lines = invoices.draft_lines(db, job.id, now=now)
    return invoices.issue(db, job_id=job.id, lines=lines, **shop.at(now))


def nets(db: Session, job: jobs.JobFacts) -> list[int]:
    return [bill.net_cents for bill in reversed(ledger.of_job(db, job.id))]


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


def test_a_piece_that_was_paid_for_with_another_is_not_paid_for_again(db: Session, shop: Shop) -> None:
    """The lines of two pieces, issued for one of them: the rest of the whole price is nothing."""
    job = finished_job(db, shop)
    first = pieces_of(db, job)[0]
    lines = invoices.draft_lines(db, job.id, now=NOON)
    invoices.issue(db, job_id=job.id, lines=lines, piece_ids=[first.id], **shop.at())
    issued(db, shop, job)
    assert nets(db, job) == [7000, 0]
    assert [row.text for row in papers.sheet(db, "invoice", "502")[0].lines] == [
        "bench time for 1 further piece, 20 min", invoices.ABOVE,
    ]  # fmt: skip


def test_lines_are_drawn_for_the_pieces_that_are_told(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    _, second = pieces_of(db, job)
    (line,) = invoices.draft_lines(db, job.id, now=NOON, piece_ids=[second.id])
    assert line.quantity == "50 min"  # one piece alone: 40 + 10 min
    assert invoices.draft_lines(db, job.id, now=NOON, piece_ids=[]) == []


@pytest.mark.parametrize(
    ("first", "drawn"),
    [("50", [5000, 1000]), ("10", [1000, 5000]), ("70", [7000, 0])],
)
def test_a_revision_after_the_first_bill_asks_for_the_rest_of_its_whole(
    db: Session, shop: Shop, first: str, drawn: list[int]
) -> None:
    """Billed by A, then B is agreed, $60.00 for both: what is billed in all is $60.00, or what was billed before."""
    job = finished_job(db, shop)
    one, _ = pieces_of(db, job)
    typed = [LineTyped("work", "1", first)]
    invoices.issue(db, job_id=job.id, lines=typed, piece_ids=[one.id], **shop.at())
    quote(db, shop, job, replace(AN_HOUR, agreed_each="30"))
    quotes.go_ahead(db, job_id=job.id, said_by="Marn", how="phone", revision="B", **shop.at())
    assert invoices.billed_above_cents(db, job.id, now=NOON) == max(int(first) * 100 - 6000, 0)
    issued(db, shop, job)
    assert nets(db, job) == drawn


def test_what_was_taken_back_of_a_bill_that_stands_is_billed_again_on_a_line_of_its_own(
    db: Session, shop: Shop
) -> None:
    job = finished_job(db, shop)
    one, _ = pieces_of(db, job)
    lines = invoices.draft_lines(db, job.id, now=NOON, piece_ids=[one.id])
    no = invoices.issue(db, job_id=job.id, lines=lines, piece_ids=[one.id], **shop.at())
    notes.credit(db, no=no, amount="10", reason="billed too little off", **shop.at())
    drawn = invoices.draft_lines(db, job.id, now=NOON)
    assert [(line.words, line.price) for line in drawn][1:] == [(invoices.CREDITED, "10.00")]
    issued(db, shop, job)
    assert sum(bill.kept_net_cents for bill in ledger.of_job(db, job.id)) == 7000


def test_what_was_taken_back_as_a_whole_is_billed_anew(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    payments.pay(db, job_id=job.id, amount="20", how="cash", **shop.at())
    lines = invoices.draft_lines(db, job.id, now=NOON)
    notes.credit(db, no=issued(db, shop, job), reason="wrong words", **shop.at())
    assert len(invoices.to_bill(db, job.id)) == 2
    assert invoices.draft_lines(db, job.id, now=NOON) == lines
    again = ledger.by_no(db, issued(db, shop, job))
    assert (again.net_cents, again.paid_cents) == (7000, 2000)


def test_a_further_piece_that_costs_nothing_more_is_billed_at_nothing(db: Session, shop: Shop) -> None:
    """Under the least that the shop asks, one piece costs as much as two."""
    shopbook.change(db, minimum_cents=9000, **shop.at())
    job = finished_job(db, shop)
    first = pieces_of(db, job)[0]
    lines = invoices.draft_lines(db, job.id, now=NOON, piece_ids=[first.id])
    invoices.issue(db, job_id=job.id, lines=lines, piece_ids=[first.id], **shop.at())
    (line,) = invoices.draft_lines(db, job.id, now=NOON)
    assert (line.words, line.price) == ("1 further piece, in the price of those before", "0.00")
    issued(db, shop, job)
    assert (nets(db, job), invoices.to_bill(db, job.id)) == ([9000, 0], [])


def test_a_quote_with_a_discount_is_billed_with_it_in_parts_too(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    agree(db, shop, job, replace(AN_HOUR, discount="10 %", discount_reason="cash"))
    cut(db, shop, makers.take_everything_in(db, shop, job)[:1])
    nets = [ledger.by_no(db, issued(db, shop, job)).net_cents]
    cut(db, shop, pieces_of(db, job)[1:])
    nets.append(ledger.by_no(db, issued(db, shop, job)).net_cents)
    assert nets == [4500, 1800]
    assert sum(nets) == quotes.agreed_quote(db, job.id).net_cents
