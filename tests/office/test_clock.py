"""The clock on a job."""

from datetime import datetime, timedelta

import pytest
from sqlmodel import Session

from shopapp.office import clock, history, jobs, people, questions
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.tables.cutrun import ChuckSetting, Tick
from tests.cast import NOON, SECOND
from tests.makers import Shop, make_job, pieces_of


def after(**told: float) -> datetime:
    return NOON + timedelta(**told)


def a_setting(db: Session, job: jobs.JobFacts) -> int:
    row = ChuckSetting(job_id=job.id, n=2, side="A", hold="by the bore", unit="in")
    db.add(row)
    db.flush()
    return row.id


def tick(db: Session, shop: Shop, setting_id: int, piece_id: int, *whats: str) -> None:
    db.add_all(Tick(setting_id=setting_id, piece_id=piece_id, what=what, by_id=shop.by, at=NOON) for what in whats)
    db.flush()


def test_the_minutes_between_start_and_stop_go_to_the_job(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    clock_id = clock.start(db, job_id=job.id, **shop.at())
    facts = clock.running(db, shop.by)
    assert (facts.id, facts.where, facts.minutes(after(minutes=9))) == (clock_id, "job 1001", 9)
    assert clock.stop(db, clock_id=clock_id, **shop.at(after(minutes=44, seconds=30))) == 45
    assert (jobs.spent_minutes(db, job.id), clock.running(db, shop.by)) == (45, None)
    assert history.of_job(db, job.id)[0].words == "45 min by the clock"


@pytest.mark.parametrize(("seconds", "minutes"), [(0, 1), (29, 1), (89, 1), (90, 2), (14_400, 240)])
def test_minutes_are_whole_and_at_least_one(db: Session, shop: Shop, seconds: int, minutes: int) -> None:
    clock_id = clock.start(db, job_id=make_job(db, shop).id, **shop.at())
    assert clock.stop(db, clock_id=clock_id, **shop.at(after(seconds=seconds))) == minutes


def test_a_person_has_one_clock_and_starting_another_asks(db: Session, shop: Shop) -> None:
    first, second = make_job(db, shop), make_job(db, shop)
    clock_id = clock.start(db, job_id=first.id, **shop.at())
    assert clock.start(db, job_id=first.id, **shop.at(after(seconds=1))) == clock_id  # a double tap
    with pytest.raises(TryAgain) as refusal:
        clock.start(db, job_id=second.id, **shop.at(after(minutes=5)))
    assert refusal.value.problems["clock"].startswith("Your clock runs on job 1001 since Tuesday 12:00.")
    clock.start(db, job_id=second.id, switch=True, **shop.at(after(minutes=5)))
    assert (jobs.spent_minutes(db, first.id), clock.running(db, shop.by).job_no) == (5, 1002)


def test_two_people_have_a_clock_each(db: Session, shop: Shop) -> None:
    job, other = make_job(db, shop), people.add(db, **SECOND, now=NOON)
    clock.start(db, job_id=job.id, **shop.at())
    theirs = clock.start(db, job_id=job.id, now=NOON, by=other)
    assert [one.initials for one in clock.of_job(db, job.id)] == ["MB", "OT"]
    clock.stop(db, clock_id=theirs, **shop.at(after(minutes=3)))
    assert history.of_job(db, job.id)[0].words == "OT's clock was stopped by MB"


def test_a_clock_that_ran_through_the_night_bills_none_of_it(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    clock_id = clock.start(db, job_id=job.id, **shop.at())
    with pytest.raises(TryAgain) as refusal:
        clock.stop(db, clock_id=clock_id, **shop.at(after(hours=20)))
    said = refusal.value.problems["minutes"]
    assert said == "The clock on job 1001 ran 20 h 0 min, since Tuesday 12:00. How long was it really?"
    told = {"clock_id": clock_id, "minutes": 95, "said": "forgot to stop it"}
    assert clock.stop(db, **told, **shop.at(after(hours=20))) == jobs.spent_minutes(db, job.id) == 95
    assert history.of_job(db, job.id)[0].words.endswith("which showed 20 h 0 min: forgot to stop it")


def test_a_forgotten_clock_asks_before_another_starts(db: Session, shop: Shop) -> None:
    first, second = make_job(db, shop), make_job(db, shop)
    clock.start(db, job_id=first.id, **shop.at())
    for switch in (False, True):
        with pytest.raises(TryAgain, match="How long was it really"):
            clock.start(db, job_id=second.id, switch=switch, **shop.at(after(hours=5)))
    assert jobs.spent_minutes(db, first.id) == 0


@pytest.mark.parametrize(
    ("told", "field"),
    [({"minutes": 0, "said": "x"}, "minutes"), ({"minutes": 61, "said": "x"}, "minutes"), ({"minutes": 9}, "said")],
)
def test_a_repair_has_minutes_that_can_be_and_a_word(
    db: Session, shop: Shop, told: dict[str, object], field: str
) -> None:
    clock_id = clock.start(db, job_id=make_job(db, shop).id, **shop.at())
    with pytest.raises(TryAgain) as refusal:
        clock.stop(db, clock_id=clock_id, **told, **shop.at(after(hours=1)))
    assert set(refusal.value.problems) == {field}


def test_a_question_stops_the_clocks_of_its_job(db: Session, shop: Shop) -> None:
    first, second = make_job(db, shop), make_job(db, shop)
    other = people.add(db, **SECOND, now=NOON)
    clock.start(db, job_id=first.id, **shop.at())
    clock.start(db, job_id=second.id, now=NOON, by=other)
    questions.stop(db, job_id=first.id, waits_for="customer", question="which web?", **shop.at(after(minutes=12)))
    assert (jobs.spent_minutes(db, first.id), clock.of_job(db, first.id)) == (12, [])
    assert len(clock.of_job(db, second.id)) == 1


def test_a_forgotten_clock_that_a_question_stops_still_asks(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    clock_id = clock.start(db, job_id=job.id, **shop.at())
    questions.stop(db, job_id=job.id, waits_for="customer", question="which web?", **shop.at(after(hours=6)))
    facts = clock.running(db, shop.by)
    assert (facts.id, facts.minutes(after(hours=30)), jobs.spent_minutes(db, job.id)) == (clock_id, 360, 0)
    clock.stop(db, clock_id=clock_id, minutes=30, said="lunch came between", **shop.at(after(hours=30)))
    assert (jobs.spent_minutes(db, job.id), clock.running(db, shop.by)) == (30, None)


def test_the_clock_of_a_setting_wants_both_ticks_of_that_setting(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    first, second = pieces_of(db, job)
    setting_id = a_setting(db, job)
    told = {"job_id": job.id, "setting_id": setting_id, **shop.at()}
    with pytest.raises(TryAgain, match="the key is out of the chuck; turned once by hand"):
        clock.start(db, **told)
    tick(db, shop, setting_id, first.id, "key_out")
    tick(db, shop, setting_id, second.id, "turned_by_hand")
    with pytest.raises(TryAgain):  # half of each piece is no whole
        clock.start(db, **told)
    tick(db, shop, setting_id, first.id, "turned_by_hand")
    with pytest.raises(TryAgain, match="tick: the key is out of the chuck"):
        clock.start(db, piece_id=second.id, **told)
    clock_id = clock.start(db, piece_id=first.id, **told)
    assert clock.running(db, shop.by).where == "job 1001, setting 2"
    clock.stop(db, clock_id=clock_id, **shop.at(after(minutes=7)))
    assert clock.by_setting(db, job.id) == {setting_id: 7}


def test_no_clock_runs_on_what_is_not_there(db: Session, shop: Shop) -> None:
    job, other = make_job(db, shop), make_job(db, shop)
    with pytest.raises(NotHere):
        clock.start(db, job_id=99, **shop.at())
    with pytest.raises(NotHere, match="not in this job"):
        clock.start(db, job_id=other.id, setting_id=a_setting(db, job), **shop.at())
    with pytest.raises(NotHere):
        clock.stop(db, clock_id=99, **shop.at())
    clock_id = clock.start(db, job_id=job.id, **shop.at())
    clock.stop(db, clock_id=clock_id, **shop.at())
    with pytest.raises(InTheWay, match="stopped already"):
        clock.stop(db, clock_id=clock_id, **shop.at())
    jobs.end(db, job_id=job.id, how="called_off", reason="x", **shop.at())
    with pytest.raises(InTheWay, match="called off"):
        clock.start(db, job_id=job.id, **shop.at())
