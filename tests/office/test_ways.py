"""Finer ways to weigh, and the weight between two sides."""

import math

import pytest
from sqlmodel import Session

from shopapp.office import cutting, intake, shopbook, ways, weighing
from shopapp.office.drawing import CutsTyped, Typed
from tests.makers import Shop, keep_cuts, make_job, pieces_of, take_everything_in, weigh

POUND = 453.59237  # NIST SP 811, B.8


@pytest.mark.outside("computed: GUM F.2.2.1")
def test_two_at_once_are_twice_as_sharp_and_the_sentence_says_what_it_wants(db: Session, shop: Shop) -> None:
    # GUM F.2.2.1: each reading d / sqrt(12); two readings 2 d / sqrt(6) expanded; each of two pieces half of that.
    spring = 2 * 0.5 / math.sqrt(6) / 2
    # Two of 12 kg are too much for the counter's 15 kg, so at once they go on the spring scale.
    words = ways.sharper(db, pieces=2, each_g=12_000, predicted_g=2.1 * POUND * spring)
    assert words == (
        "Sharper: one by one on counter, good to ±4 g each; "
        f"or all 2 at once on spring, good to ±{spring:.1f} lb each. "
        "At once wants both weights, before and after the cuts, and tells the average alone."
    )


def test_where_no_scale_can_judge_that_is_said(db: Session, shop: Shop) -> None:
    assert ways.sharper(db, pieces=1, each_g=16_000, predicted_g=5) == (
        "No scale of the shop can judge this, nor all pieces at once: a finer scale is wanted."
    )
    assert len(shopbook.scales(db)) == 3


def test_a_weight_between_tells_what_each_side_took(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    both = CutsTyped("in", (Typed("face", {"depth": ".250"}, "A"), Typed("face", {"depth": ".125"}, "B")))
    keep_cuts(db, shop, job, both)
    (piece,) = take_everything_in(db, shop, job)
    weigh(db, shop, piece, "before", "26.5")
    intake.move(db, piece_id=piece.id, to="chuck", reason="a trial", **shop.at())
    weigh(db, shop, piece, "between", "23")
    plan = cutting.plan(db, job.id, piece.variant_id or 0)
    told = weighing.of_pieces(db, pieces_of(db, job))[piece.id]
    first = ways.between(told, plan)
    assert first[0] == "Up to the weight between 3.5 lb came off, good to ±0.41 lb."
    assert first[1] == "By the drawing: side A 3.34 lb, side B 1.67 lb."
    weigh(db, shop, piece, "after", "21.5")
    told = weighing.of_pieces(db, pieces_of(db, job))[piece.id]
    assert ways.between(told, plan)[1].startswith("After it 1.5 lb")


def test_without_a_weight_between_nothing_is_said(db: Session, shop: Shop) -> None:
    assert ways.between(weighing.Weighed(), None) == ()
    assert ways.working()[0].source.startswith("GUM F.2.2.1")
