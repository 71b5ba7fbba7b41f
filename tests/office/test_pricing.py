"""The price sheet as typed, and what it comes to."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlmodel import Session

from shopapp.office import pricing, shopbook
from shopapp.office.errors import TryAgain
from shopapp.office.pricing import ExtraTyped, Priced, PricingTyped, SettingTyped
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
@pytest.mark.outside
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
