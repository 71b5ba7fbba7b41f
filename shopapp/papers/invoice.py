"""An invoice on paper."""

from __future__ import annotations

from datetime import date

from shopapp.office.sheets.invoice import InvoiceSheet
from shopapp.papers.press import Inside, press
from shopapp.papers.render import paper_html


def invoice_html(sheet: InvoiceSheet) -> str:
    """The paper as one HTML document, ready for the press."""
    kind = "Void invoice" if sheet.void_on else "Invoice"
    return paper_html("invoice", sheet, kind=kind, number=str(sheet.number))


def invoice_pdf(sheet: InvoiceSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(invoice_html(sheet))


def invoice_with_data(sheet: InvoiceSheet, data: bytes) -> bytes:
    """The paper as PDF/A-3 with the same bill inside for other programs, as XML; raises PressFailed."""
    inside = Inside(f"invoice-{sheet.number}.xml", data, f"invoice {sheet.number}", date.fromisoformat(sheet.issued_on))
    return press(invoice_html(sheet), inside)
