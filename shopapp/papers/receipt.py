"""The receipt for money that came in on bills, or was given back."""

from __future__ import annotations

from shopapp.office.sheets.receipt import ReceiptSheet
from shopapp.papers.press import press
from shopapp.papers.render import paper_html


def receipt_html(sheet: ReceiptSheet) -> str:
    """The paper as one HTML document, ready for the press."""
    return paper_html("receipt", sheet, kind="Receipt, given back" if sheet.is_out else "Receipt", number=sheet.number)


def receipt_pdf(sheet: ReceiptSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(receipt_html(sheet))
