"""Minutes by the shop's own history, for the owner."""

import pytest
from sqlmodel import Session

from shopapp.office import estimating, jobs
from shopapp.office.jobs import JobFacts
from tests.makers import Shop, finished_job, make_job

QUOTED = 70
"""What the makers' price sheet comes to: 40 + 10 + 2 x 10 minutes."""


def took(db: Session, shop: Shop, *minutes: int) -> list[JobFacts]:
    """Finished jobs of the plain plate, quoted at seventy minutes, that took these."""
    done = [finished_job(db, shop) for _ in minutes]
    for job, spent in zip(done, minutes, strict=True):
        jobs.spend(db, job_id=job.id, minutes=spent, **shop.at())
    return done


@pytest.mark.outside("computed: the median of three")
def test_three_jobs_correct_the_minutes_by_their_median(db: Session, shop: Shop) -> None:
    took(db, shop, 70, 84, 140)
    told = estimating.corrected(db, job_id=make_job(db, shop).id, minutes=100)
    # The median of 1.0, 1.2 and 2.0 is 1.2: first principles.
    assert told
    assert told.enough
    assert told.minutes == pytest.approx(120)
    assert "120 min, 100 to 200" in told.words
    assert [(one.quoted, one.actual) for one in told.before] == [(QUOTED, 140), (QUOTED, 84), (QUOTED, 70)]


def test_with_two_jobs_the_minutes_stand_and_that_is_said(db: Session, shop: Shop) -> None:
    took(db, shop, 70, 84)
    told = estimating.corrected(db, job_id=make_job(db, shop).id, minutes=100)
    assert told
    assert (told.enough, told.minutes) == (False, 100)
    assert told.words == "2 jobs of this variant so far: too few to correct by, 3 are needed."


def test_jobs_that_were_not_timed_not_done_or_not_quoted_do_not_count(db: Session, shop: Shop) -> None:
    finished_job(db, shop)
    running = make_job(db, shop)
    jobs.spend(db, job_id=running.id, minutes=30, **shop.at())
    assert estimating.before(db, make_job(db, shop).id) == ()


def test_a_sheet_without_minutes_is_not_corrected_and_the_working_has_a_source(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    assert estimating.corrected(db, job_id=job.id, minutes=0) is None
    told = estimating.corrected(db, job_id=job.id, minutes=10)
    assert told
    assert told.workings[0].source == "Common practice, no source"
