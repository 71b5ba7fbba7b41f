"""The shop book: begun on one page, then added to row by row."""

import re
from datetime import timedelta

from shopapp.office import people, shopbook
from tests import cast, makers
from tests.web.conftest import LiveShop

FIRST = {
    "name": "Sluice Gate Turning", "initials": "ab", "person": "Ada Brill", "phone": "555-0399", "place": "Mill Row 2",
    "unit": "mm", "currency": "€", "zone": "Europe/Berlin", "tax": "19", "rate": "74.50", "scale": "bench",
    "scale_unit": "kg", "division": "0.05", "capacity": "30", "not_done": "balancing\nwelding", "once": "first-1",
}  # fmt: skip


def test_an_empty_book_leads_to_its_first_page(new_shop: LiveShop) -> None:
    answer = new_shop.get("/customers")
    assert answer.status_code == 303
    assert answer.headers["location"] == "/first"
    page = new_shop.get("/first")
    assert page.status_code == 200
    assert "Begin the book" in page.text


def test_one_page_begins_the_book_and_says_who_you_are(new_shop: LiveShop) -> None:
    answer = new_shop.post("/first", **FIRST)
    assert answer.status_code == 303
    assert answer.headers["location"] == "/"
    assert new_shop.client.cookies["who"] == "AB"
    with new_shop.database.reading() as db:
        facts = shopbook.the_shop(db)
        today = facts.today(new_shop.now)
        assert (facts.name, facts.unit, facts.paper, facts.currency) == ("Sluice Gate Turning", "mm", "A4", "€")
        assert facts.not_done_lines() == ("balancing", "welding")
        assert [(row.valid_from, row.value) for row in shopbook.rates(db)] == [(today, 7450)]
        assert [(row.valid_from, row.value) for row in shopbook.taxes(db)] == [(today, "19")]
        assert [scale.division for scale in shopbook.scales(db)] == ["0.05"]
        assert [hand.name for hand in people.everyone(db)] == ["Ada Brill"]


def test_the_scale_can_wait(new_shop: LiveShop) -> None:
    answer = new_shop.post("/first", **{**FIRST, "scale": "", "division": "", "capacity": ""})
    assert answer.status_code == 303
    with new_shop.database.reading() as db:
        assert shopbook.scales(db) == []


def test_begun_twice_is_begun_once(new_shop: LiveShop) -> None:
    first, second = (new_shop.post("/first", **FIRST) for _ in range(2))
    assert (first.headers["location"], second.headers["location"]) == ("/", "/")
    assert new_shop.post("/first", **{**FIRST, "once": "other"}).headers["location"] == "/who"
    with new_shop.database.reading() as db:
        assert len(people.everyone(db)) == 1


def test_a_refused_beginning_writes_nothing_and_keeps_every_word(new_shop: LiveShop) -> None:
    answer = new_shop.post("/first", **{**FIRST, "zone": "Atlantis/Deep", "name": "Gate & <i>Sons</i>"})
    assert answer.status_code == 422
    assert "Write the zone as Area/City" in answer.text
    assert "Gate &amp; &lt;i&gt;Sons&lt;/i&gt;" in answer.text
    for typed in ("Ada Brill", "Mill Row 2", "74.50", "Atlantis/Deep", "balancing\nwelding"):
        assert typed in answer.text
    with new_shop.database.reading() as db:
        assert shopbook.shop(db) is None
        assert people.everyone(db) == []


def test_all_that_is_missing_is_asked_for_at_once(new_shop: LiveShop) -> None:
    answer = new_shop.post("/first", **{**FIRST, "name": "", "person": "", "initials": "", "rate": ""})
    assert answer.status_code == 422
    assert "4 things to put right" in answer.text


def test_a_scale_that_carries_less_than_its_division_is_asked_about(new_shop: LiveShop) -> None:
    answer = new_shop.post("/first", **{**FIRST, "capacity": "0.01"})
    assert answer.status_code == 422
    assert "carries more than one of its divisions" in answer.text


def test_the_book_shows_what_stands_in_it(shop: LiveShop) -> None:
    page = shop.get("/book").text
    for words in ("Brackwater Lathe Works", "$60.00", "5 %", "spring", "Wilma Kerf", "40.00"):
        assert words in page


def test_the_shops_facts_are_written_over(shop: LiveShop) -> None:
    told = {"unit": "in", "paper": "A4", "zone": cast.ZONE, "currency": "£", "minimum": "45", "rush_percent": "35"}
    answer = shop.post("/book/shop", name="Brackwater & Co", quote_days="14", left_behind_days="20", **told)
    assert answer.status_code == 303
    page = shop.get("/book").text
    assert "Brackwater &amp; Co" in page
    assert "£60.00" in page
    with shop.database.reading() as db:
        facts = shopbook.the_shop(db)
    assert (facts.minimum_cents, facts.rush_percent, facts.quote_days, facts.paper) == (4500, "35", 14, "A4")


def test_facts_that_cannot_be_come_back_with_their_words(shop: LiveShop) -> None:
    answer = shop.post("/book/shop", name=" ", unit="ell", paper="A4", zone=cast.ZONE, currency="$", owner="O'Brack")
    assert answer.status_code == 422
    assert "Inches or millimetres? Choose one." in answer.text
    assert "O&#39;Brack" in answer.text


def test_a_dated_rate_is_added_and_the_old_one_stays(shop: LiveShop) -> None:
    begins = cast.TODAY + timedelta(days=30)
    assert shop.post("/book/rates", rate="66.50", rate_from=str(begins)).status_code == 303
    with shop.database.reading() as db:
        assert shopbook.rate_on(db, cast.TODAY) == 6000
        assert shopbook.rate_on(db, begins) == 6650


def test_a_rate_sent_twice_is_added_once(shop: LiveShop) -> None:
    for _ in range(2):
        assert shop.post("/book/rates", rate="66.50", rate_from="2031-06-01", once="rate-1").status_code == 303
    with shop.database.reading() as db:
        assert len(shopbook.rates(db)) == 2


def test_a_rate_from_a_day_that_has_one_puts_it_right_and_the_old_one_is_struck_through(shop: LiveShop) -> None:
    assert "superseded" not in shop.get("/book").text
    assert shop.post("/book/rates", rate="61", rate_from="2030-01-01").status_code == 303
    assert shop.post("/book/taxes", tax="7", tax_from="2030-01-01").status_code == 303
    page = shop.get("/book").text
    assert page.count("superseded") == 2
    assert re.findall(r'class="n struck"[^>]*>(?:<[^>]*>)*([^<]+)', page) == ["$60.00", "5 %"]
    with shop.database.reading() as db:
        assert (shopbook.rate_on(db, cast.TODAY), shopbook.tax_on(db, cast.TODAY)) == (6100, "7")


def test_a_rate_with_its_point_left_out_is_asked_about_and_taken_in_when_it_is_meant(shop: LiveShop) -> None:
    typed = {"rate": "8600", "rate_from": "2031-04-01"}
    assert "It is meant so" not in shop.get("/book").text
    asked = shop.post("/book/rates", **typed)
    assert asked.status_code == 422
    assert "An hour was 60.00 before, and would now be 8,600.00." in asked.text
    assert 'value="8600"' in asked.text
    assert "It is meant so" in asked.text
    assert shop.post("/book/rates", **typed, rate_sure="yes").status_code == 303


def test_a_tax_of_more_than_the_whole_is_refused_beside_its_field(shop: LiveShop) -> None:
    answer = shop.post("/book/taxes", tax="150", tax_from="2031-04-01")
    assert answer.status_code == 422
    assert 'id="f-tax-problem"' in answer.text
    assert "From 0 to 100 %" in answer.text
    assert 'value="150"' in answer.text


def test_a_tax_needs_a_day_and_a_figure(shop: LiveShop) -> None:
    assert shop.post("/book/taxes", tax="7", tax_from="2031-07-01").status_code == 303
    answer = shop.post("/book/taxes", tax="seven", tax_from="soon")
    assert answer.status_code == 422
    assert "Write the day as year-month-day" in answer.text
    assert 'value="seven"' in answer.text


def test_a_scale_is_added_with_its_division(shop: LiveShop) -> None:
    told = {"scale": "letter", "scale_unit": "g", "division": "1", "capacity": "2000"}
    assert shop.post("/book/scales", **told).status_code == 303
    assert "letter" in shop.get("/book").text
    answer = shop.post("/book/scales", **told, once="again")
    assert answer.status_code == 422
    assert "A scale of that name is in the book" in answer.text


def test_the_first_page_of_a_full_book_leads_to_the_book(shop: LiveShop) -> None:
    assert shop.get("/first").headers["location"] == "/book"


def test_the_letterhead_has_an_address_a_country_and_says_where_tax_is_rounded(shop: LiveShop) -> None:
    told = {"unit": "in", "paper": "Letter", "zone": cast.ZONE, "currency": "$", "name": "Brackwater Lathe Works"}
    more = {"address": "1 Weir Walk\nNether Sluice", "country": "ca", "tax_by": "line", "tax_id": "NS 88"}
    assert shop.post("/book/shop", **told, **more).status_code == 303
    with shop.database.reading() as db:
        facts = shopbook.the_shop(db)
    assert (facts.address, facts.country, facts.tax_by) == ("1 Weir Walk\nNether Sluice", "CA", "line")
    page = shop.get("/book").text
    assert 'value="line" checked' in page
    # The day book says what was changed, and by whom.
    assert "WK · shop" in page
    assert "country US → CA" in page
    answer = shop.post("/book/shop", **told, **{**more, "country": "Canada"})
    assert answer.status_code == 422
    assert "two letters" in answer.text


def test_numbers_begin_where_the_paper_book_ended_until_one_is_given_out(shop: LiveShop) -> None:
    page = shop.get("/book").text
    assert 'name="begin_job" value="1001"' in page
    assert shop.post("/book/numbers/job", begin_job="4711").status_code == 303
    with shop.database.writing() as db:
        assert makers.make_job(db, shop.maker).no == 4711
    page = shop.get("/book").text
    assert 'name="begin_job"' not in page
    assert "4712" in page
    assert "jobs begin at 4711" in page
    assert shop.post("/book/numbers/job", begin_job="9000").status_code == 409
    for text in ("", "0", "soon"):
        answer = shop.post("/book/numbers/invoice", begin_invoice=text)
        assert answer.status_code == 422
        assert 'id="f-begin_invoice-problem"' in answer.text


def test_the_book_leads_to_its_other_sheets(shop: LiveShop) -> None:
    page = shop.get("/book").text
    for path in ("/customers", "/parts", "/book/agreements", "/book/phrases", "/book/machines", "/book/instruments"):
        assert f'href="{path}"' in page
        assert shop.get(path).status_code == 200
