"""The price sheet as typed, and what it comes to."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlmodel import Session

from shopapp.office import pricing, shopbook
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.pricing import (
    ExtraTyped,
    HeldTerms,
    MaterialTyped,
    OutsideTyped,
    Priced,
    PricingTyped,
    SettingTyped,
)
from shopapp.office.shopbook import ShopFacts
from tests.makers import AN_HOUR, Shop

BEVELS = ExtraTyped("bevels by hand", "3", "4.50")


@pytest.fixture
def facts(db: Session, shop: Shop) -> ShopFacts:
    """The shop as it stands: minimum $40.00, rush 50 %."""
    return shopbook.the_shop(db)


def priced(facts: ShopFacts, typed: PricingTyped, **told: object) -> Priced:
    return pricing.priced(typed, shop=facts, **{"rate_cents": 6000, "tax_percent": "5", "exempt": False, **told})


def test_seventy_minutes_at_sixty_dollars(facts: ShopFacts) -> None:
    told = priced(facts, AN_HOUR)
    assert (told.price.minutes, told.totals.net_cents, told.totals.tax_cents) == (70, 7000, 350)
    assert told.totals.total_cents == 7350
    assert [(row.quantity, row.unit_price, row.amount) for row in told.rows] == [("70 min", "$60.00/h", "$70.00")]


def test_extras_rush_and_all_are_lines_of_their_own(facts: ShopFacts) -> None:
    told = priced(facts, replace(AN_HOUR, extras=(BEVELS,), rush=True))
    assert [line.cents for line in told.price.lines] == [7000, 3500, 1350]
    assert sum(row.cents for row in told.rows) == told.totals.net_cents == 11850


def test_an_agreed_price_stands_in_place_of_minutes(facts: ShopFacts) -> None:
    told = priced(facts, replace(AN_HOUR, pieces="4", agreed_each="12.5", agreed_words="by the year"))
    assert [(row.text, row.quantity, row.amount) for row in told.rows] == [("by the year", "4", "$50.00")]


def test_a_small_job_comes_to_the_minimum(facts: ShopFacts) -> None:
    told = priced(facts, PricingTyped(settings=(SettingTyped("", "10"),)))
    assert (told.price.lines[0].cents, told.totals.net_cents) == (1000, 4000)


def test_the_pieces_that_are_billed_count_and_not_those_that_were_asked_for(facts: ShopFacts) -> None:
    assert priced(facts, AN_HOUR, pieces=1).price.minutes == 50


def test_an_exempt_customer_pays_no_tax(facts: ShopFacts) -> None:
    totals = priced(facts, AN_HOUR, exempt=True).totals
    assert (totals.taxable_cents, totals.tax_percent, totals.tax_cents, totals.total_cents) == (0, "0", 0, 7000)


# EN 16931-1, rounding of amounts: half a cent goes up, once per document.
@pytest.mark.outside("computed: EN 16931-1, half a cent goes up")
@pytest.mark.parametrize(("net", "percent", "tax"), [(36512, "5", 1826), (36510, "5", 1826), (36509, "5", 1825)])
def test_tax_is_rounded_half_up_once(net: int, percent: str, tax: int) -> None:
    assert pricing.taxed(net, net, percent, exempt=False).tax_cents == tax


@given(st.integers(0, 10**9), st.integers(0, 10**9), st.sampled_from(["0", "5", "6.25", "1/3"]), st.booleans())
def test_net_and_tax_are_the_total(net: int, taxable: int, percent: str, exempt: bool) -> None:
    totals = pricing.taxed(net, min(net, taxable), percent, exempt)
    assert totals.net_cents + totals.tax_cents == totals.total_cents
    exact = Fraction(totals.taxable_cents) * Fraction(percent) / 100
    assert abs(totals.tax_cents - exact) <= Fraction(1, 2)


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        (PricingTyped(), "setting_0_first"),
        (replace(AN_HOUR, pieces="a few"), "pieces"),
        (replace(AN_HOUR, pieces="201"), "pieces"),
        (PricingTyped(settings=(SettingTyped("a", "soon"),)), "setting_0_first"),
        (PricingTyped(settings=(SettingTyped("a", "5", each="x"),)), "setting_0_each"),
        (PricingTyped(settings=(SettingTyped("a", "5", cut="x"),)), "setting_0_cut"),
        (replace(AN_HOUR, extras=(ExtraTyped("", "1", "5"),)), "extra_0_words"),
        (replace(AN_HOUR, extras=(ExtraTyped("bar", "some", "5"),)), "extra_0_quantity"),
        (replace(AN_HOUR, extras=(ExtraTyped("bar", "1", "dear"),)), "extra_0_price"),
        (replace(AN_HOUR, agreed_each="free"), "agreed_each"),
    ],
)
def test_what_cannot_be_read_is_told_beside_its_field(facts: ShopFacts, typed: PricingTyped, field: str) -> None:
    with pytest.raises(TryAgain) as refusal:
        priced(facts, typed)
    assert set(refusal.value.problems) == {field}


def test_every_problem_is_told_at_once(facts: ShopFacts) -> None:
    with pytest.raises(TryAgain) as refusal:
        priced(facts, PricingTyped(pieces="?", settings=(SettingTyped("a", "?"),), extras=(ExtraTyped("", "?", "?"),)))
    assert set(refusal.value.problems) == {
        "pieces", "setting_0_first", "extra_0_words", "extra_0_quantity", "extra_0_price",
    }  # fmt: skip


def test_a_fortune_is_asked_about(facts: ShopFacts) -> None:
    with pytest.raises(TryAgain, match="Look at the figures"):
        priced(facts, replace(AN_HOUR, extras=(ExtraTyped("bar", "99999", "9999999"),)))


@pytest.mark.parametrize(("quantity", "text"), [("3", "3"), ("5/2", "2.5"), ("1/3", "1/3")])
def test_a_count_is_printed_exactly(quantity: str, text: str) -> None:
    assert pricing.count_text(Fraction(quantity)) == text


def test_a_kept_sheet_is_read_back_as_it_was_typed() -> None:
    typed = replace(AN_HOUR, extras=(BEVELS,), rush=True, words="Ø 8 ½")
    assert PricingTyped.from_json(typed.to_json()) == typed


BAR = MaterialTyped("bar, bronze", "2", "12.35", "40")
PLATING = OutsideTyped("zinc plating", "80", "12.5")


def test_bought_material_carries_its_mark_up_and_outside_work_its_handling(facts: ShopFacts) -> None:
    told = priced(facts, replace(AN_HOUR, material=(BAR,), outside=(PLATING,)))
    # 12.35 and 40 % are 17.29 each; 80.00 and 12.5 % are 90.00: by hand
    assert [(line.text, line.unit_cents, line.cents) for line in told.price.lines[1:]] == [
        ("bar, bronze", 1729, 3458), ("zinc plating", 9000, 9000),
    ]  # fmt: skip
    assert "40" not in "".join(row.text + row.quantity for row in told.rows[1:])


def test_a_mark_up_ends_on_a_whole_cent_half_up(facts: ShopFacts) -> None:
    told = priced(facts, replace(AN_HOUR, material=(MaterialTyped("pin", "1", "0.05", "10"),)))
    assert told.price.lines[-1].cents == 6  # 5.5 cents


@pytest.mark.parametrize(("said", "cents"), [("5 %", 350), ("10", 1000), ("$2.50", 250), ("0", 0)])
def test_a_discount_stands_on_a_line_of_its_own_with_its_reason(facts: ShopFacts, said: str, cents: int) -> None:
    told = priced(facts, replace(AN_HOUR, discount=said, discount_reason="brought six"))
    assert told.totals.net_cents == 7000 - cents
    assert told.totals.taxable_cents == told.totals.net_cents
    lines = [(line.text, line.cents) for line in told.price.lines if line.kind == "discount"]
    assert lines == ([("discount: brought six", -cents)] if cents else [])


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"discount": "5 %"}, "discount_reason"),
        ({"discount": "70.01", "discount_reason": "x"}, "discount"),
        ({"discount": "some", "discount_reason": "x"}, "discount"),
        ({"material": (replace(BAR, words=""),)}, "material_0_words"),
        ({"material": (replace(BAR, cost="dear"),)}, "material_0_cost"),
        ({"material": (replace(BAR, markup="a lot"),)}, "material_0_markup"),
        ({"outside": (replace(PLATING, handling="x"),)}, "outside_0_handling"),
        ({"outside": (replace(PLATING, words=""),)}, "outside_0_words"),
    ],
)
def test_what_cannot_be_read_of_the_rest_is_told_too(facts: ShopFacts, typed: dict[str, object], field: str) -> None:
    with pytest.raises(TryAgain) as refusal:
        priced(facts, replace(AN_HOUR, **typed))
    assert set(refusal.value.problems) == {field}


def test_tax_is_rounded_on_each_line_where_the_shop_says_so(facts: ShopFacts) -> None:
    typed = replace(AN_HOUR, extras=(ExtraTyped("a", "1", "0.10"), ExtraTyped("b", "1", "0.10")))
    by_line = priced(replace(facts, tax_by="line"), typed).totals
    by_document = priced(facts, typed).totals
    # 5 % of 70.00, 0.10 and 0.10: 3.50 + 0.01 + 0.01 by line; 3.51 by document: by hand
    assert (by_line.tax_cents, by_line.tax_by, by_document.tax_cents) == (352, "line", 351)


def test_a_sheet_from_before_material_and_discount_is_still_read() -> None:
    old = (
        '{"agreed_each": "", "agreed_words": "", "extras": [], "pieces": "2", "rush": false, '
        '"settings": [{"cut": "10", "each": "10", "first": "40", "name": "side A"}], "words": ""}'
    )
    assert PricingTyped.from_json(old) == AN_HOUR
    grown = replace(AN_HOUR, material=(BAR,), outside=(PLATING,), discount="5 %", discount_reason="x")
    assert PricingTyped.from_json(grown.to_json()) == grown
    held = replace(grown, held=HeldTerms(6000, 4000, "50", 6200, "by the year", 3))
    assert PricingTyped.from_json(held.to_json()).held == held.held


def test_a_tax_that_cannot_be_is_told_and_never_worked_with() -> None:
    with pytest.raises(InTheWay, match="Look at the rate in the shop book"):
        pricing.taxed(7000, 7000, "150", exempt=False)
    assert pricing.taxed(7000, 7000, "150", exempt=True).tax_cents == 0
