"""How much came off last time."""

from datetime import UTC, date, datetime

from sqlmodel import Session

from shopapp.office import intake, invoices, jobs, lasttime, together
from tests.cast import LIPPED, NOON, WALK_IN
from tests.makers import (
    Shop,
    agree,
    cut,
    finished_job,
    make_customer,
    make_job,
    make_variant,
    pieces_of,
    take_everything_in,
    the_plain_plate,
    weigh,
)


def test_last_time_tells_removal_minutes_and_price_of_a_piece(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    jobs.spend(db, job_id=job.id, minutes=75, **shop.at())
    invoices.issue(db, job_id=job.id, lines=invoices.draft_lines(db, job.id, now=NOON), **shop.at())
    first, second = lasttime.of_variant(db, the_plain_plate(db, shop))
    assert (first.number, second.number, first.customer) == ("1001-1", "1001-2", "Cobbet Cider Mill")
    assert (first.weighed.removed_text, first.weighed.verdict) == ("3.5 lb", "agrees")
    assert (first.minutes, first.cents) == (38, 3500)


def test_the_newest_job_stands_first_across_customers(db: Session, shop: Shop) -> None:
    finished_job(db, shop, pieces=1)
    finished_job(db, shop, pieces=1, customer_id=make_customer(db, shop, **WALK_IN))
    told = lasttime.of_variant(db, the_plain_plate(db, shop))
    assert [(one.job_no, one.customer) for one in told] == [(1002, "Ysolde"), (1001, "Cobbet Cider Mill")]
    assert len(lasttime.of_variant(db, the_plain_plate(db, shop), most=1)) == 1


def test_pieces_that_are_not_finished_and_look_alikes_tell_nothing(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    take_everything_in(db, shop, job)
    assert lasttime.of_variant(db, the_plain_plate(db, shop)) == []
    finished_job(db, shop, variant_id=make_variant(db, shop, **LIPPED))
    assert lasttime.of_variant(db, the_plain_plate(db, shop)) == []


def test_what_was_not_written_down_is_not_made_up(db: Session, shop: Shop) -> None:
    finished_job(db, shop, pieces=1)
    (told,) = lasttime.of_variant(db, the_plain_plate(db, shop))
    assert (told.minutes, told.cents) == (None, None)


def test_the_day_is_the_one_on_the_shops_wall(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    (piece,) = take_everything_in(db, shop, job)
    evening = datetime(2031, 3, 6, 2, tzinfo=UTC)  # ten at night of the 5th in the shop
    agree(db, shop, job)
    cut(db, shop, [piece])
    intake.move(db, piece_id=piece.id, to="shelf", **shop.at(evening))
    assert pieces_of(db, job)[0].custody == "shelf"
    assert lasttime.of_variant(db, the_plain_plate(db, shop))[0].on == date(2031, 3, 5)


def test_weights_taken_at_once_tell_only_where_the_piece_has_none_of_its_own(db: Session, shop: Shop) -> None:
    pieces = take_everything_in(db, shop, make_job(db, shop))
    told = {"piece_ids": [piece.id for piece in pieces], "scale_id": shop.scales["spring"]}
    for phase, typed in (("before", "53"), ("after", "46.5")):
        together.weigh(db, phase=phase, typed=typed, **told, **shop.at())
    for phase, typed in (("before", "26.5"), ("after", "23")):
        weigh(db, shop, pieces[0], phase, typed)
    for piece in pieces:
        jobs.piece_row(db, piece.id).custody = "checked"
    own, average = lasttime.of_variant(db, the_plain_plate(db, shop))
    assert (own.off, own.scale_words) == ("3.5 lb", "spring, shows 0.5 lb")
    assert (average.off, average.scale_words) == ("3.25 lb each, 1001-1 and 1001-2 together", "spring, shows 0.5 lb")
    assert average.weighed.removed_text == ""
    assert lasttime.offs([own, average]) == [
        ("1001-1", "26.5 lb − 23 lb = 3.5 lb"),
        ("1001-1 and 1001-2", "53 lb − 46.5 lb = 6.5 lb, 3.25 lb each on the average"),
    ]
