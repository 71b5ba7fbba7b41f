"""What goes another way, by its forms: nothing is deleted, and each path has its words."""

from typing import Any

import httpx

from shopapp.office import credits as notes
from shopapp.office import invoices, jobs, mishaps, photos, questions, quotes
from tests import cast, makers
from tests.papers.reading import text_of
from tests.web.conftest import LiveShop
from tests.web.routes import floor


def with_photos(shop: LiveShop, path: str, *raw: bytes, **typed: Any) -> httpx.Response:
    files = [("photo", ("image.jpg", one, "image/jpeg")) for one in raw]
    return shop.client.post(path, data=typed, files=files, headers={"Origin": shop.origin})


def test_only_the_ways_that_are_open_are_shown(shop: LiveShop) -> None:
    rack, chuck = floor.in_the_rack(shop, pieces=1), floor.in_the_chuck(shop, pieces=1)
    page = shop.get(f"/jobs/{rack.no}/1/other-way").text
    assert "Open the job" not in page
    for at in (page, shop.get(f"/jobs/{chuck.no}/1/other-way").text):
        assert "Send it back uncut" in at
        assert "What happened" in at
    no = floor.expected(shop).no
    page = shop.get(f"/jobs/{no}/1/other-way").text
    assert "What happened" not in page
    assert shop.post(f"/jobs/{no}/1/not-come", reason="").status_code == 422
    assert shop.post(f"/jobs/{no}/1/not-come", reason="they <sold> it").status_code == 303
    page = shop.get(f"/jobs/{no}/1/other-way").text
    assert "did not come : there is no other way for it to go" in floor.shown(page)
    assert "they &lt;sold&gt; it" in shop.get(f"/jobs/{no}/1").text


def test_a_spoiled_piece_that_was_billed_points_to_its_bill(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.ready_job(db, shop.maker, pieces=1)
        piece = makers.pieces_of(db, job)[0]
        lines = [invoices.LineTyped("work", "1", "70")]
        no = invoices.issue(db, job_id=job.id, lines=lines, **shop.maker.at())
        makers.spoil(db, shop.maker, piece)
    page = shop.get(f"/jobs/{job.no}/1/other-way").text
    assert f"It stands on invoice {no}." in page
    assert "taken back by a credit note" in page
    assert f'href="/invoices/{no}"' in page
    with shop.database.writing() as db:
        notes.credit(db, no=no, amount="35", reason="it fell", **shop.maker.at())
    assert "Of that $35.00 was taken back." in floor.shown(shop.get(f"/jobs/{job.no}/1/other-way").text)


def test_a_piece_that_goes_on_under_a_new_number_is_put_right_once(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        old = makers.ready_job(db, shop.maker, pieces=1)
    told = {"reason": "out of line", "whose": "free"}
    assert shop.post(f"/jobs/{old.no}/1/put-right", **told).status_code == 303
    again = shop.post(f"/jobs/{old.no}/1/put-right", **told)
    assert again.status_code == 409
    assert f"goes on as {old.no + 1}-1" in again.text
    assert "Open the job" not in again.text
    assert f"piece_{old.no}_1" not in shop.get(f"/jobs/{old.no}/ready").text


def test_a_spoiled_piece_keeps_its_story_and_prints_its_record(shop: LiveShop) -> None:
    job = floor.in_the_chuck(shop, pieces=1)
    story = "It came out of the jaws <hard>."
    told = {"whom": "Marn", "said": "He has another.", "who_pays": "labour dropped", "called_at": "2031-03-04T11:50"}
    shots = (cast.a_photo(colour="red"), cast.a_photo(colour="blue"))
    answer = with_photos(shop, f"/jobs/{job.no}/1/spoiled", *shots, story=story, **told)
    assert answer.headers["location"] == f"/jobs/{job.no}/1/other-way"
    words = shop.get(f"/jobs/{job.no}/1/other-way").text
    assert "It came out of the jaws &lt;hard&gt;." in words
    piece = floor.piece(shop, job)
    assert piece.said == "spoiled, on the pick-up shelf"
    with shop.database.reading() as db:
        assert [one.what for one in photos.of_piece(db, piece.id)][1:] == ["damage", "damage"]
        assert not [one for one in questions.stops(db, job.id) if one.answered_at is None]
    record = shop.post(f"/jobs/{job.no}/1/spoiled/print").headers["location"]
    text = text_of(shop.get(record).content)
    for said in ("out of the jaws", "He has another.", "labour dropped", "26.5 lb", f"{job.no}-1"):
        assert said in text
    assert record in shop.get(f"/jobs/{job.no}/1/other-way").text


def test_a_spoiled_piece_of_which_nobody_was_told_stops_the_job(shop: LiveShop) -> None:
    job = floor.in_the_chuck(shop, pieces=1)
    refused = with_photos(shop, f"/jobs/{job.no}/1/spoiled", story="", whom="Marn <M>", called_at="noon")
    assert refused.status_code == 422
    assert 'id="f-called_at-problem"' in refused.text
    assert "Marn &lt;M&gt;" in refused.text
    with_photos(shop, f"/jobs/{job.no}/1/spoiled", story="a corner broke off")
    with shop.database.reading() as db:
        assert questions.stops(db, job.id)[0].answered_at is None
    assert shop.post(f"/jobs/{job.no}/1/settle", who_pays="").status_code == 422
    assert shop.post(f"/jobs/{job.no}/1/settle", who_pays="we pay half").status_code == 303
    assert "we pay half" in shop.get(f"/jobs/{job.no}/1/other-way").text


def test_a_piece_that_is_not_spoiled_has_no_record(shop: LiveShop) -> None:
    job = floor.in_the_chuck(shop, pieces=1)
    assert shop.post(f"/jobs/{job.no}/1/spoiled/print").status_code == 409


def test_our_own_mistake_is_put_right_free_in_a_job_tied_to_the_old(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        old = makers.finished_job(db, shop.maker, pieces=1)
    refused = shop.post(f"/jobs/{old.no}/1/put-right", reason="out <of> line")
    assert refused.status_code == 422
    assert "out &lt;of&gt; line" in refused.text
    answer = shop.post(f"/jobs/{old.no}/1/put-right", reason="out of line", whose="free")
    new = old.no + 1
    assert answer.headers["location"] == f"/jobs/{new}/in"
    with shop.database.reading() as db:
        job = jobs.by_no(db, new)
        assert quotes.of_job(db, job.id)[0].pricing.agreed_each == "0.00"
        piece = jobs.piece(db, new, 1)
        before = mishaps.puts_right(db, piece)
    assert before is not None
    assert before.number == f"{old.no}-1"
    assert f"It puts {old.no}-1 right." in floor.shown(shop.get(f"/jobs/{new}/1").text)
    assert f"Put right as {new}-1" in shop.get(f"/jobs/{old.no}/1").text
    assert "Then and now" in shop.get(f"/jobs/{old.no}/1/other-way").text


def test_a_piece_goes_back_uncut_with_its_reason(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop, pieces=1)
    assert shop.post(f"/jobs/{job.no}/1/send-back", reason="").status_code == 422
    assert shop.post(f"/jobs/{job.no}/1/send-back", reason="cracked at the hub").status_code == 303
    piece = floor.piece(shop, job)
    assert (piece.fate, piece.custody, piece.note) == ("sent_back", "shelf", "not cut: cracked at the hub")
    assert f'name="piece_{job.no}_1"' in shop.get(f"/jobs/{job.no}/ready").text


def test_a_job_that_is_called_off_keeps_its_minutes_to_bill(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    shop.post(f"/jobs/{job.no}/minutes", minutes="1", minutes_words="looked")
    assert "1 min was spent so far; it stays" in floor.shown(shop.get(f"/jobs/{job.no}/call-off").text)
    shop.post(f"/jobs/{job.no}/minutes", minutes="24", minutes_words="set up")
    assert "25 min were spent so far" in floor.shown(shop.get(f"/jobs/{job.no}/call-off").text)
    assert shop.post(f"/jobs/{job.no}/call-off", reason="").status_code == 422
    assert shop.post(f"/jobs/{job.no}/call-off", reason="found a new one").headers["location"] == f"/jobs/{job.no}"
    assert "25 min of set-up stay to be billed." in shop.get(f"/jobs/{job.no}").text
    assert [floor.piece(shop, job, n).fate for n in (1, 2)] == ["sent_back", "sent_back"]
    assert shop.get(f"/jobs/{job.no}/call-off").status_code == 409
