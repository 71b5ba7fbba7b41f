"""The customer's own shelf."""

import pytest
from sqlmodel import Session

from shopapp.office import handover, intake, shelf
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.jobs import PieceAsk
from tests.makers import Shop, finished_job, pieces_of, the_mill, the_plain_plate


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
    intake.move(db, piece_id=pieces_of(db, job)[0].id, to="spoiled", reason="bored too wide", **shop.at())
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


def test_a_piece_is_put_on_the_shelf_once(db: Session, shop: Shop) -> None:
    customer, _ = one_of_each(db, shop)
    for piece_id in (1, 2):
        shelf.put(db, piece_id=piece_id, **shop.at())
        shelf.put(db, piece_id=piece_id, **shop.at())
    assert counts(db, customer) == [("press plate, plain", 2)]
