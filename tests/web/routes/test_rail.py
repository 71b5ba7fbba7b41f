"""The rail, in order of promised day, and what stands below it."""

import re
from datetime import timedelta

from shopapp.office import invoices, questions
from tests import cast, makers
from tests.web.conftest import LiveShop
from tests.web.routes import floor


def test_a_shop_without_a_book_is_led_to_its_first_page(new_shop: LiveShop) -> None:
    answer = new_shop.get("/")
    assert answer.status_code == 303
    assert answer.headers["location"] == "/first"


def test_an_empty_rail_says_what_to_do_first(shop: LiveShop) -> None:
    page = shop.get("/")
    assert page.status_code == 200
    assert 'href="/ask"' in page.text
    assert 'href="/parts/new"' in page.text


def test_once_parts_are_entered_an_empty_rail_waits_for_a_call(shop: LiveShop) -> None:
    at = shop.maker
    with shop.database.writing() as db:
        makers.make_part(db, at)
    assert "The next call begins a job." in shop.get("/").text


def test_tickets_hang_in_order_of_promised_day_and_those_without_a_day_last(shop: LiveShop) -> None:
    at = shop.maker
    with shop.database.writing() as db:
        mill = makers.make_customer(db, at)
        for title, days in (("last", None), ("second", 5), ("first", 1)):
            day = cast.TODAY + timedelta(days=days) if days else None
            makers.make_job(db, at, customer_id=mill, title=title, promised_on=day)
    assert re.findall(r'<p class="ticket-what">(\w+)', shop.get("/").text) == ["first", "second", "last"]


def test_a_ticket_shows_customer_rings_and_weights(shop: LiveShop) -> None:
    at = shop.maker
    with shop.database.writing() as db:
        makers.finished_job(db, at)
    words = floor.shown(shop.get("/").text)
    for part in ("Cobbet Cider Mill", "skim press plates", "2 checked", "3.5 lb, 3.5 lb off"):
        assert part in words


def test_a_stopped_job_has_its_corner_and_its_age(shop: LiveShop) -> None:
    at = shop.maker
    job = floor.expected(shop)
    with shop.database.writing() as db:
        questions.stop(db, job_id=job.id, waits_for="customer", question="Cracked. Go on?", **at.at())
    shop.later(days=4)
    page = shop.get("/").text
    assert "ticket--stopped" in page
    assert "stopped 4 days, waiting on the customer" in page


def test_what_is_ready_wants_a_call_and_a_bill(shop: LiveShop) -> None:
    at = shop.maker
    with shop.database.writing() as db:
        job = makers.ready_job(db, at)
    page = shop.get("/").text
    assert 'href="tel:555-0311"' in page
    assert "ready, 2 on the shelf" in page
    assert "2 of 2 not billed" in page
    assert page.count(f'href="/jobs/{job.no}"') == 3


def test_what_lies_too_long_is_left_behind_with_its_days(shop: LiveShop) -> None:
    at = shop.maker
    with shop.database.writing() as db:
        makers.ready_job(db, at)
    shop.later(days=41)
    assert "41 days" in floor.shown(shop.get("/").text)


def test_a_hostile_name_stays_text(shop: LiveShop) -> None:
    at = shop.maker
    with shop.database.writing() as db:
        mill = makers.make_customer(db, at, name="<script>alert(1)</script>")
        makers.make_job(db, at, customer_id=mill, title="<b onload=x>")
    page = shop.get("/").text
    assert "<script>alert" not in page
    assert "&lt;b onload=x&gt;" in page


def test_from_the_rail_a_call_is_written_pieces_leave_and_money_comes_in(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.ready_job(db, shop.maker)
    page = shop.get("/").text
    assert f'href="/jobs/{job.no}/ready#give"' in page
    assert f'action="/jobs/{job.no}/calls"' in page
    assert 'href="/calls"' in page
    assert f'href="/jobs/{job.no}/pay"' not in page
    shop.post(f"/jobs/{job.no}/calls", outcome="told", **{"from": "rail.page"})
    with shop.database.writing() as db:
        invoices.issue(db, job_id=job.id, lines=invoices.draft_lines(db, job.id, now=shop.now), **shop.maker.at())
    page = shop.get("/").text
    assert f'action="/jobs/{job.no}/calls"' not in page
    assert f'href="/jobs/{job.no}/pay"' in page


def test_rush_is_said_once_on_a_ticket(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        makers.make_job(db, shop.maker, title="coupling half, Rush", rush=True)
        makers.make_job(db, shop.maker, title="skim plates", rush=True)
    words = floor.shown(shop.get("/").text)
    assert "coupling half, Rush 2 expected" in words
    assert "skim plates rush 2 expected" in words
