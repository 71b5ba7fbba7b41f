"""Shelf labels, 100 by 60 mm, one a piece."""

from __future__ import annotations

from shopapp.office.sheets.label import LabelSheet
from shopapp.papers.press import press
from shopapp.papers.render import paper_html


def label_html(sheet: LabelSheet) -> str:
    """The paper as one HTML document, ready for the press."""
    return paper_html("label", sheet, kind="Shelf label", number=sheet.job_no)


def label_pdf(sheet: LabelSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(label_html(sheet))
