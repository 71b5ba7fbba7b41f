"""A variant: how much came off last time, its drawing, and the signs that tell it from its twins."""

from __future__ import annotations

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.office import atspeed, cutting, lasttime, parts, photos, trouble, workings_cuts, workings_scale
from shopapp.office.database import Session
from shopapp.papers.section import section_svg
from shopapp.web.desk import Asked, At, Desk, Sent
from shopapp.web.forms import Form

SIGNS = 6
UNITS = ("in", "mm")
SVG = 480
"""Units across: small enough that its letters can be read on a phone."""
router = APIRouter()


@router.get("/parts/{part_id}/variants/new", name="variants.new")
def new(desk: At, part_id: int) -> Response:
    """An empty form for one more look-alike."""
    return _new(desk, part_id, Form(typed={"unit": desk.shop.unit, "deciding": "0"}))


@router.post("/parts/{part_id}/variants/new", name="variants.add")
def add(desk: At, part_id: int, form: Sent) -> Response:
    """Enter a variant; its drawing comes next."""

    def act(db: Session, by: int) -> str:
        variant_id = _keep(db, form, desk, by, parts.part(db, part_id).id)
        return desk.url("variants.one", variant_id=variant_id)

    return desk.submit(form, act, lambda: _new(desk, part_id, form))


@router.get("/variants/{variant_id}", name="variants.one")
def one(desk: At, variant_id: int, form: Asked) -> Response:
    """What came off last time, at the very top; then the drawing and the signs."""
    variant = parts.variant(desk.db, variant_id)
    _, body = cutting.body_of(desk.db, variant_id)
    tried = cutting.try_body(variant, body) if body else None
    last = lasttime.of_variant(desk.db, variant_id)
    return desk.page(
        "variants/one.html", sheet=f"{variant.part}, {variant.name}", here="book", variant=variant,
        troubles=trouble.of_variant(desk.db, variant_id), last=last,
        last_working=workings_scale.of_last(lasttime.offs(last)), form=form, grades=atspeed.grades(),
        spun=_spun(desk, variant_id, form),
        mass_working=workings_cuts.of_body(tried.removal) if tried and tried.removal else (),
        twins=[other for other in parts.variants(desk.db, variant.part_id) if other.id != variant_id],
        sign_photos=photos.of_signs(desk.db, [sign.id for sign in variant.signs]), fresh=lambda: Form().once,
        drawing=section_svg(tried.section, width=SVG) if tried and tried.section else "",
        mass=tried.removal.before_text if tried and tried.removal else "",
    )  # fmt: skip


@router.get("/variants/{variant_id}/spin", name="variants.spin")
def spin(desk: At, variant_id: int, form: Asked) -> Response:
    """What the part has to bear at the speed that is being typed."""
    return desk.fragment("variants/_spin.html", "spin", spun=_spun(desk, variant_id, form))


def _spun(desk: Desk, variant_id: int, form: Form) -> atspeed.AtSpeed | None:
    grade = form["grade"] if form["grade"] in atspeed.GRADES else ""
    return atspeed.of_variant(desk.db, variant_id=variant_id, turns=form["turns"], off=form["off"], grade=grade)


@router.get("/variants/{variant_id}/edit", name="variants.edit")
def edit(desk: At, variant_id: int) -> Response:
    """The form with what the book has."""
    variant = parts.variant(desk.db, variant_id)
    typed = {name: getattr(variant, name) for name in ("name", "material", "density", "unit", "note")}
    typed |= {f"sign_{i}": sign.words for i, sign in enumerate(variant.signs)}
    return _edit(desk, variant_id, Form(typed={**typed, "deciding": "0"}))


@router.post("/variants/{variant_id}", name="variants.change")
def change(desk: At, variant_id: int, form: Sent) -> Response:
    """Write over what the book has; drawings and pieces stay."""

    def act(db: Session, by: int) -> str:
        _keep(db, form, desk, by, parts.variant(db, variant_id).part_id, variant_id)
        return desk.url("variants.one", variant_id=variant_id)

    return desk.submit(form, act, lambda: _edit(desk, variant_id, form), "Written.")


def _keep(db: Session, form: Form, desk: Desk, by: int, part_id: int, variant_id: int | None = None) -> int:
    count = _signs(form)
    told = {name: form.words(name) for name in ("name", "density", "note", "material")}
    signs = [form.words(f"sign_{i}") for i in range(count)]
    unit = form.one_of("unit", UNITS, "Inches or millimetres? Choose one.")
    deciding = form.whole("deciding", 0, count - 1)
    form.check()
    return parts.keep_variant(
        db, part_id=part_id, variant_id=variant_id, signs=signs, deciding=deciding, unit=unit, **told,
        now=desk.now, by=by,
    )  # fmt: skip


def _signs(form: Form) -> int:
    """How many sign fields the form has: six, and room for more where a variant has them all."""
    used = [i for i in range(40) if form[f"sign_{i}"].strip()]
    return max(SIGNS, max(used, default=-1) + 1)


def _new(desk: Desk, part_id: int, form: Form) -> Response:
    part = parts.part(desk.db, part_id)
    return _form(desk, form, f"{part.name}: one more", desk.url("variants.add", part_id=part_id), part_id)


def _edit(desk: Desk, variant_id: int, form: Form) -> Response:
    variant = parts.variant(desk.db, variant_id)
    return _form(
        desk, form, f"{variant.part}, {variant.name}", desk.url("variants.change", variant_id=variant_id),
        variant.part_id, variant_id,
    )  # fmt: skip


def _form(desk: Desk, form: Form, title: str, to: str, part_id: int, variant_id: int | None = None) -> Response:
    twins = [other for other in parts.variants(desk.db, part_id) if other.id != variant_id]
    return desk.page(
        "variants/form.html", sheet=title, here="book", form=form, title=title, to=to, twins=twins,
        materials=list(parts.materials().items()), signs=_signs(form), keep=f"variant-{part_id}-{variant_id or 'new'}",
    )  # fmt: skip
