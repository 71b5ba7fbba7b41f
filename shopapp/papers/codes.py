"""Codes that open a job or a piece: QR as a plain drawing, one path without a style.

Level M or better where that makes it no larger; four modules of quiet around it (ISO/IEC 18004, from memory).
"""

from __future__ import annotations

from collections.abc import Iterator

import segno
from markupsafe import Markup, escape

QUIET = 4
"""White modules around the code."""


def code(address: str, says: str) -> Markup:
    """The code of a whole address as SVG, as wide as its place; `says` is for those who do not see it. No address,
    no code."""
    if not address:
        return Markup()
    rows = tuple(tuple(row) for row in segno.make_qr(address, error="m").matrix)
    side = len(rows) + 2 * QUIET
    return Markup(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {side} {side}" width="100%" height="100%" role="img">'
        f"<title>{escape(says)}</title>"
        f'<path fill="#ffffff" d="M0 0h{side}v{side}h-{side}z"/><path fill="#15181b" d="{"".join(_bars(rows))}"/></svg>'
    )


def _bars(rows: tuple[tuple[int, ...], ...]) -> Iterator[str]:
    """Dark modules that touch in a row, as one bar."""
    for y, row in enumerate(rows, QUIET):
        x = 0
        while x < len(row):
            start = x
            while x < len(row) and row[x]:
                x += 1
            if x > start:
                yield f"M{start + QUIET} {y}h{x - start}v1h-{x - start}z"
            x += 1
