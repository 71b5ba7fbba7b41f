"""Issued papers: frozen with their hash, pressed once."""

import hashlib

import pytest
from sqlmodel import Session, select

from shopapp.office import handover, papers
from shopapp.office.errors import NotHere
from shopapp.office.tables.papers import Paper
from tests.cast import NOON
from tests.makers import Shop, make_job, quote, ready_job


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
