"""The weigh strip: one number on the phone, judged while it is typed, written down once."""

from typing import Any
from zoneinfo import ZoneInfo

from fastapi import APIRouter
from starlette.responses import Response

from shopapp.office import (
    cutting,
    density,
    findings,
    history,
    jobs,
    mishaps,
    shopbook,
    together,
    ways,
    weighing,
    workings_cuts,
    workings_scale,
    zero,
)
from shopapp.office.database import Session
from shopapp.office.jobs import PieceFacts
from shopapp.office.sheets.working import WorkingSheet
from shopapp.office.weighing import Judged, Weighed
from shopapp.web.atscale import offered, remember
from shopapp.web.desk import Asked, At, Desk, Sent
from shopapp.web.forms import Form
from shopapp.web.jobsheet import VERDICTS

router = APIRouter()
COARSE = "too coarse"
HEADS = {"before": "weigh in", "between": "weigh between cuts", "after": "weigh out"}


@router.get("/jobs/{no}/{n:int}/weigh", name="weighing.page")
def page(desk: At, no: int, n: int, form: Asked) -> Response:
    """The strip for one piece."""
    return _strip(desk, no, n, form)


@router.get("/jobs/{no}/{n:int}/weigh/judge", name="weighing.judge")
def judge(desk: At, no: int, n: int, form: Asked) -> Response:
    """What the typed weight says, if it were written down."""
    piece = jobs.piece(desk.db, no, n)
    return desk.fragment("weighing/page.html", "judge", verdicts=VERDICTS, **_judged(desk, piece, form))


@router.get("/jobs/{no}/{n:int}/weigh/worked", name="weighing.worked")
def worked(desk: At, no: int, n: int, form: Asked) -> Response:
    """What would explain a doubt, a sharper way to weigh, and the working of what is said of the typed weight."""
    piece = jobs.piece(desk.db, no, n)
    return desk.fragment("weighing/page.html", "worked", piece=piece, **_judged(desk, piece, form))


@router.post("/jobs/{no}/{n:int}/weigh", name="weighing.write")
def write(desk: At, no: int, n: int, form: Sent) -> Response:
    """Write the reading down, and go on to the twin that wants the same."""

    def act(db: Session, by: int) -> str:
        scale_id = form.key("scale", "Choose the scale that the piece lies on.")
        typed, note = form.words("reading", "Type what the scale shows."), form.words("note")
        read_at = form.moment("at", ZoneInfo(desk.shop.zone)) or desk.now
        form.check()
        note = mishaps.late_note(db, told=read_at, now=desk.now, note=note)
        piece = jobs.piece(db, no, n)
        desk.stale(db, form, piece.id, by)
        weighing.weigh(
            db, piece_id=piece.id, scale_id=scale_id or 0, phase=form["phase"], typed=typed,
            zero_seen=form.ticked("zero_seen"), zero=form["zero"], less_zero=form.ticked("less_zero"),
            heavier=form.words("heavier"), note=note, now=read_at, by=by,
        )  # fmt: skip
        return _then(desk, db, piece, form["phase"])

    return remember(desk.submit(form, act, lambda: _strip(desk, no, n, form)), form["scale"])


@router.post("/jobs/{no}/{n:int}/strike", name="weighing.strike")
def strike(desk: At, no: int, n: int, form: Sent) -> Response:
    """Strike a wrong reading through."""

    def act(db: Session, by: int) -> str:
        own = {row.id for row in weighing.readings(db, jobs.piece(db, no, n).id)}
        reading_id, reason = form.key("struck"), form.words("reason")
        if reading_id not in own:
            form.problems["struck"] = "Choose the reading that is wrong."
        form.check()
        weighing.strike(db, reading_id=reading_id or 0, reason=reason, now=desk.now, by=by)
        return desk.url("weighing.page", no=no, n=n)

    return desk.submit(form, act, lambda: _strip(desk, no, n, Form(), strike=form))


def _then(desk: Desk, db: Session, piece: PieceFacts, phase: str) -> str:
    """Where to go on: to the twin that still wants the same weight, else to the job."""
    every = jobs.pieces(db, piece.job_id)
    waiting = weighing.still_to_weigh(every, weighing.of_pieces(db, every), phase) if phase != "between" else []
    if waiting:
        return desk.url("weighing.page", no=piece.job_no, n=waiting[0].n)
    return desk.url("jobs.page", no=piece.job_no)


def _strip(desk: Desk, no: int, n: int, form: Form, strike: Form | None = None) -> Response:
    piece = jobs.piece(desk.db, no, n)
    every = jobs.pieces(desk.db, piece.job_id)
    weighed = weighing.of_pieces(desk.db, every)
    mine, scales = weighed[piece.id], shopbook.scales(desk.db)
    form.typed.setdefault("phase", _phase(mine))
    form.typed.setdefault("scale", offered(desk, mine.before, scales))
    strike = strike or Form()
    return desk.page(
        "weighing/page.html", sheet="Scale", here="job", job_no=no, piece=piece, form=form, strike=strike,
        scales=scales, weighed=mine, head=HEADS.get(form["phase"], "weighed"),
        finding=findings.of_pieces(desk.db, every, weighed)[piece.id],
        twins=[(one, weighed[one.id]) for one in every if one.id != piece.id and one.part == piece.part][:3],
        verdicts=VERDICTS, plan=cutting.plan(desk.db, piece.job_id, piece.variant_id or 0),
        standing=[row for row in weighing.readings(desk.db, piece.id) if row.struck is None],
        no_zero=zero.not_seen(desk.db, now=desk.now),
        problems=form.problems or strike.problems, newest=history.newest_of_piece(desk.db, piece.id),
        **_judged(desk, piece, form), **_at_once(desk, piece, every),
    )  # fmt: skip


def _at_once(desk: Desk, piece: PieceFacts, every: list[PieceFacts]) -> dict[str, Any]:
    """What it weighed at once with its like, and whether that can be weighed now."""
    group, jointly = together.alike(desk.db, piece, every), together.of_pieces(desk.db, [piece])[piece.id]
    head = HEADS.get(together.wanted(jointly, group), "")
    return {"jointly": jointly, "at_once": f"{head.capitalize()} {together.all_of(len(group))} at once" if head else ""}


def _judged(desk: Desk, piece: PieceFacts, form: Form) -> dict[str, Any]:
    """The verdict a typed weight would get, what it says of the material, a sharper way, and the working of it all."""
    scale_id, phase, typed = form.key("scale"), form["phase"], form["reading"]
    shown = form["zero"] if form.ticked("less_zero") else ""
    judged: Judged = weighing.judge(desk.db, piece=piece, scale_id=scale_id, phase=phase, typed=typed, zero=shown)
    made_of = None
    if phase == "before" and judged.echo:
        made_of = density.of_typed(desk.db, piece, scale_id or 0, typed)
    sharper = _sharper(desk, piece, judged)
    sheets = (
        *judged.workings, *findings.of_explanations(judged.explained), *_fitness(desk, piece, judged),
        *(ways.working() if sharper else ()), *(made_of.workings if made_of else ()),
    )  # fmt: skip
    return {"judged": judged, "made_of": made_of, "sharper": sharper, "sheets": sheets}


def _sharper(desk: Desk, piece: PieceFacts, judged: Judged) -> str:
    """A finer way to weigh, where the chosen scale is too coarse for this removal."""
    plan = cutting.plan(desk.db, piece.job_id, piece.variant_id or 0)
    if plan is None or COARSE not in judged.fitness:
        return ""
    every = [one for one in jobs.pieces(desk.db, piece.job_id) if one.variant_id == piece.variant_id]
    weights = [told.before.grams for told in weighing.of_pieces(desk.db, every).values() if told.before]
    return ways.sharper(desk.db, pieces=len(every), each_g=max(weights, default=0.0), predicted_g=plan.grams)


def _fitness(desk: Desk, piece: PieceFacts, judged: Judged) -> tuple[WorkingSheet, ...]:
    plan = cutting.plan(desk.db, piece.job_id, piece.variant_id or 0)
    if plan is None:
        return ()
    if not judged.fitness:
        return workings_cuts.of_removal(plan.removal)
    scales = ((scale.name, f"shows {scale.division} {scale.unit}") for scale in shopbook.scales(desk.db))
    return workings_scale.of_fitness(f"about {plan.about}", scales)


def _phase(mine: Weighed) -> str:
    """Which weight is wanted now; none where both are written down."""
    if mine.before is None:
        return "before"
    return "after" if mine.after is None else ""
