"""The record of a spoiled piece."""

from __future__ import annotations

from shopapp.office.sheets.spoiled import SpoiledSheet
from shopapp.papers.press import press
from shopapp.papers.render import paper_html
from shopapp.papers.shown import look_at


def spoiled_html(sheet: SpoiledSheet) -> str:
    """The paper as one HTML document, ready for the press; raises PressFailed for a photo that is no JPEG."""
    look_at(sheet.shown)
    return paper_html("spoiled", sheet, kind="Spoiled piece", number=sheet.number or sheet.piece)


def spoiled_pdf(sheet: SpoiledSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(spoiled_html(sheet))
