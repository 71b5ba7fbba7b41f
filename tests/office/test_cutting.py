"""Cuts on paper: tried while they are typed, kept in versions by the same sum."""

import pytest
from sqlmodel import Session

from shopapp.office import cutting, parts, predicting
from shopapp.office.drawing import BodyTyped, CutsTyped, Typed
from shopapp.office.errors import NotHere, TryAgain
from tests.cast import DISC, GUARDED, LIPPED, QUARRY, SKIM, face
from tests.makers import Shop, keep_cuts, make_customer, make_job, make_variant, pieces_of

GREY = {"name": "cast", "signs": ["cast in grey iron"], "material": "grey_iron", "density": "7.15"}


def test_what_was_tried_is_what_is_kept(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    variant_id = pieces_of(db, job)[0].variant_id
    tried = cutting.try_cuts(db, variant_id=variant_id, typed=SKIM, pieces=2)
    keep_cuts(db, shop, job)
    kept = cutting.plan(db, job.id, variant_id)
    assert (kept.removal, kept.section) == (tried.removal, tried.section)
    assert (kept.grams, kept.typed, kept.about) == (tried.removal.grams, SKIM, "3.34 lb")
    assert kept.spread == pytest.approx((tried.removal.high_g - tried.removal.low_g) / 2 / tried.removal.grams)


def test_a_prediction_less_sure_than_its_own_size_keeps_all_of_its_uncertainty(db: Session, shop: Shop) -> None:
    # A few thousandths off a casting: what the low end lacks, cut off at nothing, is not taken for certainty.
    job = make_job(db, shop, variant_id=make_variant(db, shop, **GREY))
    variant_id = pieces_of(db, job)[0].variant_id
    keep_cuts(db, shop, job, face(".005"))
    kept = cutting.plan(db, job.id, variant_id)
    variant, drawn, cuts = cutting.as_cut(db, kept)
    sure = predicting.predict(variant, drawn, cuts)
    assert kept.removal.low_g == 0
    assert sure.expanded > kept.grams
    assert kept.spread * kept.grams == pytest.approx(sure.expanded)


def test_a_second_version_keeps_the_first(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    variant_id = pieces_of(db, job)[0].variant_id
    first = keep_cuts(db, shop, job)
    keep_cuts(db, shop, job, face(".125"))
    assert cutting.plan(db, job.id, variant_id).version == 2
    (old,) = cutting._plans(db, cutting.CutPlan.id == first)
    assert (old.version, old.typed) == (1, SKIM)


def test_a_new_drawing_leaves_kept_cuts_as_they_were(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    variant_id = pieces_of(db, job)[0].variant_id
    keep_cuts(db, shop, job)
    thicker = BodyTyped("in", parts=(Typed("ring", {**DISC.parts[0].sizes, "outside": "12"}),))
    cutting.keep_body(db, variant_id=variant_id, typed=thicker, **shop.at())
    assert cutting.body_of(db, variant_id)[1] == thicker
    assert cutting.plan(db, job.id, variant_id).about == "3.34 lb"
    assert cutting.try_cuts(db, variant_id=variant_id, typed=SKIM).removal.about != "3.34 lb"


def test_a_half_typed_cut_still_shows_the_others(db: Session, shop: Shop) -> None:
    variant_id = make_variant(db, shop)
    half = CutsTyped("in", (*SKIM.cuts, Typed("turn", {"start": "1"}, "A")))
    tried = cutting.try_cuts(db, variant_id=variant_id, typed=half)
    assert (len(tried.removal.rows), set(tried.problems)) == (1, {"cut_1_to"})


def test_without_a_drawing_the_cut_itself_is_the_metal(db: Session, shop: Shop) -> None:
    variant_id = make_variant(db, shop, body=None)
    turned = CutsTyped("in", (Typed("turn", {"from": "8", "to": "7", "start": "0", "end": "1"}, "A"),))
    assert cutting.body_of(db, variant_id) == (None, None)
    tried = cutting.try_cuts(db, variant_id=variant_id, typed=turned)
    assert (tried.removal.before_text, tried.removal.about) == ("", "3.34 lb")  # pi/4 (64 - 49) 1 in, 7.85 g/cm3


def test_nothing_typed_shows_nothing(db: Session, shop: Shop) -> None:
    tried = cutting.try_cuts(db, variant_id=make_variant(db, shop, body=None), typed=CutsTyped("in"))
    assert (tried.removal, tried.section, tried.problems) == (None, None, {})


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        (CutsTyped("in"), "cut_0_to"), (face(""), "cut_0_to"), (face("deep"), "cut_0_depth"), (face(".500"), ""),
        (face("5"), ""), (CutsTyped("in", (Typed("turn", {"to": "9"}, "A"),)), ""),
    ],
)  # fmt: skip
def test_cuts_that_cannot_be_made_are_not_kept(db: Session, shop: Shop, typed: CutsTyped, field: str) -> None:
    job = make_job(db, shop, variant_id=make_variant(db, shop, body=GUARDED))
    with pytest.raises(TryAgain) as refusal:
        keep_cuts(db, shop, job, typed)
    assert set(refusal.value.problems) == {field}
    assert cutting.newest_plans(db, {job.id}) == {}


def test_a_web_said_in_two_sizes_is_asked_about(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    twice = face("half", web="13 mm", note="a quarter inch")
    tried = cutting.try_cuts(db, variant_id=pieces_of(db, job)[0].variant_id, typed=twice)
    assert "Which one is it?" in tried.question
    with pytest.raises(TryAgain) as refusal:
        keep_cuts(db, shop, job, twice)
    assert set(refusal.value.problems) == {"web_note"}


@pytest.mark.parametrize(("web", "note"), [("13 mm", ".512 in"), ("", "a quarter inch"), ("13 mm", ""), ("?", "1 in")])
def test_a_web_said_once_or_twice_the_same_is_not(web: str, note: str) -> None:
    assert cutting.web_question(face("half", web=web, note=note)) == ""


def test_a_drawing_wants_at_least_one_ring(db: Session, shop: Shop) -> None:
    variant_id = make_variant(db, shop, body=None)
    with pytest.raises(TryAgain, match="at least one ring"):
        cutting.keep_body(db, variant_id=variant_id, typed=BodyTyped("in"), **shop.at())
    half = BodyTyped("in", parts=(*DISC.parts, Typed("ring", {"outside": "9"})))
    with pytest.raises(TryAgain) as refusal:
        cutting.keep_body(db, variant_id=variant_id, typed=half, **shop.at())
    assert set(refusal.value.problems) == {"part_1_start", "part_1_end"}


def test_cuts_are_kept_for_a_variant_of_the_job_only(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    other = make_variant(db, shop, **LIPPED)
    with pytest.raises(NotHere):
        cutting.keep_cuts(db, job_id=job.id, variant_id=other, typed=SKIM, **shop.at())


def test_the_next_job_begins_from_the_last_ones_cuts(db: Session, shop: Shop) -> None:
    first = make_job(db, shop)
    variant_id = pieces_of(db, first)[0].variant_id
    keep_cuts(db, shop, first)
    second = make_job(db, shop, customer_id=make_customer(db, shop, **QUARRY), variant_id=variant_id)
    assert cutting.last_plan(db, variant_id, but_job=second.id).job_id == first.id
    assert cutting.last_plan(db, variant_id, but_job=first.id) is None


def test_a_drawing_is_tried_with_its_mass(db: Session, shop: Shop) -> None:
    tried = cutting.try_body(parts.variant(db, make_variant(db, shop)), DISC)
    assert (tried.removal.before_text, tried.problems) == ("26.73 lb", {})


HOLES = {"count": "4", "diameter": "1/2", "circle": "5"}


def drawn_with(*rows: Typed) -> BodyTyped:
    return BodyTyped("in", parts=(*DISC.parts, *rows))


def test_voids_in_each_other_are_not_kept_and_may_be_put_apart(db: Session, shop: Shop) -> None:
    variant_id = make_variant(db, shop)
    with pytest.raises(TryAgain, match="drawn twice"):
        cutting.keep_body(db, variant_id=variant_id, typed=drawn_with(*[Typed("holes", HOLES)] * 2), **shop.at())
    apart = [Typed("holes", {**HOLES, "first": text}) for text in ("0", "45°")]
    cutting.keep_body(db, variant_id=variant_id, typed=drawn_with(*apart), **shop.at())
    assert cutting.body_of(db, variant_id)[1].parts[2].sizes["first"] == "45°"
    aslant = [Typed("holes", {**HOLES, "first": text}) for text in ("0", "8 deg")]
    with pytest.raises(TryAgain, match="run into each other"):
        cutting.keep_body(db, variant_id=variant_id, typed=drawn_with(*aslant), **shop.at())


def test_voids_that_may_meet_are_asked_about_until_it_is_said_where_they_stand(db: Session, shop: Shop) -> None:
    key = {"width": "1/2", "depth": "1/4", "bore": "2"}
    screw = {"count": "1", "diameter": "3/8", "outside": "8", "depth": "2.9", "at": "1"}
    variant = parts.variant(db, make_variant(db, shop))
    asked = cutting.try_body(variant, drawn_with(Typed("keyway", key), Typed("pocket", screw)))
    assert "Type “first at” of both" in asked.removal.hints[0]
    told = drawn_with(Typed("keyway", {**key, "first": "0"}), Typed("pocket", {**screw, "first": "90"}))
    assert cutting.try_body(variant, told).removal.hints == ()


def test_a_part_cut_away_altogether_is_not_kept(db: Session, shop: Shop) -> None:
    with pytest.raises(TryAgain, match="Nothing of the part would stay"):
        keep_cuts(db, shop, make_job(db, shop), CutsTyped("in", (Typed("bore", {"to": "8"}, "A"),)))
