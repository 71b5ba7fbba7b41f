"""A credit note on paper."""

from __future__ import annotations

from shopapp.office.sheets.credit import CreditSheet
from shopapp.papers.press import press
from shopapp.papers.render import paper_html


def credit_html(sheet: CreditSheet) -> str:
    """The paper as one HTML document, ready for the press."""
    return paper_html("credit", sheet, kind="Credit note", number=str(sheet.number))


def credit_pdf(sheet: CreditSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(credit_html(sheet))
