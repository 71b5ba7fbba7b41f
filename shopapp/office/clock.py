"""The clock on a job: started and stopped with the work; a forgotten one asks, and never bills the night."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from fractions import Fraction
from zoneinfo import ZoneInfo

from sqlmodel import Session, select

from shopapp.bench.rounding import half_up
from shopapp.office import history, jobs, shopbook
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.tables.cutrun import ChuckSetting, Clock, Tick
from shopapp.office.tables.jobs import Job
from shopapp.office.tables.people import Person
from shopapp.office.tracks import ENDED

TOO_LONG = timedelta(hours=4)
"""A longer stretch was more likely forgotten than worked; common practice, no source."""
TICKS = {"key_out": "the key is out of the chuck", "turned_by_hand": "turned once by hand, everything clears"}
"""What is ticked for each setting of each piece before power."""


@dataclass(frozen=True)
class ClockFacts:
    """A clock: running, or stopped for a question while it asks how long it really was."""

    id: int
    job_id: int
    job_no: int
    setting_id: int | None
    setting_n: int | None
    initials: str
    started_at: datetime
    stopped_at: datetime | None

    def minutes(self, now: datetime) -> int:
        """The minutes that it shows; under half a minute is one."""
        return _minutes(self.started_at, self.stopped_at or now)

    def asks(self, now: datetime) -> bool:
        """Whether it ran so long that somebody has to say how long the work really was."""
        return (self.stopped_at or now) - self.started_at > TOO_LONG

    @property
    def where(self) -> str:
        """What it runs on: "job 1001, setting 2"."""
        return f"job {self.job_no}" + (f", setting {self.setting_n}" if self.setting_n else "")


def start(
    db: Session, *, job_id: int, setting_id: int | None = None, piece_id: int | None = None, switch: bool = False,
    now: datetime, by: int,
) -> int:  # fmt: skip
    """Start the clock; gives its row's id. A person has one: with `switch` the one that runs is stopped first."""
    job = jobs.job_row(db, job_id)
    if job.ended:
        raise InTheWay(f"Job {job.no} was {ENDED[job.ended]}. No clock runs on it.")
    if setting_id is not None:
        _may_cut(db, job, setting_id, piece_id)
    # Two starts of one person at the same moment wait for each other here.
    db.exec(select(Person.id).where(Person.id == by).with_for_update()).one()
    if mine := running(db, by):
        if (mine.job_id, mine.setting_id, mine.stopped_at) == (job_id, setting_id, None):
            return mine.id
        if not (switch or mine.asks(now)):
            since = f"since {_time(db, mine)}"
            raise TryAgain({"clock": f"Your clock runs on {mine.where} {since}. Stop it and start here?"})
        stop(db, clock_id=mine.id, now=now, by=by)
    row = Clock(job_id=job_id, setting_id=setting_id, by_id=by, started_at=now)
    db.add(row)
    db.flush()
    words = f"started, {_facts(db, Clock.id == row.id)[0].where}"
    history.write(db, now=now, by=by, act="clock", words=words, job_id=job_id)
    return row.id


def _may_cut(db: Session, job: Job, setting_id: int, piece_id: int | None) -> None:
    """The clock of a setting runs with the spindle: both ticks are made before it, for the piece that is held."""
    setting = db.get(ChuckSetting, setting_id)
    if setting is None or setting.job_id != job.id:
        raise NotHere("That setting is not in this job.")
    rows = select(Tick.piece_id, Tick.what).where(Tick.setting_id == setting_id)
    made: dict[int, set[str]] = {}
    for piece, what in db.exec(rows if piece_id is None else rows.where(Tick.piece_id == piece_id)):
        made.setdefault(piece, set()).add(what)
    best = max(made.values(), key=lambda ticks: len(ticks & set(TICKS)), default=set())
    if missing := [words for what, words in TICKS.items() if what not in best]:
        raise TryAgain({"ticks": f"Before power, look and tick: {'; '.join(missing)}."})


def stop(db: Session, *, clock_id: int, minutes: int | None = None, said: str = "", now: datetime, by: int) -> int:
    """Stop the clock and write its minutes down; gives them. One that ran over four hours asks how long it was."""
    row = _row(db, clock_id)
    if row.minutes is not None:
        raise InTheWay("That clock was stopped already.")
    facts = _facts(db, Clock.id == clock_id)[0]
    shown = facts.minutes(now)
    if minutes is None and facts.asks(now):
        ran = f"The clock on {facts.where} ran {_long(shown)}, since {_time(db, facts)}."
        raise TryAgain({"minutes": f"{ran} How long was it really?"})
    if minutes is not None:
        _repair_fits(minutes, shown, said)
    row.stopped_at, row.minutes, row.said = row.stopped_at or now, minutes or shown, said.strip()
    db.add(row)
    words = f"by the clock{f', setting {facts.setting_n}' if facts.setting_n else ''}"
    if minutes is not None:
        words = f"{words}, which showed {_long(shown)}: {said.strip()}"
    jobs.spend(db, job_id=row.job_id, minutes=row.minutes, words=words, now=now, by=row.by_id)
    if by != row.by_id:
        told = f"{facts.initials}'s clock was stopped by {history.initials(db, by)}"
        history.write(db, now=now, by=by, act="clock", words=told, job_id=row.job_id)
    return row.minutes


def _repair_fits(minutes: int, shown: int, said: str) -> None:
    problems = {} if said.strip() else {"said": "Write a word about it, such as: forgot to stop it."}
    if not 0 < minutes <= shown:
        problems["minutes"] = f"Write the minutes that were worked, from 1 to the {shown} that the clock showed."
    if problems:
        raise TryAgain(problems)


def stop_on_job(db: Session, *, job_id: int, now: datetime, by: int) -> int:
    """Every clock on a stopped job stops now; one that ran too long waits to be asked. Gives how many."""
    here = [clock for clock in _facts(db, Clock.job_id == job_id, Clock.minutes.is_(None)) if clock.stopped_at is None]
    for clock in here:
        if not clock.asks(now):
            stop(db, clock_id=clock.id, now=now, by=by)
            continue
        row = _row(db, clock.id)
        row.stopped_at = now
        db.add(row)
    db.flush()
    return len(here)


def running(db: Session, person_id: int) -> ClockFacts | None:
    """The clock of a person that runs, or that still has to be told how long it was."""
    found = _facts(db, Clock.by_id == person_id, Clock.minutes.is_(None))
    return found[0] if found else None


def of_job(db: Session, job_id: int) -> list[ClockFacts]:
    """The clocks on a job that run, or still have to be told how long it was."""
    return _facts(db, Clock.job_id == job_id, Clock.minutes.is_(None))


def by_setting(db: Session, job_id: int) -> dict[int | None, int]:
    """The minutes by the clock of each setting of a job; None for those beside any setting."""
    told: dict[int | None, int] = {}
    for setting_id, minutes in db.exec(
        select(Clock.setting_id, Clock.minutes).where(Clock.job_id == job_id, Clock.minutes.is_not(None))
    ):
        told[setting_id] = told.get(setting_id, 0) + (minutes or 0)
    return told


def _facts(db: Session, *where: object) -> list[ClockFacts]:
    rows = db.exec(
        select(
            Clock.id, Clock.job_id, Job.no, Clock.setting_id, ChuckSetting.n, Person.initials, Clock.started_at,
            Clock.stopped_at,
        )
        .join(Job, Job.id == Clock.job_id)
        .join(Person, Person.id == Clock.by_id)
        .outerjoin(ChuckSetting, ChuckSetting.id == Clock.setting_id)
        .where(*where)
        .order_by(Clock.id)
    )  # fmt: skip
    return [ClockFacts(*row) for row in rows]


def _row(db: Session, clock_id: int) -> Clock:
    row = db.get(Clock, clock_id)
    if row is None:
        raise NotHere("That clock is not in the book.")
    return row


def _minutes(start: datetime, end: datetime) -> int:
    seconds = int((end - start).total_seconds())
    return max(1, half_up(Fraction(seconds, 60)))


def _long(minutes: int) -> str:
    hours, rest = divmod(minutes, 60)
    return f"{hours} h {rest} min" if hours else f"{rest} min"


def _time(db: Session, clock: ClockFacts) -> str:
    at = clock.started_at.astimezone(ZoneInfo(shopbook.the_shop(db).zone))
    return f"{at:%A %H:%M}"
