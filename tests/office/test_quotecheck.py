"""What is asked before a quote goes out."""

import pytest
from sqlmodel import Session

from shopapp.office import quotecheck
from shopapp.office.errors import TryAgain
from shopapp.office.pricing import PricingTyped, SettingTyped
from tests.makers import AN_HOUR, Shop, make_job

ONE = PricingTyped("1", (SettingTyped("a", "3"),))
MORE = PricingTyped("2", (SettingTyped("a", "3"), SettingTyped("b", "4", "0")))


def asked(db: Session, shop: Shop, typed: PricingTyped, *, sure: bool = False) -> set[str]:
    try:
        quotecheck.ask(db, job_id=make_job(db, shop).id, typed=typed, sure=sure)
    except TryAgain as refusal:
        return set(refusal.problems)
    return set()


@pytest.mark.parametrize(
    ("typed", "fields"), [(AN_HOUR, set()), (ONE, {"count_sure"}), (MORE, {"setting_0_each"})], ids=["same", "1", "2"]
)
def test_a_count_of_its_own_and_time_left_empty_are_asked(
    db: Session, shop: Shop, typed: PricingTyped, fields: set[str]
) -> None:
    assert asked(db, shop, typed) == fields


def test_a_tick_answers_for_the_count_and_not_for_the_time(db: Session, shop: Shop) -> None:
    assert asked(db, shop, ONE, sure=True) == set()
    assert asked(db, shop, MORE, sure=True) == {"setting_0_each"}


def test_a_price_by_hand_stands_in_place_of_the_time() -> None:
    assert quotecheck.further(PricingTyped("3", (SettingTyped("a", "3"),), agreed_each="10")) == {}


def test_the_count_is_printed_beside_the_jobs_own() -> None:
    assert quotecheck.priced_for(ONE, 4) == "1 piece; the job has 4"
    assert quotecheck.priced_for(MORE, 2) == "2 pieces"
