"""Issued papers: frozen with their hash, pressed once."""

import hashlib
from datetime import timedelta

import pytest
from sqlmodel import Session, select

from shopapp.office import credits as notes
from shopapp.office import customers, handover, invoices, papers, parts
from shopapp.office.errors import NotHere
from shopapp.office.invoices import LineTyped
from shopapp.office.tables.papers import Paper
from tests.cast import NOON, PLATE, TODAY
from tests.makers import Shop, done_job, finished_job, make_customer, make_job, quote, ready_job


# FIPS 180-4: SHA-256, here by the library of the language.
def test_a_frozen_sheet_carries_the_hash_of_its_text(db: Session, shop: Shop) -> None:
    quote(db, shop, make_job(db, shop))
    text, digest = db.exec(select(Paper.sheet, Paper.sha256)).one()
    assert digest == hashlib.sha256(text.encode("utf-8")).hexdigest()
    sheet, said = papers.sheet(db, "quote", "1001 A")
    assert (sheet.number, said) == ("1001 A", digest)


def test_the_newest_paper_of_a_number_is_shown(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    quote(db, shop, job)
    sheet, old = papers.sheet(db, "quote", "1001 A")
    changed = type(sheet)(**{**vars(sheet), "title": "another"})
    papers.freeze(db, changed, number="1001 A", job_id=job.id, **shop.at())
    found, new = papers.sheet(db, "quote", "1001 A")
    assert (found.title, new == old) == ("another", False)
    assert [one.kind for one in papers.of_job(db, job.id)] == ["quote", "quote"]


def test_the_first_pressing_stays(db: Session) -> None:
    assert papers.pressed(db, "d" * 64) is None
    papers.keep_pressed(db, "d" * 64, b"%PDF first", now=NOON)
    papers.keep_pressed(db, "d" * 64, b"%PDF second", now=NOON)
    assert papers.pressed(db, "d" * 64) == b"%PDF first"


def test_a_paper_that_was_not_issued_is_not_here(db: Session) -> None:
    with pytest.raises(NotHere, match="No invoice 701 was issued"):
        papers.sheet(db, "invoice", "701")


def test_the_newest_paper_of_a_kind_is_found_for_many_jobs_at_once(db: Session, shop: Shop) -> None:
    first, second = ready_job(db, shop), make_job(db, shop)
    handover.announce(db, job_id=first.id, **shop.at())
    assert papers.newest(db, "ready", [first.no, second.no]) == {first.no: f"{first.no}-R2"}


def test_a_paper_is_found_by_its_hash(db: Session, shop: Shop) -> None:
    quote(db, shop, make_job(db, shop))
    sheet, digest = papers.sheet(db, "quote", "1001 A")
    assert papers.by_hash(db, digest) == sheet
    with pytest.raises(NotHere):
        papers.by_hash(db, "0" * 64)


def test_a_void_bill_is_handed_out_as_void_and_what_was_issued_stays(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    no = str(invoices.issue(db, job_id=job.id, lines=[LineTyped("work", "1", "70")], **shop.at()))
    issued, digest = papers.sheet(db, "invoice", no)
    assert papers.served(db, "invoice", no) == (issued, digest)
    notes.void(db, no=int(no), reason="wrong customer", **shop.at(NOON + timedelta(days=2)))
    assert papers.sheet(db, "invoice", no) == (issued, digest)
    void, other = papers.served(db, "invoice", no)
    assert (void.void_on, void.void_reason, void.lines) == ("2031-03-06", "wrong customer", issued.lines)
    assert papers.served(db, "invoice", no) == (void, other)
    assert other != digest


def test_the_title_block_says_who_said_go_ahead(db: Session, shop: Shop) -> None:
    first, second, bare = ready_job(db, shop), ready_job(db, shop), make_job(db, shop)
    assert papers.approved(db, first.id, second.id) == "Marn, quote A, 4 Mar 2031"
    assert papers.approved(db, bare.id) == ""
    invoices.issue(db, job_id=first.id, lines=[LineTyped("work", "1", "70")], **shop.at())
    assert papers.sheet(db, "invoice", "501")[0].approved == "Marn, quote A, 4 Mar 2031"


def test_what_is_not_done_is_the_shops_and_then_the_parts_own(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    plate = parts.parts(db)[0][0]
    parts.keep_part(db, part_id=plate.id, name=PLATE, not_done="the drain groove\nbalancing", **shop.at())
    assert papers.not_done(db, job.id) == ("balancing", "crack test", "the drain groove")
    assert papers.not_done(db) == ("balancing", "crack test")


@pytest.mark.parametrize(("days", "free"), [(0, True), (30, True), (31, False)])
def test_a_price_says_why_no_tax_is_on_it_or_asks_for_the_paper(db: Session, shop: Shop, days: int, free: bool) -> None:
    customer_id = make_customer(db, shop)
    customers.add_tax_paper(
        db, customer_id=customer_id, number="K-7", issuer="the county", valid_from=TODAY,
        valid_to=TODAY + timedelta(days=30), **shop.at(),
    )  # fmt: skip
    at = shop.at(NOON + timedelta(days=days))
    job = done_job(db, shop, customer_id=customer_id)
    quote(db, shop, job, **at)
    no = invoices.issue(db, job_id=job.id, lines=[LineTyped("work", "1", "70")], **at)
    for sheet in (papers.sheet(db, "quote", "1001 A")[0], papers.sheet(db, "invoice", str(no))[0]):
        asked = "Your certificate K-7 ran out on 3 Apr 2031, so there is tax on this."
        assert (sheet.totals.tax_cents == 0) == free
        assert sheet.exempt_reason == ("certificate K-7, the county, valid to 3 Apr 2031" if free else "")
        assert sheet.tax_paper_text.startswith(asked) != free


def test_a_customer_who_never_had_a_certificate_is_asked_for_none(db: Session, shop: Shop) -> None:
    quote(db, shop, make_job(db, shop))
    sheet, _ = papers.sheet(db, "quote", "1001 A")
    assert (sheet.exempt_reason, sheet.tax_paper_text) == ("", "")
