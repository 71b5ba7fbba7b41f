"""The run at the machine: one setting of the jaws after the other, in each of them piece by piece."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from sqlmodel import Session, delete, select

from shopapp.bench.errors import BenchError
from shopapp.bench.quantities import show_length
from shopapp.office import chuck, clock, cutting, drawing, gate, history, intake, runcard
from shopapp.office.chuck import PieceRun, SettingFacts
from shopapp.office.clock import TICKS
from shopapp.office.equipment import MachineFacts
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.jobs import PieceFacts
from shopapp.office.runcard import CardTyped, CutLines, StopSum
from shopapp.office.tables.cutrun import ChuckSetting, Tick
from shopapp.office.tables.jobs import Job
from shopapp.office.tracks import CUSTODY

CAUTIONS = (
    "Take the key out of the chuck before anything turns.",
    "Turn it once by hand: jaws, tool and rest have to clear all the way round.",
    "Chips are hot and sharp, and iron dust gets everywhere: cover eyes and lungs; no gloves, no rags, no loose cuffs.",
    "Where the cut is interrupted the sound changes: go light.",
    "The chuck's limit goes before any cutting speed.",
    "The rules of your shop and place go before anything that is said here.",
)
"""What the bench is reminded of on every run; common practice, no source."""


def change(
    db: Session, *, setting_id: int, typed: CardTyped, machine_id: int | None = None, now: datetime, by: int
) -> None:  # fmt: skip
    """Write a card's sizes; a stop that leaves less than the least clearance is refused."""
    row = _row(db, setting_id)
    if row.done_at:
        raise InTheWay(f"Setting {row.n} is done. What it was cut with stays as it is.")
    told, problems = runcard.read(typed, row.unit)
    if not problems:
        chuck.known_machine(db, machine_id)
        stop = runcard.stop_sum(told, row.unit, _drawn_least(db, row.job_id, chuck.facts_of(row).typed.variants))
        if stop and not stop.ok:
            problems["back_off"] = stop.words
    if problems:
        raise TryAgain(problems)
    row.typed = replace(typed, variants=chuck.facts_of(row).typed.variants).to_json()
    row.machine_id = machine_id
    db.add(row)
    words = f"setting {row.n}: {typed.as_said() or 'nothing typed'}"
    history.write(db, now=now, by=by, act="card", words=words, job_id=row.job_id)


def tick(
    db: Session, *, setting_id: int, piece_id: int, what: str, on: bool = True, now: datetime, by: int
) -> None:  # fmt: skip
    """Make one tick of one setting for one piece, or take it back; made twice it changes nothing."""
    row, run = _both(db, setting_id, piece_id)
    if what not in TICKS:
        raise TryAgain({"ticks": f"Before power, look and tick: {'; '.join(TICKS.values())}."})
    if (what in run.ticks) == on:
        return
    if on:
        db.add(Tick(setting_id=setting_id, piece_id=piece_id, what=what, by_id=by, at=now))
    else:
        _untick(db, setting_id, piece_id, what)
    db.flush()
    words = f"setting {row.n}: {TICKS[what]}" if on else f"setting {row.n}, taken back: {TICKS[what]}"
    history.write(db, now=now, by=by, act="ticked", words=words, job_id=row.job_id, piece_id=piece_id)


def start(
    db: Session, *, setting_id: int, piece_id: int, ticks: Sequence[str] = (), switch: bool = False,
    now: datetime, by: int,
) -> int:  # fmt: skip
    """Start the clock on a piece in a setting: through the gate, with a stop that leaves enough, with both ticks."""
    row, run = _both(db, setting_id, piece_id)
    if run.done:
        raise InTheWay(f"{run.piece.number} is done in setting {row.n}.")
    _into_the_chuck(db, run.piece, now, by)
    stop = stop_of(db, chuck.facts_of(row))
    if stop and not stop.ok:
        raise TryAgain({"back_off": stop.words})
    for what in ticks:
        tick(db, setting_id=setting_id, piece_id=piece_id, what=what, now=now, by=by)
    return clock.start(
        db, job_id=row.job_id, setting_id=setting_id, piece_id=piece_id, switch=switch, now=now, by=by
    )  # fmt: skip


def _into_the_chuck(db: Session, piece: PieceFacts, now: datetime, by: int) -> None:
    if piece.custody == "rack":
        if refusal := gate.refuses(db, piece.id):
            raise TryAgain(refusal)
        intake.move(db, piece_id=piece.id, to="chuck", now=now, by=by)
    elif piece.custody != "chuck":
        where = "not here yet" if piece.custody == "expected" else CUSTODY[piece.custody]
        raise InTheWay(f"{piece.number} is {where}. It has to be in the chuck before it is cut.")


def done(db: Session, *, setting_id: int, piece_id: int, on: bool = True, now: datetime, by: int) -> None:
    """A piece is done in a setting, or after all it is not; the person's clock on it stops.

    With all its pieces the setting is done.
    """
    row, run = _both(db, setting_id, piece_id)
    if bool(run.done) == on:
        return
    if on:
        if run.piece.custody in ("expected", "rack"):
            raise InTheWay(f"{run.piece.number} is {CUSTODY[run.piece.custody]}: nothing is cut on it yet.")
        mine = clock.running(db, by)
        if mine and mine.setting_id == setting_id:
            clock.stop(db, clock_id=mine.id, now=now, by=by)
        db.add(Tick(setting_id=setting_id, piece_id=piece_id, what="done", by_id=by, at=now))
    else:
        _untick(db, setting_id, piece_id, "done")
    db.flush()
    row.done_at = None if chuck.run_of(db, chuck.facts_of(row)).waiting else now
    db.add(row)
    words = f"setting {row.n} done, side {row.side}" if on else f"setting {row.n}: not done after all"
    history.write(db, now=now, by=by, act="cut", words=words, job_id=row.job_id, piece_id=piece_id)


def _untick(db: Session, setting_id: int, piece_id: int, what: str) -> None:
    mine = Tick.setting_id == setting_id, Tick.piece_id == piece_id, Tick.what == what
    db.exec(delete(Tick).where(*mine))


def stop_of(db: Session, facts: SettingFacts) -> StopSum | None:
    """The stop sum of a card as it is kept."""
    told, _ = runcard.read(facts.typed, facts.unit)
    return runcard.stop_sum(told, facts.unit, _drawn_least(db, facts.job_id, facts.typed.variants))


@dataclass(frozen=True)
class Worked:
    """What a card comes to as far as it is typed: the stop, the cuts of the piece, keep-outs, what wants mending."""

    stop: StopSum | None
    cuts: tuple[CutLines, ...]
    keeps: tuple[str, ...]
    problems: Mapping[str, str]


def work_out(
    db: Session, facts: SettingFacts, piece: PieceFacts, typed: CardTyped, machine: MachineFacts | None
) -> Worked:  # fmt: skip
    """The same sums for a card that is being typed and one that is kept."""
    told, problems = runcard.read(typed, facts.unit)
    kept = cutting.plan(db, facts.job_id, piece.variant_id or 0)
    if kept is None:
        return Worked(None, (), (), problems)
    variant, drawn, cuts = cutting.as_cut(db, kept)
    rows = drawing.read_cuts(kept.typed)[1]
    try:
        lines = runcard.cut_lines(variant, drawn, cuts, rows, facts.side, told, facts.unit, machine)
    except BenchError as refusal:
        lines, problems = (), {**problems, "": str(refusal)}
    stop = runcard.stop_sum(told, facts.unit, _drawn_least(db, facts.job_id, facts.typed.variants))
    keeps = tuple(f"{keep.name} at {show_length(keep.z, facts.unit)}" for keep in drawn.keeps)
    return Worked(stop, lines, keeps, problems)


def _drawn_least(db: Session, job_id: int, variants: Sequence[int]) -> float:
    """The greatest least clearance that the drawings of these variants name [mm]; 0 where none does."""
    plans = [plan for variant_id in variants if (plan := cutting.plan(db, job_id, variant_id))]
    return max((keep.least for plan in plans for keep in cutting.as_cut(db, plan)[1].keeps), default=0.0)


def _row(db: Session, setting_id: int) -> ChuckSetting:
    row = db.get(ChuckSetting, setting_id)
    if row is None:
        raise NotHere("That setting is not in the book.")
    return row


def _both(db: Session, setting_id: int, piece_id: int) -> tuple[ChuckSetting, PieceRun]:
    row = _row(db, setting_id)
    # Two who write on one setting at the same moment wait for each other here.
    db.exec(select(Job.id).where(Job.id == row.job_id).with_for_update()).one()
    for one in chuck.run_of(db, chuck.facts_of(row)).pieces:
        if one.piece.id == piece_id:
            return row, one
    raise NotHere("That piece does not go through this setting.")
