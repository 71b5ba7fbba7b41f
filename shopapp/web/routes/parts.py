"""Parts and their look-alikes, side by side, the deciding sign first."""

from __future__ import annotations

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.office import parts, search
from shopapp.office.database import Session
from shopapp.web.desk import At, Desk, Sent
from shopapp.web.forms import Form

router = APIRouter()


@router.get("/parts", name="parts.page")
def page(desk: At) -> Response:
    """Every part by name."""
    return desk.page("parts/page.html", sheet="Parts", here="book", parts=parts.parts(desk.db))


@router.get("/parts/new", name="parts.new")
def new(desk: At) -> Response:
    """An empty form."""
    return _new(desk, Form())


@router.post("/parts/new", name="parts.add")
def add(desk: At, form: Sent) -> Response:
    """Enter a part."""

    def act(db: Session, by: int) -> str:
        part_id = _keep(db, form, desk, by)
        return desk.url("parts.one", part_id=part_id)

    return desk.submit(form, act, lambda: _new(desk, form))


@router.get("/parts/{part_id}", name="parts.one")
def one(desk: At, part_id: int) -> Response:
    """A part with its look-alikes."""
    return _one(desk, part_id, Form())


@router.post("/parts/{part_id}", name="parts.change")
def change(desk: At, part_id: int, form: Sent) -> Response:
    """Write over what the book has of a part."""

    def act(db: Session, by: int) -> str:
        _keep(db, form, desk, by, part_id)
        return desk.url("parts.one", part_id=part_id)

    return desk.submit(form, act, lambda: _one(desk, part_id, form), "Written.")


def _keep(db: Session, form: Form, desk: Desk, by: int, part_id: int | None = None) -> int:
    told = {name: form.words(name) for name in ("name", "note", "not_done")}
    form.check()
    return parts.keep_part(db, **told, part_id=part_id, now=desk.now, by=by)


def _new(desk: Desk, form: Form) -> Response:
    return desk.page("parts/new.html", sheet="New part", here="book", form=form)


def _one(desk: Desk, part_id: int, form: Form) -> Response:
    part = parts.part(desk.db, part_id)
    changing = "name" in form.typed
    form.typed = {"name": part.name, "note": part.note, "not_done": part.not_done, **form.typed}
    alike = parts.variants(desk.db, part_id)
    return desk.page(
        "parts/one.html", sheet=part.name, here="book", form=form, part=part, changing=changing, alike=alike,
        last=search.last_removals(desk.db, [variant.id for variant in alike]),
    )  # fmt: skip
