"""Papers that tell: letter, question, spoiled piece, labels."""

from base64 import b64decode
from datetime import timedelta
from io import BytesIO

import pytest
from PIL import Image
from sqlmodel import Session

from shopapp.office import credits as notes
from shopapp.office import (
    handover,
    history,
    invoices,
    letters,
    mishaps,
    papers,
    photos,
    phrases,
    questions,
)
from shopapp.office.errors import InTheWay, NotHere
from shopapp.office.invoices_lines import LineTyped
from shopapp.office.jobs import PieceAsk
from tests.cast import NOON, PHOTO, TODAY, a_photo
from tests.makers import Shop, finished_job, make_job, pieces_of, ready_job, the_plain_plate

LATE = NOON + timedelta(days=31)


def test_the_ready_letter_says_what_waits_since_when_and_what_was_tried(db: Session, shop: Shop) -> None:
    job = ready_job(db, shop)
    before = NOON - timedelta(hours=1)
    handover.call(db, job_id=job.id, outcome="told", whom="Bob", words="it takes a week", **shop.at(before))
    about = {"outcome": "told", "whom": "Bob", "words": "1001-2 is spoiled: he is sad"}
    handover.call(db, job_id=job.id, **about, **shop.at())
    handover.call(db, job_id=job.id, outcome="no_answer", **shop.at(NOON + timedelta(days=1)))
    handover.call(db, job_id=job.id, outcome="message", words="fetch it", **shop.at(NOON + timedelta(days=8)))
    number = letters.ready_letter(db, job_id=job.id, **shop.at(LATE))
    sheet, _ = papers.sheet(db, "letter", number)
    assert (number, sheet.ready_since, sheet.days) == ("1001-L1", str(TODAY), 31)
    assert sheet.pieces == ("1001-1 press plate, plain", "1001-2 press plate, plain")
    assert sheet.calls == ("5 Mar 2031: no answer", "12 Mar 2031: left a message")
    assert history.of_job(db, job.id)[0].words == "ready letter 1001-L1, 31 days on the shelf"


def test_storage_terms_are_the_owners_and_nothing_is_ever_disposed_of(db: Session, shop: Shop) -> None:
    job = ready_job(db, shop)
    first, _ = papers.sheet(db, "letter", letters.ready_letter(db, job_id=job.id, **shop.at(LATE)))
    assert first.storage == ""
    assert not any(word in str(first).lower() for word in ("dispos", "scrap", "sold", "write your own"))
    phrases.keep(db, subject="storage", words="Two dollars a day from day 30.", valid_from=TODAY, **shop.at())
    second, _ = papers.sheet(db, "letter", letters.ready_letter(db, job_id=job.id, **shop.at(LATE)))
    assert (second.number, second.storage) == ("1001-L2", "Two dollars a day from day 30.")
    assert {piece.custody for piece in pieces_of(db, job)} == {"shelf"}


def test_no_letter_is_written_about_nothing(db: Session, shop: Shop) -> None:
    with pytest.raises(InTheWay, match="nothing to write about"):
        letters.ready_letter(db, job_id=make_job(db, shop).id, **shop.at())


def test_a_question_goes_out_word_for_word_while_it_is_open(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    told = {"waits_for": "customer", "question": "13 mm, or 1/2 in?", "whom": "Marn"}
    row = questions.stop(db, job_id=job.id, **told, **shop.at())
    sheet, _ = papers.sheet(db, "question", letters.question(db, stop_id=row, **shop.at(LATE)))
    assert (sheet.question, sheet.whom, sheet.asked_on) == ("13 mm, or 1/2 in?", "Marn", str(TODAY))
    questions.answer(db, stop_id=row, words="13", **shop.at())
    with pytest.raises(InTheWay, match="nothing to ask"):
        letters.question(db, stop_id=row, **shop.at())
    with pytest.raises(NotHere):
        letters.question(db, stop_id=99, **shop.at())


def test_a_spoiled_piece_is_told_with_its_weight_and_the_money_taken_back(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    first, good = pieces_of(db, job)
    no = invoices.issue(db, job_id=job.id, lines=[LineTyped("work", "1", "70")], **shop.at())
    mishaps.spoil(db, piece_id=first.id, story="bored too wide", **shop.at())
    notes.credit(db, no=no, amount="35", reason="spoiled one", **shop.at())
    handover.call(db, job_id=job.id, outcome="told", whom="Marn", words="he brings another", **shop.at())
    number = letters.spoiled(db, piece_id=first.id, address="http://shop.example", **shop.at())
    sheet, _ = papers.sheet(db, "spoiled", number)
    assert (number, sheet.happened, sheet.happened_at) == ("1001-1-X1", "bored too wide", "4 Mar 2031 12:00")
    assert [(row.what, row.text) for row in sheet.weights] == [("before", "26.5 lb"), ("after", "23 lb")]
    assert [(row.whom, row.how, row.said) for row in sheet.said] == [("Marn", "told", "he brings another")]
    assert sheet.money == (("credit note 1 on invoice 501, spoiled one", "$36.75"),)
    assert sheet.address == "http://shop.example/pieces/1001-1"
    assert (sheet.number, sheet.piece, sheet.shown, sheet.photos) == (number, "1001-1", (), ())
    with pytest.raises(InTheWay, match="not spoiled"):
        letters.spoiled(db, piece_id=good.id, **shop.at())


def test_a_spoiled_piece_is_shown_and_its_story_is_told_once(db: Session, shop: Shop) -> None:
    piece = pieces_of(db, finished_job(db, shop))[0]
    mishaps.spoil(db, piece_id=piece.id, story="bored too wide", photo=photos.made_small(PHOTO), **shop.at())
    red = photos.made_small(a_photo(colour="red"))
    photos.keep(db, what="damage", photo=red, piece_id=piece.id, words="the bore", **shop.at())
    first, second = (letters.spoiled(db, piece_id=piece.id, **shop.at()) for _ in range(2))
    sheet, _ = papers.sheet(db, "spoiled", second)
    assert (first, second, sheet.number) == ("1001-1-X1", "1001-1-X2", "1001-1-X2")
    assert [photo.words for photo in sheet.shown] == ["damage", "the bore"]
    colours = [Image.open(BytesIO(b64decode(photo.jpeg))).getpixel((5, 5)) for photo in sheet.shown]
    assert colours[1][0] > 200 > colours[0][0]
    assert papers.sheet(db, "spoiled", second)[0].happened == "bored too wide"


def test_labels_are_for_the_pieces_that_go_to_the_customers_shelf(db: Session, shop: Shop) -> None:
    plate = the_plain_plate(db, shop)
    job = finished_job(db, shop, pieces=(PieceAsk(plate, "machine"), PieceAsk(plate, "shelf")))
    sheet, _ = papers.sheet(db, "label", letters.labels(db, job_id=job.id, **shop.at()))
    (label,) = sheet.labels
    assert (label.number, label.weight) == ("1001-2", "23 lb")
    assert label.done == ("3.5 lb off", "face A, deep .250")
    with pytest.raises(InTheWay, match="nothing to label"):
        letters.labels(db, job_id=make_job(db, shop).id, **shop.at())


def test_a_label_is_for_any_finished_piece_that_is_asked_for(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop, pieces=2)
    piece = pieces_of(db, job)[1]
    number = letters.labels(db, job_id=job.id, piece_id=piece.id, **shop.at())
    sheet = papers.sheet(db, "label", number)[0]
    (label,) = sheet.labels  # type: ignore[union-attr]
    assert (label.number, label.goes_to) == (f"{job.no}-2", "press 1")
    assert label.done == ("3.5 lb off", "face A, deep .250")
    waiting = pieces_of(db, make_job(db, shop))[0]
    with pytest.raises(InTheWay, match="not finished"):
        letters.labels(db, job_id=waiting.job_id, piece_id=waiting.id, **shop.at())


def test_a_question_goes_out_with_the_photos_that_were_taken_with_it(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    told = {"job_id": job.id, "waits_for": "customer"}
    first = questions.stop(db, question="13 mm?", **told, **shop.at())
    keep = {"what": "question", "job_id": job.id}
    photos.keep(db, photo=photos.made_small(PHOTO), words="the thin spot", **keep, **shop.at())
    later = NOON + timedelta(hours=1)
    second = questions.stop(db, question="which side?", **told, **shop.at(later))
    photos.keep(db, photo=photos.made_small(a_photo(colour="red")), words="both sides", **keep, **shop.at(later))
    for stop_id, words in ((first, "the thin spot"), (second, "both sides")):
        sheet = papers.sheet(db, "question", letters.question(db, stop_id=stop_id, **shop.at(later)))[0]
        assert [photo.words for photo in sheet.photos] == [words]  # type: ignore[union-attr]
