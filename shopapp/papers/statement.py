"""The statement: what a customer owes on a day, bill by bill and by age."""

from __future__ import annotations

from shopapp.office.sheets.statement import StatementSheet
from shopapp.papers.press import press
from shopapp.papers.render import day, paper_html


def statement_html(sheet: StatementSheet) -> str:
    """The paper as one HTML document, ready for the press."""
    title = f"Open bills on {day(sheet.as_of)}"
    return paper_html("statement", sheet, kind="Statement", number=sheet.number, title=title)


def statement_pdf(sheet: StatementSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(statement_html(sheet))
