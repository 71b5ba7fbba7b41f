"""The tags of a job: two for each piece, one for the part and one for its box."""

from __future__ import annotations

from shopapp.office.sheets.tags import TagsSheet
from shopapp.papers.press import press
from shopapp.papers.render import paper_html


def tags_html(sheet: TagsSheet) -> str:
    """The paper as one HTML document, ready for the press."""
    return paper_html("tags", sheet, kind="Tags", number=sheet.number or sheet.job_no)


def tags_pdf(sheet: TagsSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(tags_html(sheet))
