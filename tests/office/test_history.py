"""The day book: every verb writes its line, with who and when."""


import pytest
from sqlmodel import Session, func, select

from shopapp.office import credits as notes
from shopapp.office import (
    history,
    invoices,
    jobs,
)
from shopapp.office.tables.history import Event
from tests import cast, makers
from tests.makers import Shop
from tests.office.every_act import LATER, TOLD, World, verbs

#: What belongs to other verbs and writes its line there, and an empty form, which is no act.
PARTS_OF_VERBS = {"papers.freeze", "floor_papers.blank", "payments.apply_held", "payments.let_go", "intake.lay"}


def test_no_verb_is_left_out_here() -> None:
    assert set(TOLD) == set(verbs()) - PARTS_OF_VERBS


@pytest.mark.parametrize("name", TOLD)
def test_a_verb_writes_its_line_with_who_and_when(db: Session, shop: Shop, name: str) -> None:
    told = TOLD[name](World(db, shop, makers.make_job(db, shop)))
    before = db.exec(select(func.max(Event.id))).one()
    verbs()[name](db, **told, **shop.at(LATER))
    lines = db.exec(select(Event).where(Event.id > before)).all()
    assert lines
    assert {(line.at, line.by_id, line.entered_at) for line in lines} == {(LATER, shop.by, None)}
    assert all(line.words.strip() for line in lines)
    for line in lines:  # a line of a piece is one of its job, and that of its customer
        assert line.job_id or not line.piece_id
        assert line.customer_id == jobs.by_id(db, line.job_id).customer_id if line.job_id else True


def test_the_newest_lines_of_a_job_stand_first(db: Session, shop: Shop) -> None:
    job = makers.make_job(db, shop)
    jobs.spend(db, job_id=job.id, minutes=5, words="a first look", **shop.at(LATER))
    lines = history.of_job(db, job.id)
    assert [line.act for line in lines] == ["minutes", "expected", "expected", "asked"]
    assert (lines[0].at, lines[0].initials, lines[0].words) == (LATER, "MB", "5 min a first look")
    assert history.of_job(db, job.id, most=2) == lines[:2]
    assert [line.act for line in history.of_piece(db, makers.pieces_of(db, job)[0].id)] == ["expected"]


def test_initials_stand_on_papers(db: Session, shop: Shop) -> None:
    assert history.initials(db, shop.by) == "MB"


def test_a_job_that_was_undone_has_no_line(db: Session, shop: Shop) -> None:
    job = makers.make_job(db, shop)
    count = len(history.of_job(db, job.id))
    undone = db.begin_nested()
    jobs.spend(db, job_id=job.id, minutes=5, **shop.at())
    undone.rollback()
    assert len(history.of_job(db, job.id)) == count


def test_a_customer_sees_every_act_of_their_jobs(db: Session, shop: Shop) -> None:
    job = makers.ready_job(db, shop)
    no = invoices.issue(db, job_id=job.id, lines=invoices.draft_lines(db, job.id, now=cast.NOON), **shop.at())
    notes.void(db, no=no, reason="twice", **shop.at())
    told = {line.act for line in history.of_customer(db, job.customer_id)}
    assert {line.act for line in history.of_job(db, job.id)} <= told
    assert {"asked", "quoted", "agreed", "chuck", "billed", "void"} <= told


def test_what_is_entered_late_says_when_it_was_entered(db: Session, shop: Shop) -> None:
    job = makers.make_job(db, shop)
    history.entered_late(db, LATER)
    jobs.spend(db, job_id=job.id, minutes=5, **shop.at())
    late, *before = history.of_job(db, job.id)
    assert (late.at, late.entered_at) == (cast.NOON, LATER)
    assert {line.entered_at for line in before} == {None}


def test_what_was_written_over_is_told_with_what_stood_there() -> None:
    was = {"terms_days": 30, "rush": False, "note": "", "address": "1 Weir Walk\nNether Sluice", "name": "Cob"}
    now = {"terms_days": 14, "rush": True, "note": "asks first", "address": "", "name": "Cob"}
    assert history.changes(was, now, {"terms_days": "terms|days"}) == (
        "terms 30 → 14 days; rush no → yes; note none → asks first; address 1 Weir Walk Nether Sluice → none"
    )
    assert history.changes(was, was, {}) == ""
