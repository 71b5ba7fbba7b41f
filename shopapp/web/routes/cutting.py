"""The section board: cuts typed, drawn and weighed on paper before the first chip."""

import re
from dataclasses import replace
from typing import Any
from urllib.parse import urlencode

from fastapi import APIRouter
from starlette.responses import Response

from shopapp.office import (
    aiming,
    cutting,
    drawing,
    jobs,
    parts,
    shopbook,
    slips,
    ways,
    weighing,
    workings_cuts,
    workings_scale,
)
from shopapp.office.cutting import Tried
from shopapp.office.database import Session
from shopapp.office.drawing import CutsTyped, Typed
from shopapp.office.errors import NotHere
from shopapp.office.jobs import PieceFacts
from shopapp.office.sheets.working import WorkingSheet
from shopapp.papers.section import section_svg
from shopapp.web.desk import Asked, At, Desk, Sent
from shopapp.web.forms import Form

router = APIRouter()
ROW = re.compile(r"cut_(\d{1,3})_kind")
MOST_ROWS = 60
BOARD = 420
COARSE = "too coarse"
NOT_SHARED = ("once", "keep", "seen", "row", "add", "from")
UNITS = ("in", "mm")


@router.get("/jobs/{no}/cuts/{variant_id}", name="cutting.page")
def page(desk: At, no: int, variant_id: int, form: Asked) -> Response:
    """The board with the cuts as they are, with last time's, or with what the address brings along."""
    if _count(form):
        if form.typed.pop("add", ""):
            _one_more(form)
        return _board(desk, no, variant_id, form)
    plan = cutting.plan(desk.db, jobs.by_no(desk.db, no).id, variant_id)
    typed = plan.typed if plan else None
    if form["from"] == "last" and (last := cutting.last_plan(desk.db, variant_id, but_job=_job_id(desk, no))):
        # What was measured on another piece is never carried over.
        typed = replace(last.typed, web="", web_note="")
    return _board(desk, no, variant_id, _as_form(typed, parts.variant(desk.db, variant_id).unit))


@router.get("/jobs/{no}/cuts/{variant_id}/removal", name="cutting.removal")
def removal(desk: At, no: int, variant_id: int, form: Asked) -> Response:
    """What the cuts come to as far as they are typed."""
    alike = _alike(desk, no, variant_id)
    return desk.fragment("cutting/page.html", "removal", variant_id=variant_id, **_tried(desk, variant_id, form, alike))


@router.get("/jobs/{no}/cuts/{variant_id}/sizes", name="cutting.sizes")
def sizes(desk: At, no: int, variant_id: int, form: Asked) -> Response:
    """The size fields of one row, after its kind was changed."""
    i = form.whole("row", 0, MOST_ROWS - 1)
    form.problems.clear()
    return desk.fragment(
        "cutting/page.html", "sizes", i=i, form=form, kinds=drawing.cut_kinds(), unit=_unit(desk, variant_id, form)
    )  # fmt: skip


@router.get("/jobs/{no}/cuts/{variant_id}/row", name="cutting.row")
def row(desk: At, no: int, variant_id: int, form: Asked) -> Response:
    """One more row."""
    i = _one_more(form)
    return desk.fragment(
        "cutting/page.html", "row", i=i, form=form, kinds=drawing.cut_kinds(), sides=drawing.SIDES, no=no,
        variant_id=variant_id, unit=_unit(desk, variant_id, form),
    )  # fmt: skip


@router.get("/jobs/{no}/cuts/{variant_id}/aims", name="cutting.aims")
def aims(desk: At, no: int, variant_id: int, form: Asked) -> Response:
    """What can be aimed with: the free sizes of the rows as typed."""
    typed = _typed(form, _unit(desk, variant_id, form))
    return desk.fragment("cutting/_aim.html", "aims", no=no, variant_id=variant_id, form=form, **_aims(typed, form))


@router.get("/jobs/{no}/cuts/{variant_id}/wanted", name="cutting.wanted")
def wanted(desk: At, no: int, variant_id: int, form: Asked) -> Response:
    """The wanted figure, in the unit of what was chosen."""
    typed = _typed(form, _unit(desk, variant_id, form))
    return desk.fragment("cutting/_aim.html", "wanted", no=no, variant_id=variant_id, form=form, **_aims(typed, form))


@router.get("/jobs/{no}/cuts/{variant_id}/aim", name="cutting.aim")
def aim(desk: At, no: int, variant_id: int, form: Asked) -> Response:
    """The size that reaches what is wanted, or what stops it."""
    return desk.fragment("cutting/_aim.html", "aim", **_aimed(desk, no, variant_id, form))


@router.get("/jobs/{no}/cuts/{variant_id}/filled", name="cutting.filled")
def filled(desk: At, no: int, variant_id: int, form: Asked) -> Response:
    """The board with what the address brings along, before which a draft that the browser keeps must stand back."""
    kept = {name: text for name, text in form.typed.items() if name not in NOT_SHARED}
    return desk.lead_on(f"{desk.url('cutting.page', no=no, variant_id=variant_id)}?{urlencode(kept)}", form)


@router.post("/jobs/{no}/cuts/{variant_id}", name="cutting.keep")
def keep(desk: At, no: int, variant_id: int, form: Sent) -> Response:
    """Use these cuts."""

    def act(db: Session, by: int) -> str:
        typed = _typed(form, _unit(desk, variant_id, form))
        cutting.keep_cuts(db, job_id=jobs.by_no(db, no).id, variant_id=variant_id, typed=typed, now=desk.now, by=by)
        return desk.url("jobs.page", no=no)

    return desk.submit(form, act, lambda: _board(desk, no, variant_id, form))


def _board(desk: Desk, no: int, variant_id: int, form: Form) -> Response:
    alike = _alike(desk, no, variant_id)
    plan = cutting.plan(desk.db, alike[0].job_id, variant_id)
    return desk.page(
        "cutting/page.html", sheet="Section board", here="job", job_no=no, no=no, variant_id=variant_id,
        variant=parts.variant(desk.db, variant_id), pieces=alike, form=form, kinds=drawing.cut_kinds(),
        sides=drawing.SIDES, count=_count(form), plan=plan, drawn=cutting.body_of(desk.db, variant_id)[1] is not None,
        last=None if plan else cutting.last_plan(desk.db, variant_id, but_job=alike[0].job_id),
        unit=_unit(desk, variant_id, form), **_tried(desk, variant_id, form, alike),
        **_aims(_typed(form, _unit(desk, variant_id, form)), form), **_aimed(desk, no, variant_id, form),
    )  # fmt: skip


def _aims(typed: CutsTyped, form: Form) -> dict[str, Any]:
    what = form["aim_what"] if form["aim_what"] in aiming.AIMS else "mass"
    return {"aim_sizes": aiming.choices(typed), "aim_whats": aiming.AIMS, "aim_unit": aiming.unit_of(what, typed.unit)}


def _aimed(desk: Desk, no: int, variant_id: int, form: Form) -> dict[str, Any]:
    """The aim's answer, and the address of the board with the size put into its field."""
    told = aiming.find(
        desk.db, variant_id=variant_id, typed=_typed(form, _unit(desk, variant_id, form)), size=form["aim_size"],
        what=form["aim_what"], wanted=form["aim_wanted"],
    )  # fmt: skip
    kept = {name: text for name, text in form.typed.items() if name not in NOT_SHARED}
    kept |= {**(told.fields if told else {}), "keep": f"cuts-{no}-{variant_id}"}
    return {"aimed": told, "aim_link": f"{desk.url('cutting.filled', no=no, variant_id=variant_id)}?{urlencode(kept)}"}


def _tried(desk: Desk, variant_id: int, form: Form, alike: list[PieceFacts]) -> dict[str, Any]:
    """The removal, its drawing and what each scale can say of it, by the same sum that keeps the cuts."""
    typed = _typed(form, _unit(desk, variant_id, form))
    tried: Tried = cutting.try_cuts(desk.db, variant_id=variant_id, typed=typed, pieces=len(alike))
    grams = tried.removal.grams if tried.removal else 0.0
    fitness = list(weighing.scale_fitness(desk.db, grams).values()) if grams else []
    coarse = [words for words in fitness if COARSE in words]
    sharper = ""
    if coarse and len(coarse) == len(fitness):
        sharper = ways.sharper(desk.db, pieces=len(alike), each_g=0.0, predicted_g=grams)
    said = slips.of_cuts(desk.db, variant_id=variant_id, job_id=alike[0].job_id, typed=typed)
    return {
        "slips": said, "sharper": sharper, "sheets": _workings(desk, tried, said, bool(fitness), bool(sharper)),
        "tried": tried, "svg": section_svg(tried.section, width=BOARD) if tried.section else "",
        "able": [words for words in fitness if COARSE not in words],
        "coarse": coarse,
    }  # fmt: skip


def _workings(
    desk: Desk, tried: Tried, said: tuple[str, ...], weighable: bool, sharper: bool
) -> tuple[WorkingSheet, ...]:
    """The working behind every figure that the board shows."""
    told = tried.removal
    if told is None:
        return ()
    scales = ((scale.name, f"shows {scale.division} {scale.unit}") for scale in shopbook.scales(desk.db))
    return (
        *workings_cuts.of_removal(told),
        *(workings_scale.of_fitness(f"about {told.about}", scales) if weighable else ()),
        *(ways.working() if sharper else ()), *slips.working(said),
    )  # fmt: skip


def _typed(form: Form, unit: str) -> CutsTyped:
    """The cuts of the form, row by row; empty rows keep their place, so that problems find their fields."""
    kinds, rows = drawing.cut_kinds(), []
    for i in range(_count(form)):
        kind = form[f"cut_{i}_kind"] if form[f"cut_{i}_kind"] in kinds else next(iter(kinds))
        sizes = {size.name: form[f"cut_{i}_{size.name}"] for size in kinds[kind].sizes}
        rows.append(Typed(kind, {name: text for name, text in sizes.items() if text.strip()}, form[f"cut_{i}_side"]))
    return CutsTyped(unit, tuple(rows), form["web"].strip(), form["web_note"].strip())


def _as_form(typed: CutsTyped | None, unit: str) -> Form:
    """Kept cuts as a form shows them; without any, two rows to begin with."""
    if typed is None:
        rows: tuple[Typed, ...] = (Typed("turn", {}, "A"), Typed("face", {}, "A"))
        typed = CutsTyped(unit, rows)
    texts = {"unit": typed.unit, "web": typed.web, "web_note": typed.web_note}
    for i, row in enumerate(typed.cuts):
        texts |= {f"cut_{i}_side": row.side, f"cut_{i}_kind": row.kind}
        texts |= {f"cut_{i}_{name}": text for name, text in row.sizes.items()}
    return Form(typed=texts)


def _count(form: Form) -> int:
    """How many rows the form brings."""
    found = [int(hit[1]) for name in form.typed if (hit := ROW.fullmatch(name))]
    return min(max(found, default=-1) + 1, MOST_ROWS)


def _one_more(form: Form) -> int:
    """Begin one more row, on the side of the last one; gives its place."""
    i = min(_count(form), MOST_ROWS - 1)
    form.typed[f"cut_{i}_kind"] = "turn"
    form.typed[f"cut_{i}_side"] = form[f"cut_{i - 1}_side"] or "A"
    return i


def _unit(desk: Desk, variant_id: int, form: Form) -> str:
    """The unit that stands on the fields."""
    return form["unit"] if form["unit"] in UNITS else parts.variant(desk.db, variant_id).unit


def _job_id(desk: Desk, no: int) -> int:
    return jobs.by_no(desk.db, no).id


def _alike(desk: Desk, no: int, variant_id: int) -> list[PieceFacts]:
    """The pieces of this job that these cuts are for."""
    alike = [piece for piece in jobs.pieces(desk.db, _job_id(desk, no)) if piece.variant_id == variant_id]
    if not alike:
        raise NotHere(f"No piece of job {no} is of that variant. Look at its sign first.")
    return alike
