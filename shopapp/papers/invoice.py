"""An invoice on paper."""

from __future__ import annotations

from shopapp.office.sheets.invoice import InvoiceSheet
from shopapp.papers.press import press
from shopapp.papers.render import paper_html


def invoice_html(sheet: InvoiceSheet) -> str:
    """The paper as one HTML document, ready for the press."""
    return paper_html("invoice", sheet, kind="Invoice", number=str(sheet.number))


def invoice_pdf(sheet: InvoiceSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(invoice_html(sheet))
