"""The record of a spoiled piece."""

from __future__ import annotations

from shopapp.office.sheets.spoiled import SpoiledSheet
from shopapp.papers.press import press
from shopapp.papers.render import paper_html


def spoiled_html(sheet: SpoiledSheet) -> str:
    """The paper as one HTML document, ready for the press."""
    return paper_html("spoiled", sheet, kind="Spoiled piece", number=sheet.piece)


def spoiled_pdf(sheet: SpoiledSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(spoiled_html(sheet))
