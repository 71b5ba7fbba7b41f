"""Photos inside a sheet: JPEGs only."""

import base64

import pytest

from shopapp.office.sheets.question import Shown
from shopapp.papers.press import PressFailed
from shopapp.papers.shown import look_at
from tests.papers.desk import photo


def test_a_jpeg_is_let_through() -> None:
    look_at((Shown("the crack", photo()),))


@pytest.mark.parametrize("jpeg", ["", "%%%", base64.b64encode(b"<svg>").decode()])
def test_anything_else_is_named_and_not_printed(jpeg: str) -> None:
    with pytest.raises(PressFailed, match="“the crack” on this sheet is no JPEG"):
        look_at((Shown("from the back", photo()), Shown("the crack", jpeg)))
