"""Twins: what two pieces with the same cuts say of each other."""

from sqlmodel import Session

from shopapp.office import twins, weighing
from shopapp.office.jobs import JobFacts
from shopapp.office.twins import TwinWords
from tests.makers import Shop, make_job, pieces_of, take_everything_in, twin_job


def twins_of(db: Session, job: JobFacts) -> TwinWords:
    pieces = pieces_of(db, job)
    (found,) = twins.pairs(pieces, weighing.of_pieces(db, pieces))
    return found


def test_twins_may_lose_the_same_and_still_differ(db: Session, shop: Shop) -> None:
    found = twins_of(db, twin_job(db, shop, ("12125", "10610"), ("12250", "10735")))
    assert (found.numbers, found.removal, found.finish, found.swapped) == ("1001-1 and 1001-2", "yes", "no", False)


def test_swapped_tags_are_suspected(db: Session, shop: Shop) -> None:
    job = twin_job(db, shop, ("12125", "10735"), ("12250", "10610"))
    found = twins_of(db, job)
    assert (found.removal, found.swapped) == ("no", True)
    assert "tags swapped?" in found.words
    told = weighing.of_pieces(db, pieces_of(db, job))
    assert {w.verdict for w in told.values()} == {"does not add up"}


def test_a_single_piece_has_no_twin(db: Session, shop: Shop) -> None:
    piece = take_everything_in(db, shop, make_job(db, shop, pieces=1))[0]
    assert twins.pairs([piece], weighing.of_pieces(db, [piece])) == []
