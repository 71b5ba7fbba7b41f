"""The cut run: settings of the jaws, and for each piece in each of them a card that says what to do now."""

from typing import Any

from fastapi import APIRouter
from starlette.responses import Response

from shopapp.office import (
    chuck,
    clock,
    cutrun,
    cutting,
    drawing,
    equipment,
    jobs,
    parts,
    runcard,
    trouble,
    truing,
    workings_floor,
)
from shopapp.office.chuck import PieceRun, SettingRun
from shopapp.office.clock import TICKS
from shopapp.office.database import Session
from shopapp.office.jobs import JobFacts
from shopapp.office.runcard import CardTyped
from shopapp.office.trouble import TroubleFacts
from shopapp.web.desk import Asked, At, Desk, Sent
from shopapp.web.forms import Form

router = APIRouter()
FORMS = ("card", "start", "stop", "done", "trouble")


@router.get("/jobs/{no}/run", name="cutrun.page")
def page(desk: At, no: int) -> Response:
    """The settings of a job, or the form that plans them."""
    return _run(desk, no)


@router.post("/jobs/{no}/run", name="cutrun.plan")
def plan(desk: At, no: int, form: Sent) -> Response:
    """Plan the settings."""

    def act(db: Session, by: int) -> str:
        job = jobs.by_no(db, no)
        sides = [(one.variant_id, side) for one in chuck.sides(db, job.id) for side in one.sides]
        holds = {key: form.words(f"hold_{key[0]}_{key[1]}") for key in sides}
        first = {variant_id: form[f"first_{variant_id}"] for variant_id, _ in sides}
        machine_id = form.key("machine")
        form.check()
        chuck.plan(
            db, job_id=job.id, holds=holds, first=first, typed=_typed(form), unit=_unit(desk, form),
            machine_id=machine_id, now=desk.now, by=by,
        )  # fmt: skip
        return desk.url("cutrun.page", no=no)

    return desk.submit(form, act, lambda: _run(desk, no, form))


@router.get("/jobs/{no}/run/{n:int}", name="cutrun.setting")
def setting(desk: At, no: int, n: int, form: Asked) -> Response:
    """The card of one setting, for one piece."""
    return _card(desk, no, n, form)


@router.get("/jobs/{no}/run/{n:int}/sums", name="cutrun.sums")
def sums(desk: At, no: int, n: int, form: Asked) -> Response:
    """What the card comes to as far as it is typed."""
    run = chuck.setting(desk.db, jobs.by_no(desk.db, no).id, n)
    return desk.fragment("cutrun/_card.html", "sums", unit=run.setting.unit, **_worked(desk, run, form))


@router.get("/jobs/{no}/run/{n:int}/worked", name="cutrun.worked")
def worked(desk: At, no: int, n: int, form: Asked) -> Response:
    """The working of what the card comes to."""
    return desk.fragment("cutrun/_card.html", "worked", no=no, n=n, **_worked(desk, _setting(desk.db, no, n), form))


@router.get("/jobs/{no}/run/{n:int}/clock", name="cutrun.clock")
def minutes(desk: At, no: int, n: int) -> Response:
    """What the clocks on this setting show now."""
    run = chuck.setting(desk.db, jobs.by_no(desk.db, no).id, n)
    return desk.fragment("cutrun/_power.html", "clock", no=no, n=n, now=desk.now, **_clocks(desk, run))


@router.post("/jobs/{no}/run/{n:int}", name="cutrun.change")
def change(desk: At, no: int, n: int, form: Sent) -> Response:
    """Keep the sizes of the card."""

    def act(db: Session, by: int) -> str:
        facts, machine_id = _setting(db, no, n).setting, form.key("machine")
        cutrun.change(db, setting_id=facts.id, typed=_typed(form), machine_id=machine_id, now=desk.now, by=by)
        return _here(desk, no, n, form)

    return desk.submit(form, act, lambda: _card(desk, no, n, form, card=form))


@router.post("/jobs/{no}/run/{n:int}/tick", name="cutrun.tick")
def tick(desk: At, no: int, n: int, form: Sent) -> Response:
    """Make the ticks of a piece without the clock, or take one back."""

    def act(db: Session, by: int) -> str:
        told, back = _ids(db, no, n, form), form["back"]
        made = [what for what in TICKS if form.ticked(what)]
        if not (made or back):
            form.problems["ticks"] = "Tick what you looked at."
        form.check()
        for what in [back] if back else made:
            cutrun.tick(db, **told, what=what, on=not back, now=desk.now, by=by)
        return _here(desk, no, n, form)

    return desk.submit(form, act, lambda: _card(desk, no, n, form, start=form))


@router.post("/jobs/{no}/run/{n:int}/start", name="cutrun.start")
def start(desk: At, no: int, n: int, form: Sent) -> Response:
    """Make the ticks and start the clock."""

    def act(db: Session, by: int) -> str:
        ticks = [what for what in TICKS if form.ticked(what)]
        switch = form.ticked("switch")
        cutrun.start(db, **_ids(db, no, n, form), ticks=ticks, switch=switch, now=desk.now, by=by)
        return f"{_here(desk, no, n, form)}#sums"

    return desk.submit(form, act, lambda: _card(desk, no, n, form, start=form))


@router.post("/jobs/{no}/run/{n:int}/stop", name="cutrun.stop")
def stop(desk: At, no: int, n: int, form: Sent) -> Response:
    """Stop the clock; one that ran too long is told how long it really was."""

    def act(db: Session, by: int) -> str:
        minutes = form.minutes("minutes") if form["minutes"].strip() else None
        said, clock_id = form.words("said"), form.key("clock")
        form.check()
        mine = clock.running(db, by)
        own = {one.id for one in (*clock.of_job(db, jobs.by_no(db, no).id), *((mine,) if mine else ()))}
        if clock_id is not None and clock_id in own:
            clock.stop(db, clock_id=clock_id, minutes=minutes, said=said, now=desk.now, by=by)
        return _here(desk, no, n, form)

    return desk.submit(form, act, lambda: _card(desk, no, n, form, stop=form))


@router.post("/jobs/{no}/run/{n:int}/done", name="cutrun.done")
def done(desk: At, no: int, n: int, form: Sent) -> Response:
    """The piece is done in this setting: on to the next one, or to the next setting."""
    is_undone = form.ticked("undo")

    def act(db: Session, by: int) -> str:
        cutrun.done(db, **_ids(db, no, n, form), on=not is_undone, now=desk.now, by=by)
        onward = chuck.after(db, jobs.by_no(db, no).id, n, _piece_n(form))
        if is_undone:
            return _here(desk, no, n, form)
        if onward is None:
            return desk.url("jobs.page", no=no)
        return f"{desk.url('cutrun.setting', no=no, n=onward[0])}?piece={onward[1]}"

    return desk.submit(form, act, lambda: _card(desk, no, n, form, done=form))


@router.post("/jobs/{no}/run/{n:int}/trouble", name="cutrun.trouble")
def note(desk: At, no: int, n: int, form: Sent) -> Response:
    """Write down what went wrong, with a photo, for the next time."""

    def act(db: Session, by: int) -> str:
        words = form.words("words")
        form.check()
        sent = form.photos("photo")
        run = _setting(db, no, n)
        piece = run.of(_piece_n(form)).piece
        trouble.note(
            db, job_id=piece.job_id, piece_id=piece.id, words=words, photo=sent[0] if sent else None, now=desk.now,
            by=by,
        )  # fmt: skip
        return _here(desk, no, n, form)

    return desk.submit(form, act, lambda: _card(desk, no, n, form, trouble=form))


def _typed(form: Form) -> CardTyped:
    told: dict[str, Any] = {name: form.words(name) for name in runcard.SIZES}
    return CardTyped(**told)


def _unit(desk: Desk, form: Form) -> str:
    return form["unit"] if form["unit"] in ("in", "mm") else desk.shop.unit


def _setting(db: Session, no: int, n: int) -> SettingRun:
    return chuck.setting(db, jobs.by_no(db, no).id, n)


def _piece_n(form: Form) -> int:
    return form.key("piece") or 0


def _ids(db: Session, no: int, n: int, form: Form) -> dict[str, int]:
    run = _setting(db, no, n)
    return {"setting_id": run.setting.id, "piece_id": run.of(_piece_n(form)).piece.id}


def _here(desk: Desk, no: int, n: int, form: Form) -> str:
    return f"{desk.url('cutrun.setting', no=no, n=n)}?piece={_piece_n(form)}"


def _run(desk: Desk, no: int, form: Form | None = None) -> Response:
    job = jobs.by_no(desk.db, no)
    sides = chuck.sides(desk.db, job.id)
    run = chuck.of_job(desk.db, job.id)
    form = form or Form()
    form.typed.setdefault("unit", _cut_unit(desk, job, sides[0].variant_id if sides else 0))
    for one in sides:
        for side in one.sides:
            form.typed.setdefault(f"hold_{one.variant_id}_{side}", one.last_holds.get(side, ""))
        form.typed.setdefault(f"first_{one.variant_id}", one.sides[0])
    machines = equipment.machines(desk.db)
    if len(machines) == 1:
        form.typed.setdefault("machine", str(machines[0].id))
    undrawn = [piece.variant_id for piece in jobs.pieces(desk.db, job.id) if piece.variant_id]
    return desk.page(
        "cutrun/page.html", sheet="Run", here="job", job_no=no, job=job, run=run, sides=sides, form=form,
        side_words=drawing.SIDES, machines=machines, begun=chuck.has_begun(desk.db, job.id), undrawn=undrawn,
        troubles=_troubles(desk, [one.variant_id for one in sides]), cautions=cutrun.CAUTIONS, now=desk.now,
        clocks=clock.of_job(desk.db, job.id), problems=form.problems,
    )  # fmt: skip


def _cut_unit(desk: Desk, job: JobFacts, variant_id: int) -> str:
    plan = cutting.plan(desk.db, job.id, variant_id)
    return plan.typed.unit if plan else desk.shop.unit


def _troubles(desk: Desk, variant_ids: list[int]) -> list[TroubleFacts]:
    found = [note for variant_id in variant_ids for note in trouble.of_variant(desk.db, variant_id)]
    return sorted(found, key=lambda note: -note.id)[:5]


def _piece(run: SettingRun, form: Form) -> PieceRun | None:
    """The piece that the card is for: the one asked for, else the first that is not done."""
    asked = form.key("piece")
    mine = [one for one in run.pieces if one.piece.n == asked]
    found = mine or run.waiting or run.pieces
    return found[0] if found else None


def _worked(desk: Desk, run: SettingRun, form: Form) -> dict[str, Any]:
    one = _piece(run, form)
    machine = chuck.machine_of(desk.db, form.key("machine"))
    typed, unit = _typed(form), run.setting.unit
    found = cutrun.work_out(desk.db, run.setting, one.piece, typed, machine) if one else None
    sheets = workings_floor.of_card(typed, unit, found.stop, found.cuts, machine) if found else ()
    return {"worked": found, "machine": machine, "sheets": sheets}


def _clocks(desk: Desk, run: SettingRun) -> dict[str, Any]:
    mine = clock.running(desk.db, desk.who.id) if desk.who else None
    here = [one for one in clock.of_job(desk.db, run.setting.job_id) if one.setting_id == run.setting.id]
    return {"mine": mine, "clocks": here, "run": run}


def _card(desk: Desk, no: int, n: int, asked: Form, **sent: Form) -> Response:
    job = jobs.by_no(desk.db, no)
    run = chuck.setting(desk.db, job.id, n)
    one = _piece(run, asked)
    forms = {name: sent.get(name) or Form() for name in FORMS}
    if "card" not in sent:
        kept = {name: getattr(run.setting.typed, name) for name in runcard.SIZES}
        forms["card"] = Form(typed={**kept, "machine": str(run.setting.machine_id or "")})
    forms["card"].typed["piece"] = str(one.piece.n if one else 0)
    kind = parts.variant(desk.db, one.piece.variant_id) if one and one.piece.variant_id else None
    return desk.page(
        "cutrun/setting.html", sheet=f"Setting {n}", here="job", job_no=no, job=job, no=no, n=n, one=one, forms=forms,
        count=len(chuck.of_job(desk.db, job.id).settings), unit=run.setting.unit, now=desk.now, kind=kind,
        side_words=drawing.SIDES, machines=equipment.machines(desk.db), tick_words=TICKS, cautions=cutrun.CAUTIONS,
        troubles=_troubles(desk, [kind.id] if kind else []),
        trued=truing.standing(desk.db, one.piece.id, run.setting.id) if one else truing.Standing(),
        onward=chuck.after(desk.db, job.id, n, one.piece.n) if one else None,
        problems=next((form.problems for form in sent.values() if form.problems), {}),
        **_worked(desk, run, forms["card"]), **_clocks(desk, run),
    )  # fmt: skip
