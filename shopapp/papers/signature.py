"""A finger's signature as a drawing on paper: strokes only, whatever a sheet holds."""

from __future__ import annotations

import re

from markupsafe import Markup, escape

from shopapp.papers.press import PressFailed

NUMBER = re.compile(r"[+-]?(?:\d{1,6}(?:\.\d{0,6})?|\.\d{1,6})(?![\d.])")
STEP = re.compile(rf"([A-Za-z])((?:[\s,]*{NUMBER.pattern})*)\s*")
DRAWING = re.compile(rf"\s*[Mm](?:[\s,]*{NUMBER.pattern})+\s*(?:{STEP.pattern})*")
WANTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "Z": 0}
"""How many numbers each command of a path wants at a time (W3C SVG 1.1, 8.3, from memory); no finger draws arcs."""


def signature(strokes: str, whose: str) -> Markup:
    """The strokes, drawn in a field of 600 by 200, as SVG; no strokes, no drawing. Raises PressFailed for text that
    is anything but path commands and their numbers."""
    if not strokes:
        return Markup()
    if not DRAWING.fullmatch(strokes) or not all(_whole(*step.groups()) for step in STEP.finditer(strokes)):
        raise PressFailed("The signature on this receipt is no drawing of strokes, so it is not printed.")
    return Markup(
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 600 200" width="100%" height="100%" '
        'preserveAspectRatio="xMinYMid meet" role="img">'
        f"<title>Signature of {escape(whose)}</title>"
        '<path fill="none" stroke="#15181b" stroke-width="4" stroke-linecap="round" stroke-linejoin="round" '
        f'd="{escape(strokes)}"/></svg>'
    )


def _whole(command: str, numbers: str) -> bool:
    wants, has = WANTS.get(command.upper()), len(NUMBER.findall(numbers))
    return has == 0 if wants == 0 else bool(wants and has and has % wants == 0)
