"""Settings of the jaws, planned across the pieces of a job."""

import pytest
from sqlmodel import Session

from shopapp.office import chuck, clock, cutrun, history, mishaps, truing
from shopapp.office.drawing import CutsTyped, Typed
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.jobs import JobFacts, PieceAsk
from shopapp.office.runcard import CardTyped
from shopapp.office.truing import TruingTyped
from tests import cast, makers
from tests.makers import Shop

BOTH = CutsTyped("in", (Typed("face", {"depth": ".125"}, "A"), Typed("turn", {"to": "7.750"}, "B")))
RIM, TURNED = "inside of the rim", "turned outside"


def a_job(db: Session, shop: Shop, pieces: int = 2, typed: CutsTyped = BOTH) -> JobFacts:
    """A job in the rack, agreed and weighed in, with cuts on both sides."""
    job = makers.make_job(db, shop, pieces=pieces)
    makers.keep_cuts(db, shop, job, typed)
    makers.agree(db, shop, job)
    for piece in makers.take_everything_in(db, shop, job):
        makers.weigh(db, shop, piece, "before", "26.5")
    return job


def holds(db: Session, job: JobFacts, a: str = RIM, b: str = TURNED) -> dict[tuple[int, str], str]:
    return {(one.variant_id, side): {"A": a, "B": b}[side] for one in chuck.sides(db, job.id) for side in one.sides}


def planned(db: Session, shop: Shop, pieces: int = 2, **told: object) -> JobFacts:
    """The same, its settings planned."""
    job = a_job(db, shop, pieces)
    chuck.plan(db, job_id=job.id, holds=holds(db, job), **told, **shop.at())
    return job


def laid_out(db: Session, job: JobFacts) -> list[tuple[int, str, str, list[int]]]:
    run = chuck.of_job(db, job.id)
    return [(o.setting.n, o.setting.side, o.setting.hold, [p.piece.n for p in o.pieces]) for o in run.settings]


def test_two_alike_are_cut_side_by_side_with_one_reset_where_piece_by_piece_takes_three(
    db: Session, shop: Shop
) -> None:
    job = planned(db, shop)
    assert laid_out(db, job) == [(1, "A", RIM, [1, 2]), (2, "B", TURNED, [1, 2])]
    run = chuck.of_job(db, job.id)
    assert (run.resets, run.piece_by_piece, run.next) == (1, 3, (1, 1))
    assert history.of_job(db, job.id)[0].words.endswith("One re-set of the jaws; piece by piece 3.")


def test_two_kinds_held_alike_share_a_setting_and_the_order_of_sides_is_chosen(db: Session, shop: Shop) -> None:
    plain, lipped = makers.make_variant(db, shop), makers.make_variant(db, shop, **cast.LIPPED)
    job = makers.make_job(db, shop, pieces=(PieceAsk(plain), PieceAsk(lipped)))
    for variant_id in (plain, lipped):
        told = {"job_id": job.id, "variant_id": variant_id, "typed": BOTH}
        chuck.cutting.keep_cuts(db, **told, **shop.at())
    chuck.plan(db, job_id=job.id, holds=holds(db, job), first={plain: "B", lipped: "B"}, **shop.at())
    assert laid_out(db, job) == [(1, "B", TURNED, [1, 2]), (2, "A", RIM, [1, 2])]
    other = {**holds(db, job), (lipped, "A"): "between centres"}
    chuck.plan(db, job_id=job.id, holds=other, **shop.at())
    assert {hold for _, _, hold, _ in laid_out(db, job)} == {RIM, TURNED, "between centres"}


def test_both_sides_in_one_hold_are_two_cards_and_no_reset(db: Session, shop: Shop) -> None:
    job = a_job(db, shop)
    chuck.plan(db, job_id=job.id, holds=holds(db, job, "on the mandrel", "on  the Mandrel"), **shop.at())
    assert [(n, side) for n, side, _, _ in laid_out(db, job)] == [(1, "A"), (2, "B")]
    assert chuck.of_job(db, job.id).resets == 0


def test_a_side_without_a_hold_is_asked_for(db: Session, shop: Shop) -> None:
    job = a_job(db, shop)
    told = holds(db, job, b=" ")
    with pytest.raises(TryAgain) as refusal:
        chuck.plan(db, job_id=job.id, holds=told, machine_id=None, **shop.at())
    (field,) = refusal.value.problems
    assert field.startswith("hold_")
    assert field.endswith("_B")
    with pytest.raises(TryAgain, match="Choose a machine"):
        chuck.plan(db, job_id=job.id, holds=holds(db, job), machine_id=99, **shop.at())


def test_without_cuts_nothing_is_planned(db: Session, shop: Shop) -> None:
    job = makers.make_job(db, shop)
    assert chuck.sides(db, job.id) == []
    with pytest.raises(TryAgain, match="Draw the cuts first"):
        chuck.plan(db, job_id=job.id, holds={}, **shop.at())
    with pytest.raises(NotHere):
        chuck.setting(db, job.id, 1)


def test_a_plan_is_made_anew_until_a_piece_is_done(db: Session, shop: Shop) -> None:
    job = planned(db, shop)
    first = chuck.setting(db, job.id, 1)
    piece = first.pieces[0].piece.id
    ids = {"setting_id": first.setting.id, "piece_id": piece}
    cutrun.start(db, **ids, ticks=("key_out", "turned_by_hand"), **shop.at())
    chuck.plan(db, job_id=job.id, holds=holds(db, job, b="by the bore"), **shop.at())
    again = chuck.setting(db, job.id, 1)
    assert [hold for _, _, hold, _ in laid_out(db, job)] == [RIM, "by the bore"]
    assert again.pieces[0].ticks == {}  # a tick is never carried over
    assert clock.running(db, shop.by).setting_id is None
    cutrun.done(db, setting_id=again.setting.id, piece_id=piece, **shop.at())
    with pytest.raises(InTheWay, match="A piece is done in one of these settings, so the plan stands"):
        chuck.plan(db, job_id=job.id, holds=holds(db, job), **shop.at())


def test_readings_of_the_indicator_keep_their_setting(db: Session, shop: Shop) -> None:
    job = planned(db, shop)
    first = chuck.setting(db, job.id, 1)
    told = {"piece_id": first.pieces[0].piece.id, "setting_id": first.setting.id, "surface": "outside"}
    truing.keep(db, **told, stage="found", typed=TruingTyped("tenth", ("1", "0", "1", "0")), **shop.at())
    with pytest.raises(InTheWay, match="A piece is trued in one of these settings, so the plan stands"):
        chuck.plan(db, job_id=job.id, holds=holds(db, job), **shop.at())
    assert chuck.has_begun(db, job.id)


def test_how_it_was_held_the_last_time_is_offered_and_its_sizes_are_not(db: Session, shop: Shop) -> None:
    planned(db, shop, typed=CardTyped(back_off=".020"))
    job = a_job(db, shop, pieces=1)
    (one,) = chuck.sides(db, job.id)
    assert one.last_holds == {"A": RIM, "B": TURNED}
    chuck.plan(db, job_id=job.id, holds=holds(db, job), **shop.at())
    assert chuck.setting(db, job.id, 1).setting.typed.back_off == ""


def test_what_goes_on_after_a_piece_is_the_next_piece_then_the_next_setting(db: Session, shop: Shop) -> None:
    job = planned(db, shop)
    for piece in makers.pieces_of(db, job):
        makers.intake.move(db, piece_id=piece.id, to="chuck", **shop.at())
    went = []
    at: tuple[int, int] | None = (1, 1)
    while at:
        went.append(at)
        run = chuck.setting(db, job.id, at[0])
        cutrun.done(db, setting_id=run.setting.id, piece_id=run.of(at[1]).piece.id, **shop.at())
        at = chuck.after(db, job.id, *at)
    assert went == [(1, 1), (1, 2), (2, 1), (2, 2)]
    assert chuck.of_job(db, job.id).next is None
    assert [bool(run.setting.done_at) for run in chuck.of_job(db, job.id).settings] == [True, True]


def test_a_piece_left_out_is_come_back_to_before_the_jaws_are_set_anew(db: Session, shop: Shop) -> None:
    job = planned(db, shop)
    assert chuck.after(db, job.id, 1, 2) == (1, 1)


def test_a_piece_sent_back_is_waited_for_no_more(db: Session, shop: Shop) -> None:
    job = planned(db, shop)
    mishaps.send_back(db, piece_id=makers.pieces_of(db, job)[0].id, reason="crack", **shop.at())
    assert laid_out(db, job) == [(1, "A", RIM, [2]), (2, "B", TURNED, [2])]
    with pytest.raises(NotHere):
        chuck.setting(db, job.id, 1).of(1)
