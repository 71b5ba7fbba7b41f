"""Customers: found, entered with a name and a phone, and all that hangs on one."""

import html
import re

from shopapp.office import customers, invoices, payments, shelf
from tests import cast, makers
from tests.web.conftest import LiveShop
from tests.web.routes.floor import shown

ENOUGH = {
    "name": "Whinstone Quarry", "phone": "555 0322", "bill_when": "ready", "order_number": "none", "terms_days": "0",
}  # fmt: skip


def make_customer(shop: LiveShop, **told: object) -> int:
    with shop.database.writing() as db:
        return makers.make_customer(db, shop.maker, **told)


def test_a_name_and_a_phone_are_enough(shop: LiveShop) -> None:
    answer = shop.post("/customers/new", **ENOUGH)
    assert answer.status_code == 303
    page = shop.get(answer.headers["location"]).text
    assert "Whinstone Quarry" in page
    assert "No job yet" in page
    assert "/ask?customer=" in page


def test_the_rest_is_kept_as_well(shop: LiveShop) -> None:
    told = {"terms_days": "45", "order_number": "required", "deposit_percent": "40", "address": "Pit Lane 1"}
    page = shop.get(shop.post("/customers/new", **{**ENOUGH, **told}).headers["location"]).text
    for words in ("account, 45 days", "no bill without one", "40 %", "Pit Lane 1"):
        assert words in page


def test_without_a_phone_the_typed_text_comes_back(shop: LiveShop) -> None:
    answer = shop.post("/customers/new", **{**ENOUGH, "phone": "", "name": "<script>x</script>"})
    assert answer.status_code == 422
    assert "Write a phone number" in answer.text
    assert "&lt;script&gt;x&lt;/script&gt;" in answer.text
    assert "<script>x" not in answer.text


def test_odd_terms_are_asked_about_beside_their_fields(shop: LiveShop) -> None:
    answer = shop.post("/customers/new", **{**ENOUGH, "terms_days": "soon", "deposit_percent": "much"})
    assert answer.status_code == 422
    assert 'id="f-terms_days-problem"' in answer.text
    answer = shop.post("/customers/new", **{**ENOUGH, "deposit_percent": "much"})
    assert 'id="f-deposit_percent-problem"' in answer.text


def test_sent_twice_is_entered_once(shop: LiveShop) -> None:
    places = {shop.post("/customers/new", **ENOUGH, once="c-1").headers["location"] for _ in range(2)}
    assert len(places) == 1
    with shop.database.reading() as db:
        assert len(customers.listing(db)) == 1


def test_the_list_finds_without_accents_or_case(shop: LiveShop) -> None:
    make_customer(shop, name="Café Übermühle", phone="555-0399")
    make_customer(shop)
    page = shop.get("/customers", like="uberm").text
    assert "Café Übermühle" in page
    assert "Cobbet Cider Mill" not in page
    assert "Nobody of that name" in shop.get("/customers", like="zzz").text


def test_an_empty_book_says_what_to_do(shop: LiveShop) -> None:
    assert "A name and a phone are enough" in shop.get("/customers").text


def test_a_long_list_is_turned_page_by_page(shop: LiveShop) -> None:
    for n in range(55):
        make_customer(shop, name=f"Mill {n:02}", contact="", phone=f"555-1{n:03}")
    first = shop.get("/customers").text
    assert "Mill 49" in first
    assert "Mill 50" not in first
    (way,) = re.findall(r'href="(/customers\?[^"]*after=[^"]+)"', first)
    rest = shop.get(html.unescape(way)).text
    assert "Mill 50" in rest
    assert "Mill 49" not in rest


def test_a_customer_shows_jobs_bills_and_what_is_owed(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.ready_job(db, shop.maker)
        lines = invoices.draft_lines(db, job.id, now=shop.now)
        number = invoices.issue(db, job_id=job.id, lines=lines, now=shop.now, by=shop.by)
    page = shop.get(f"/customers/{job.customer_id}").text
    assert f'href="/jobs/{job.no}"' in page
    assert "skim press plates" in page
    assert f'href="/invoices/{number}"' in page
    # 40 + 10 + 2 x 10 min at $60.00 an hour are $70.00, and 5 % tax on it.
    assert page.count("$73.50") >= 3


def test_what_a_customer_owes_shows_its_working_with_its_source(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.ready_job(db, shop.maker)
    assert "show the working" not in shop.get(f"/customers/{job.customer_id}").text
    with shop.database.writing() as db:
        lines = invoices.draft_lines(db, job.id, now=shop.now)
        invoices.issue(db, job_id=job.id, lines=lines, now=shop.now, by=shop.by)
    fold = shown(shop.get(f"/customers/{job.customer_id}").text.partition("show the working")[2])
    # 70 min at $60.00 an hour and 5 % tax, due on the same day.
    assert "owes $73.50" in fold
    assert "not yet due $73.50 1 to 30 days $0.00" in fold
    assert "Common practice, no source" in fold


def test_a_customer_is_written_over(shop: LiveShop) -> None:
    customer_id = make_customer(shop)
    told = {**ENOUGH, "name": "Cobbet's Mill", "phone": "555-0999"}
    assert shop.post(f"/customers/{customer_id}", **told).status_code == 303
    assert "Cobbet&#39;s Mill" in shop.get(f"/customers/{customer_id}").text


def test_a_refused_change_keeps_the_form_open_with_its_words(shop: LiveShop) -> None:
    customer_id = make_customer(shop)
    answer = shop.post(f"/customers/{customer_id}", **{**ENOUGH, "name": "", "note": "calls at six"})
    assert answer.status_code == 422
    assert "calls at six" in answer.text
    assert "Write the customer&#39;s name" in answer.text


def test_a_certificate_is_added_and_one_that_ran_out_says_so(shop: LiveShop) -> None:
    customer_id = make_customer(shop)
    told = {"number": "EX-77", "issuer": "the county"}
    path = f"/customers/{customer_id}/tax-papers"
    assert shop.post(path, **told, valid_from="2030-01-01", valid_to="2031-03-03").status_code == 303
    assert "3 Mar 2031, ran out" in " ".join(shop.get(f"/customers/{customer_id}").text.split())
    assert shop.post(path, **told, valid_from="2031-01-01", valid_to=str(cast.TODAY)).status_code == 303
    assert shop.get(f"/customers/{customer_id}").text.count("ran out") == 1


def test_a_certificate_that_ends_before_it_begins_is_asked_about(shop: LiveShop) -> None:
    path = f"/customers/{make_customer(shop)}/tax-papers"
    answer = shop.post(path, number="EX-78", issuer="", valid_from="2031-01-01", valid_to="2030-01-01")
    assert answer.status_code == 422
    assert "ends before it begins" in answer.text
    assert 'value="EX-78"' in answer.text


def test_a_customer_who_is_not_in_the_book_is_told_so(shop: LiveShop) -> None:
    assert shop.get("/customers/99").status_code == 404
    assert shop.post("/customers/99", **ENOUGH).status_code == 404


def test_country_and_tax_number_are_kept(shop: LiveShop) -> None:
    customer_id = make_customer(shop)
    assert shop.post(f"/customers/{customer_id}", **ENOUGH, country="de", tax_id="DE 123").status_code == 303
    with shop.database.reading() as db:
        facts = customers.one(db, customer_id)
    assert (facts.country, facts.tax_id) == ("DE", "DE 123")
    answer = shop.post(f"/customers/{customer_id}", **ENOUGH, country="Germany")
    assert answer.status_code == 422
    assert 'id="f-country-problem"' in answer.text


def test_what_lies_on_their_shelf_is_used_and_another_is_offered(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.ready_job(db, shop.maker)
        piece = makers.pieces_of(db, job)[0]
        shelf.put(db, piece_id=piece.id, **shop.maker.at())
    path = f"/customers/{job.customer_id}"
    assert "Used one" in shop.get(path).text
    for _ in range(2):
        answer = shop.post(f"{path}/shelf/{piece.variant_id}/used", once="u-1")
        assert answer.headers["location"] == f"{path}#shelf"
    page = shop.get(path).text
    assert "Used one" not in page
    assert "press plate, plain: -1, used one" in page
    slip = shop.get(f"/ask?customer={job.customer_id}&count=1&variant_0={piece.variant_id}&goes_to_0=shelf").text
    assert f"/ask?customer={job.customer_id}&amp;count=1&amp;variant_0={piece.variant_id}" in page
    assert f'<option value="{piece.variant_id}" selected>' in slip
    assert shop.post(f"{path}/shelf/{piece.variant_id}/used").status_code == 409


def test_using_one_tells_how_many_are_left(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.ready_job(db, shop.maker)
        for piece in makers.pieces_of(db, job):
            shelf.put(db, piece_id=piece.id, **shop.maker.at())
    shop.post(f"/customers/{job.customer_id}/shelf/{piece.variant_id}/used")
    page = shop.get(f"/customers/{job.customer_id}").text
    assert f"1 left on their shelf. Order another, like job {job.no}?" in page


def test_the_tally_is_put_right_with_a_reason(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.ready_job(db, shop.maker)
        piece = makers.pieces_of(db, job)[0]
        shelf.put(db, piece_id=piece.id, **shop.maker.at())
    path = f"/customers/{job.customer_id}/shelf/{piece.variant_id}/count"
    for typed, field in (({"count": "3"}, "words"), ({"count": "some", "words": "Marn"}, "count")):
        answer = shop.post(path, shelf=str(piece.variant_id), **typed)
        assert answer.status_code == 422
        assert f'id="f-{field}-problem"' in answer.text
    assert shop.post(path, count="3", words="Marn counted").status_code == 303
    assert "press plate, plain: +2, Marn counted" in shop.get(f"/customers/{job.customer_id}").text


def test_money_that_was_left_over_stands_beside_what_they_owe(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.ready_job(db, shop.maker)
        lines = invoices.draft_lines(db, job.id, now=shop.now)
        number = invoices.issue(db, job_id=job.id, lines=lines, now=shop.now, by=shop.by)
        payments.pay(db, job_id=job.id, amount="80", how="cash", invoice_no=number, **shop.maker.at())
    page = shop.get(f"/customers/{job.customer_id}").text
    assert "owes nothing" in page
    # 80.00 came in on a bill of 73.50.
    assert "their credit" in page
    assert "$6.50" in page


def test_the_statement_is_one_tap_from_the_customer(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        customer_id = makers.make_customer(db, shop.maker)
    assert f'href="/customers/{customer_id}/statement"' in shop.get(f"/customers/{customer_id}").text
