"""The receipt for a deposit: money that is held, and no bill."""

from __future__ import annotations

from shopapp.office.sheets.receipt import DepositSheet
from shopapp.papers.press import press
from shopapp.papers.render import paper_html


def deposit_html(sheet: DepositSheet) -> str:
    """The paper as one HTML document, ready for the press."""
    return paper_html("deposit", sheet, kind="Deposit receipt", number=sheet.number)


def deposit_pdf(sheet: DepositSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(deposit_html(sheet))
