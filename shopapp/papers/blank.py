"""A blank ticket for a day without power."""

from __future__ import annotations

from shopapp.office.sheets.blank import BlankSheet
from shopapp.papers.press import press
from shopapp.papers.render import paper_html


def blank_html(sheet: BlankSheet) -> str:
    """The paper as one HTML document, ready for the press."""
    return paper_html("blank", sheet, kind="Blank ticket", number="–")


def blank_pdf(sheet: BlankSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(blank_html(sheet))
