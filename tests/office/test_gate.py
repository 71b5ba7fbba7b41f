"""The six facts before the first chip."""

from datetime import timedelta
from typing import Any

import pytest
from sqlmodel import Session

from shopapp.office import condition, gate, history, intake, jobs, photos, questions, quotes, sizes
from shopapp.office.errors import InTheWay, TryAgain
from tests.cast import GUARDED, NOON, PHOTO
from tests.makers import Shop, make_job, make_variant, pieces_of, take_everything_in, weigh

KEYS = ["sign", "weight", "photos", "condition", "web", "go_ahead"]
LATER = NOON + timedelta(hours=1)


def a_piece(db: Session, shop: Shop, **told: Any) -> jobs.PieceFacts:
    return pieces_of(db, make_job(db, shop, pieces=1, **told))[0]


def ready_piece(db: Session, shop: Shop) -> jobs.PieceFacts:
    """A piece of a kind that names a least web, with all six facts."""
    guarded = make_variant(db, shop, body=GUARDED)
    job = make_job(db, shop, pieces=1, variant_id=guarded)
    (piece,) = take_everything_in(db, shop, job)
    weigh(db, shop, piece, "before", "26.5")
    measure(db, shop, piece.id)
    quotes.go_ahead(db, job_id=job.id, said_by="Marn", how="phone", **shop.at())
    return piece


def measure(db: Session, shop: Shop, piece_id: int, **told: str) -> None:
    facts = {"name": "web", "typed": "2.000", "unit": "in", "instrument": "caliper", **told}
    sizes.measure(db, piece_id=piece_id, **facts, **shop.at())


def fact(db: Session, piece_id: int, key: str) -> gate.Fact:
    return next(one for one in gate.gate(db, piece_id) if one.key == key)


def test_a_piece_with_all_six_facts_goes_into_the_chuck(db: Session, shop: Shop) -> None:
    piece = ready_piece(db, shop)
    facts = gate.gate(db, piece.id)
    assert ([one.key for one in facts], {one.ok for one in facts}) == (KEYS, {True})
    assert [one.words for one in facts if one.key in ("sign", "weight", "web", "go_ahead")] == [
        "sign seen: flat on both faces", "weighed in: 26.5 lb on spring", "web 2.000 in", "Marn said go ahead",
    ]  # fmt: skip
    intake.move(db, piece_id=piece.id, to="chuck", **shop.at())
    assert gate.waived_words(db, piece.id) == ()


def test_each_missing_fact_is_named_with_what_to_do(db: Session, shop: Shop) -> None:
    piece = a_piece(db, shop, variant_id=make_variant(db, shop, body=GUARDED))
    assert [one.key for one in gate.missing(db, piece.id)] == KEYS
    assert gate.refuses(db, piece.id) == (
        "Before the first chip: no deciding sign was looked at; it was not weighed; no photo was taken; nobody looked "
        "for cracks; web was not measured; the customer has not said go ahead. Or say why it goes without."
    )
    assert all(one.what_to_do and one.printed for one in gate.missing(db, piece.id))


def test_not_looked_at_for_cracks_is_not_looked_at(db: Session, shop: Shop) -> None:
    piece = a_piece(db, shop)
    condition.look(db, piece_id=piece.id, answers={"rusted": "yes", "cracked": "not_looked"}, **shop.at())
    assert fact(db, piece.id, "condition").words == "nobody looked for cracks"
    condition.look(db, piece_id=piece.id, answers={"cracked": "no"}, **shop.at())
    assert fact(db, piece.id, "condition").ok


def test_a_crack_wants_a_word_from_the_customer_that_is_newer_than_it(db: Session, shop: Shop) -> None:
    piece = ready_piece(db, shop)
    condition.look(db, piece_id=piece.id, answers={"cracked": "yes"}, **shop.at(LATER))
    assert "it is cracked" in gate.refuses(db, piece.id)
    asked = questions.stop(db, job_id=piece.job_id, waits_for="customer", question="it is cracked?", **shop.at(LATER))
    assert "a question is open: it is cracked?" in gate.refuses(db, piece.id)
    questions.answer(db, stop_id=asked, words="cut it", **shop.at(LATER + timedelta(minutes=5)))
    assert gate.refuses(db, piece.id) == ""


def test_material_on_order_keeps_no_piece_from_the_chuck(db: Session, shop: Shop) -> None:
    piece = ready_piece(db, shop)
    questions.stop(db, job_id=piece.job_id, waits_for="material", question="bar 60 mm", **shop.at())
    assert gate.refuses(db, piece.id) == ""


@pytest.mark.parametrize(
    ("told", "ok"),
    [
        ({"name": "web at the hub"}, True),
        ({"instrument": "told, not measured"}, False),
        ({"name": "web left"}, False),
        ({"name": "outside"}, False),
    ],
)
def test_the_web_is_measured_on_the_piece_itself(db: Session, shop: Shop, told: dict[str, str], ok: bool) -> None:
    piece = a_piece(db, shop, variant_id=make_variant(db, shop, body=GUARDED))
    measure(db, shop, piece.id, **told)
    assert fact(db, piece.id, "web").ok is ok


def test_where_no_least_web_is_named_none_is_asked_for(db: Session, shop: Shop) -> None:
    assert fact(db, a_piece(db, shop).id, "web").words == "no least web or wall is named"


def test_a_photo_of_something_else_is_no_photo_of_how_it_came(db: Session, shop: Shop) -> None:
    piece = a_piece(db, shop)
    photos.keep(db, what="trouble", photo=photos.made_small(PHOTO), piece_id=piece.id, **shop.at())
    assert not fact(db, piece.id, "photos").ok
    photos.keep(db, what="damage", photo=photos.made_small(PHOTO), piece_id=piece.id, **shop.at())
    assert fact(db, piece.id, "photos").words == "1 photo"


def test_what_was_waived_is_printed_later_and_not_asked_twice(db: Session, shop: Shop) -> None:
    (piece,) = take_everything_in(db, shop, make_job(db, shop, pieces=1))
    with pytest.raises(TryAgain, match="it was not weighed"):
        intake.move(db, piece_id=piece.id, to="chuck", **shop.at())
    intake.move(db, piece_id=piece.id, to="chuck", reason="the scale is out", **shop.at())
    assert gate.waived_words(db, piece.id) == ("not weighed before", "cut before the customer said go ahead")
    assert "waived" in [line.act for line in history.of_piece(db, piece.id)]
    intake.move(db, piece_id=piece.id, to="rack", **shop.at())
    intake.move(db, piece_id=piece.id, to="chuck", **shop.at())
    assert pieces_of(db, jobs.by_id(db, piece.job_id))[0].custody == "chuck"


def test_a_waiver_wants_its_reason_and_is_not_written_where_nothing_is_missing(db: Session, shop: Shop) -> None:
    piece = ready_piece(db, shop)
    with pytest.raises(TryAgain, match="Say why"):
        gate.waive(db, piece_id=piece.id, reason=" ", **shop.at())
    assert gate.waive(db, piece_id=piece.id, reason="all is there", **shop.at()) == ""
    assert gate.waived_words(db, piece.id) == ()


def test_nothing_is_cut_in_a_job_that_has_ended_whatever_is_said(db: Session, shop: Shop) -> None:
    piece = ready_piece(db, shop)
    jobs.job_row(db, piece.job_id).ended = "called_off"  # no verb leaves a piece in the rack of a job that ends
    for reason in ("", "they want it all the same"):
        with pytest.raises(InTheWay, match="was called off: nothing is cut in it"):
            intake.move(db, piece_id=piece.id, to="chuck", reason=reason, **shop.at())
    assert jobs.piece_row(db, piece.id).custody == "rack"
