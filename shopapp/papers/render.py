"""The environment of the papers' templates, and what every paper has in common."""

from __future__ import annotations

from datetime import date
from functools import cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from shopapp.bench import money
from shopapp.office.sheets.credit import CreditSheet
from shopapp.office.sheets.invoice import InvoiceSheet
from shopapp.office.sheets.quote import QuoteSheet
from shopapp.office.sheets.ready import ReadySheet
from shopapp.office.sheets.section import SectionSheet
from shopapp.papers.places import templates_dir
from shopapp.papers.section import section_paper

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def paper_html(template: str, sheet: QuoteSheet | ReadySheet | InvoiceSheet | CreditSheet, **told: object) -> str:
    """The whole HTML document of a paper. `told` are its kind, number and status for the title block."""
    return environment().get_template(f"papers/{template}.html").render(sheet=sheet, **told)


@cache
def environment() -> Environment:
    """Jinja for papers: everything escaped, an unknown name is a fault."""
    made = Environment(
        loader=FileSystemLoader(templates_dir()),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters.update(cents=money.show, day=day, drawn=drawn)
    return made


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
