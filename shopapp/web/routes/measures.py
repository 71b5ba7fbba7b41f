"""What a half-typed figure says, beside its field: in both units, or how to type it."""

from __future__ import annotations

from html import escape

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from shopapp.office import sizes
from shopapp.web.desk import Asked
from shopapp.web.forms import Form

LENGTHS, MASSES = ("in", "mm"), ("lb", "oz", "g", "kg")
router = APIRouter()


@router.get("/echo/length", name="measures.length")
def length(form: Asked) -> Response:
    """A length in inches and millimetres."""
    return _words(sizes.echo(_typed(form), _unit(form, LENGTHS)))


@router.get("/echo/mass", name="measures.mass")
def mass(form: Asked) -> Response:
    """A weight in pounds and kilograms."""
    return _words(sizes.echo_mass(_typed(form), _unit(form, MASSES)))


def _typed(form: Form) -> str:
    """The text of the field that `field` names, or else of the only field that was sent."""
    named = form["field"]
    if named:
        return form[named]
    return next((text for name, text in form.typed.items() if name != "unit"), "")


def _unit(form: Form, units: tuple[str, ...]) -> str:
    return form["unit"] if form["unit"] in units else units[0]


def _words(text: str) -> Response:
    # A sentence may repeat what was typed, and the page takes the answer in as markup.
    return HTMLResponse(escape(text))
