"""The customer's own shelf."""

import pytest
from sqlmodel import Session

from shopapp.office import handover, intake, jobs, mishaps, shelf
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.jobs import PieceAsk, PieceFacts
from tests.makers import (
    Shop,
    fetch,
    finished_job,
    pieces_of,
    spoil,
    take_everything_in,
    the_mill,
    the_plain_plate,
)


def one_of_each(db: Session, shop: Shop) -> tuple[int, int]:
    """A job with one piece for the machine and one for the shelf, both handed over; gives customer and variant."""
    plate = the_plain_plate(db, shop)
    job = finished_job(db, shop, pieces=(PieceAsk(plate, "machine", "press 1"), PieceAsk(plate, "shelf")))
    handover.announce(db, job_id=job.id, **shop.at())
    ids = [piece.id for piece in pieces_of(db, job)]
    handover.hand_over(db, job_id=job.id, piece_ids=ids, taken_by="Marn", **shop.at())
    return the_mill(db, shop), plate


def counts(db: Session, customer_id: int) -> list[tuple[str, int]]:
    return [(row.name, row.count) for row in shelf.tally(db, customer_id)]


def test_a_piece_for_the_shelf_is_on_the_tally_when_it_has_left(db: Session, shop: Shop) -> None:
    customer, _ = one_of_each(db, shop)
    assert counts(db, customer) == [("press plate, plain", 1)]
    one_of_each(db, shop)
    assert counts(db, customer) == [("press plate, plain", 2)]


def test_a_spoiled_piece_is_on_no_shelf(db: Session, shop: Shop) -> None:
    plate = the_plain_plate(db, shop)
    job = finished_job(db, shop, pieces=(PieceAsk(plate, "shelf"), PieceAsk(plate, "machine")))
    spoil(db, shop, pieces_of(db, job)[0])
    handover.announce(db, job_id=job.id, **shop.at())
    ids = [piece.id for piece in pieces_of(db, job)]
    handover.hand_over(db, job_id=job.id, piece_ids=ids, taken_by="Marn", **shop.at())
    assert counts(db, the_mill(db, shop)) == []


def test_one_used_lowers_the_tally_and_offers_a_repeat(db: Session, shop: Shop) -> None:
    customer, plate = one_of_each(db, shop)
    told = shelf.use_one(db, customer_id=customer, variant_id=plate, **shop.at())
    assert (told.left, told.last_job_no, told.title) == (0, 1001, "skim press plates")
    assert told.offer == "None is left on their shelf. Order another, like job 1001?"
    assert counts(db, customer) == [("press plate, plain", 0)]
    with pytest.raises(InTheWay, match="none of these"):
        shelf.use_one(db, customer_id=customer, variant_id=plate, **shop.at())


def test_a_tally_is_put_right_with_a_reason(db: Session, shop: Shop) -> None:
    customer, plate = one_of_each(db, shop)
    shelf.put_right(db, customer_id=customer, variant_id=plate, count=4, words="Marn counted", **shop.at())
    assert counts(db, customer) == [("press plate, plain", 4)]
    for told, field in (({"count": 4}, "count"), ({"count": -1}, "count"), ({"count": 2, "words": " "}, "words")):
        with pytest.raises(TryAgain) as refusal:
            shelf.put_right(
                db, customer_id=customer, variant_id=plate, **{"words": "counted", **told}, **shop.at()
            )  # fmt: skip
        assert set(refusal.value.problems) == {field}
    with pytest.raises(NotHere):
        shelf.put_right(db, customer_id=99, variant_id=plate, count=1, words="x", **shop.at())


def put_right(db: Session, shop: Shop, piece: PieceFacts) -> PieceFacts:
    """The piece comes back, in a job of its own; gives what it is called there."""
    no = mishaps.rework(db, piece_id=piece.id, reason="out of line", free=True, **shop.at())
    return take_everything_in(db, shop, jobs.by_no(db, no))[0]


def finish(db: Session, shop: Shop, piece: PieceFacts) -> PieceFacts:
    for to in ("chuck", "checked"):
        intake.move(db, piece_id=piece.id, to=to, reason="not weighed", **shop.at())
    return jobs.piece(db, piece.job_no, piece.n)


def test_a_piece_that_comes_back_to_be_put_right_lies_there_once(db: Session, shop: Shop) -> None:
    customer, plate = one_of_each(db, shop)
    old = jobs.piece(db, 1001, 2)
    tallies = [shelf.tally(db, customer)[0].count]
    new = put_right(db, shop, old)
    tallies.append(shelf.tally(db, customer)[0].count)
    fetch(db, shop, finish(db, shop, new))
    tallies.append(shelf.tally(db, customer)[0].count)
    assert tallies == [1, 0, 1]
    assert shelf.use_one(db, customer_id=customer, variant_id=plate, **shop.at()).left == 0


def test_what_they_used_up_is_not_taken_off_again_when_it_comes_back(db: Session, shop: Shop) -> None:
    customer, plate = one_of_each(db, shop)
    shelf.use_one(db, customer_id=customer, variant_id=plate, **shop.at())
    put_right(db, shop, jobs.piece(db, 1001, 2))
    assert counts(db, customer) == [("press plate, plain", 0)]
    shelf.take_off(db, piece_id=jobs.piece(db, 1001, 1).id, **shop.at())
    assert counts(db, customer) == [("press plate, plain", 0)]


def test_a_piece_is_put_on_the_shelf_once(db: Session, shop: Shop) -> None:
    customer, _ = one_of_each(db, shop)
    for piece_id in (1, 2):
        shelf.put(db, piece_id=piece_id, **shop.at())
        shelf.put(db, piece_id=piece_id, **shop.at())
    assert counts(db, customer) == [("press plate, plain", 2)]
