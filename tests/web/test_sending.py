"""Sendings by script: an answer that can be read, the hour and the hand of one that waited."""

import re
from datetime import datetime, timedelta

import httpx
import pytest
from starlette.datastructures import Headers

from shopapp.office import history, ledger, payments, people, sizes
from shopapp.papers.places import templates_dir
from shopapp.web.sending import MAY_WAIT, sent_by, waited
from tests import cast, makers
from tests.web.conftest import LiveShop
from tests.web.routes import floor

WEIGH = {"phase": "before", "reading": "26.5", "once": "k1", "keep": "weigh-1"}


def send(shop: LiveShop, path: str, headers: dict[str, str] | None = None, **fields: object) -> httpx.Response:
    told = {"Origin": shop.origin, "Shop-Sent": "script", **(headers or {})}
    return shop.client.post(path, data=fields, headers=told)


def weigh(shop: LiveShop, no: int, headers: dict[str, str] | None = None, **fields: object) -> httpx.Response:
    return send(shop, f"/jobs/{no}/1/weigh", headers, **{**WEIGH, "scale": shop.maker.scales["spring"], **fields})


def test_a_script_is_told_where_a_form_leads(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    answer = weigh(shop, job.no)
    assert answer.status_code == 204
    assert answer.headers["shop-leads-to"] == f"/jobs/{job.no}/2/weigh"
    assert "location" not in answer.headers
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert any(cookie.startswith("saved=") for cookie in answer.headers.get_list("set-cookie"))


def test_a_browser_of_its_own_is_led_on_as_ever(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    answer = floor.weigh(shop, job, reading="26.5")
    assert answer.status_code == 303
    assert "shop-leads-to" not in answer.headers


def test_sent_as_another_kind_of_body_it_is_still_the_same_sending(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    fields = {**WEIGH, "scale": str(shop.maker.scales["spring"]), "note": "hanging"}
    first = shop.client.post(f"/jobs/{job.no}/1/weigh", data=fields, headers={"Origin": shop.origin})
    parts = {name: (None, value) for name, value in fields.items()}
    told = {"Origin": shop.origin, "Shop-Sent": "script", "Shop-Waited": "90"}
    again = shop.client.post(f"/jobs/{job.no}/1/weigh", files=parts, headers=told)
    assert (first.status_code, again.status_code) == (303, 204)
    assert again.headers["shop-leads-to"] == first.headers["location"]


def test_a_sending_repeated_unchanged_is_taken_in_and_with_another_word_it_leads_nowhere(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    first = weigh(shop, job.no)
    again = [weigh(shop, job.no, {"Shop-Waited": str(n * 60)}) for n in range(1, 4)]
    assert {(one.status_code, one.headers["shop-leads-to"]) for one in (first, *again)} == {
        (204, f"/jobs/{job.no}/2/weigh")
    }
    other = weigh(shop, job.no, reading="27")
    assert (other.status_code, other.headers["shop-leads-to"]) == (409, "")
    assert "This form was taken in already" in floor.shown(other.text)
    with shop.database.reading() as db:
        assert len([line for line in history.of_job(db, job.id) if line.act == "weighed"]) == 1


@pytest.mark.parametrize(("reading", "status"), [("26.3", 422), ("", 422)])
def test_a_refusal_comes_with_its_page_and_leads_nowhere(shop: LiveShop, reading: str, status: int) -> None:
    job = floor.in_the_rack(shop)
    answer = weigh(shop, job.no, reading=reading)
    assert (answer.status_code, answer.headers["shop-leads-to"]) == (status, "")
    assert 'class="summary"' in answer.text


def test_what_another_site_sends_is_known_to_be_the_shops_refusal(shop: LiveShop) -> None:
    answer = send(shop, "/parts/new", {"Origin": "https://elsewhere.example"}, name="x")
    assert (answer.status_code, answer.headers["shop-leads-to"]) == (403, "")


def test_a_sending_that_waited_is_written_with_the_hour_at_which_it_was_pressed(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    weigh(shop, job.no, {"Shop-Waited": "7200"})
    before = floor.weights(shop, job).before
    assert before is not None
    assert before.at == shop.now - timedelta(hours=2)


@pytest.mark.parametrize(
    ("said", "span"),
    [("", 0), ("0", 0), ("61", 61), ("-5", 0), ("1.5", 0), ("soon", 0), ("99999999999", 0), ("999999999", 30 * 86400)],
)
def test_only_a_likely_span_of_waiting_is_believed(said: str, span: int) -> None:
    assert waited(Headers({"shop-waited": said})) == timedelta(seconds=span)


def test_what_waited_says_in_the_day_book_that_it_was_entered_late(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    weigh(shop, job.no, {"Shop-Waited": "7200"})
    weigh(shop, job.no, {"Shop-Waited": "59"}, once="k2", phase="between", note="hung again")
    with shop.database.reading() as db:
        lines = [(line.at, line.entered_at) for line in history.of_job(db, job.id) if "26.5" in line.words]
    assert lines[-1] == (shop.now - timedelta(hours=2), shop.now)
    assert [entered for _, entered in lines[:-1]] == [None] * (len(lines) - 1)
    assert "entered late, 4 Mar 2031, 12:00" in shop.get(f"/jobs/{job.no}").text


def test_money_is_of_the_day_on_which_it_is_taken_in_whatever_a_header_says(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.ready_job(db, shop.maker)
    old = {"Shop-Waited": str(20 * 86400), "Shop-By": "MB"}
    told = {"line_0_words": "work", "line_0_quantity": "1", "line_0_price": "70", "piece_1": "yes", "piece_2": "yes"}
    assert send(shop, f"/jobs/{job.no}/bill", old, **told).status_code == 204
    assert send(shop, f"/jobs/{job.no}/pay", old, amount="10", how="cash").status_code == 204
    with shop.database.reading() as db:
        (bill,) = ledger.of_job(db, job.id)
        (paid,) = payments.of_job(db, job.id)
        assert (bill.issued_on, paid.paid_on) == (cast.TODAY, cast.TODAY)
        assert {line.initials for line in history.of_job(db, job.id) if line.act in ("billed", "paid")} == {"WK"}


def test_only_the_forms_that_are_kept_in_the_browser_may_say_how_long_they_waited() -> None:
    begun = re.compile(r"form_start\(url\(\"([\w.]+)\"(?:(?!\}\}).)*?\blater=", re.S)
    marked = {name for file in templates_dir().rglob("*.html") for name in begun.findall(file.read_text())}
    assert marked == MAY_WAIT


def test_a_sending_that_waited_is_by_the_hand_that_pressed(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        people.add(db, initials="ÅØ", name="Åse Ørn", now=shop.now, by=shop.by)
    job = floor.in_the_rack(shop)
    weigh(shop, job.no, {"Shop-By": "%C3%85%C3%98"})
    before = floor.weights(shop, job).before
    assert before is not None
    assert before.initials == "ÅØ"
    assert sent_by(Headers({})) == ""


def test_a_page_read_ahead_eats_no_notice(shop: LiveShop) -> None:
    shop.client.cookies.set("notice", "Look%20again.")
    assert "Look again." not in shop.client.get("/", headers={"Shop-Ahead": "yes"}).text
    assert "Look again." in shop.client.get("/").text


@pytest.fixture
def meanwhile(shop: LiveShop) -> tuple[int, int]:
    """A job, and the line of its first piece after which OT wrote a size."""
    job = floor.in_the_rack(shop)
    piece_id = floor.piece(shop, job).id
    with shop.database.writing() as db:
        seen = history.newest_of_piece(db, piece_id)
        other = people.add(db, **cast.SECOND, now=shop.now, by=shop.by)
        measure(db, piece_id, shop.now, other)
    return job.no, seen


def measure(db: object, piece_id: int, now: datetime, by: int) -> None:
    told = {"name": "web", "typed": "1.5", "unit": "in", "instrument": "caliper"}
    sizes.measure(db, piece_id=piece_id, **told, now=now, by=by)  # type: ignore[arg-type]


def test_a_form_that_has_not_seen_what_another_wrote_is_told_so_once(
    shop: LiveShop, meanwhile: tuple[int, int]
) -> None:
    no, seen = meanwhile
    answer = shop.post(f"/jobs/{no}/1/weigh", **WEIGH, scale=shop.maker.scales["spring"], seen=seen)
    assert answer.status_code == 409
    words = floor.shown(answer.text)
    assert "OT at 4 Mar 2031, 12:00: web 1.5" in words
    assert "Send it all the same" in words
    assert 'name="reading" value="26.5"' in answer.text
    newest = answer.text.split('name="seen" value="')[1].split('"')[0]
    assert int(newest) > seen
    again = shop.post(f"/jobs/{no}/1/weigh", **WEIGH, scale=shop.maker.scales["spring"], seen=newest)
    assert again.status_code == 303


@pytest.mark.parametrize(
    ("way", "fields"),
    [
        ("move", {"to": "chuck", "reason": "cracked"}),
        ("sizes", {"size_name": "bore", "size": "2", "unit": "in", "instrument": "caliper"}),
        ("take-in", {"sign": "1", "goes_to": "machine"}),
    ],
)
def test_every_form_of_a_piece_is_told(
    shop: LiveShop, meanwhile: tuple[int, int], way: str, fields: dict[str, str]
) -> None:
    no, seen = meanwhile
    answer = shop.post(f"/jobs/{no}/1/{way}", **fields, seen=seen)
    assert answer.status_code == 409
    assert "Send it all the same" in answer.text
    assert all(f'value="{value}"' in answer.text for value in fields.values() if value != "in")


@pytest.mark.parametrize("seen", ["", "none", "-1", "9" * 30])
def test_a_form_that_says_nothing_of_what_it_saw_is_taken_in(
    shop: LiveShop, meanwhile: tuple[int, int], seen: str
) -> None:
    no, _ = meanwhile
    answer = shop.post(f"/jobs/{no}/1/weigh", **WEIGH, scale=shop.maker.scales["spring"], seen=seen)
    assert answer.status_code == 303


def test_what_one_has_written_oneself_is_no_news(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    piece_id = floor.piece(shop, job).id
    with shop.database.writing() as db:
        seen = history.newest_of_piece(db, piece_id)
        measure(db, piece_id, shop.now, shop.by)
        assert history.of_piece_since(db, piece_id, seen, but_by=shop.by) == []
        assert len(history.of_piece_since(db, piece_id, seen, but_by=0)) == 1
    answer = shop.post(f"/jobs/{job.no}/1/weigh", **WEIGH, scale=shop.maker.scales["spring"], seen=seen)
    assert answer.status_code == 303


def test_a_piece_without_a_line_has_none_to_be_seen(shop: LiveShop) -> None:
    with shop.database.reading() as db:
        assert history.newest_of_piece(db, 10_000) == 0
