"""The scratch sheet: a list of sums, each a form that answers while it is typed; its address is the whole sum."""

from __future__ import annotations

from html import escape
from typing import Any
from urllib.parse import urlencode

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from shopapp.office import equipment, scratch
from shopapp.office.scratch import Worked
from shopapp.office.scratch_form import Sum, unit_on
from shopapp.papers.section import section_svg
from shopapp.web.desk import Asked, At, Desk
from shopapp.web.forms import Form

SVG = 440
"""Units across: small enough that its letters can be read on a phone."""
router = APIRouter()


@router.get("/scratch", name="scratch.page")
def page(desk: At) -> Response:
    """Every sum, by what it is for."""
    return desk.page("scratch/page.html", sheet="Scratch sheet", here="shop", groups=scratch.GROUPS)


@router.get("/scratch/{key}", name="scratch.sum")
def one(desk: At, key: str, form: Asked) -> Response:
    """One sum with whatever the address brings along, answered as far as it goes."""
    asked = scratch.the_sum(key)
    return desk.page("scratch/sum.html", sheet=asked.title, here="shop", **_shown(desk, asked, form))


@router.get("/scratch/{key}/answer", name="scratch.answer")
def answer(desk: At, key: str, form: Asked) -> Response:
    """The answer alone, while it is typed; the address bar follows, so that it can be sent on."""
    asked = scratch.the_sum(key)
    shown = _shown(desk, asked, form)
    fragment = desk.fragment("scratch/sum.html", "answer", **shown)
    fragment.headers["HX-Replace-Url"] = shown["link"]
    return fragment


@router.get("/scratch/{key}/echo/{name}", name="scratch.echo")
def echo(desk: At, key: str, name: str, form: Asked) -> Response:
    """What a half-typed field says: in the other unit, or how to type it."""
    words = scratch.echo(scratch.the_sum(key), name, form.typed, unit=desk.shop.unit)
    # A sentence may repeat what was typed, and the page takes the answer in as markup.
    return HTMLResponse(escape(words))


def _shown(desk: Desk, asked: Sum, form: Form) -> dict[str, Any]:
    """A sum as its page needs it."""
    worked = scratch.work(asked, form.typed, unit=desk.shop.unit, sign=desk.shop.currency)
    told = worked.answer
    return {
        "sum": asked, "worked": worked, "form": Form(typed=dict(worked.typed)), "unit_on": unit_on,
        "hints": _hints(desk, asked, worked), "link": _link(desk, asked, worked),
        "fills": _fills(desk, asked, worked),
        "example": f"{desk.url('scratch.sum', key=asked.key)}?{urlencode(asked.example)}",
        "drawing": section_svg(told.section, width=SVG) if told and told.section else "",
        "more": sum(group.key.startswith("cut-") for group in worked.groups) + 1,
    }  # fmt: skip


def _hints(desk: Desk, asked: Sum, worked: Worked) -> dict[str, str]:
    """What stands beside each field that holds something."""
    typed = [one.name for one in scratch.fields(worked.groups) if one.kind != "choice" and worked.typed.get(one.name)]
    return {name: scratch.echo(asked, name, worked.typed, unit=desk.shop.unit) for name in typed}


def _fills(desk: Desk, asked: Sum, worked: Worked) -> list[tuple[str, str]]:
    """The same sum with what a machine of the shop reads, bears or can be set to."""
    known = scratch.fills(worked, asked, equipment.machines(desk.db))
    return [(name, f"{desk.url('scratch.sum', key=asked.key)}?{urlencode(pairs)}") for name, pairs in known]


def _link(desk: Desk, asked: Sum, worked: Worked) -> str:
    """The address that brings this very sum back."""
    return f"{desk.url('scratch.sum', key=asked.key)}?{urlencode(scratch.shared(worked, asked))}"
