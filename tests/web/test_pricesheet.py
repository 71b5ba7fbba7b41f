"""The price sheet as a form: read out of what was typed, put back into fields, and asked about."""

from dataclasses import replace

import pytest

from shopapp.office.pricing import ExtraTyped, MaterialTyped, OutsideTyped, PricingTyped, SettingTyped
from shopapp.web import pricesheet
from shopapp.web.forms import Form
from tests import makers
from tests.papers.reading import text_of
from tests.web.conftest import LiveShop
from tests.web.routes.test_quotes import SHEET

WHOLE = PricingTyped(
    pieces="3", settings=(SettingTyped("side A", "40", "15", "12"), SettingTyped("side B", "20", "5", "5")),
    extras=(ExtraTyped("trip", "1", "12.00"),), material=(MaterialTyped("flat bar", "2", "8.10", "15"),),
    outside=(OutsideTyped("plating", "55", "10"),), rush=True, agreed_each="62", agreed_words="by handshake",
    words="Ready by Friday.", discount="5 %", discount_reason="late last time",
)  # fmt: skip


def test_a_sheet_put_into_fields_and_read_back_is_the_same_sheet() -> None:
    assert pricesheet.read(pricesheet.shown(WHOLE)) == WHOLE
    assert pricesheet.read(pricesheet.shown(replace(WHOLE, rush=False))).rush is False


def test_empty_rows_at_the_end_are_left_off_and_one_between_stays() -> None:
    form = Form(typed={"setting_0_first": "", "setting_1_first": "20", "setting_2_first": " ", "extra_0_words": ""})
    read = pricesheet.read(form)
    assert read.settings == (SettingTyped("", ""), SettingTyped("", "20"))
    assert read.extras == ()


def test_one_more_row_is_shown_than_is_typed_into() -> None:
    shown = {kind: len(rows) for kind, rows in pricesheet.rows(pricesheet.shown(WHOLE)).items()}
    assert shown == {"setting": 3, "extra": 2, "material": 2, "outside": 2}
    empty = {kind: len(rows) for kind, rows in pricesheet.rows(Form()).items()}
    assert empty == {"setting": 2, "extra": 1, "material": 1, "outside": 1}


def test_the_row_that_was_asked_for_comes_on_top_of_those_sent() -> None:
    form = Form(typed={"more": "material", "material_0_words": "", "material_1_words": ""})
    assert len(pricesheet.rows(form)["material"]) == 3


def test_no_more_than_forty_rows_are_read_or_shown() -> None:
    form = Form(typed={"more": "extra", **{f"extra_{i}_words": "x" for i in range(99)}})
    assert len(pricesheet.read(form).extras) == 40
    assert len(pricesheet.rows(form)["extra"]) == 40


def test_a_fold_is_open_where_something_is_typed_or_asked_for() -> None:
    assert pricesheet.opened(pricesheet.shown(WHOLE)) == {"material", "outside", "discount"}
    assert pricesheet.opened(Form(typed={"material_0_cost": " ", "discount": ""})) == set()
    assert pricesheet.opened(Form(typed={"more": "outside"})) == {"outside"}


@pytest.fixture
def no(shop: LiveShop) -> int:
    """A job with two pieces."""
    with shop.database.writing() as db:
        return makers.make_job(db, shop.maker).no


def test_a_mistake_beside_a_draft_comes_back_with_its_word(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/price", **SHEET)
    answer = shop.post(f"/jobs/{no}/price", **{**SHEET, "setting_0_first": "4o"})
    assert answer.status_code == 422
    assert 'value="4o"' in answer.text
    assert "Nothing is held." in answer.text


def test_a_count_that_is_not_the_jobs_is_asked_and_printed(shop: LiveShop, no: int) -> None:
    one = {**SHEET, "pieces": "1"}
    refused = shop.post(f"/jobs/{no}/price/issue", **one)
    assert refused.status_code == 422
    assert "The job has 2 pieces, and the sheet prices 1." in refused.text
    shop.post(f"/jobs/{no}/price/issue", **one, count_sure="yes")
    text = text_of(shop.get(f"/papers/quote/{no} A.pdf").content)
    assert "1 piece; the job has 2" in " ".join(text.split())


def test_further_pieces_without_minutes_are_asked(shop: LiveShop, no: int) -> None:
    empty = {**SHEET, "setting_0_each": "", "setting_0_cut": ""}
    assert "they are counted as none" in shop.get(f"/jobs/{no}/price/sums", **empty).text
    refused = shop.post(f"/jobs/{no}/price/issue", **empty)
    assert refused.status_code == 422
    assert "Write 0 if it is none." in refused.text
    assert shop.post(f"/jobs/{no}/price/issue", **{**empty, "setting_0_each": "0"}).status_code == 303
