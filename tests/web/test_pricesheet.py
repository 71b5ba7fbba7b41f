"""The price sheet as a form: read out of what was typed, and put back into fields."""

from dataclasses import replace

from shopapp.office.pricing import ExtraTyped, MaterialTyped, OutsideTyped, PricingTyped, SettingTyped
from shopapp.web import pricesheet
from shopapp.web.forms import Form

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
