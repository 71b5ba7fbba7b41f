"""The shop book: facts written over, dated rows only added."""

from datetime import UTC, date, datetime
from fractions import Fraction

import pytest
from sqlmodel import Session

from shopapp.office import history, shopbook
from shopapp.office.errors import InTheWay, NewShop, TryAgain
from shopapp.office.shopbook import Dated
from tests.makers import Shop

JULY = date(2030, 7, 1)


def test_an_empty_book_asks_for_the_shop_first(db: Session) -> None:
    assert shopbook.shop(db) is None
    with pytest.raises(NewShop):
        shopbook.the_shop(db)


def test_facts_that_are_not_told_stay(db: Session, shop: Shop) -> None:
    shopbook.change(db, phone="555-0302", **shop.at())
    facts = shopbook.the_shop(db)
    assert (facts.phone, facts.name, facts.zone) == ("555-0302", "Brackwater Lathe Works", "America/Halifax")


@pytest.mark.parametrize(
    ("told", "field"),
    [({"name": " "}, "name"), ({"zone": "Nether/Sluice"}, "zone"), ({"rush_percent": "lots"}, "rush_percent")],
)
def test_facts_that_cannot_be_are_refused_beside_their_field(
    db: Session, shop: Shop, told: dict[str, str], field: str
) -> None:
    with pytest.raises(TryAgain) as refusal:
        shopbook.change(db, **told, **shop.at())
    assert set(refusal.value.problems) == {field}


def test_the_day_is_the_one_on_the_shops_wall(db: Session, shop: Shop) -> None:
    evening = datetime(2031, 3, 5, 2, 30, tzinfo=UTC)  # half past ten in the evening of the 4th
    assert shopbook.the_shop(db).today(evening) == date(2031, 3, 4)


def test_what_is_not_done_is_a_line_each(db: Session, shop: Shop) -> None:
    shopbook.change(db, not_done=" balancing \n\n crack test", **shop.at())
    assert shopbook.the_shop(db).not_done_lines() == ("balancing", "crack test")


@pytest.mark.parametrize(("day", "cents"), [(date(2030, 6, 30), 6000), (JULY, 6400), (date(2031, 3, 4), 6400)])
def test_a_rate_counts_from_its_day_on(db: Session, shop: Shop, day: date, cents: int) -> None:
    shopbook.add_rate(db, valid_from=JULY, cents_per_hour=6400, **shop.at())
    assert shopbook.rate_on(db, day) == cents
    assert shopbook.rates(db) == [Dated(JULY, 6400, superseded=False), Dated(date(2030, 1, 1), 6000, superseded=False)]


def test_before_the_first_rate_there_is_none(db: Session, shop: Shop) -> None:
    with pytest.raises(InTheWay, match="no rate for that day"):
        shopbook.rate_on(db, date(2029, 12, 31))


@pytest.mark.parametrize("cents", [0, -1, 10**9 + 1])
def test_a_rate_is_more_than_nothing_and_less_than_any_hour_costs(db: Session, shop: Shop, cents: int) -> None:
    with pytest.raises(TryAgain, match="price of an hour"):
        shopbook.add_rate(db, valid_from=JULY, cents_per_hour=cents, **shop.at())


def test_a_rate_typed_wrong_is_put_right_on_its_own_day_and_stays_to_be_seen(db: Session, shop: Shop) -> None:
    shopbook.add_rate(db, valid_from=JULY, cents_per_hour=860000, sure=True, **shop.at())
    shopbook.add_rate(db, valid_from=JULY, cents_per_hour=8600, **shop.at())
    assert [shopbook.rate_on(db, day) for day in (date(2030, 6, 30), JULY, date(2031, 3, 4))] == [6000, 8600, 8600]
    assert [(row.value, row.superseded) for row in shopbook.rates(db)] == [
        (8600, False), (860000, True), (6000, False),
    ]  # fmt: skip
    assert history.of_act(db, "rate")[0].words == "86.00 an hour from 2030-07-01; put right, it said 8,600.00"


@pytest.mark.parametrize(
    ("cents", "asks"), [(600, True), (601, False), (59999, False), (60000, True), (860000, True), (6000, False)]
)
def test_a_rate_ten_times_the_one_before_or_a_tenth_is_asked_about(
    db: Session, shop: Shop, cents: int, asks: bool
) -> None:
    if asks:
        with pytest.raises(TryAgain, match="An hour was ") as refusal:
            shopbook.add_rate(db, valid_from=JULY, cents_per_hour=cents, **shop.at())
        assert set(refusal.value.problems) == {"rate_sure"}
    shopbook.add_rate(db, valid_from=JULY, cents_per_hour=cents, sure=asks, **shop.at())
    assert shopbook.rate_on(db, JULY) == cents


def test_the_first_rate_of_a_shop_is_asked_about_by_nothing(db: Session, shop: Shop) -> None:
    shopbook.add_rate(db, valid_from=date(2029, 1, 1), cents_per_hour=100, **shop.at())
    assert shopbook.rate_on(db, date(2029, 1, 1)) == 100


def test_a_tax_is_kept_exactly_and_dated(db: Session, shop: Shop) -> None:
    shopbook.add_tax(db, valid_from=JULY, percent="6-1/4 %", **shop.at())
    assert [shopbook.tax_on(db, day) for day in (date(2029, 1, 1), date(2030, 6, 30), JULY)] == ["0", "5", "6.25"]
    assert shopbook.taxes(db)[0] == Dated(JULY, "6.25", superseded=False)


def test_a_tax_that_no_decimal_can_write_stays_a_fraction(db: Session, shop: Shop) -> None:
    shopbook.add_tax(db, valid_from=JULY, percent="1/3 %", **shop.at())
    assert Fraction(shopbook.tax_on(db, JULY)) == Fraction(1, 3)


def test_a_tax_typed_wrong_is_put_right_on_its_own_day_and_stays_to_be_seen(db: Session, shop: Shop) -> None:
    shopbook.add_tax(db, valid_from=date(2030, 1, 1), percent="7", **shop.at())
    assert shopbook.tax_on(db, JULY) == "7"
    assert [(row.value, row.superseded) for row in shopbook.taxes(db)] == [("7", False), ("5", True)]
    assert history.of_act(db, "tax")[0].words == "7 % tax from 2030-01-01; put right, it said 5 %"


@pytest.mark.parametrize("percent", ["150", "100.01", "-1"])
def test_a_tax_is_from_nothing_to_the_whole(db: Session, shop: Shop, percent: str) -> None:
    with pytest.raises(TryAgain) as refusal:
        shopbook.add_tax(db, valid_from=JULY, percent=percent, **shop.at())
    assert set(refusal.value.problems) == {"tax"}
    shopbook.add_tax(db, valid_from=JULY, percent="100", **shop.at())
    assert shopbook.tax_on(db, JULY) == "100"


def test_a_fact_written_over_is_told_with_what_stood_there(db: Session, shop: Shop) -> None:
    shopbook.change(db, quote_days=14, **shop.at())
    assert history.of_act(db, "shop")[0].words == "a quote is good for 30 → 14 days"


# NIST SP 811, B.8: 1 lb = 453.592 37 g exactly.
@pytest.mark.outside("verified: NIST SP 811, App. B.8")
def test_a_scale_knows_its_division_in_grams_exactly(db: Session, shop: Shop) -> None:
    spring = next(scale for scale in shopbook.scales(db) if scale.name == "spring")
    assert (spring.division, spring.division_g) == ("0.5", Fraction("226.796185"))
    assert spring.capacity_g == 60 * Fraction("453.59237")


@pytest.mark.parametrize(
    ("told", "field"),
    [
        ({"name": ""}, "scale"), ({"name": "spring"}, "scale"), ({"division": "fine"}, "division"),
        ({"division": "0"}, "division"), ({"capacity": "1"}, "capacity"),
    ],
)  # fmt: skip
def test_a_scale_that_cannot_be_is_refused(db: Session, shop: Shop, told: dict[str, str], field: str) -> None:
    facts = {"name": "crane", "unit": "kg", "division": "2", "capacity": "500", **told}
    with pytest.raises(TryAgain) as refusal:
        shopbook.add_scale(db, **facts, **shop.at())
    assert set(refusal.value.problems) == {field}
