"""The drawing board of a variant: what a lathe hand would say, row by row, and the half-section as it is typed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, fields, replace
from typing import Any

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.office import cutting, drawing, parts, workings_cuts
from shopapp.office.cutting import Tried
from shopapp.office.database import Session
from shopapp.office.drawing import BodyTyped, KeepTyped, Typed
from shopapp.office.errors import NotHere
from shopapp.office.parts import VariantFacts
from shopapp.papers.section import section_svg
from shopapp.web.desk import Asked, At, Desk, Sent
from shopapp.web.forms import Form

MOST_ROWS = 60
LEASTS = ("web_least", "web_at", "wall_least", "wall_at")
KEEP_FIELDS = tuple(field.name for field in fields(KeepTyped))
_ROW = re.compile(r"(part|keep)_([0-9]{1,2})_(?:kind|name)")
SVG = 480
"""Units across: small enough that its letters can be read on a phone."""
router = APIRouter()


@dataclass(frozen=True)
class Row:
    """One row of the board: its place, its kind, and the sizes that this kind asks for."""

    at: int
    kind: str
    sizes: tuple[object, ...]


@router.get("/variants/{variant_id}/drawing", name="drawing.page")
def page(desk: At, variant_id: int) -> Response:
    """The board with the newest drawing on it, or two empty rings."""
    variant = parts.variant(desk.db, variant_id)
    _, body = cutting.body_of(desk.db, variant_id)
    rings = (Typed("ring"), Typed("ring"))
    return _page(desk, variant, body or BodyTyped(variant.unit, rings, (KeepTyped("", ""),)), Form())


@router.get("/variants/{variant_id}/drawing/section", name="drawing.section")
def section(desk: At, variant_id: int, form: Asked) -> Response:
    """The half-section of what can be read so far; a half-typed row is simply not drawn yet."""
    variant = parts.variant(desk.db, variant_id)
    body = read(form, variant.unit)
    return desk.fragment("drawing/page.html", "section", **_drawn(variant, body))


@router.get("/variants/{variant_id}/drawing/sizes", name="drawing.sizes")
def sizes(desk: At, variant_id: int, form: Asked) -> Response:
    """The size fields of a row whose kind was changed; sizes that both kinds ask for keep their text."""
    variant = parts.variant(desk.db, variant_id)
    body = read(form, variant.unit)
    at = form.whole("row", 0, MOST_ROWS)
    if at >= len(body.parts):
        raise NotHere("The form has no such row. Open the drawing again.")
    row = _rows(body)[at]
    return _fragment(desk, "sizes", variant, form, body.unit, row=row)


@router.get("/variants/{variant_id}/drawing/more", name="drawing.more")
def more(desk: At, variant_id: int, form: Asked) -> Response:
    """One more empty row, live."""
    variant = parts.variant(desk.db, variant_id)
    body = read(form, variant.unit)
    more = grown(body, form["add"])
    if len(more.keeps) > len(body.keeps):
        return _fragment(desk, "keep", variant, form, body.unit, at=len(body.keeps))
    if len(more.parts) > len(body.parts):
        return _fragment(desk, "part", variant, form, body.unit, row=_rows(more)[-1])
    return Response()


@router.post("/variants/{variant_id}/drawing/more", name="drawing.grow")
def grow(desk: At, variant_id: int, form: Sent) -> Response:
    """The same page with one more empty row and each row's fields as its kind asks; nothing is kept yet."""
    variant = parts.variant(desk.db, variant_id)
    return _page(desk, variant, grown(read(form, variant.unit), form["add"]), form)


@router.post("/variants/{variant_id}/drawing", name="drawing.keep")
def keep(desk: At, variant_id: int, form: Sent) -> Response:
    """Keep the drawing as the next version."""
    variant = parts.variant(desk.db, variant_id)
    body = read(form, variant.unit)

    def act(db: Session, by: int) -> str:
        cutting.keep_body(db, variant_id=variant_id, typed=body, now=desk.now, by=by)
        return desk.url("variants.one", variant_id=variant_id)

    return desk.submit(
        form, act, lambda: _page(desk, variant, body, form), "The drawing is kept; older ones stay in the book."
    )


def read(form: Form, unit: str) -> BodyTyped:
    """The drawing as the form has it, empty rows in their places."""
    kinds = drawing.part_kinds()
    rows = []
    for i in range(_count(form, "part")):
        kind = form[f"part_{i}_kind"] if form[f"part_{i}_kind"] in kinds else "ring"
        rows.append(Typed(kind, {size.name: form[f"part_{i}_{size.name}"].strip() for size in kinds[kind].sizes}))
    keeps = [
        KeepTyped(**{name: form[f"keep_{i}_{name}"].strip() for name in KEEP_FIELDS})
        for i in range(_count(form, "keep"))
    ]
    typed_unit = form["unit"] if form["unit"] in ("in", "mm") else unit
    return BodyTyped(typed_unit, tuple(rows), tuple(keeps), **{name: form[name].strip() for name in LEASTS})


def grown(body: BodyTyped, what: str) -> BodyTyped:
    """One more empty row of what was asked for, up to as many as a board holds."""
    if what == "part" and len(body.parts) < MOST_ROWS:
        return replace(body, parts=(*body.parts, Typed("ring")))
    if what == "keep" and len(body.keeps) < MOST_ROWS:
        return replace(body, keeps=(*body.keeps, KeepTyped("", "")))
    return body


def as_fields(body: BodyTyped) -> Iterator[tuple[str, str]]:
    """The fields of a drawing with their text, by the names that the form gives them."""
    for i, row in enumerate(body.parts):
        yield f"part_{i}_kind", row.kind
        yield from ((f"part_{i}_{name}", text) for name, text in row.sizes.items())
    for i, edge in enumerate(body.keeps):
        yield from ((f"keep_{i}_{name}", getattr(edge, name)) for name in KEEP_FIELDS)
    yield from ((name, getattr(body, name)) for name in LEASTS)


def _count(form: Form, what: str) -> int:
    seen = [int(found[2]) for name in form.typed if (found := _ROW.fullmatch(name)) and found[1] == what]
    return min(max(seen, default=-1) + 1, MOST_ROWS)


def _rows(body: BodyTyped) -> list[Row]:
    kinds = drawing.part_kinds()
    return [Row(i, row.kind, kinds[row.kind].sizes) for i, row in enumerate(body.parts)]


def _kinds() -> list[tuple[str, str]]:
    return [(key, kind.words) for key, kind in drawing.part_kinds().items()]


def _drawn(variant: VariantFacts, body: BodyTyped) -> dict[str, Any]:
    tried: Tried = cutting.try_body(variant, body)
    waiting = sorted({int(name.split("_")[1]) + 1 for name in tried.problems if name.startswith("part_")})
    svg = section_svg(tried.section, width=SVG) if tried.section else ""
    return {
        "variant": variant, "drawing": svg, "removal": tried.removal, "waiting": waiting,
        "refusal": tried.problems.get("", ""),
        "sheets": workings_cuts.of_body(tried.removal) if tried.removal else (),
    }  # fmt: skip


def _fragment(desk: Desk, block: str, variant: VariantFacts, form: Form, unit: str, **context: Any) -> Response:
    return desk.fragment(
        "drawing/page.html", block, variant=variant, form=form, unit=unit, kinds=_kinds(),
        keeps=list(drawing.KEEPS.items()), **context,
    )  # fmt: skip


def _page(desk: Desk, variant: VariantFacts, body: BodyTyped, form: Form) -> Response:
    form.typed = dict(as_fields(body))
    return desk.page(
        "drawing/page.html", sheet=f"Drawing, {variant.name}", here="book", form=form, unit=body.unit, kinds=_kinds(),
        rows=_rows(body), keep_rows=range(len(body.keeps)), keeps=list(drawing.KEEPS.items()), **_drawn(variant, body),
    )  # fmt: skip
