"""A question to the customer: word for word, with its photos, and lines for the answer."""

from __future__ import annotations

from shopapp.office.sheets.question import QuestionSheet
from shopapp.papers.press import press
from shopapp.papers.render import paper_html
from shopapp.papers.shown import look_at


def question_html(sheet: QuestionSheet) -> str:
    """The paper as one HTML document, ready for the press; raises PressFailed for a photo that is no JPEG."""
    look_at(sheet.photos)
    return paper_html("question", sheet, kind="Question", number=sheet.number)


def question_pdf(sheet: QuestionSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(question_html(sheet))
