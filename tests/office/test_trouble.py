"""Trouble at the cut, told to the next one who has this kind in the chuck."""

import pytest
from sqlmodel import Session

from shopapp.office import history, photos, trouble
from shopapp.office.errors import NotHere, TryAgain
from tests import cast, makers
from tests.makers import Shop


def test_trouble_with_a_piece_is_told_of_its_kind_the_newest_first(db: Session, shop: Shop) -> None:
    job = makers.make_job(db, shop)
    piece = makers.pieces_of(db, job)[1]
    for words in ("Jaw 3 slipped on paint: wipe the rim first.", " chatter over the holes "):
        trouble.note(db, job_id=job.id, piece_id=piece.id, words=words, **shop.at())
    newest, older = trouble.of_variant(db, piece.variant_id)
    assert (newest.words, newest.number, newest.initials) == ("chatter over the holes", f"{job.no}-2", "MB")
    assert older.words.startswith("Jaw 3 slipped")
    assert trouble.of_variant(db, piece.variant_id, most=1) == [newest]
    assert trouble.of_job(db, job.id) == [newest, older]
    assert history.of_piece(db, piece.id)[0].act == "trouble"


def test_its_photo_is_kept_with_it(db: Session, shop: Shop) -> None:
    job = makers.make_job(db, shop)
    piece = makers.pieces_of(db, job)[0]
    trouble.note(
        db, job_id=job.id, piece_id=piece.id, words="a blow-hole", photo=photos.made_small(cast.PHOTO), **shop.at()
    )
    (photo,) = photos.of_piece(db, piece.id)
    assert (photo.what, photo.words) == ("trouble", "a blow-hole")
    assert trouble.of_job(db, job.id)[0].photo_id == photo.id


def test_trouble_of_the_whole_job_names_the_job(db: Session, shop: Shop) -> None:
    job = makers.make_job(db, shop)
    trouble.note(db, job_id=job.id, words="the belt slips", photo=photos.made_small(cast.PHOTO), **shop.at())
    (note,) = trouble.of_job(db, job.id)
    assert (note.number, note.variant_id) == (f"job {job.no}", None)
    assert note.photo_id


def test_words_are_needed_and_a_strange_piece_is_not_here(db: Session, shop: Shop) -> None:
    job, other = makers.make_job(db, shop), makers.make_job(db, shop)
    with pytest.raises(TryAgain) as refusal:
        trouble.note(db, job_id=job.id, words=" ", **shop.at())
    assert "words" in refusal.value.problems
    with pytest.raises(NotHere):
        trouble.note(db, job_id=job.id, piece_id=makers.pieces_of(db, other)[0].id, words="x", **shop.at())
