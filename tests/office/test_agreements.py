"""Prices agreed with a customer, found by the day of the quote and the count of pieces."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from sqlmodel import Session

from shopapp.office import agreements, history, invoices, papers, parts, quotes
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.jobs import JobFacts, PieceAsk
from tests.cast import LIPPED, NOON, TODAY, WALK_IN
from tests.makers import (
    AN_HOUR,
    Shop,
    agree,
    cut,
    keep_cuts,
    make_customer,
    make_job,
    make_variant,
    quote,
    take_everything_in,
    the_mill,
    the_plain_plate,
)

LAST = TODAY + timedelta(days=9)


def agreed(db: Session, shop: Shop, **told: object) -> int:
    the_plain_plate(db, shop)
    facts = {
        "customer_id": the_mill(db, shop), "part_id": parts.parts(db)[0][0].id, "each": "62.00",
        "valid_from": TODAY, "valid_to": LAST, **told,
    }  # fmt: skip
    return agreements.add(db, **facts, **shop.at())


def net(db: Session, job: JobFacts, day: date = TODAY, pieces: int | None = None) -> int:
    count = str(pieces or 2)
    typed = replace(AN_HOUR, pieces=count)
    return quotes.preview(db, job_id=job.id, typed=typed, day=day, pieces=pieces).totals.net_cents


def test_an_agreed_price_stands_in_place_of_the_rate_and_says_so(db: Session, shop: Shop) -> None:
    agreed(db, shop)
    job = make_job(db, shop)
    sheet, _ = papers.sheet(db, "quote", quote(db, shop, job))
    (row,) = sheet.lines
    assert (row.text, row.quantity, row.amount) == ("press plate, agreed price ($62.00 each)", "2", "$124.00")


# The steps are those of a regular: 74.00 each, from four on 62.00 each.
@pytest.mark.parametrize(("pieces", "cents"), [(1, 7400), (2, 14800), (3, 22200), (4, 24800), (5, 31000)])
def test_more_pieces_come_at_the_price_agreed_for_so_many(db: Session, shop: Shop, pieces: int, cents: int) -> None:
    agreed(db, shop, each="74")
    agreed(db, shop, from_count="4")
    job = make_job(db, shop, pieces=pieces)
    assert net(db, job, pieces=pieces) == cents
    assert quotes.at_counts(db, job_id=job.id, typed=AN_HOUR, day=TODAY)[1].totals.net_cents == 7400


@pytest.mark.parametrize(("after", "cents"), [(-1, 7000), (0, 12400), (9, 12400), (10, 7000)])
def test_it_holds_by_the_day_of_the_quote_between_its_two_days(db: Session, shop: Shop, after: int, cents: int) -> None:
    agreed(db, shop)
    assert net(db, make_job(db, shop), TODAY + timedelta(days=after)) == cents


def test_the_day_after_its_end_the_owner_is_told_and_no_paper_says_it(db: Session, shop: Shop) -> None:
    agreed(db, shop)
    job, late = make_job(db, shop), NOON + timedelta(days=10)
    told = quotes.preview(db, job_id=job.id, typed=AN_HOUR, day=LAST + timedelta(days=1))
    (notice,) = told.notices
    assert f"ended on {LAST}" in notice
    assert "Cobbet Cider Mill for press plate, $62.00 each" in notice
    sheet, _ = papers.sheet(db, "quote", quote(db, shop, job, now=late))
    assert "62.00" not in str(sheet)


def test_too_few_pieces_and_other_kinds_are_told_to_the_owner(db: Session, shop: Shop) -> None:
    agreed(db, shop, from_count="4")
    job = make_job(db, shop)
    assert "from 4 pieces on" in quotes.preview(db, job_id=job.id, typed=AN_HOUR, day=TODAY).notices[0]
    other = make_variant(db, shop, part_id=parts.keep_part(db, name="ring", **shop.at()), **LIPPED)
    mixed = make_job(db, shop, pieces=(PieceAsk(the_plain_plate(db, shop)), PieceAsk(other)))
    assert "has other kinds too" in quotes.preview(db, job_id=mixed.id, typed=AN_HOUR, day=TODAY).notices[0]


def test_a_price_for_one_variant_goes_before_that_for_the_part(db: Session, shop: Shop) -> None:
    agreed(db, shop)
    agreed(db, shop, variant_id=the_plain_plate(db, shop), each="50")
    lipped = make_variant(db, shop, **LIPPED)
    assert net(db, make_job(db, shop)) == 10000
    assert net(db, make_job(db, shop, pieces=(PieceAsk(lipped),) * 2)) == 12400


def test_a_piece_not_told_apart_yet_has_no_agreed_price(db: Session, shop: Shop) -> None:
    agreed(db, shop)
    job = make_job(db, shop, pieces=(PieceAsk(the_plain_plate(db, shop)), PieceAsk()))
    assert net(db, job) == 7000


def test_it_is_for_its_own_customer(db: Session, shop: Shop) -> None:
    agreed(db, shop)
    assert net(db, make_job(db, shop, customer_id=make_customer(db, shop, **WALK_IN))) == 7000


def test_a_price_typed_by_hand_goes_before_it(db: Session, shop: Shop) -> None:
    agreed(db, shop)
    typed = replace(AN_HOUR, agreed_each="10")
    assert quotes.preview(db, job_id=make_job(db, shop).id, typed=typed, day=TODAY).totals.net_cents == 2000


def test_an_issued_quote_is_billed_by_it_after_its_end_and_not_by_one_that_came_later(db: Session, shop: Shop) -> None:
    row = agreed(db, shop)
    job = make_job(db, shop)
    keep_cuts(db, shop, job)
    agree(db, shop, job)
    agreements.end(db, agreement_id=row, last_day=TODAY, **shop.at())
    agreed(db, shop, each="1", valid_from=TODAY + timedelta(days=1), valid_to=LAST)
    cut(db, shop, take_everything_in(db, shop, job)[:1])
    later = NOON + timedelta(days=5)
    assert [(line.quantity, line.price) for line in invoices.draft_lines(db, job.id, now=later)] == [("1", "62.00")]


def test_a_later_agreement_does_not_price_an_old_quote_anew(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    keep_cuts(db, shop, job)
    agree(db, shop, job)
    agreed(db, shop, each="1")
    cut(db, shop, take_everything_in(db, shop, job))
    assert invoices.draft_lines(db, job.id, now=NOON)[0].quantity == "70 min"


def test_agreements_are_listed_and_written_in_the_day_book(db: Session, shop: Shop) -> None:
    agreed(db, shop, words="as shaken hands on")
    (told,) = agreements.of_customer(db, the_mill(db, shop))
    assert (told.name, told.cents_each, told.line("$")) == ("press plate", 6200, "as shaken hands on")


@pytest.mark.parametrize(
    ("told", "field"),
    [
        ({"each": "dear"}, "each"), ({"from_count": "none"}, "from_count"), ({"from_count": "201"}, "from_count"),
        ({"valid_to": TODAY - timedelta(days=1)}, "valid_to"),
        ({"valid_from": TODAY + timedelta(days=1)}, "valid_from"),
    ],
)  # fmt: skip
def test_what_cannot_be_agreed_is_refused(db: Session, shop: Shop, told: dict[str, object], field: str) -> None:
    agreed(db, shop)
    with pytest.raises(TryAgain) as refusal:
        agreed(db, shop, **told)
    assert set(refusal.value.problems) == {field}


def test_the_kind_has_to_be_in_the_book(db: Session, shop: Shop) -> None:
    with pytest.raises(NotHere):
        agreed(db, shop, part_id=99)
    other = make_variant(db, shop, part_id=parts.keep_part(db, name="ring", **shop.at()), **LIPPED)
    with pytest.raises(NotHere):
        agreed(db, shop, variant_id=other)
    row = agreed(db, shop)
    with pytest.raises(TryAgain, match="Choose a day within"):
        agreements.end(db, agreement_id=row, last_day=LAST + timedelta(days=1), **shop.at())


def test_one_written_wrong_is_put_right_from_the_same_day_and_stays_to_be_seen(db: Session, shop: Shop) -> None:
    agreed(db, shop, each="620.00", valid_to=LAST + timedelta(days=300))
    agreed(db, shop)
    job = make_job(db, shop)
    assert net(db, job) == 12400
    assert net(db, job, LAST + timedelta(days=1)) == 7000  # what was written wrong does not come back behind it
    told = [(one.cents_each, one.wrong_at) for one in agreements.every(db)]
    assert told == [(62000, NOON), (6200, None)]
    assert history.of_act(db, "agreement")[0].words.endswith("put right, it said $620.00 each to 2032-01-07")


def test_one_written_wrong_holds_for_nothing_and_makes_room(db: Session, shop: Shop) -> None:
    row = agreed(db, shop, valid_from=TODAY - timedelta(days=30))
    agreements.never_held(db, agreement_id=row, **shop.at())
    job = make_job(db, shop)
    assert net(db, job) == 7000
    assert agreements.for_job(db, job.id, day=TODAY, count=2).notice == ""
    agreed(db, shop)
    assert net(db, job) == 12400
    with pytest.raises(InTheWay, match="written wrong"):
        agreements.never_held(db, agreement_id=row, **shop.at())
    with pytest.raises(InTheWay, match="written wrong"):
        agreements.end(db, agreement_id=row, last_day=TODAY, **shop.at())
