"""The hand-over receipt: what left, with what, and who signed for it."""

from __future__ import annotations

from shopapp.office.sheets.handover import HandOverSheet
from shopapp.papers.press import press
from shopapp.papers.render import paper_html


def hand_over_html(sheet: HandOverSheet) -> str:
    """The paper as one HTML document, ready for the press; raises PressFailed for a signature that is no drawing."""
    many = len(sheet.pieces)
    title = f"{many} piece{'s' * (many != 1)} handed over to {sheet.taken_by}"
    return paper_html("hand_over", sheet, kind="Hand-over", number=sheet.number, title=title)


def hand_over_pdf(sheet: HandOverSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(hand_over_html(sheet))
