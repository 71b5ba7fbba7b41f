"""A price that is known before anything is typed."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from sqlmodel import Session

from shopapp.office import agreements, jobs, knownprice, parts, quotes, shopbook
from shopapp.office.errors import InTheWay
from shopapp.office.jobs import JobFacts, PieceAsk
from shopapp.office.pricing import ExtraTyped
from tests import cast, makers
from tests.makers import AN_HOUR, Shop

BUSH = ExtraTyped("bronze bush", "2", "4.50")


def a_repeat(db: Session, shop: Shop, pieces: int = 2, **told: object) -> JobFacts:
    return makers.make_job(db, shop, pieces=pieces, **told)


def known(db: Session, job: JobFacts, day: date = cast.TODAY) -> knownprice.KnownPrice:
    told = knownprice.known(db, job.id, day=day)
    assert told
    return told


def test_a_repeat_costs_what_the_last_one_did(db: Session, shop: Shop) -> None:
    before = makers.make_job(db, shop)
    makers.agree(db, shop, before, replace(AN_HOUR, extras=(BUSH,)))
    told = known(db, a_repeat(db, shop))
    # By hand: 70 min at a dollar a minute, and two bushes at $4.50.
    assert (told.net_cents, told.pieces, told.like) == (7900, 2, f"{before.no} A")
    assert told.words == "Same price as last"
    assert told.today_cents is None


def test_after_a_new_rate_the_price_of_one_piece_stays_and_todays_is_told(db: Session, shop: Shop) -> None:
    makers.agree(db, shop, makers.make_job(db, shop), replace(AN_HOUR, extras=(BUSH,)))
    shopbook.add_rate(db, valid_from=cast.TODAY, cents_per_hour=7200, **shop.at())
    job = a_repeat(db, shop)
    told = known(db, job)
    # By hand: $70.00 for two is $35.00 each; at $72.00 an hour the 70 min would be $84.00.
    assert (told.net_cents, told.today_cents) == (7900, 9300)
    quote_id = knownprice.take(db, job_id=job.id, **shop.at())
    (draft,) = quotes.of_job(db, job.id)
    assert (draft.id, draft.net_cents, draft.pricing.agreed_each) == (quote_id, 7900, "35.00")
    assert draft.pricing.agreed_words.startswith("same price as quote")


def test_another_count_is_priced_by_the_same_settings(db: Session, shop: Shop) -> None:
    makers.agree(db, shop, makers.make_job(db, shop))
    # By hand: 40 + 3 x 10 + 4 x 10 min at a dollar a minute.
    assert known(db, a_repeat(db, shop, pieces=4)).net_cents == 11000


def test_an_agreement_goes_before_the_last_price(db: Session, shop: Shop) -> None:
    job = makers.make_job(db, shop)
    makers.agree(db, shop, job)
    part_id = parts.parts(db)[0][0].id
    agreements.add(
        db, customer_id=job.customer_id, part_id=part_id, each="31", valid_from=cast.TODAY, valid_to=cast.TODAY,
        **shop.at(),
    )  # fmt: skip
    repeat = a_repeat(db, shop)
    told = known(db, repeat)
    assert (told.words, told.net_cents, told.by_agreement) == ("Price as agreed", 6200, True)
    # The day after its end the last price is offered again.
    assert known(db, repeat, cast.TODAY + timedelta(days=1)).net_cents == 7000


def test_an_agreement_is_enough_without_an_earlier_job(db: Session, shop: Shop) -> None:
    job = makers.make_job(db, shop)
    part_id = parts.parts(db)[0][0].id
    agreements.add(
        db, customer_id=job.customer_id, part_id=part_id, each="31", valid_from=cast.TODAY, valid_to=cast.TODAY,
        **shop.at(),
    )  # fmt: skip
    knownprice.take(db, job_id=job.id, **shop.at())
    assert [quote.net_cents for quote in quotes.of_job(db, job.id)] == [6200]


def test_rush_and_discount_of_then_are_not_taken_along(db: Session, shop: Shop) -> None:
    then = replace(AN_HOUR, rush=True, discount="10", discount_reason="late last time")
    makers.agree(db, shop, makers.make_job(db, shop), then)
    assert known(db, a_repeat(db, shop)).net_cents == 7000
    # By hand: half of $70.00 more.
    assert known(db, a_repeat(db, shop, rush=True)).net_cents == 10500


def test_what_was_turned_down_is_no_known_price(db: Session, shop: Shop) -> None:
    job = makers.make_job(db, shop)
    makers.quote(db, shop, job)
    quotes.turn_down(db, quote_id=quotes.of_job(db, job.id)[0].id, **shop.at())
    assert knownprice.known(db, a_repeat(db, shop).id, day=cast.TODAY) is None


@pytest.mark.parametrize("pieces", [(), (PieceAsk(),)])
def test_pieces_that_are_not_told_apart_have_no_known_price(
    db: Session, shop: Shop, pieces: tuple[PieceAsk, ...]
) -> None:
    makers.agree(db, shop, makers.make_job(db, shop))
    job = makers.make_job(db, shop, pieces=pieces)
    assert knownprice.known(db, job.id, day=cast.TODAY) is None


def test_other_kinds_and_other_customers_have_other_prices(db: Session, shop: Shop) -> None:
    makers.agree(db, shop, makers.make_job(db, shop))
    lipped = makers.make_variant(db, shop, **cast.LIPPED)
    quarry = makers.make_customer(db, shop, **cast.QUARRY)
    plain = makers.the_plain_plate(db, shop)
    mixed = (PieceAsk(plain), PieceAsk(lipped))
    for told in ({"variant_id": lipped}, {"customer_id": quarry}, {"pieces": mixed}):
        assert knownprice.known(db, makers.make_job(db, shop, **told).id, day=cast.TODAY) is None


def test_a_job_with_a_sheet_takes_no_known_price(db: Session, shop: Shop) -> None:
    makers.agree(db, shop, makers.make_job(db, shop))
    job = a_repeat(db, shop)
    knownprice.take(db, job_id=job.id, **shop.at())
    with pytest.raises(InTheWay):
        knownprice.take(db, job_id=job.id, **shop.at())
    assert len(quotes.of_job(db, jobs.by_no(db, job.no).id)) == 1
