"""Turns a minute as they are typed: whatever else goes by speed is sent back."""

from __future__ import annotations

import re

from shopapp.bench.errors import Asked, Refused
from shopapp.bench.quantities import Quantity, speed

_POINTED = re.compile(r"[1-9][0-9]{0,2}\.[0-9]{3}(?![0-9])")


def turns(text: str) -> Quantity:
    """Turns a minute (common practice, no source).

    Formula: the figure as typed; a speed of the rim or of cutting is no figure of turns.

    text: what was typed, `460` or `460 rpm` [text]

    Returns: the quantity, base in [rpm].
    Limits: 60 characters, zero to 100,000.
    Raises: Refused for ft/min and m/min; Asked for 1,200 and 1.200; else as `speed`.

    >>> turns("460 rpm").base
    Fraction(460, 1)
    """
    found = speed(text, "rpm")
    if found.unit != "rpm":
        raise Refused("Here go turns a minute, not a speed of the rim or of the cut. Type them like 460 or 460 rpm.")
    if pointed := _POINTED.match(found.text):
        plain = pointed[0].replace(".", "")
        raise Asked(f"{pointed[0]}: is that {plain} turns a minute? Type it without the point.")
    return found
