"""The notice that pieces wait on the pick-up shelf, with both weights of each."""

from __future__ import annotations

from shopapp.office.sheets.ready import ReadySheet
from shopapp.papers.press import press
from shopapp.papers.render import paper_html


def ready_html(sheet: ReadySheet) -> str:
    """The paper as one HTML document, ready for the press."""
    return paper_html("ready", sheet, kind="Ready to fetch", number=sheet.number or sheet.job_no)


def ready_pdf(sheet: ReadySheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(ready_html(sheet))
