"""Jobs and their pieces."""

from datetime import date

import pytest
from sqlmodel import Session

from shopapp.office import history, intake, jobs
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.jobs import PieceAsk
from tests.cast import WALK_IN
from tests.makers import Shop, make_customer, make_job, make_variant, pieces_of, take_everything_in


def test_a_call_becomes_a_job_with_its_pieces_expected(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, promised_on=date(2031, 3, 10), rush=True)
    assert (job.no, job.customer, job.title, job.rush) == (1001, "Cobbet Cider Mill", "skim press plates", True)
    assert [(p.number, p.name, p.custody, p.destination) for p in pieces_of(db, job)] == [
        ("1001-1", "press plate, plain", "expected", "machine: press 1"),
        ("1001-2", "press plate, plain", "expected", "machine: press 1"),
    ]


def test_jobs_are_numbered_one_after_the_other(db: Session, shop: Shop) -> None:
    customer_id = make_customer(db, shop)
    numbers = [make_job(db, shop, pieces=0, customer_id=customer_id).no for _ in range(3)]
    assert numbers == [1001, 1002, 1003]
    assert [job.no for job in jobs.of_customer(db, customer_id)] == [1003, 1002, 1001]


def test_a_job_wants_a_title_and_a_customer(db: Session, shop: Shop) -> None:
    with pytest.raises(TryAgain) as refusal:
        make_job(db, shop, title=" ")
    assert set(refusal.value.problems) == {"title"}
    with pytest.raises(NotHere):
        make_job(db, shop, customer_id=99)


def test_a_piece_may_be_told_apart_later_and_go_to_the_shelf(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=0)
    jobs.add_piece(db, job_id=job.id, ask=PieceAsk(goes_to="shelf"), **shop.at())
    (piece,) = jobs.pieces_of(db, [job.id])[job.id]
    assert (piece.name, piece.destination) == ("not told apart yet", "customer's shelf")
    assert jobs.piece(db, job.no, 1) == piece


def test_two_hundred_pieces_are_the_most(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=200)
    with pytest.raises(InTheWay, match="second job"):
        jobs.add_piece(db, job_id=job.id, ask=PieceAsk(), **shop.at())


def test_only_what_changed_is_written_into_the_day_book(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    lines = len(history.of_job(db, job.id))
    jobs.change(db, job_id=job.id, title=job.title, order_number="", **shop.at())
    assert len(history.of_job(db, job.id)) == lines
    jobs.change(db, job_id=job.id, title=job.title, order_number="K 9", **shop.at())
    assert history.of_job(db, job.id)[0].words == "their order number none → K 9"
    with pytest.raises(TryAgain, match="what is to be done"):
        jobs.change(db, job_id=job.id, title="", **shop.at())


def test_a_job_may_end_before_its_work_is_done(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    jobs.end(db, job_id=job.id, how="called_off", reason="found a used one", **shop.at())
    assert jobs.by_id(db, job.id).ended == "called_off"
    with pytest.raises(InTheWay, match="called off"):
        jobs.add_piece(db, job_id=job.id, ask=PieceAsk(), **shop.at())


@pytest.mark.parametrize(("told", "field"), [({"reason": " "}, "reason"), ({"how": "lost"}, "how")])
def test_an_end_says_how_and_why(db: Session, shop: Shop, told: dict[str, str], field: str) -> None:
    job = make_job(db, shop)
    with pytest.raises(TryAgain) as refusal:
        jobs.end(db, **{"job_id": job.id, "how": "not_taken_up", "reason": "too dear", **told}, **shop.at())
    assert set(refusal.value.problems) == {field}


def test_a_job_with_a_piece_in_the_chuck_does_not_end(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    (first, _) = take_everything_in(db, shop, job)
    intake.move(db, piece_id=first.id, to="chuck", reason="a test cut", **shop.at())
    with pytest.raises(InTheWay, match="1001-1 is under way"):
        jobs.end(db, job_id=job.id, how="called_off", reason="x", **shop.at())


def test_minutes_add_up(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    assert jobs.spent_minutes(db, job.id) == 0
    jobs.spend(db, job_id=job.id, minutes=45, words="side A", **shop.at())
    jobs.spend(db, job_id=job.id, minutes=1440, **shop.at())
    assert jobs.spent_minutes(db, job.id) == 1485


@pytest.mark.parametrize("minutes", [0, -5, 1441])
def test_a_stretch_of_work_is_longer_than_nothing_and_no_longer_than_a_day(
    db: Session, shop: Shop, minutes: int
) -> None:
    with pytest.raises(TryAgain, match="up to a day"):
        jobs.spend(db, job_id=make_job(db, shop).id, minutes=minutes, **shop.at())


def test_what_is_not_in_the_book_is_not_here(db: Session, shop: Shop) -> None:
    for ask in (jobs.by_no, jobs.by_id, jobs.job_row, jobs.piece_row):
        with pytest.raises(NotHere):
            ask(db, 99)
    with pytest.raises(NotHere, match="1001-3"):
        jobs.piece(db, 1001, 3)


def test_a_rework_is_tied_to_the_piece_it_comes_from(db: Session, shop: Shop) -> None:
    first = pieces_of(db, make_job(db, shop, pieces=1))[0]
    again = make_job(db, shop, pieces=0, customer_id=make_customer(db, shop, **WALK_IN))
    ask = PieceAsk(make_variant(db, shop, name="thin", signs=["blue paint"]))
    jobs.add_piece(db, job_id=again.id, ask=ask, rework_of=first.id, **shop.at())
    assert pieces_of(db, again)[0].rework_of == first.id
