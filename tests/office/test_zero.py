"""What a scale shows with nothing on it."""

from datetime import timedelta
from fractions import Fraction

import pytest
from sqlmodel import Session

from shopapp.office import shopbook, together, zero
from shopapp.office.errors import TryAgain
from tests.cast import NOON
from tests.makers import Shop, make_job, take_everything_in, weigh

#: The pound is 0.45359237 kg exactly (NIST SP 811, B.8).
POUND = Fraction(45359237, 100000)


@pytest.mark.outside("verified: NIST SP 811, App. B.8")
@pytest.mark.parametrize(
    ("typed", "pounds"), [("0", 0), ("", 0), (None, 0), (".5", "1/2"), ("-1", -1), ("\N{MINUS SIGN}.5", "-1/2")]
)
def test_a_zero_may_be_more_or_less_than_nothing(typed: str | None, pounds: str | int) -> None:
    assert zero.grams(typed, "lb") == Fraction(pounds) * POUND


def spring(db: Session) -> shopbook.ScaleFacts:
    return next(scale for scale in shopbook.scales(db) if scale.name == "spring")


def test_it_is_taken_off_only_where_the_person_says_so(db: Session, shop: Shop) -> None:
    scale = spring(db)
    assert shop.scales["spring"] == scale.id
    assert zero.taken_off(27 * POUND, "0", scale, less_zero=False) == 27 * POUND
    assert zero.taken_off(27 * POUND, ".5", scale, less_zero=True) == Fraction("26.5") * POUND
    assert zero.taken_off(27 * POUND, "-.5", scale, less_zero=True) == Fraction("27.5") * POUND
    with pytest.raises(TryAgain, match="Set it to zero and weigh again, or keep the reading less that"):
        zero.taken_off(27 * POUND, ".5", scale, less_zero=False)


@pytest.mark.parametrize("typed", ["about nothing", ".3", "27", "30"])
def test_what_the_scale_cannot_have_shown_is_asked_about(db: Session, shop: Shop, typed: str) -> None:
    assert shop.scales
    with pytest.raises(TryAgain) as refusal:
        zero.taken_off(27 * POUND, typed, spring(db), less_zero=True)
    assert set(refusal.value.problems) == {"zero"}


def test_a_zero_is_told_with_its_unit_once() -> None:
    assert [zero.words(".5", "lb"), zero.words("8 oz", "lb")] == [".5 lb", "8 oz"]


def test_each_day_asks_anew_of_each_scale(db: Session, shop: Shop) -> None:
    first, second, third = take_everything_in(db, shop, make_job(db, shop, pieces=3))
    every = set(shop.scales.values())
    weigh(db, shop, first, "before", "26.5")
    assert zero.not_seen(db, now=NOON) == every
    weigh(db, shop, second, "before", "26.5", zero_seen=True)
    weigh(db, shop, third, "before", "12000", "counter", zero="-5", less_zero=True)
    assert zero.not_seen(db, now=NOON) == {shop.scales["weighbridge"]}
    ids = [piece.id for piece in (first, second)]
    told = {"scale_id": shop.scales["weighbridge"], "phase": "before", "typed": "55"}
    together.weigh(db, piece_ids=ids, zero_seen=True, **told, **shop.at(NOON - timedelta(days=1)))
    # Noon in the shop; at half past eleven that night it is still the same day there, half an hour on it is not.
    assert zero.not_seen(db, now=NOON + timedelta(hours=11, minutes=30)) == {shop.scales["weighbridge"]}
    assert zero.not_seen(db, now=NOON + timedelta(hours=12)) == every
    assert zero.not_seen(db, now=NOON - timedelta(days=1)) == set()
