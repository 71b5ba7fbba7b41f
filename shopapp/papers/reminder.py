"""The reminder of bills that are past due."""

from __future__ import annotations

from shopapp.office.sheets.statement import ReminderSheet
from shopapp.papers.press import press
from shopapp.papers.render import day, paper_html


def reminder_html(sheet: ReminderSheet) -> str:
    """The paper as one HTML document, ready for the press."""
    title = f"Bills past due on {day(sheet.as_of)}"
    return paper_html("reminder", sheet, kind="Reminder", number=sheet.number, title=title)


def reminder_pdf(sheet: ReminderSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(reminder_html(sheet))
