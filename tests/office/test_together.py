"""Alike pieces weighed at once: one reading for all, the average it tells, and nothing of any single one."""

import pytest
from sqlmodel import Session

from shopapp.office import cutting, history, jobs, together, weighing
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.jobs import PieceAsk, PieceFacts
from shopapp.office.together import Jointly
from tests.cast import LIPPED, SKIM
from tests.makers import Shop, keep_cuts, make_job, make_variant, pieces_of, take_everything_in

LB = 453.59237
"""The avoirdupois pound [g], NIST SP 811, App. B."""


def two(db: Session, shop: Shop, pieces: int = 2) -> list[PieceFacts]:
    """Alike pieces in the rack whose cuts take 3.34 lb each by the drawing."""
    job = make_job(db, shop, pieces=pieces)
    keep_cuts(db, shop, job)
    return take_everything_in(db, shop, job)


def at_once(
    db: Session, shop: Shop, pieces: list[PieceFacts], phase: str, typed: str, scale: str = "spring", note: str = ""
) -> int:
    """Write down what they weigh at once."""
    return together.weigh(
        db, piece_ids=[piece.id for piece in pieces], scale_id=shop.scales[scale], phase=phase, typed=typed,
        note=note, **shop.at(),
    )  # fmt: skip


def told(db: Session, pieces: list[PieceFacts]) -> Jointly:
    """What is said of the first; the same as of the others."""
    found = together.of_pieces(db, pieces)
    assert len({id(one) for one in found.values()}) == len(pieces)
    assert all(one == found[pieces[0].id] for one in found.values())
    return found[pieces[0].id]


def test_one_reading_for_both_is_kept_as_typed_and_is_no_reading_of_either(db: Session, shop: Shop) -> None:
    pieces = two(db, shop)
    at_once(db, shop, pieces, "before", " 53 ")
    found = told(db, pieces)
    assert found.before is not None
    assert (found.before.text, found.before.scale_words) == ("53 lb", "spring, shows 0.5 lb")
    assert found.before.grams == pytest.approx(53 * LB)
    assert (found.numbers, found.after, found.verdict) == ("1001-1 and 1001-2", None, "")
    for piece in pieces:
        assert weighing.readings(db, piece.id) == []
        assert history.of_piece(db, piece.id)[0].words == "before, 1001-1 and 1001-2 at once: 53 lb on spring"


# GUM F.2.2.1: a reading of division d has u = d/sqrt(12). Two of d = 0.5 lb: u = 0.5/sqrt(6), U = 2u = 0.408 lb for
# what came off all; 0.204 lb for each of two, 0.136 lb for each of three.
@pytest.mark.outside("computed: GUM F.2.2.1")
@pytest.mark.parametrize(("n", "before", "after", "each", "good_to"), [
    (2, "53", "46.5", "3.25 lb", "0.20 lb"),
    (3, "60", "50", "3.33 lb", "0.14 lb"),
])  # fmt: skip
def test_the_half_width_of_each_is_divided_by_their_number(
    db: Session, shop: Shop, n: int, before: str, after: str, each: str, good_to: str
) -> None:
    pieces = two(db, shop, n)
    at_once(db, shop, pieces, "before", before)
    at_once(db, shop, pieces, "after", after)
    found = told(db, pieces)
    assert (found.each_text, found.good_to, found.verdict) == (each, good_to, "agrees")
    assert f"On the average {each} ±{good_to} came off each" in found.verdict_words
    assert "how the pieces differ is not in it" in found.verdict_words
    inputs = dict(found.workings[0].inputs)
    assert (inputs["pieces at once"], inputs["good to"]) == (str(n), f"±{good_to}")


# By the drawing 3.34 lb, two per cent of it 0.067 lb; with 0.204 lb of the scale U = 0.215 lb. Up to U agrees, up to
# 2 U look again: the shop's own rule. Singly, 0.408 lb of the scale, 3.75 lb off would still agree.
@pytest.mark.outside("computed: GUM F.2.2.1; what agrees is the shop's own rule")
@pytest.mark.parametrize(("after", "word"), [
    ("46.5", "agrees"), ("46", "agrees"), ("45.5", "look again"), ("44.5", "does not add up"),
    ("53.5", "does not add up"),
])  # fmt: skip
def test_the_verdict_on_the_average_is_sharper_than_on_one(db: Session, shop: Shop, after: str, word: str) -> None:
    pieces = two(db, shop)
    at_once(db, shop, pieces, "before", "53")
    at_once(db, shop, pieces, "after", after, note="as it was read")
    assert told(db, pieces).verdict == word
    judged = together.judge(db, pieces=pieces, scale_id=shop.scales["spring"], phase="after", typed=after)
    assert (judged.verdict, judged.words) == (word, told(db, pieces).verdict_words)


def test_a_scale_too_coarse_for_one_may_judge_them_at_once_or_still_not(db: Session, shop: Shop) -> None:
    pieces = two(db, shop)
    at_once(db, shop, pieces, "before", "50", "weighbridge")
    at_once(db, shop, pieces, "after", "45", "weighbridge")
    assert told(db, pieces).verdict == "scale too coarse"
    assert "even all at once" in told(db, pieces).verdict_words


def test_without_cuts_on_paper_there_is_an_average_and_no_verdict(db: Session, shop: Shop) -> None:
    pieces = take_everything_in(db, shop, make_job(db, shop))
    at_once(db, shop, pieces, "before", "53")
    at_once(db, shop, pieces, "after", "46.5")
    found = told(db, pieces)
    assert (found.each_text, found.verdict, found.off_words) == (
        "3.25 lb", "", "3.25 lb each, 1001-1 and 1001-2 together",
    )  # fmt: skip


def test_a_wrong_one_is_struck_for_all_of_them_and_stays(db: Session, shop: Shop) -> None:
    pieces = two(db, shop)
    wrong = at_once(db, shop, pieces, "before", "43")
    with pytest.raises(TryAgain, match="Strike it through first"):
        at_once(db, shop, pieces, "before", "53")
    together.strike(db, joint_id=wrong, reason="wrong circle", **shop.at())
    at_once(db, shop, pieces, "before", "53")
    found = told(db, pieces)
    assert found.before is not None
    assert (found.before.typed, [(row.typed, row.struck) for row in found.struck]) == ("53", [("43", "wrong circle")])
    for piece in pieces:
        words = [line.words for line in history.of_piece(db, piece.id) if line.act == "struck"]
        assert words == ["before, 1001-1 and 1001-2 at once, 43 lb struck through: wrong circle"]


def test_a_strike_has_a_reason_and_comes_once(db: Session, shop: Shop) -> None:
    row = at_once(db, shop, two(db, shop), "before", "43")
    with pytest.raises(TryAgain, match="both stay in the book"):
        together.strike(db, joint_id=row, reason=" ", **shop.at())
    together.strike(db, joint_id=row, reason="tag", **shop.at())
    with pytest.raises(InTheWay, match="already"):
        together.strike(db, joint_id=row, reason="tag", **shop.at())
    with pytest.raises(NotHere):
        together.strike(db, joint_id=99, reason="tag", **shop.at())


@pytest.mark.parametrize(
    ("phase", "typed", "scale", "field", "said"),
    [
        ("before", "53.3", "spring", "reading", "This scale shows halves."),
        ("before", "70", "spring", "reading", "carries 60 lb"),
        ("between", "53", "spring", "phase", "before or after the cuts"),
        ("after", "46.5", "spring", "reading", "were not weighed at once before"),
        ("before", "53", "", "scale", "Choose the scale"),
    ],
)
def test_what_cannot_be_is_asked_about(
    db: Session, shop: Shop, phase: str, typed: str, scale: str, field: str, said: str
) -> None:
    pieces = two(db, shop)
    with pytest.raises(TryAgain, match=said) as refusal:
        together.weigh(
            db, piece_ids=[piece.id for piece in pieces], scale_id=shop.scales.get(scale, 99), phase=phase,
            typed=typed, **shop.at(),
        )  # fmt: skip
    assert set(refusal.value.problems) == {field}


def test_the_same_pieces_on_the_same_scale_or_a_word_why_not(db: Session, shop: Shop) -> None:
    pieces = two(db, shop, 3)
    at_once(db, shop, pieces[:2], "before", "53")
    with pytest.raises(TryAgain, match="were not weighed at once before"):
        at_once(db, shop, pieces, "after", "50")
    with pytest.raises(TryAgain, match="weighed in on spring"):
        at_once(db, shop, pieces[:2], "after", "45", "weighbridge")
    at_once(db, shop, pieces[:2], "after", "45", "weighbridge", note="the spring scale is lent out")


def test_pieces_that_got_heavier_at_once_are_asked_about(db: Session, shop: Shop) -> None:
    pieces = two(db, shop)
    at_once(db, shop, pieces, "before", "53")
    with pytest.raises(TryAgain, match="It weighed 53 lb before"):
        at_once(db, shop, pieces, "after", "55")
    at_once(db, shop, pieces, "after", "55", note="both bushes are in")
    assert told(db, pieces).after.note == "both bushes are in"


def test_a_weight_before_that_is_written_late_says_why(db: Session, shop: Shop) -> None:
    pieces = two(db, shop)
    jobs.piece_row(db, pieces[0].id).custody = "chuck"
    with pytest.raises(TryAgain, match="only now"):
        at_once(db, shop, pieces, "before", "53")
    at_once(db, shop, pieces, "before", "53", note="stood on my pad")


def test_one_alone_and_pieces_that_are_not_here_or_not_alike_are_refused(db: Session, shop: Shop) -> None:
    pieces = two(db, shop)
    with pytest.raises(TryAgain, match="two pieces or more"):
        at_once(db, shop, pieces[:1], "before", "26.5")
    with pytest.raises(InTheWay, match="Not all of these"):
        at_once(db, shop, pieces_of(db, make_job(db, shop)), "before", "53")
    with pytest.raises(InTheWay, match="not alike"):
        at_once(db, shop, [pieces[0], *two(db, shop)], "before", "53")


def test_look_alikes_with_the_same_cuts_are_alike_and_with_other_cuts_they_are_not(db: Session, shop: Shop) -> None:
    asks = (PieceAsk(make_variant(db, shop)), PieceAsk(make_variant(db, shop, **LIPPED)))
    job = make_job(db, shop, pieces=asks)
    pieces = take_everything_in(db, shop, job)
    assert together.alike(db, pieces[0], pieces) == ()
    for piece in pieces:
        cutting.keep_cuts(db, job_id=job.id, variant_id=piece.variant_id, typed=SKIM, **shop.at())
    assert together.alike(db, pieces[0], pieces) == tuple(pieces)
    assert together.wanted(Jointly(), together.alike(db, pieces[0], pieces)) == "before"


def test_what_is_wanted_next_follows_what_stands(db: Session, shop: Shop) -> None:
    pieces = two(db, shop)
    assert together.wanted(told(db, pieces), pieces[:1]) == ""
    assert together.wanted(told(db, pieces), pieces) == "before"
    at_once(db, shop, pieces, "before", "53")
    assert together.wanted(told(db, pieces), pieces) == "after"
    at_once(db, shop, pieces, "after", "46.5")
    assert together.wanted(told(db, pieces), pieces) == ""
    for piece in (late := two(db, shop)):
        jobs.piece_row(db, piece.id).custody = "chuck"
    assert together.wanted(Jointly(), pieces_of(db, jobs.by_id(db, late[0].job_id))) == ""


def test_while_it_is_typed_the_scale_says_how_sharp_it_is(db: Session, shop: Shop) -> None:
    pieces, spring = two(db, shop), shop.scales["spring"]

    def said(typed: str, scale_id: int | None = spring) -> weighing.Judged:
        return together.judge(db, pieces=pieces, scale_id=scale_id, phase="before", typed=typed)

    assert said("").fitness == "Two weighings of both on spring are good to ±0.20 lb each."
    assert said("53").echo == "53.000 lb · 24.040 kg"
    assert "halves" in said("53.2").question
    assert "Choose the scale" in said("53", None).question
    assert together.judge(db, pieces=(), scale_id=spring, phase="before", typed="5") == weighing.Judged()
