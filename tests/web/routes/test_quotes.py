"""The price sheet: sums while it is typed, revisions, the customer's yes and no."""

import re
from datetime import timedelta

import pytest

from shopapp.office import agreements, jobs, mail, papers, parts, quotes, shopbook
from tests import cast, makers
from tests.web.conftest import LiveShop

SHEET = {
    "pieces": "2", "setting_0_name": "side A", "setting_0_first": "40", "setting_0_each": "10", "setting_0_cut": "10",
    "words": "Ready by Friday.",
}  # fmt: skip
YES = {"said_by": "Marn Cobbet", "how": "phone"}


@pytest.fixture
def no(shop: LiveShop) -> int:
    """A job with two pieces."""
    with shop.database.writing() as db:
        return makers.make_job(db, shop.maker).no


def marks(page: str) -> list[str]:
    return re.findall(r'<span class="mark mark--\w+">([^<]+)</span>', page)


def test_a_new_sheet_counts_the_pieces_and_measures_nothing(shop: LiveShop, no: int) -> None:
    page = shop.get(f"/jobs/{no}/price").text
    assert re.search(r'name="pieces" value="2"', page)
    assert re.search(r'name="setting_0_first" value=""', page)
    assert "No price yet" in page
    assert "Issue quote A" in page


def test_the_sums_follow_the_typing(shop: LiveShop, no: int) -> None:
    # By hand: 40 + 10 + 2 x 10 = 70 min at $60.00 an hour is $70.00, 5 % of it $3.50.
    answer = shop.get(f"/jobs/{no}/price/sums", **SHEET)
    assert answer.status_code == 200
    for words in ("bench time 70 min", "$70.00", "Tax 5 %", "$3.50", "$73.50", "70 min at the bench"):
        assert words in answer.text
    assert "<html" not in answer.text
    assert "<input" not in answer.text


def test_one_two_and_four_pieces_stand_side_by_side(shop: LiveShop, no: int) -> None:
    # By hand: 50 min, 70 min and 110 min at a dollar a minute.
    text = shop.get(f"/jobs/{no}/price/sums", **SHEET).text
    for words in ("1 piece", "$50.00", "$35.00 each", "4 pieces", "$110.00", "$27.50 each"):
        assert words in text


def test_a_half_typed_number_is_a_hint_and_no_error(shop: LiveShop, no: int) -> None:
    answer = shop.get(f"/jobs/{no}/price/sums", **{**SHEET, "setting_0_first": "4x"})
    assert answer.status_code == 200
    assert "No price yet" in answer.text
    assert 'class="problem"' not in answer.text


def test_settings_of_no_minutes_are_warned_about(shop: LiveShop, no: int) -> None:
    text = shop.get(f"/jobs/{no}/price/sums", pieces="1", setting_0_name="side A", extra_0_words="bush",
                    extra_0_price="50").text  # fmt: skip
    assert "come to no minutes at all" in text
    agreed = shop.get(f"/jobs/{no}/price/sums", pieces="1", agreed_each="50").text
    assert "come to no minutes at all" not in agreed


def test_rush_is_the_percent_of_the_shop_book(shop: LiveShop, no: int) -> None:
    assert "Rush, 50 % more" in shop.get(f"/jobs/{no}/price").text
    text = shop.get(f"/jobs/{no}/price/sums", **SHEET, rush="yes").text
    assert "rush 50 % of bench time" in text
    assert "$105.00" in text


def test_an_agreed_price_stands_in_place_of_the_minutes_and_says_so(shop: LiveShop, no: int) -> None:
    text = shop.get(f"/jobs/{no}/price/sums", **SHEET, agreed_each="34", agreed_words="by handshake, 2030").text
    assert "by handshake, 2030" in text
    assert "$68.00" in text
    assert "bench time" not in text


def test_a_draft_is_kept_as_typed(shop: LiveShop, no: int) -> None:
    answer = shop.post(f"/jobs/{no}/price", **SHEET, keep=f"price-{no}")
    assert answer.status_code == 303
    page = shop.get(answer.headers["location"]).text
    assert "kept as a draft" in page
    assert marks(page) == ["draft"]
    assert 'name="setting_0_first" value="40"' in page
    assert "Ready by Friday." in page
    assert f'<meta name="saved" content="price-{no}">' in page


@pytest.mark.parametrize(("kind", "field"), [("setting", "setting_2_first"), ("extra", "extra_1_price")])
def test_one_more_row_keeps_the_text_and_keeps_nothing_in_the_book(
    shop: LiveShop, no: int, kind: str, field: str
) -> None:
    shown = {**SHEET, "setting_1_first": "", "extra_0_price": ""}
    answer = shop.post(f"/jobs/{no}/price", **shown, more=kind)
    assert answer.status_code == 200
    assert f'name="{field}"' in answer.text
    assert 'value="side A"' in answer.text
    assert "Ready by Friday." in answer.text
    with shop.database.reading() as db:
        assert quotes.of_job(db, jobs.by_no(db, no).id) == []


def test_issuing_keeps_and_freezes_in_one_act(shop: LiveShop, no: int) -> None:
    answer = shop.post(f"/jobs/{no}/price/issue", **SHEET)
    assert answer.status_code == 303
    page = shop.get(answer.headers["location"]).text
    assert marks(page) == ["issued"]
    assert f"/papers/quote/{no}%20A.pdf" in page
    assert "Issue quote B" in page
    assert "Go ahead, quote A" in page


def test_a_refused_sheet_keeps_every_typed_word(shop: LiveShop, no: int) -> None:
    typed = {**SHEET, "setting_0_each": "a while", "extra_0_price": "4.50", "extra_0_quantity": "3",
             "agreed_words": "as ever", "good_until": "2031-03-09", "rush": "yes"}  # fmt: skip
    answer = shop.post(f"/jobs/{no}/price/issue", **typed)
    assert answer.status_code == 422
    assert 'id="f-setting_0_each-problem"' in answer.text
    assert "Say what this line is for" in answer.text
    for words in ('value="a while"', 'value="4.50"', 'value="as ever"', 'value="2031-03-09"', "Ready by Friday."):
        assert words in answer.text
    assert re.search(r'name="rush" value="yes" checked', answer.text)
    with shop.database.reading() as db:
        assert quotes.of_job(db, jobs.by_no(db, no).id) == []


def test_an_empty_sheet_is_told_what_is_missing(shop: LiveShop, no: int) -> None:
    answer = shop.post(f"/jobs/{no}/price/issue", pieces="2")
    assert answer.status_code == 422
    assert "Write the minutes of a chuck setting" in answer.text


def test_a_price_cannot_hold_until_a_day_gone_by(shop: LiveShop, no: int) -> None:
    answer = shop.post(f"/jobs/{no}/price/issue", **SHEET, good_until="2031-03-03")
    assert answer.status_code == 422
    assert "That day has gone by" in answer.text
    assert shop.post(f"/jobs/{no}/price/issue", **SHEET, good_until="2031-03-04").status_code == 303


def test_the_same_sending_twice_makes_one_revision(shop: LiveShop, no: int) -> None:
    places = {shop.post(f"/jobs/{no}/price/issue", **SHEET, once="q-1").headers["location"] for _ in range(2)}
    assert len(places) == 1
    assert marks(shop.get(f"/jobs/{no}/price").text) == ["issued"]


def test_what_is_typed_is_never_markup(shop: LiveShop, no: int) -> None:
    hostile = "<img src=x onerror=alert(1)>"
    typed = {**SHEET, "setting_0_name": hostile, "words": hostile, "extra_0_words": hostile, "extra_0_price": "1"}
    assert "<img" not in shop.get(f"/jobs/{no}/price/sums", **typed).text
    page = shop.get(shop.post(f"/jobs/{no}/price", **typed).headers["location"]).text
    assert "<img" not in page
    assert "&lt;img src=x" in page


def test_while_nobody_has_said_who_they_are_nothing_typed_is_lost(shop: LiveShop, no: int) -> None:
    shop.client.cookies.delete("who")
    answer = shop.post(f"/jobs/{no}/price", **SHEET)
    assert answer.status_code == 422
    assert "Say who you are first" in answer.text
    assert "Ready by Friday." in answer.text


def test_a_yes_says_who_and_how(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/price/issue", **SHEET)
    refused = shop.post(f"/jobs/{no}/go-ahead", said_by="", how="")
    assert refused.status_code == 422
    assert "Write who said yes." in refused.text
    assert 'id="f-how-problem"' in refused.text
    page = shop.get(shop.post(f"/jobs/{no}/go-ahead", **YES).headers["location"]).text
    assert marks(page) == ["agreed"]
    assert "Marn Cobbet by phone" in page
    assert "to revision A" in page


def test_of_two_revisions_the_yes_names_one(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/price/issue", **SHEET)
    shop.post(f"/jobs/{no}/price/issue", **{**SHEET, "setting_0_first": "50"})
    asked = shop.post(f"/jobs/{no}/go-ahead", **YES)
    assert asked.status_code == 422
    assert "Yes to which? Issued are A, B." in asked.text
    assert 'value="Marn Cobbet"' in asked.text
    page = shop.get(shop.post(f"/jobs/{no}/go-ahead", **YES, revision="A").headers["location"]).text
    assert marks(page) == ["agreed", "issued"]


def test_a_revision_that_was_never_issued_is_no_answer(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/price/issue", **SHEET)
    answer = shop.post(f"/jobs/{no}/go-ahead", **YES, revision="Q")
    assert answer.status_code == 422
    assert "Revision Q was not issued" in answer.text


def test_a_quote_that_ran_out_is_renewed_first(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/price/issue", **SHEET)
    shop.later(days=31)
    page = shop.get(f"/jobs/{no}/price").text
    assert marks(page) == ["run out"]
    assert f'action="/jobs/{no}/price/renew"' in page
    assert "Renew it first" in shop.post(f"/jobs/{no}/go-ahead", **YES).text
    renewed = shop.get(f"/jobs/{no}/price", use="A").text
    assert 'name="setting_0_first" value="40"' in renewed
    shop.post(f"/jobs/{no}/price/issue", **SHEET)
    assert marks(shop.get(f"/jobs/{no}/price").text) == ["run out", "issued"]


def test_a_no_is_written_down_and_a_yes_cannot_be_turned_down(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/price/issue", **SHEET)
    assert shop.post(f"/jobs/{no}/turn-down", revision="A").status_code == 303
    assert marks(shop.get(f"/jobs/{no}/price").text) == ["turned down"]
    shop.post(f"/jobs/{no}/price/issue", **SHEET)
    shop.post(f"/jobs/{no}/go-ahead", **YES, revision="B")
    assert shop.post(f"/jobs/{no}/turn-down", revision="B").status_code == 409
    assert marks(shop.get(f"/jobs/{no}/price").text) == ["turned down", "agreed"]


def test_the_order_number_is_asked_for_with_the_yes(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        customer_id = makers.make_customer(db, shop.maker, name="Whinstone Quarry", order_number="required")
        job = makers.make_job(db, shop.maker, customer_id=customer_id)
    shop.post(f"/jobs/{job.no}/price/issue", **SHEET)
    assert 'name="order_number"' in shop.get(f"/jobs/{job.no}/price").text
    shop.post(f"/jobs/{job.no}/go-ahead", **YES, order_number="PO-88")
    with shop.database.reading() as db:
        assert jobs.by_no(db, job.no).order_number == "PO-88"


def test_a_job_that_is_not_in_the_book_has_no_price(shop: LiveShop) -> None:
    assert shop.get("/jobs/4711/price").status_code == 404
    assert shop.post("/jobs/4711/price", **SHEET).status_code == 404


def agree_price(shop: LiveShop, customer_id: int, each: str, **told: object) -> None:
    days = {"valid_from": cast.TODAY, "valid_to": cast.TODAY + timedelta(days=9)}
    with shop.database.writing() as db:
        part_id = parts.parts(db)[0][0].id
        agreements.add(db, customer_id=customer_id, part_id=part_id, each=each, **{**days, **told}, **shop.maker.at())


def test_bought_metal_outside_work_and_a_discount_are_lines_of_their_own(shop: LiveShop, no: int) -> None:
    typed = {**SHEET, "material_0_words": "flat bar", "material_0_quantity": "2", "material_0_cost": "8.10",
             "material_0_markup": "15", "outside_0_words": "plating", "outside_0_cost": "55",
             "outside_0_handling": "10", "discount": "5 %", "discount_reason": "late last time"}  # fmt: skip
    text = shop.get(f"/jobs/{no}/price/sums", **typed).text
    # By hand: 2 x 9.32 (8.10 and 15 %, half-up), 55 and 10 %, then 5 % of 70.00 + 18.64 + 60.50 = 149.14.
    for words in ("flat bar", "$18.64", "plating", "$60.50", "discount: late last time", "-$7.46", "$141.68"):
        assert words in text
    page = shop.get(shop.post(f"/jobs/{no}/price", **typed).headers["location"]).text
    assert page.count('<details class="fold" open>') == 3
    assert 'name="material_0_markup" value="15"' in page
    assert "8.10" not in shop.get(f"/jobs/{no}/price/sums", **typed).text


def test_a_discount_without_a_reason_is_asked_about(shop: LiveShop, no: int) -> None:
    answer = shop.post(f"/jobs/{no}/price/issue", **SHEET, discount="5")
    assert answer.status_code == 422
    assert 'id="f-discount_reason-problem"' in answer.text
    assert '<details class="fold" open>' in answer.text


def test_an_agreement_is_named_and_stands_in_the_sums_from_its_count_on(shop: LiveShop, no: int) -> None:
    with shop.database.reading() as db:
        customer_id = jobs.by_no(db, no).customer_id
    agree_price(shop, customer_id, "31", from_count="2")
    text = shop.get(f"/jobs/{no}/price/sums", pieces="2").text
    for words in ("Agreed with Cobbet Cider Mill", "$31.00 each from 2 pieces, until 13 Mar 2031", "$62.00"):
        assert words in text
    one = shop.get(f"/jobs/{no}/price/sums", **{**SHEET, "pieces": "1"}).text
    assert "For you, on no paper" in one
    assert "$31.00 each is agreed from 2 pieces on" in one
    assert "bench time 50 min" in one


def test_against_a_price_by_hand_the_agreed_one_is_taken_with_one_tap(shop: LiveShop, no: int) -> None:
    with shop.database.reading() as db:
        customer_id = jobs.by_no(db, no).customer_id
    agree_price(shop, customer_id, "31")
    typed = {"pieces": "2", "agreed_each": "40", "agreed_words": "by shout", "words": "By Friday."}
    text = shop.get(f"/jobs/{no}/price/sums", **typed).text
    assert "The price by hand stands against it" in text
    assert "$80.00" in text
    taken = shop.post(f"/jobs/{no}/price", **typed, take="agreed")
    assert taken.status_code == 200
    assert 'name="agreed_each" value=""' in taken.text
    assert "By Friday." in taken.text
    assert "$62.00" in taken.text
    with shop.database.reading() as db:
        assert quotes.of_job(db, jobs.by_no(db, no).id) == []


def test_the_day_after_its_end_the_owner_is_told_and_the_paper_is_not(shop: LiveShop, no: int) -> None:
    with shop.database.reading() as db:
        customer_id = jobs.by_no(db, no).customer_id
    agree_price(shop, customer_id, "31")
    shop.later(days=10)
    assert "ended on 2031-03-13" in shop.get(f"/jobs/{no}/price/sums", **SHEET).text
    shop.post(f"/jobs/{no}/price/issue", **SHEET)
    with shop.database.reading() as db:
        sheet, _ = papers.sheet(db, "quote", f"{no} A")
    assert "ended on" not in str(sheet)
    assert sheet.totals.net_cents == 7000


def test_the_known_price_is_drawn_up_with_one_press_and_once(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/price/issue", **SHEET)
    with shop.database.writing() as db:
        job = makers.make_job(db, shop.maker)
    assert "Same price as last, $70.00" in shop.get(f"/jobs/{job.no}").text
    page = shop.get(f"/jobs/{job.no}/price").text
    assert "Same price as last, $70.00" in page
    assert f"like quote {no} A of 4 Mar 2031" in " ".join(page.split())
    for _ in range(2):
        answer = shop.post(f"/jobs/{job.no}/price/known", once="k-1")
        assert answer.headers["location"] == f"/jobs/{job.no}/price"
    page = shop.get(f"/jobs/{job.no}/price").text
    assert marks(page) == ["draft"]
    assert "Same price as last" not in page
    assert shop.post(f"/jobs/{job.no}/price/known").status_code == 409


def test_a_quote_is_renewed_with_one_press_at_todays_rate(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/price/issue", **SHEET)
    shop.later(days=31)
    with shop.database.writing() as db:
        shopbook.add_rate(db, valid_from=cast.TODAY, cents_per_hour=7200, **shop.maker.at())
    for _ in range(2):
        shop.post(f"/jobs/{no}/price/renew", revision="A", once="renew-1")
    page = shop.get(f"/jobs/{no}/price").text
    assert marks(page) == ["run out", "issued"]
    # By hand: 70 min at $72.00 an hour and 5 %.
    assert "$88.20" in page
    assert shop.post(f"/jobs/{no}/price/renew", revision="Q").status_code == 404


def test_the_margin_is_held_against_the_minutes_of_last_time(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        before = makers.finished_job(db, shop.maker)
        jobs.spend(db, job_id=before.id, minutes=90, **shop.maker.at())
        job = makers.make_job(db, shop.maker)
    text = " ".join(shop.get(f"/jobs/{job.no}/price/margin", **SHEET).text.split())
    # By hand: 70 min for $70.00 now; 90 min last time cost $90.00.
    for words in ("70 min asked, 90 min last time", "$70.00 for the work, $90.00 at last", "$20.00 short"):
        assert words in text
    assert "<html" not in text
    half = shop.get(f"/jobs/{job.no}/price/margin", **{**SHEET, "setting_0_first": "4x"})
    assert half.status_code == 200
    assert "has no price yet" in half.text
    assert "$20.00 short" not in shop.get(f"/jobs/{job.no}/price").text


def test_a_quote_goes_by_mail_as_it_is_issued_or_neither(
    shop: LiveShop, no: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert "by_mail" not in shop.get(f"/jobs/{no}/price").text
    monkeypatch.setattr(shop.app.state, "postman", object(), raising=False)
    refused = shop.post(f"/jobs/{no}/price/issue", **SHEET, by_mail="yes", mail_to="marn at mill")
    assert refused.status_code == 422
    assert 'value="marn at mill"' in refused.text
    with shop.database.reading() as db:
        assert quotes.of_job(db, jobs.by_no(db, no).id) == []
    shop.post(f"/jobs/{no}/price/issue", **SHEET, by_mail="yes", mail_to="marn@mill.example")
    with shop.database.reading() as db:
        (letter,) = mail.newest(db)
    assert (letter.kind, letter.number, letter.to_address) == ("quote", f"{no} A", "marn@mill.example")
    assert f"/mail/new?kind=quote&amp;number={no}%20A" in shop.get(f"/jobs/{no}/price").text


def test_the_one_revision_that_stands_open_is_meant_by_a_yes(shop: LiveShop, no: int) -> None:
    for minutes in ("40", "50"):
        shop.post(f"/jobs/{no}/price/issue", **{**SHEET, "setting_0_first": minutes})
    shop.post(f"/jobs/{no}/turn-down", revision="A")
    page = shop.get(f"/jobs/{no}/price").text
    assert '<input type="hidden" name="revision" value="B">' in page
    shop.post(f"/jobs/{no}/go-ahead", **YES)
    assert marks(shop.get(f"/jobs/{no}/price").text) == ["turned down", "agreed"]
    refused = shop.post(f"/jobs/{no}/go-ahead", **YES, revision="A")
    assert refused.status_code == 422
    assert "was turned down on 2031-03-04. Renew it first." in refused.text


def test_an_agreed_quote_past_its_day_can_be_renewed(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/price/issue", **SHEET)
    shop.post(f"/jobs/{no}/go-ahead", **YES)
    assert "Renew at today" not in shop.get(f"/jobs/{no}/price").text
    shop.later(days=31)
    assert "ran out" in shop.post(f"/jobs/{no}/go-ahead", **YES).text
    assert "Renew at today" in shop.get(f"/jobs/{no}/price").text


def test_a_yes_without_a_quote_leaves_a_page_that_has_no_price_yet(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/go-ahead", **YES)
    page = shop.get(f"/jobs/{no}/price").text
    assert page.count("without a quote") == page.count("No price yet") == 1
