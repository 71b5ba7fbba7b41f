"""Same again: what is copied, and what never is."""

from datetime import timedelta

import pytest
from sqlmodel import Session

from shopapp.office import (
    again,
    condition,
    cutting,
    gate,
    history,
    jobs,
    mishaps,
    photos,
    quotes,
    shopbook,
    sizes,
    weighing,
)
from shopapp.office.drawing import BodyTyped, Typed
from shopapp.office.errors import InTheWay, NotHere
from shopapp.office.jobs import PieceAsk
from tests.cast import MILL, NOON, QUARRY, TODAY, face
from tests.makers import (
    AN_HOUR,
    Shop,
    agree,
    finished_job,
    keep_cuts,
    make_customer,
    make_job,
    make_part,
    make_variant,
    pieces_of,
    the_plain_plate,
)

LATER = NOON + timedelta(days=90)


def test_customer_title_pieces_cuts_and_price_are_those_of_last_time(db: Session, shop: Shop) -> None:
    plain = the_plain_plate(db, shop)
    asks = (PieceAsk(plain, "machine", "press 1"), PieceAsk(plain, "shelf"))
    old = make_job(db, shop, pieces=asks, title="skim both", rush=True, order_number="K 9", promised_on=TODAY)
    keep_cuts(db, shop, old)
    agree(db, shop, old)
    new = jobs.by_no(db, again.same_again(db, job_id=old.id, **shop.at(LATER)))
    assert (new.no, new.customer_id, new.title) == (1002, old.customer_id, "skim both")
    assert new.asked == "same again as job 1001"
    assert (new.rush, new.order_number, new.promised_on, new.opened_at) == (False, "", None, LATER)
    assert [(p.variant_id, p.destination, p.custody) for p in pieces_of(db, new)] == [
        (plain, "machine: press 1", "expected"), (plain, "customer's shelf", "expected"),
    ]  # fmt: skip
    first, second = (cutting.plan(db, job.id, plain) for job in (old, new))
    assert (second.typed, second.grams, second.version) == (first.typed, pytest.approx(first.grams), 1)
    (draft,) = quotes.of_job(db, new.id)
    assert (draft.pricing.settings, draft.issued_on, draft.agreed) == (AN_HOUR.settings, None, False)


def test_nothing_seen_weighed_or_measured_is_copied(db: Session, shop: Shop) -> None:
    old = finished_job(db, shop)
    first = pieces_of(db, old)[0]
    sizes.measure(db, piece_id=first.id, name="web", typed="1.75", unit="in", instrument="caliper", **shop.at())
    condition.declare(db, piece_id=first.id, amount="500", risk="shop", **shop.at())
    new = jobs.by_no(db, again.same_again(db, job_id=old.id, **shop.at(LATER)))
    for piece in pieces_of(db, new):
        assert (piece.sign_seen, piece.note, piece.place) == (None, "", "")
        assert weighing.readings(db, piece.id) == sizes.of_piece(db, piece.id) == photos.of_piece(db, piece.id) == []
        assert {fact.answer for fact in condition.standing(db, piece.id)} == {"not_looked"}
        assert condition.declared(db, piece.id) is None
        assert not {fact.key for fact in gate.missing(db, piece.id)} & {"web"}
    assert quotes.yes_of_job(db, new.id) is None
    assert jobs.spent_minutes(db, new.id) == 0


def test_the_sum_is_made_anew_on_todays_drawing(db: Session, shop: Shop) -> None:
    old = make_job(db, shop)
    keep_cuts(db, shop, old)
    plain = the_plain_plate(db, shop)
    larger = BodyTyped("in", (Typed("ring", {"outside": "10", "inside": "2", "start": "0", "end": "2"}),))
    cutting.keep_body(db, variant_id=plain, typed=larger, **shop.at())
    new = jobs.by_no(db, again.same_again(db, job_id=old.id, **shop.at(LATER)))
    then, now = (cutting.plan(db, job.id, plain).grams for job in (old, new))
    assert now / then == pytest.approx((10**2 - 2**2) / (8**2 - 2**2))  # rings go as D² - d²


def test_the_price_is_of_todays_rate(db: Session, shop: Shop) -> None:
    old = make_job(db, shop)
    agree(db, shop, old)
    shopbook.add_rate(db, valid_from=LATER.date(), cents_per_hour=12_000, **shop.at())
    new = jobs.by_no(db, again.same_again(db, job_id=old.id, **shop.at(LATER)))
    assert quotes.of_job(db, new.id)[0].net_cents == 2 * quotes.of_job(db, old.id)[0].net_cents


def test_a_depth_that_was_a_part_of_the_measured_web_has_to_be_typed_again(db: Session, shop: Shop) -> None:
    old = make_job(db, shop)
    keep_cuts(db, shop, old, face("half", web="2.000"))
    new = jobs.by_no(db, again.same_again(db, job_id=old.id, **shop.at(LATER)))
    assert cutting.plan(db, new.id, the_plain_plate(db, shop)) is None
    said = [line.words for line in history.of_job(db, new.id) if line.act == "same again"]
    assert len(said) == 1
    assert "Measure the web" in said[0]


def test_a_web_that_was_measured_then_does_not_come_along(db: Session, shop: Shop) -> None:
    old = make_job(db, shop)
    keep_cuts(db, shop, old, face(".250", web="2.000", note="2 in"))
    new = jobs.by_no(db, again.same_again(db, job_id=old.id, **shop.at(LATER)))
    typed = cutting.plan(db, new.id, the_plain_plate(db, shop)).typed
    assert (typed.web, typed.web_note, typed.cuts[0].sizes) == ("", "", {"depth": ".250"})


def test_the_newest_job_is_the_one_to_do_again(db: Session, shop: Shop) -> None:
    customer_id = make_customer(db, shop)
    assert again.last_job(db, customer_id) is None
    make_job(db, shop, customer_id=customer_id)
    second = finished_job(db, shop, customer_id=customer_id, pieces=1)
    mishaps.rework(db, piece_id=pieces_of(db, second)[0].id, reason="out of line", free=True, **shop.at())
    make_job(db, shop, customer_id=customer_id, pieces=0)
    assert again.last_job(db, customer_id).no == second.no


def test_a_job_without_pieces_or_of_reworks_only_is_not_done_again(db: Session, shop: Shop) -> None:
    with pytest.raises(InTheWay, match="no piece"):
        again.same_again(db, job_id=make_job(db, shop, pieces=0).id, **shop.at())
    with pytest.raises(NotHere):
        again.same_again(db, job_id=99, **shop.at())


def test_a_piece_not_told_apart_yet_is_asked_for_again_as_it_was(db: Session, shop: Shop) -> None:
    make_variant(db, shop, part_id=make_part(db, shop))
    old = make_job(db, shop, pieces=(PieceAsk(None, "shelf"),))
    new = jobs.by_no(db, again.same_again(db, job_id=old.id, **shop.at(LATER)))
    assert [(p.name, p.goes_to) for p in pieces_of(db, new)] == [("not told apart yet", "shelf")]


def test_the_customers_of_the_newest_jobs_stand_first_and_once(db: Session, shop: Shop) -> None:
    mill, quarry = make_customer(db, shop), make_customer(db, shop, **QUARRY)
    for customer_id in (quarry, mill, mill):
        make_job(db, shop, customer_id=customer_id)
    assert again.recent(db) == [(mill, MILL["name"]), (quarry, QUARRY["name"])]
    assert again.recent(db, most=1) == [(mill, MILL["name"])]
