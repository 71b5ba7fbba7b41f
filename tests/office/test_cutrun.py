"""The run at the machine: cards, ticks before power, the clock, what is done."""

from datetime import timedelta
from typing import Any

import pytest
from sqlmodel import Session

from shopapp.office import chuck, clock, cutrun, equipment, history, intake, jobs
from shopapp.office.drawing import CutsTyped, Typed
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.jobs import JobFacts
from shopapp.office.runcard import CardTyped
from tests import cast, makers
from tests.makers import Shop

BOTH_TICKS = ("key_out", "turned_by_hand")


def a_run(db: Session, shop: Shop, pieces: int = 2) -> JobFacts:
    """A job weighed in, one side skimmed, held one way."""
    job = makers.make_job(db, shop, pieces=pieces)
    makers.keep_cuts(db, shop, job)
    makers.agree(db, shop, job)
    for piece in makers.take_everything_in(db, shop, job):
        makers.weigh(db, shop, piece, "before", "26.5")
    (one,) = chuck.sides(db, job.id)
    chuck.plan(db, job_id=job.id, holds={(one.variant_id, "A"): "inside of the rim"}, **shop.at())
    return job


def ids(db: Session, job: JobFacts, n: int = 1) -> dict[str, int]:
    run = chuck.setting(db, job.id, 1)
    return {"setting_id": run.setting.id, "piece_id": run.of(n).piece.id}


def ticks(db: Session, job: JobFacts, n: int = 1) -> set[str]:
    return set(chuck.setting(db, job.id, 1).of(n).ticks)


def test_the_clock_starts_with_both_ticks_and_the_piece_goes_into_the_chuck(db: Session, shop: Shop) -> None:
    job = a_run(db, shop)
    clock_id = cutrun.start(db, **ids(db, job), ticks=BOTH_TICKS, **shop.at())
    assert clock.running(db, shop.by).where == "job 1001, setting 1"
    assert jobs.piece(db, job.no, 1).custody == "chuck"
    assert ticks(db, job) == set(BOTH_TICKS)
    assert clock.stop(db, clock_id=clock_id, **shop.at(cast.NOON + timedelta(minutes=9))) == 9
    assert chuck.setting(db, job.id, 1).minutes == 9


@pytest.mark.parametrize("made", [(), ("key_out",), ("turned_by_hand",)])
def test_no_clock_starts_without_both(db: Session, shop: Shop, made: tuple[str, ...]) -> None:
    job = a_run(db, shop)
    with pytest.raises(TryAgain) as refusal:
        cutrun.start(db, **ids(db, job), ticks=made, **shop.at())
    assert list(refusal.value.problems) == ["ticks"]
    assert clock.running(db, shop.by) is None


def test_a_tick_belongs_to_one_piece_and_is_not_made_for_the_next(db: Session, shop: Shop) -> None:
    job = a_run(db, shop)
    cutrun.start(db, **ids(db, job), ticks=BOTH_TICKS, **shop.at())
    cutrun.done(db, **ids(db, job), **shop.at())
    assert ticks(db, job, 2) == set()
    with pytest.raises(TryAgain, match="Before power"):
        cutrun.start(db, **ids(db, job, 2), **shop.at())


def test_a_tick_is_made_once_and_taken_back(db: Session, shop: Shop) -> None:
    job = a_run(db, shop)
    for _ in range(2):
        cutrun.tick(db, **ids(db, job), what="key_out", **shop.at())
    assert ticks(db, job) == {"key_out"}
    cutrun.tick(db, **ids(db, job), what="key_out", on=False, **shop.at())
    assert ticks(db, job) == set()
    said = [line.words for line in history.of_job(db, job.id) if line.act == "ticked"]
    assert said == ["setting 1, taken back: the key is out of the chuck", "setting 1: the key is out of the chuck"]
    with pytest.raises(TryAgain, match="Before power"):
        cutrun.tick(db, **ids(db, job), what="done", **shop.at())


def test_the_first_chip_goes_through_the_gate(db: Session, shop: Shop) -> None:
    job = makers.make_job(db, shop)
    makers.keep_cuts(db, shop, job)
    (one,) = chuck.sides(db, job.id)
    chuck.plan(db, job_id=job.id, holds={(one.variant_id, "A"): "rim"}, **shop.at())
    with pytest.raises(InTheWay, match="1001-1 is not here yet"):
        cutrun.start(db, **ids(db, job), ticks=BOTH_TICKS, **shop.at())
    makers.take_everything_in(db, shop, job)
    with pytest.raises(TryAgain, match="Before the first chip: it was not weighed"):
        cutrun.start(db, **ids(db, job), ticks=BOTH_TICKS, **shop.at())
    with pytest.raises(InTheWay, match="nothing is cut on it yet"):
        cutrun.done(db, **ids(db, job), **shop.at())


def test_a_checked_piece_is_not_started_again(db: Session, shop: Shop) -> None:
    job = a_run(db, shop)
    for to in ("chuck", "checked"):
        intake.move(db, piece_id=ids(db, job)["piece_id"], to=to, reason="he waits", **shop.at())
    with pytest.raises(InTheWay, match="1001-1 is checked"):
        cutrun.start(db, **ids(db, job), ticks=BOTH_TICKS, **shop.at())


def test_done_stops_the_clock_and_all_done_closes_the_setting(db: Session, shop: Shop) -> None:
    job = a_run(db, shop)
    for n in (1, 2):
        cutrun.start(db, **ids(db, job, n), ticks=BOTH_TICKS, **shop.at(cast.NOON + timedelta(hours=n)))
        assert chuck.setting(db, job.id, 1).setting.done_at is None
        done = shop.at(cast.NOON + timedelta(hours=n, minutes=10))
        for _ in range(2):
            cutrun.done(db, **ids(db, job, n), **done)
    assert clock.running(db, shop.by) is None
    run = chuck.setting(db, job.id, 1)
    assert (run.minutes, run.setting.done_at) == (20, cast.NOON + timedelta(hours=2, minutes=10))
    with pytest.raises(InTheWay, match="is done in setting 1"):
        cutrun.start(db, **ids(db, job), ticks=BOTH_TICKS, **shop.at())
    with pytest.raises(InTheWay, match="What it was cut with stays"):
        cutrun.change(db, setting_id=run.setting.id, typed=CardTyped(), **shop.at())
    cutrun.done(db, **ids(db, job), on=False, **shop.at())
    assert chuck.setting(db, job.id, 1).setting.done_at is None
    assert history.of_job(db, job.id)[0].words == "setting 1: not done after all"


def card(db: Session, job: JobFacts) -> CardTyped:
    return chuck.setting(db, job.id, 1).setting.typed


def guarded(db: Session, shop: Shop) -> JobFacts:
    """The drawing names a drain groove to keep .100 clear of; the cut stays well off it."""
    makers.make_variant(db, shop, body=cast.GUARDED)
    job = makers.make_job(db, shop)
    makers.keep_cuts(db, shop, job, CutsTyped("in", (Typed("face", {"depth": ".125"}, "A"),)))
    (one,) = chuck.sides(db, job.id)
    chuck.plan(db, job_id=job.id, holds={(one.variant_id, "A"): "rim"}, **shop.at())
    return job


def test_a_stop_under_the_least_of_the_drawing_is_refused(db: Session, shop: Shop) -> None:
    job = guarded(db, shop)
    setting_id = chuck.setting(db, job.id, 1).setting.id
    with pytest.raises(TryAgain) as refusal:
        cutrun.change(db, setting_id=setting_id, typed=CardTyped(back_off=".120", extra_feed=".030"), **shop.at())
    said = refusal.value.problems["back_off"]
    assert said.startswith(".120 − .030 = .090 in: under the least of .100 by the drawing")
    cutrun.change(db, setting_id=setting_id, typed=CardTyped(back_off=".120", extra_feed=".020"), **shop.at())
    kept = card(db, job)
    assert (kept.back_off, len(kept.variants)) == (".120", 1)
    assert history.of_job(db, job.id)[0].words == "setting 1: back-off .120, extra feed .020"


def test_a_stop_that_a_later_drawing_makes_too_close_stops_the_clock(db: Session, shop: Shop) -> None:
    job = a_run(db, shop)
    run = chuck.setting(db, job.id, 1)
    intake.move(db, piece_id=run.of(1).piece.id, to="chuck", **shop.at())
    cutrun.change(db, setting_id=run.setting.id, typed=CardTyped(back_off=".050"), **shop.at())
    chuck.cutting.keep_body(db, variant_id=run.setting.typed.variants[0], typed=cast.GUARDED, **shop.at())
    makers.keep_cuts(db, shop, job, CutsTyped("in", (Typed("face", {"depth": ".125"}, "A"),)))
    with pytest.raises(TryAgain, match=r"under the least of \.100 by the drawing"):
        cutrun.start(db, **ids(db, job), ticks=BOTH_TICKS, **shop.at())


@pytest.mark.parametrize(
    ("told", "field"),
    [({"typed": CardTyped(speed="fast")}, "speed"), ({"typed": CardTyped(), "machine_id": 99}, "machine")],
)
def test_a_card_that_cannot_be_read_is_not_kept(db: Session, shop: Shop, told: dict[str, Any], field: str) -> None:
    job = a_run(db, shop)
    with pytest.raises(TryAgain) as refusal:
        cutrun.change(db, setting_id=chuck.setting(db, job.id, 1).setting.id, **told, **shop.at())
    assert list(refusal.value.problems) == [field]


def test_a_card_is_worked_out_for_each_piece_by_its_cuts(db: Session, shop: Shop) -> None:
    job = a_run(db, shop)
    machine_id = equipment.add_machine(db, name="lathe", dial="radius", chuck_limit="500", **shop.at())
    run, machine = chuck.setting(db, job.id, 1), chuck.machine_of(db, machine_id)
    typed = CardTyped(back_off=".020", extra_feed=".008", least=".010", most_per_pass=".125")
    found = cutrun.work_out(db, run.setting, run.of(1).piece, typed, machine)
    assert found.stop
    assert found.stop.clearance == ".012"
    assert [one.dial for one in found.cuts[0].passes] == [".125", ".125"]
    assert (found.keeps, found.problems) == ((), {})
    bad = cutrun.work_out(db, run.setting, run.of(1).piece, CardTyped(back_off="x"), None)
    assert (bad.stop, list(bad.problems)) == (None, ["back_off"])


def test_strangers_are_not_here(db: Session, shop: Shop) -> None:
    job, other = a_run(db, shop), a_run(db, shop)
    told = {"setting_id": ids(db, job)["setting_id"], "piece_id": ids(db, other)["piece_id"]}
    with pytest.raises(NotHere):
        cutrun.start(db, **told, ticks=BOTH_TICKS, **shop.at())
    with pytest.raises(NotHere):
        cutrun.done(db, setting_id=99, piece_id=1, **shop.at())


def test_the_bench_is_reminded_and_nothing_is_called_safe() -> None:
    said = " ".join(cutrun.CAUTIONS).casefold()
    for word in ("key out of the chuck", "by hand", "chips", "iron dust", "interrupted", "limit", "rules of your shop"):
        assert word in said
    assert "safe" not in said
