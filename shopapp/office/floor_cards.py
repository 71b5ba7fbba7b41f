"""Setting cards on the job ticket, worked out as the screen works them out."""

from itertools import groupby

from sqlmodel import Session

from shopapp.office import chuck, cutrun, runcard
from shopapp.office.chuck import SettingRun
from shopapp.office.runcard import CardTyped, CutLines, PassLine
from shopapp.office.sheets.ticket import CutCard, PassRow, SettingCard, StopSum


def of_job(db: Session, job_id: int) -> tuple[SettingCard, ...]:
    """The settings of a job in their order, each with the cuts of every variant that goes through it."""
    return tuple(_card(db, run) for run in chuck.of_job(db, job_id).settings if run.pieces)


def _card(db: Session, run: SettingRun) -> SettingCard:
    facts, machine = run.setting, chuck.machine_of(db, run.setting.machine_id)
    cuts: dict[CutCard, None] = {}
    minutes = 0.0
    stop = None
    for _, alike in groupby(run.pieces, key=lambda one: one.piece.variant_id):
        some = list(alike)
        worked = cutrun.work_out(db, facts, some[0].piece, facts.typed, machine)
        stop = stop or worked.stop
        minutes += len(some) * sum(line.minutes for line in worked.cuts)
        cuts |= dict.fromkeys(_cut(line) for line in worked.cuts)
    return SettingCard(
        number=str(facts.n), side=facts.side, hold=facts.hold, pieces=tuple(one.piece.number for one in run.pieces),
        machine=machine.name if machine else "", stops=_stops(facts.typed, stop), cuts=tuple(cuts),
        minutes=f"about {max(1, round(minutes))} min in the cut" if minutes else "",
        chuck_limit=f"chuck up to {machine.chuck_limit} rpm" if machine else "",
    )  # fmt: skip


def _stops(typed: CardTyped, stop: runcard.StopSum | None) -> tuple[StopSum, ...]:
    if stop is None:
        return ()
    least = typed.least.strip()
    return (StopSum(typed.back_off.strip(), typed.extra_feed.strip() or "0", stop.clearance, least, stop.ok),)


def _cut(line: CutLines) -> CutCard:
    speed = " · ".join(text for text in (f"{line.rpm} rpm" if line.rpm else "", line.speed) if text)
    note = "; ".join(text for text in (line.stock, *line.notes) if text)
    return CutCard(f"{line.words.capitalize()} {line.sizes}".strip(), speed, _passes(line.passes), note)


def _passes(passes: tuple[PassLine, ...]) -> tuple[PassRow, ...]:
    """Passes of one depth stand in one row: "1-4"."""
    rows = []
    for (depth, dial, is_last), alike in groupby(passes, key=lambda one: (one.depth, one.dial, one.finish)):
        some = list(alike)
        number = str(some[0].number) if len(some) == 1 else f"{some[0].number}-{some[-1].number}"
        rows.append(PassRow(number, depth, dial, some[-1].dial_so_far, "finish" if is_last else ""))
    return tuple(rows)
