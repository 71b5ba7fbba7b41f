"""A question to the customer: word for word, with its photos, and lines for the answer."""

from __future__ import annotations

from base64 import b64decode

from shopapp.office.sheets.question import QuestionSheet
from shopapp.papers.press import PressFailed, press
from shopapp.papers.render import paper_html

JPEG = b"\xff\xd8\xff"
"""How a JPEG begins: start of image, and the next marker (ITU-T T.81, annex B, from memory)."""


def question_html(sheet: QuestionSheet) -> str:
    """The paper as one HTML document, ready for the press; raises PressFailed for a photo that is no JPEG."""
    for photo in sheet.photos:
        _look_at(photo.jpeg, photo.words)
    return paper_html("question", sheet, kind="Question", number=sheet.number)


def question_pdf(sheet: QuestionSheet) -> bytes:
    """The paper as PDF; raises PressFailed."""
    return press(question_html(sheet))


def _look_at(jpeg: str, words: str) -> None:
    try:
        begins = b64decode(jpeg, validate=True)[:3]
    except ValueError:
        begins = b""
    if begins != JPEG:
        raise PressFailed(f"The photo “{words}” on this sheet is no JPEG, so it is not printed. Issue the letter anew.")
