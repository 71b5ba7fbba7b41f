"""Ready, called, fetched."""

import pytest
from sqlmodel import Session

from shopapp.office import handover, history, intake, invoices, papers, payments
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.invoices import LineTyped
from tests.makers import Shop, cut, finished_job, make_job, pieces_of, ready_job, take_everything_in


def test_checked_pieces_go_to_the_shelf_with_a_notice(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    assert handover.announce(db, job_id=job.id, words="Mind the edge.", **shop.at()) == "1001-R1"
    assert {piece.custody for piece in pieces_of(db, job)} == {"shelf"}
    sheet, _ = papers.sheet(db, "ready", "1001-R1")
    (first, _) = sheet.pieces
    assert (first.before, first.after, first.off, first.verdict) == ("26.5 lb", "23 lb", "3.5 lb", "agrees")
    assert (first.state_words, first.scale_words) == ("on the pick-up shelf", "spring, shows 0.5 lb")
    assert (sheet.words, sheet.total_text) == ("Mind the edge.", "Total by quote A: $73.50")


def test_a_second_notice_has_its_own_number(db: Session, shop: Shop) -> None:
    job = ready_job(db, shop)
    assert handover.announce(db, job_id=job.id, **shop.at()) == "1001-R2"


def test_nothing_is_announced_while_a_piece_is_unfinished(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    with pytest.raises(InTheWay, match="1001-1 is expected"):
        handover.announce(db, job_id=job.id, **shop.at())
    assert papers.of_job(db, job.id) == []


def test_nothing_is_announced_when_nothing_waits(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    (piece,) = take_everything_in(db, shop, job)
    intake.move(db, piece_id=piece.id, to="sent_back", reason="cracked", **shop.at())
    with pytest.raises(InTheWay, match="nothing to announce"):
        handover.announce(db, job_id=job.id, **shop.at())


def test_the_notice_says_what_is_still_to_pay(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    payments.pay(db, job_id=job.id, amount="20", how="cash", **shop.at())
    handover.announce(db, job_id=job.id, **shop.at())
    said = [papers.sheet(db, "ready", "1001-R1")[0].total_text]
    invoices.issue(db, job_id=job.id, lines=[LineTyped("work", "1", "70")], **shop.at())
    handover.announce(db, job_id=job.id, **shop.at())
    said.append(papers.sheet(db, "ready", "1001-R2")[0].total_text)
    assert said == ["Total by quote A: $73.50, less $20.00 held as deposit", "To pay: $53.50"]


def test_without_a_quote_the_notice_names_no_price(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    pieces = take_everything_in(db, shop, job)
    intake.move(db, piece_id=pieces[0].id, to="chuck", reason="he waits", **shop.at())
    intake.move(db, piece_id=pieces[0].id, to="checked", **shop.at())
    sheet, _ = papers.sheet(db, "ready", handover.announce(db, job_id=job.id, **shop.at()))
    assert (sheet.total_text, sheet.pieces[0].before, sheet.pieces[0].verdict) == ("", "", "")


def test_calls_are_kept_newest_first(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    handover.call(db, job_id=job.id, outcome="no_answer", **shop.at())
    handover.call(db, job_id=job.id, outcome="someone_else", whom="the miller", words="from Friday", **shop.at())
    assert [(one.outcome, one.initials) for one in handover.calls(db, job.id)] == [
        ("someone_else", "MB"),
        ("no_answer", "MB"),
    ]
    assert history.of_job(db, job.id)[0].words == "told someone else the miller from Friday"


@pytest.mark.parametrize(("told", "field"), [({"outcome": "sang"}, "outcome"), ({"outcome": "someone_else"}, "whom")])
def test_a_call_says_what_came_of_it(db: Session, shop: Shop, told: dict[str, str], field: str) -> None:
    with pytest.raises(TryAgain) as refusal:
        handover.call(db, job_id=make_job(db, shop).id, **told, **shop.at())
    assert set(refusal.value.problems) == {field}


def test_pieces_leave_one_at_a_time(db: Session, shop: Shop) -> None:
    job = ready_job(db, shop)
    first, second = pieces_of(db, job)
    handover.hand_over(db, job_id=job.id, piece_ids=[first.id], taken_by="Marn", **shop.at())
    assert [piece.custody for piece in pieces_of(db, job)] == ["gone", "shelf"]
    handover.hand_over(db, job_id=job.id, piece_ids=[second.id], taken_by="the miller", **shop.at())
    assert history.of_job(db, job.id)[0].words == "1001-2 taken by the miller"


def test_a_spoiled_piece_may_be_taken_home_and_stays_spoiled(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    spoiled, good = pieces_of(db, job)
    intake.move(db, piece_id=spoiled.id, to="spoiled", reason="bored too wide", **shop.at())
    handover.announce(db, job_id=job.id, **shop.at())
    handover.hand_over(db, job_id=job.id, piece_ids=[spoiled.id, good.id], taken_by="Marn", **shop.at())
    assert [piece.custody for piece in pieces_of(db, job)] == ["spoiled", "gone"]


def test_a_piece_that_is_not_on_the_shelf_does_not_leave(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    pieces = take_everything_in(db, shop, job)
    cut(db, shop, pieces[:0])
    with pytest.raises(TryAgain) as refusal:
        handover.hand_over(db, job_id=job.id, piece_ids=[pieces[0].id], taken_by=" ", **shop.at())
    assert "1001-1 is in the rack, not on the pick-up shelf" in refusal.value.problems["pieces"]
    assert set(refusal.value.problems) == {"pieces", "taken_by"}
    with pytest.raises(TryAgain, match="Tick the pieces"):
        handover.hand_over(db, job_id=job.id, piece_ids=[], taken_by="Marn", **shop.at())
