"""The receipt for a deposit, or for money over what bills ask: it is held, and this is no bill."""

from __future__ import annotations

from shopapp.office.sheets.receipt import DepositSheet
from shopapp.papers.press import press
from shopapp.papers.render import paper_html


def deposit_html(sheet: DepositSheet) -> str:
    """The paper as one HTML document, ready for the press."""
    kind = "Deposit receipt" if sheet.held_as == "deposit" else "Receipt"
    return paper_html("deposit", sheet, kind=kind, number=sheet.number)


def deposit_pdf(sheet: DepositSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(deposit_html(sheet))
