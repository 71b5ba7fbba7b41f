"""Settings of the jaws: planned across the pieces of a job, so that the jaws are set anew as seldom as may be."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sqlmodel import Session, delete, select, update

from shopapp.bench import settings_plan
from shopapp.office import clock, cutting, drawing, equipment, history, jobs, runcard
from shopapp.office.equipment import MachineFacts
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.jobs import PieceFacts
from shopapp.office.runcard import CardTyped
from shopapp.office.tables.cutrun import ChuckSetting, Clock, Tick, Truing
from shopapp.office.tables.jobs import Piece
from shopapp.office.tables.people import Person


@dataclass(frozen=True)
class VariantSides:
    """A variant of a job with the sides that have cuts, and how it was held the last time it was here."""

    variant_id: int
    name: str
    pieces: tuple[str, ...]
    sides: tuple[str, ...]
    last_holds: Mapping[str, str]


@dataclass(frozen=True)
class SettingFacts:
    """One setting of the jaws as it is planned."""

    id: int
    job_id: int
    n: int
    side: str
    hold: str
    unit: str
    machine_id: int | None
    typed_text: str
    done_at: datetime | None

    @property
    def typed(self) -> CardTyped:
        """Its card as typed."""
        return CardTyped.from_json(self.typed_text)


@dataclass(frozen=True)
class TickFacts:
    """Who made a tick, and when."""

    initials: str
    at: datetime


@dataclass(frozen=True)
class PieceRun:
    """A piece in one setting, with its ticks by what they are for."""

    piece: PieceFacts
    ticks: Mapping[str, TickFacts]

    @property
    def done(self) -> TickFacts | None:
        """When it was done in this setting."""
        return self.ticks.get("done")


@dataclass(frozen=True)
class SettingRun:
    """A setting with the pieces that go through it, and the minutes by the clock so far."""

    setting: SettingFacts
    pieces: tuple[PieceRun, ...]
    minutes: int

    @property
    def waiting(self) -> tuple[PieceRun, ...]:
        """The pieces that are not done in it."""
        return tuple(one for one in self.pieces if one.done is None)

    def of(self, n: int) -> PieceRun:
        """The run of the piece with this number."""
        for one in self.pieces:
            if one.piece.n == n:
                return one
        raise NotHere("That piece does not go through this setting.")


@dataclass(frozen=True)
class Run:
    """All settings of a job in order, and how often the jaws are set anew, against piece by piece."""

    settings: tuple[SettingRun, ...] = ()
    resets: int = 0
    piece_by_piece: int = 0

    @property
    def next(self) -> tuple[int, int] | None:
        """The first setting that is not done, and the first piece in it that is not."""
        return next(((run.setting.n, run.waiting[0].piece.n) for run in self.settings if run.waiting), None)


def sides(db: Session, job_id: int) -> list[VariantSides]:
    """What has to be planned: each variant of the job that has cuts, with its sides."""
    plans = cutting.newest_plans(db, {job_id})
    alike: dict[int, list[PieceFacts]] = {}
    for piece in jobs.pieces(db, job_id):
        if piece.worked and (job_id, piece.variant_id or 0) in plans:
            alike.setdefault(piece.variant_id or 0, []).append(piece)
    found = []
    for variant_id, group in alike.items():
        used = {row.side for row in drawing.read_cuts(plans[job_id, variant_id].typed)[1]}
        numbers = tuple(piece.number for piece in group)
        holds = _last_holds(db, variant_id, job_id)
        found.append(VariantSides(variant_id, group[0].name, numbers, tuple(s for s in "AB" if s in used), holds))
    return found


def _last_holds(db: Session, variant_id: int, job_id: int) -> dict[str, str]:
    """How a variant was held by side: in this job if it is planned, else in the newest job where it was."""
    with_it = (
        select(Piece.job_id).join(ChuckSetting, ChuckSetting.job_id == Piece.job_id)
        .where(Piece.variant_id == variant_id).order_by((Piece.job_id == job_id).desc(), Piece.job_id.desc())
    )  # fmt: skip
    newest = db.exec(with_it).first()
    if newest is None:
        return {}
    found = settings_where(db, ChuckSetting.job_id == newest)
    return {one.side: one.hold for one in found if variant_id in one.typed.variants}


def plan(
    db: Session, *, job_id: int, holds: Mapping[tuple[int, str], str], first: Mapping[int, str] | None = None,
    typed: CardTyped | None = None, unit: str = "in", machine_id: int | None = None, now: datetime, by: int,
) -> settings_plan.Plan:  # fmt: skip
    """Plan the settings of a job: `holds` says how each side of each variant is held, `first` which side goes first.

    Planned anew while nothing is trued or done in them, the old settings go; what was clocked stays with the job.
    """
    problems: dict[str, str] = {}
    wanted = sides(db, job_id)
    if not wanted:
        raise TryAgain("Draw the cuts first: the settings come from their sides.")
    for one in wanted:
        for side in one.sides:
            if not holds.get((one.variant_id, side), "").strip():
                words = f"Say how it is held for side {side}, such as: turned outside."
                problems[f"hold_{one.variant_id}_{side}"] = words
    _, unread = runcard.read(typed or CardTyped(), unit)
    problems |= unread
    if problems:
        raise TryAgain(problems)
    known_machine(db, machine_id)
    if begun := has_begun(db, job_id):
        raise InTheWay(f"{begun}, so the plan stands. Change its cards instead.")
    of_piece = {number: one for one in wanted for number in one.pieces}
    found = settings_plan.by_setting([
        settings_plan.Piece(number, _in_order(one, holds, (first or {}).get(one.variant_id, "")))
        for number, one in of_piece.items()
    ])  # fmt: skip
    _clear(db, job_id)
    n = 0
    for stop in found.stops:
        by_side: dict[str, list[int]] = {}
        for number, side in stop.work:
            by_side.setdefault(side, []).append(of_piece[number].variant_id)
        for side, variants in by_side.items():
            n += 1
            card = replace(typed or CardTyped(), variants=tuple(dict.fromkeys(variants)))
            told = {"n": n, "side": side, "hold": stop.hold.strip(), "unit": unit, "machine_id": machine_id}
            db.add(ChuckSetting(job_id=job_id, typed=card.to_json(), **told))
    db.flush()
    history.write(db, now=now, by=by, act="settings", words=" ".join(found.words), job_id=job_id)
    return found


def _in_order(
    one: VariantSides, holds: Mapping[tuple[int, str], str], first: str
) -> tuple[settings_plan.Side, ...]:  # fmt: skip
    ordered = sorted(one.sides, key=lambda side: (side != first, side))
    return tuple(settings_plan.Side(side, holds[one.variant_id, side]) for side in ordered)


def has_begun(db: Session, job_id: int) -> str:
    """What keeps the plan of a job as it is, in words: a piece is done, or trued, in one of its settings."""
    here = select(ChuckSetting.id).where(ChuckSetting.job_id == job_id)
    if db.exec(select(Tick.id).where(Tick.setting_id.in_(here), Tick.what == "done")).first():
        return "A piece is done in one of these settings"
    if db.exec(select(Truing.id).where(Truing.setting_id.in_(here))).first():
        return "A piece is trued in one of these settings"
    return ""


def _clear(db: Session, job_id: int) -> None:
    old = list(db.exec(select(ChuckSetting.id).where(ChuckSetting.job_id == job_id)))
    db.exec(delete(Tick).where(Tick.setting_id.in_(old)))
    db.exec(update(Clock).where(Clock.setting_id.in_(old)).values(setting_id=None))
    db.exec(delete(ChuckSetting).where(ChuckSetting.id.in_(old)))
    db.expire_all()


def machine_of(db: Session, machine_id: int | None) -> MachineFacts | None:
    """A machine in use."""
    return next((one for one in equipment.machines(db) if one.id == machine_id), None)


def known_machine(db: Session, machine_id: int | None) -> None:
    """Refuse a machine that is not in use."""
    if machine_id is not None and machine_id not in {one.id for one in equipment.machines(db)}:
        raise TryAgain({"machine": "Choose a machine that is in use."})


def of_job(db: Session, job_id: int) -> Run:
    """The run of a job; without settings while none are planned."""
    runs = tuple(run_of(db, one) for one in settings_where(db, ChuckSetting.job_id == job_id))
    by_piece: dict[str, list[settings_plan.Side]] = {}
    for run in runs:
        for one in run.pieces:
            by_piece.setdefault(one.piece.number, []).append(settings_plan.Side(run.setting.side, run.setting.hold))
    holds = [" ".join(run.setting.hold.split()).casefold() for run in runs]
    resets = sum(one != other for one, other in zip(holds, holds[1:], strict=False))
    pieces = [settings_plan.Piece(number, tuple(each)) for number, each in by_piece.items()]
    apart = len(settings_plan.piece_by_piece(pieces)) - 1 if pieces else 0
    return Run(runs, resets, apart)


def setting(db: Session, job_id: int, n: int) -> SettingRun:
    """One setting of a job with its pieces."""
    found = settings_where(db, ChuckSetting.job_id == job_id, ChuckSetting.n == n)
    if not found:
        raise NotHere(f"There is no setting {n} in this job.")
    return run_of(db, found[0])


def after(db: Session, job_id: int, n: int, piece_n: int) -> tuple[int, int] | None:
    """Where to go on once a piece is done in a setting: the next piece in it, else the next setting; None after all."""
    waiting = [(run.setting.n, one.piece.n) for run in of_job(db, job_id).settings for one in run.waiting]
    others = [at for at in waiting if at != (n, piece_n)]
    # The jaws stay as they are while a piece waits for them; those further down the row come before those left out.
    others.sort(key=lambda at: (at[0] != n, at[0] == n and at[1] < piece_n, at))
    return others[0] if others else None


_SETTING: Any = select(
    ChuckSetting.id, ChuckSetting.job_id, ChuckSetting.n, ChuckSetting.side, ChuckSetting.hold, ChuckSetting.unit,
    ChuckSetting.machine_id, ChuckSetting.typed, ChuckSetting.done_at,
)  # fmt: skip


def settings_where(db: Session, *where: object) -> list[SettingFacts]:
    """The settings that are asked for, in order."""
    return [SettingFacts(*row) for row in db.exec(_SETTING.where(*where).order_by(ChuckSetting.n))]


def facts_of(row: ChuckSetting) -> SettingFacts:
    """A setting as facts, from its row."""
    return SettingFacts(
        row.id, row.job_id, row.n, row.side, row.hold, row.unit, row.machine_id, row.typed, row.done_at
    )  # fmt: skip


def run_of(db: Session, facts: SettingFacts) -> SettingRun:
    """A setting with its pieces and their ticks; pieces that are out of the work only if they were cut in it."""
    ticks: dict[int, dict[str, TickFacts]] = {}
    for piece_id, what, initials, at in db.exec(
        select(Tick.piece_id, Tick.what, Person.initials, Tick.at)
        .join(Person, Person.id == Tick.by_id)
        .where(Tick.setting_id == facts.id)
    ):
        ticks.setdefault(piece_id, {})[what] = TickFacts(initials, at)
    pieces = tuple(
        PieceRun(piece, ticks.get(piece.id, {}))
        for piece in jobs.pieces(db, facts.job_id)
        if piece.variant_id in facts.typed.variants and (piece.worked or "done" in ticks.get(piece.id, {}))
    )
    return SettingRun(facts, pieces, clock.by_setting(db, facts.job_id).get(facts.id, 0))
