"""A quote on paper: price, drawing, what about comes off, what is and is not done."""

from __future__ import annotations

from shopapp.office.sheets.quote import QuoteSheet
from shopapp.papers.press import press
from shopapp.papers.render import paper_html


def quote_html(sheet: QuoteSheet) -> str:
    """The paper as one HTML document, ready for the press."""
    return paper_html("quote", sheet, kind="Quote", number=sheet.number)


def quote_pdf(sheet: QuoteSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(quote_html(sheet))
