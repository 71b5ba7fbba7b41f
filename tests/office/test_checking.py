"""What is open keeps a piece from counting as checked, until somebody says why."""

import pytest

from shopapp.office import checking, finish, history, intake, jobs, photos, sizes, truing
from shopapp.office.database import Session
from shopapp.office.errors import TryAgain
from tests import cast, makers
from tests.makers import Shop


def under_the_tool(db: Session, shop: Shop, after: str) -> int:
    """A piece that was weighed, cut and weighed again; gives its row."""
    job = makers.make_job(db, shop, pieces=1)
    makers.keep_cuts(db, shop, job)
    makers.agree(db, shop, job)
    (piece,) = makers.take_everything_in(db, shop, job)
    makers.weigh(db, shop, piece, "before", "26.5")
    intake.move(db, piece_id=piece.id, to="chuck", reason="it is urgent", **shop.at())
    if after:
        makers.weigh(db, shop, piece, "after", after)
    return piece.id


def all_done(db: Session, shop: Shop, piece_id: int) -> None:
    """Every line of the final check."""
    told = {"piece_id": piece_id, **shop.at()}
    for line in finish.check(db, piece_id).lines:
        if line.kind == "size":
            sizes.measure(db, name=line.words, typed=line.planned, unit="in", instrument="caliper", **told)
        elif line.kind == "tick":
            finish.tick(db, what=line.words, **told)
    photos.keep(db, what="finished", photo=photos.made_small(cast.a_photo(colour="seagreen")), **told)
    as_left = truing.TruingTyped("thou", ("1", "0", "0", "1"))
    truing.keep(db, surface="outside", stage="left", typed=as_left, **told)


def test_a_piece_with_something_open_is_refused_and_each_thing_is_named(db: Session, shop: Shop) -> None:
    piece_id = under_the_tool(db, shop, "")
    with pytest.raises(TryAgain, match=r"photo of the finished piece; it was not weighed out\. Mend it, or write why"):
        intake.move(db, piece_id=piece_id, to="checked", **shop.at())


def test_what_does_not_add_up_is_open_too(db: Session, shop: Shop) -> None:
    piece_id = under_the_tool(db, shop, "10")
    assert "16.5 lb came off and that does not add up" in checking.still_open(finish.check(db, piece_id))


def test_a_reason_lets_it_go_and_what_was_open_stays_in_the_day_book(db: Session, shop: Shop) -> None:
    piece_id = under_the_tool(db, shop, "10")
    intake.move(db, piece_id=piece_id, to="checked", reason="the tag was of another piece", **shop.at())
    assert jobs.piece_row(db, piece_id).custody == "checked"
    (words,) = [line.words for line in history.of_piece(db, piece_id) if line.act == "checked"]
    assert words.startswith("checked; still open: ")
    assert words.endswith("does not add up. the tag was of another piece")


def test_with_nothing_open_no_reason_is_asked(db: Session, shop: Shop) -> None:
    piece_id = under_the_tool(db, shop, "23")
    all_done(db, shop, piece_id)
    assert checking.still_open(finish.check(db, piece_id)) == ()
    intake.move(db, piece_id=piece_id, to="checked", **shop.at())
    assert jobs.piece_row(db, piece_id).custody == "checked"
