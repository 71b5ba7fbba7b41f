"""Fractions of an inch as they are written by hand, ⁷⁄₈ for 7/8: on paper only, where no one types them back."""

from __future__ import annotations

import re

FRACTION = re.compile(
    r"(?<![A-Za-z0-9_/.,⁄-])(?:(?P<whole>\d{1,4})-)?(?P<top>\d{1,3})/(?P<bottom>2|4|8|16|32|64|128)"
    r"(?![A-Za-z0-9_/⁄]|[.,-]\d)"
)
"""A fraction of the rule that is halved on and on, alone or behind whole inches; no day, no thread, no number."""
RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
LOWERED = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")


def glyphs(text: str, around: str = "{}") -> str:
    """The text with its fractions as letters of their own; `around` is put round each of them."""

    def one(found: re.Match[str]) -> str:
        top, bottom = found["top"], found["bottom"]
        if not 0 < int(top) < int(bottom) or int(top) % 2 == 0:
            return found[0]
        return (found["whole"] or "") + around.format(f"{top.translate(RAISED)}⁄{bottom.translate(LOWERED)}")

    return FRACTION.sub(one, text)
