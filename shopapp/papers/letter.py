"""The letter about finished pieces that were not fetched."""

from __future__ import annotations

from shopapp.office.sheets.letter import LetterSheet
from shopapp.papers.press import press
from shopapp.papers.render import paper_html


def letter_html(sheet: LetterSheet) -> str:
    """The paper as one HTML document, ready for the press."""
    return paper_html("letter", sheet, kind="Ready letter", number=sheet.number)


def letter_pdf(sheet: LetterSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(letter_html(sheet))
