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
from shopapp.papers.fractions import FRACTION, glyphs
from shopapp.papers.places import templates_dir
from shopapp.papers.section import section_about, section_paper
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
    made.filters.update(
        cents=money.show, coded=code, day=day, drawn=drawn, signed=signature, as_it_is=as_it_is,
        fitting=fitting,
    )  # fmt: skip
    return made


def whole(value: object) -> object:
    """Words with ⁷⁄₈ for 7/8, in which no line breaks inside ".350": the typesetter would put the point on one line
    and 350 on the next. For text between tags, not for attributes."""
    if not isinstance(value, str) or isinstance(value, Markup):
        return value
    if not (POINTED.search(value) or FRACTION.search(value)):
        return value
    held = POINTED.sub(r'<span class="point">\g<0></span>', str(escape(value)))
    return Markup(glyphs(held, '<span class="fraction">{}</span>'))


def as_it_is(words: str) -> Markup:
    """Words in which nothing is written another way: in attributes, and for numbers that somebody gave."""
    return escape(words)


def fitting(rows: tuple[str, ...], room: int) -> str:
    """As many whole rows as go into so many letters, at least one, and how many more there are; none is cut short."""
    taken = list(rows[:1])
    for row in rows[1:]:
        if len(", ".join([*taken, row])) > room:
            break
        taken.append(row)
    more = len(rows) - len(taken)
    return ", ".join([*taken, f"and {more} more"] if more else taken)


def day(iso: str) -> str:
    """An ISO date as it stands on paper: 31 Mar 2026; words that are no date stay as they are."""
    try:
        when = date.fromisoformat(iso)
    except ValueError:
        return iso
    return f"{when.day} {MONTHS[when.month - 1]} {when.year}"


def drawn(sheet: SectionSheet) -> dict[str, object]:
    """The drawing for a paper, the words of its scale, and what is written under it."""
    svg, scale = section_paper(sheet, wide_mm=86, high_mm=112)
    words = " · ".join((f"Half-section, scale {scale}", *section_about(sheet)))
    return {"svg": Markup(svg), "scale": scale, "words": words}  # section.py escapes every text in it
