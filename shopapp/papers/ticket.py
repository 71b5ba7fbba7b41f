"""The job ticket: what the bench reads with black hands, and room for what it writes."""

from __future__ import annotations

from shopapp.office.sheets.ticket import TicketSheet
from shopapp.papers.press import press
from shopapp.papers.render import paper_html


def ticket_html(sheet: TicketSheet) -> str:
    """The paper as one HTML document, ready for the press."""
    return paper_html("ticket", sheet, kind="Job ticket", number=sheet.number or sheet.job_no)


def ticket_pdf(sheet: TicketSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(ticket_html(sheet))
