"""Photos by the form: kept small, added and never replaced, served under a number for ever."""

import io
from typing import Any

import httpx
import pytest
from PIL import Image

from shopapp.office import parts, photos
from tests import cast
from tests.web.conftest import LiveShop
from tests.web.routes import floor


def send(shop: LiveShop, path: str, *raw: bytes, **typed: Any) -> httpx.Response:
    files = [("photo", ("image.jpg", one, "image/jpeg")) for one in raw] or [("photo", ("", b"", "image/jpeg"))]
    return shop.client.post(path, data=typed, files=files, headers={"Origin": shop.origin})


def test_a_photo_is_kept_shown_and_served_for_ever(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop, pieces=1)
    raw = cast.a_photo(wide=1600, high=1200, colour="navy")
    answer = send(shop, f"/jobs/{job.no}/1/photos", raw, what="damage", words="crack <at> the rim")
    assert answer.headers["location"] == f"/jobs/{job.no}/1#photos"
    page = shop.get(f"/jobs/{job.no}/1").text
    assert 'alt="crack &lt;at&gt; the rim"' in page
    whole, small = shop.get("/photos/2.jpg"), shop.get("/photos/2/small.jpg")
    assert whole.headers["content-type"] == small.headers["content-type"] == "image/jpeg"
    assert "immutable" in whole.headers["cache-control"]
    assert Image.open(io.BytesIO(whole.content)).size == (1600, 1200)
    assert Image.open(io.BytesIO(small.content)).size == (360, 270)
    assert whole.headers["etag"] != small.headers["etag"]
    again = shop.client.get("/photos/2.jpg", headers={"If-None-Match": whole.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")


def test_a_second_photo_stands_beside_the_first(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop, pieces=1)
    first = shop.get("/photos/1.jpg").content
    send(shop, f"/jobs/{job.no}/1/photos", cast.a_photo(colour="red"), cast.a_photo(colour="blue"), what="intake")
    with shop.database.reading() as db:
        assert len(photos.of_piece(db, floor.piece(shop, job).id)) == 3
    assert shop.get("/photos/1.jpg").content == first


def test_another_photo_under_a_form_that_was_taken_in_is_asked_about(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop, pieces=1)
    answers = [
        send(shop, f"/jobs/{job.no}/1/photos", cast.a_photo(colour=colour), what="intake", once="p")
        for colour in ("red", "red", "blue")
    ]
    assert [answer.status_code for answer in answers] == [303, 303, 409]
    assert "This form was taken in already" in answers[-1].text
    with shop.database.reading() as db:
        assert len(photos.of_piece(db, floor.piece(shop, job).id)) == 2


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "No photo came along."),
        (b"GIF89a" + b"\0" * 60, "This is no photo that can be read."),
        (cast.a_photo(wide=900, high=700)[:4000], "did not come through whole"),
    ],
)
def test_what_is_no_photo_is_told_and_the_words_stay(shop: LiveShop, raw: bytes, said: str) -> None:
    job = floor.in_the_rack(shop, pieces=1)
    answer = send(shop, f"/jobs/{job.no}/1/photos", *([raw] if raw else []), what="damage", words="left <edge>")
    assert answer.status_code == 422
    assert said in answer.text
    assert "left &lt;edge&gt;" in answer.text


def test_what_it_shows_is_said(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop, pieces=1)
    answer = send(shop, f"/jobs/{job.no}/1/photos", cast.PHOTO, what="sign")
    assert answer.status_code == 422
    assert "Say what the photo shows." in answer.text


def test_the_back_of_the_paper_ticket_belongs_to_the_job(shop: LiveShop) -> None:
    job = floor.expected(shop)
    answer = send(shop, f"/jobs/{job.no}/photos", cast.PHOTO, what="paper_back")
    assert answer.headers["location"] == f"/jobs/{job.no}/in#papers"
    assert "back of the paper ticket" in shop.get(f"/jobs/{job.no}/in").text
    assert send(shop, f"/jobs/{job.no}/photos", what="paper_back").status_code == 422


def test_a_sign_shows_its_photo_where_it_is_looked_for(shop: LiveShop) -> None:
    job = floor.expected(shop, pieces=1)
    with shop.database.reading() as db:
        variant = parts.all_variants(db)[0]
    sign = variant.signs[0].id
    path = f"/variants/{variant.id}/signs/{sign}/photos"
    assert send(shop, path, cast.PHOTO, words="flat").headers["location"] == f"/variants/{variant.id}#signs"
    for page in (f"/jobs/{job.no}/in", f"/jobs/{job.no}/1", f"/variants/{variant.id}"):
        assert "/photos/1/small.jpg" in shop.get(page).text
    assert send(shop, f"/variants/{variant.id}/signs/999/photos", cast.PHOTO).status_code == 404
    assert send(shop, path).status_code == 422


def test_a_photo_that_is_not_there_is_not_found(shop: LiveShop) -> None:
    assert shop.get("/photos/99.jpg").status_code == 404
