"""How much to take off a web, as people say it, and what a stop leaves."""

import re
from dataclasses import dataclass
from fractions import Fraction

from shopapp.bench.amounts import Cursor, amount
from shopapp.bench.errors import Asked, BenchError, Impossible, Refused
from shopapp.bench.outline import both
from shopapp.bench.quantities import length
from shopapp.bench.tokens import tokens


@dataclass(frozen=True)
class Take:
    """What is taken and what stays of a web [mm], and the part taken of it."""

    take: float
    left: float
    part: float


_OF = re.compile(r"(?:\bof +)?\b(?:(?:the +)?web|it)$")
_SIZE, _PART, _EITHER = "size", "part", "either"


def stop_clearance(back_off: float, extra_feed: float) -> float:
    """What a stop leaves between the shoulder and the edge it was touched on; common practice, no source.

    Formula: back-off - extra feed

    back_off: how far the tool was backed off when the stop was set [mm]
    extra_feed: how much deeper the last cut goes than the stop says [mm]

    Returns: the clearance left, under nothing if the last cut eats it up [mm].
    Limits: the stop holds as well as it did when it was set; what it gives under load is not in it.
    Raises: Impossible for a size under nothing.

    >>> round(stop_clearance(0.381, 0.127), 6)
    0.254
    """
    if back_off < 0 or extra_feed < 0:
        raise Impossible("Back-off and extra feed are sizes from 0 up.")
    return back_off - extra_feed


def _said(rest: str) -> tuple[str, Fraction]:
    """Whether these words are a size, a part of the web, or may be either; and which part."""
    bare = _OF.sub("", rest).strip()
    try:
        cursor = Cursor(tokens(bare))
        found = amount(cursor)
    except BenchError:
        return _SIZE, Fraction(0)
    if found is None or cursor.kind(1) != "end":
        return _SIZE, Fraction(0)
    value, form = found
    if cursor.text() in ("%", "percent"):
        return _PART, value / 100
    if cursor.kind() != "end" or form not in ("fraction", "spoken") or value.denominator == 1:
        return _SIZE, Fraction(0)
    if bare != rest or form == "spoken" or value.denominator & (value.denominator - 1):
        return _PART, value
    return (_EITHER if value < 1 else _SIZE), value


def _left_or_taken(text: str) -> tuple[str, bool]:
    """The words that say how much, in small letters, and whether it is what must stay."""
    said = " ".join(text.lower().split())
    leave = re.match(r"leave(?:s|\b)(?: (?:just|only))? ?", said)
    return (said[leave.end() :] if leave else said), leave is not None


def is_part(text: str, measured: bool) -> bool:
    """Whether a depth is said as a part of the web or as what must stay; common practice, no source.

    Formula: "half", "1/3", "40 %" are parts, "leave .350" is what must stay, ".300" and "8 mm" are sizes; a half, a
    quarter and their like in figures may be a part only where the web is measured.

    text: what was typed [text]
    measured: whether the web is measured [yes/no]

    Returns: whether `take` has to read it [yes/no].
    Limits: says nothing about whether it can be read.
    Raises: nothing.

    >>> is_part("1/3", False), is_part("1/2", False), is_part("1/2", True)
    (True, False, True)
    """
    rest, leave = _left_or_taken(text)
    kind = _said(rest)[0]
    return leave or kind == _PART or (measured and kind == _EITHER) or _OF.search(rest) is not None


def take(text: str, web: float, unit: str | None = None) -> Take:
    """How much of a web is meant: a size, a part of it, or what must stay; common practice, no source.

    Formula: taken = size, or part of the web, or web - what must stay

    text: such as ".300", "8 mm", "half", "1/3", "40 %", "1/3 of web", "leave .350", "leave half" [text]
    web: thickness before [mm]
    unit: the unit that stands on the field, for a bare number [text]

    Returns: what is taken, what stays, the part taken [mm, mm, 1].
    Limits: 1/2, 1/4, 3/8 and their like are asked about, for they are parts and sizes alike.
    Raises: Refused or Asked for words that cannot be read, Impossible for more than there is.

    >>> take("half", 13.0)
    Take(take=6.5, left=6.5, part=0.5)
    """
    if not web > 0:
        raise Impossible("Measure the web first: it has no thickness yet.")
    rest, leave = _left_or_taken(text)
    kind, part = _said(rest)
    if kind == _EITHER:
        raise Asked(f"{part} of the web, or {part} {unit or 'in'}? Type “{part} of it” or “{part} {unit or 'in'}”.")
    if kind == _SIZE and _OF.search(rest):
        raise Refused(f"Type a part of the web such as “half” or “1/3 of it”, not “{rest}”.")
    size = web * float(part) if kind == _PART else length(rest, unit).amount
    if size > web * (1 + 1e-12):
        raise Impossible(f"The web is {both(web)}: {both(size)} is more than there is.")
    taken = web - size if leave else size
    return Take(taken, web - taken, taken / web)
