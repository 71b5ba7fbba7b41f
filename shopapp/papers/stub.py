"""The customer's stub; and stub, tags and job ticket in one go."""

from __future__ import annotations

from shopapp.office.sheets.stub import StubSheet
from shopapp.office.sheets.tags import TagsSheet
from shopapp.office.sheets.ticket import TicketSheet
from shopapp.papers.press import press
from shopapp.papers.render import document_html, paper_html, paper_part


def stub_html(sheet: StubSheet) -> str:
    """The paper as one HTML document, ready for the press."""
    return paper_html("stub", sheet, kind="Stub", number=sheet.number or sheet.job_no)


def stub_pdf(sheet: StubSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(stub_html(sheet))


def intake_html(stub: StubSheet, tags: TagsSheet, ticket: TicketSheet) -> str:
    """Stub, tags and job ticket as one HTML document; the sheets of each are counted by themselves."""
    parts = (
        paper_part("stub", stub, kind="Stub", number=stub.number or stub.job_no),
        paper_part("tags", tags, kind="Tags", number=tags.number or tags.job_no),
        paper_part("ticket", ticket, kind="Job ticket", number=ticket.number or ticket.job_no),
    )
    return document_html(parts, stub, kind="Stub, tags and job ticket", number=stub.number or stub.job_no)


def intake_pdf(stub: StubSheet, tags: TagsSheet, ticket: TicketSheet) -> bytes:
    """What is printed when pieces come in, as one PDF; raises PressFailed."""
    return press(intake_html(stub, tags, ticket))
