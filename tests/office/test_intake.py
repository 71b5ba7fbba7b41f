"""The way of the customer's property through the shop."""

from itertools import product

import pytest
from sqlmodel import Session

from shopapp.office import history, intake, jobs, mishaps, parts, quotes, weighing
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.tracks import CUSTODY, MOVES
from tests.cast import LIPPED
from tests.makers import (
    Shop,
    make_job,
    make_variant,
    pieces_of,
    ready_job,
    send_back,
    take_everything_in,
    weigh,
)

PLACES = list(CUSTODY)
# The way of a piece as the trade has it; common practice, no source. It arrives and leaves by acts of their own.
ALLOWED = {
    ("rack", "chuck"), ("chuck", "checked"), ("chuck", "rack"), ("checked", "shelf"), ("checked", "chuck"),
    ("shelf", "checked"),
}  # fmt: skip


def test_a_piece_comes_in_by_the_sign_that_was_seen(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    (piece,) = take_everything_in(db, shop, job)
    assert (piece.custody, piece.place, piece.sign_seen) == ("rack", "B2", "flat on both faces")
    assert history.of_piece(db, piece.id)[0].words == "in the rack; sign seen: flat on both faces"


def test_a_look_alike_is_warned_of_and_the_book_follows_the_sign(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    other = parts.variant(db, make_variant(db, shop, **LIPPED))
    said = intake.take_in(db, piece_id=pieces_of(db, job)[0].id, sign_id=other.signs[0].id, **shop.at())
    assert said.startswith("Asked for was plain; the sign seen says lipped.")
    assert pieces_of(db, job)[0].variant == "lipped"
    assert history.of_job(db, job.id)[0].act == "look-alike"


def test_a_piece_that_was_not_told_apart_is_no_look_alike(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=0)
    row = jobs.add_piece(db, job_id=job.id, ask=jobs.PieceAsk(), **shop.at())
    sign = parts.variant(db, make_variant(db, shop, **LIPPED)).signs[0]
    assert intake.take_in(db, piece_id=row, sign_id=sign.id, goes_to="shelf", note="oily", **shop.at()) == ""
    (piece,) = pieces_of(db, job)
    assert (piece.variant, piece.goes_to, piece.note) == ("lipped", "shelf", "oily")


def test_a_second_look_moves_nothing(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    take_everything_in(db, shop, job)
    (piece,) = take_everything_in(db, shop, job)
    assert piece.custody == "rack"
    assert [line.act for line in history.of_piece(db, piece.id)] == ["sign", "rack", "looked", "photo", "expected"]


def test_without_a_sign_it_says_to_look(db: Session, shop: Shop) -> None:
    (piece, _) = pieces_of(db, make_job(db, shop))
    with pytest.raises(TryAgain, match="Look at the piece"):
        intake.take_in(db, piece_id=piece.id, sign_id=0, **shop.at())


@pytest.mark.parametrize(("here", "there"), list(product(PLACES, PLACES)), ids=lambda code: code)
def test_a_piece_moves_only_along_its_track(db: Session, shop: Shop, here: str, there: str) -> None:
    (piece,) = pieces_of(db, make_job(db, shop, pieces=1))
    jobs.piece_row(db, piece.id).custody = here
    db.flush()
    if (here, there) in ALLOWED:
        intake.move(db, piece_id=piece.id, to=there, reason="so it is", **shop.at())
        assert jobs.piece_row(db, piece.id).custody == there
    else:
        with pytest.raises(InTheWay, match=f"is {CUSTODY[here]}; from there"):
            intake.move(db, piece_id=piece.id, to=there, reason="so it is", **shop.at())


def test_the_table_of_moves_knows_every_place() -> None:
    assert set(MOVES) == set(PLACES)
    assert {(here, there) for here, to in MOVES.items() for there in to} == ALLOWED


def test_before_the_first_chip_the_weight_and_the_yes_are_asked_for(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    (piece,) = take_everything_in(db, shop, job)
    with pytest.raises(TryAgain) as refusal:
        intake.move(db, piece_id=piece.id, to="chuck", **shop.at())
    said = refusal.value.problems["reason"]
    assert "it was not weighed; the customer has not said go ahead" in said
    weigh(db, shop, piece, "before", "26.5")
    quotes.go_ahead(db, job_id=job.id, said_by="Marn", how="phone", **shop.at())
    intake.move(db, piece_id=piece.id, to="chuck", **shop.at())
    assert pieces_of(db, job)[0].custody == "chuck"


def test_a_weight_struck_through_is_no_weight(db: Session, shop: Shop) -> None:
    (piece,) = take_everything_in(db, shop, make_job(db, shop, pieces=1))
    weighing.strike(db, reading_id=weigh(db, shop, piece, "before", "26.5"), reason="wrong tag", **shop.at())
    assert "it was not weighed" in intake.missing_before_cutting(db, jobs.piece_row(db, piece.id))


def test_a_reason_lets_the_chip_fall_and_stays_on_the_piece(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    (piece,) = take_everything_in(db, shop, job)
    intake.move(db, piece_id=piece.id, to="chuck", reason="Marn stands beside me", **shop.at())
    (cut,) = pieces_of(db, job)
    assert cut.note == "cut without: it was not weighed; the customer has not said go ahead. Marn stands beside me"


def test_a_piece_arrives_by_taking_in_and_leaves_by_handing_over(db: Session, shop: Shop) -> None:
    (piece,) = pieces_of(db, make_job(db, shop, pieces=1))
    with pytest.raises(InTheWay, match="Take it in: look at its sign"):
        intake.move(db, piece_id=piece.id, to="rack", **shop.at())
    (ready,) = pieces_of(db, ready_job(db, shop, pieces=1))
    with pytest.raises(InTheWay, match="Hand it over, so that it is known who took it"):
        intake.move(db, piece_id=ready.id, to="gone", **shop.at())


@pytest.mark.parametrize("to", ["chuck", "checked", "rack", "shelf", "gone"])
def test_what_goes_back_uncut_is_moved_nowhere(db: Session, shop: Shop, to: str) -> None:
    (piece,) = take_everything_in(db, shop, make_job(db, shop, pieces=1))
    send_back(db, shop, piece)
    with pytest.raises(InTheWay, match="goes back uncut; from there"):
        intake.move(db, piece_id=piece.id, to=to, reason="he says go on", **shop.at())


def test_a_piece_that_does_not_come_is_not_taken_in(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    (piece,) = pieces_of(db, job)
    mishaps.does_not_come(db, piece_id=piece.id, reason="sold", **shop.at())
    sign = parts.variant(db, piece.variant_id).signs[0]
    with pytest.raises(InTheWay, match="Add one more piece"):
        intake.take_in(db, piece_id=piece.id, sign_id=sign.id, **shop.at())


def test_a_piece_takes_its_place_with_it(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    (piece,) = take_everything_in(db, shop, job)
    intake.move(db, piece_id=piece.id, to="chuck", reason="in a hurry", place=" C4 ", **shop.at())
    assert pieces_of(db, job)[0].place == "C4"
