"""Photos on paper: JPEGs that travel inside the sheet, and nothing else."""

from __future__ import annotations

from base64 import b64decode

from shopapp.office.sheets.question import Shown
from shopapp.papers.press import PressFailed

JPEG = b"\xff\xd8\xff"
"""How a JPEG begins: start of image, and the next marker (ITU-T T.81, annex B, from memory)."""


def look_at(photos: tuple[Shown, ...]) -> None:
    """Raises PressFailed where one of the photos is no JPEG."""
    for photo in photos:
        try:
            begins = b64decode(photo.jpeg, validate=True)[:3]
        except ValueError:
            begins = b""
        if begins != JPEG:
            raise PressFailed(
                f"The photo “{photo.words}” on this sheet is no JPEG, so it is not printed. Issue the paper anew."
            )
