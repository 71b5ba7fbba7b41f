"""Photos by the form: kept small, added and never replaced, served under a number for ever."""

import html
import io
import re
import threading
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import httpx
import pytest
from PIL import Image

from shopapp.office import chuck, parts, photos
from shopapp.office.jobs import JobFacts
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


def paths_of(shop: LiveShop, cut: JobFacts) -> dict[str, tuple[str, str, dict[str, Any]]]:
    """Every form that takes a photo: its path, the field of the photo, what is typed beside it."""
    with shop.database.writing() as db:
        variant = parts.all_variants(db)[0]
        holds = {(one.variant_id, side): "turned outside" for one in chuck.sides(db, cut.id) for side in one.sides}
        chuck.plan(db, job_id=cut.id, holds=holds, **shop.maker.at())
    sign, cold = variant.signs[0].id, floor.expected(shop, pieces=1)
    seen = {"sign_1": str(sign), "goes_to_1": "shelf"}
    return {
        "piece": (f"/jobs/{cut.no}/1/photos", "photo", {"what": "damage", "words": "left <edge>"}),
        "job": (f"/jobs/{cut.no}/photos", "photo", {"what": "paper_back"}),
        "sign": (f"/variants/{variant.id}/signs/{sign}/photos", "photo", {"words": "flat"}),
        "question": (f"/jobs/{cut.no}/stop", "photo", {"waits_for": "customer", "question": "13 <mm>?"}),
        "taken in": (f"/jobs/{cold.no}/in", "front_1", {**seen, "note_1": "oily <rim>"}),
        "damage": (f"/jobs/{cold.no}/in", "damage_1", {**seen, "damage_words_1": "a <nick>"}),
        "trouble": (f"/jobs/{cut.no}/run/1/trouble", "photo", {"piece": "1", "words": "it <sings>"}),
        "finished": (f"/jobs/{cut.no}/1/finish", "photo", {"unit": "in", "size_0": "9 <in>"}),
        "spoiled": (f"/jobs/{cut.no}/1/spoiled", "photo", {"story": "the jaw <slipped>"}),
    }  # fmt: skip


OF_ANOTHER_PAGE = ("job", "sign")
"""Their forms have no field but the photo; they stand on pages that are not theirs, so the refusal is a page."""
EVERY = ("piece", "job", "sign", "question", "taken in", "damage", "trouble", "finished", "spoiled")


@pytest.mark.parametrize("which", EVERY)
def test_while_a_photo_is_made_small_another_writes(
    shop: LiveShop, monkeypatch: pytest.MonkeyPatch, which: str
) -> None:
    path, name, typed = paths_of(shop, floor.in_the_chuck(shop, pieces=1))[which]
    begun, written, real = threading.Event(), threading.Event(), photos.made_small

    def slowly(raw: bytes) -> photos.Kept:
        begun.set()
        assert written.wait(30), "nobody could write while this photo was being made small"
        return real(raw)

    monkeypatch.setattr(photos, "made_small", slowly)
    with ThreadPoolExecutor(1) as pool, httpx.Client(base_url=shop.origin, cookies={"who": "WK"}) as other:
        kept = pool.submit(
            shop.client.post, path, data={**typed, "size_0": ""}, files={name: ("a.jpg", cast.PHOTO)},
            headers={"Origin": shop.origin},
        )  # fmt: skip
        assert begun.wait(30)
        assert other.post("/parts/new", data={"name": "drum"}, headers={"Origin": shop.origin}).status_code == 303
        written.set()
        assert kept.result().status_code == 303
    with shop.database.reading() as db:
        assert db.connection().exec_driver_sql("SELECT count(*) FROM photo").scalar() == 2


@pytest.mark.parametrize("which", EVERY)
def test_a_wrong_photo_is_told_beside_its_field_and_nothing_typed_is_lost(shop: LiveShop, which: str) -> None:
    path, name, typed = paths_of(shop, floor.in_the_chuck(shop, pieces=1))[which]
    answer = shop.client.post(
        path, data=typed, files={name: ("a.gif", b"GIF89a" + bytes(60))}, headers={"Origin": shop.origin}
    )
    assert answer.status_code == 422
    assert "This is no photo that can be read." in answer.text
    if which not in OF_ANOTHER_PAGE:
        assert re.search(rf'id="f-{name}-problem"[^>]*>This is no photo', answer.text)
        assert all(html.escape(words) in answer.text for words in typed.values() if "<" in words)
