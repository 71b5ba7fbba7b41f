"""The environment of the papers' templates, and what every paper has in common."""

from __future__ import annotations

import re
from datetime import date
from functools import cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from shopapp.bench import money
from shopapp.office.sheets.canon import Sheet
from shopapp.office.sheets.section import SectionSheet
from shopapp.papers.codes import code
from shopapp.papers.places import templates_dir
from shopapp.papers.section import section_paper
from shopapp.papers.signature import signature

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
POINTED = re.compile(r"(?<!\S)(?:[^\s\w.&]|[Øø]){0,2}\.\d[^\s&]{0,12}")
"""A number that begins with its point, and the signs that stand on it."""


def paper_html(template: str, sheet: Sheet, *, kind: str, number: str, title: str = "") -> str:
    """The whole HTML document of a paper; `kind` and `number` stand in its title block, and `title`, where the sheet
    has none of its own."""
    part = paper_part(template, sheet, kind=kind, number=number, title=title)
    return document_html((part,), sheet, kind=kind, number=number, title=title)


def paper_part(template: str, sheet: Sheet, *, kind: str, number: str, title: str = "") -> Markup:
    """One paper as a part of a document; its sheets are counted by themselves."""
    page = environment().get_template(f"papers/{template}.html")
    told = page.render(sheet=sheet, kind=kind, number=number, title=_title(sheet, title), part=template)
    return Markup(told)  # every text in it is escaped


def document_html(parts: tuple[Markup, ...], sheet: Sheet, *, kind: str, number: str, title: str = "") -> str:
    """Several papers that are printed in one go; the document's own title and date are those of `sheet`."""
    page = environment().overlay(finalize=None).get_template("papers/document.html")
    return page.render(parts=parts, sheet=sheet, kind=kind, number=number, title=_title(sheet, title))


def _title(sheet: Sheet, title: str) -> str:
    return title or str(getattr(sheet, "title", ""))


@cache
def environment() -> Environment:
    """Jinja for papers: everything escaped, an unknown name is a fault."""
    made = Environment(
        loader=FileSystemLoader(templates_dir()),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=whole,
    )
    made.filters.update(cents=money.show, coded=code, day=day, drawn=drawn, signed=signature)
    return made


def whole(value: object) -> object:
    """Words in which no line breaks inside ".350": the typesetter would put the point on one line and 350 on the
    next. For text between tags, not for attributes."""
    if not isinstance(value, str) or isinstance(value, Markup) or not POINTED.search(value):
        return value
    return Markup(POINTED.sub(r'<span class="point">\g<0></span>', str(escape(value))))


def day(iso: str) -> str:
    """An ISO date as it stands on paper: 31 Mar 2026; words that are no date stay as they are."""
    try:
        when = date.fromisoformat(iso)
    except ValueError:
        return iso
    return f"{when.day} {MONTHS[when.month - 1]} {when.year}"


def drawn(sheet: SectionSheet) -> dict[str, object]:
    """The drawing for a paper and the words of its scale."""
    svg, scale = section_paper(sheet, wide_mm=86, high_mm=112)
    return {"svg": Markup(svg), "scale": scale}  # section.py escapes every text in it
