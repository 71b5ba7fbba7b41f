"""How much to take off a web, as people say it, and what a stop leaves."""

import re
from dataclasses import dataclass
from fractions import Fraction

from shopapp.bench.errors import Asked, Impossible, Refused
from shopapp.bench.outline import both
from shopapp.bench.quantities import length


@dataclass(frozen=True)
class Take:
    """What is taken and what stays of a web [mm], and the part taken of it."""

    take: float
    left: float
    part: float


_WORDS = {
    "half": Fraction(1, 2), "a half": Fraction(1, 2), "a third": Fraction(1, 3), "third": Fraction(1, 3),
    "two thirds": Fraction(2, 3), "a quarter": Fraction(1, 4), "quarter": Fraction(1, 4),
    "three quarters": Fraction(3, 4),
}
_OF = re.compile(r" ?\bof (?:it|the web)$")
_FRACTION = re.compile(r"(\d{1,3}) ?/ ?(\d{1,3})")
_PERCENT = re.compile(r"(\d{1,3}(?:\.\d{1,4})?) ?%")


def stop_clearance(back_off: float, extra_feed: float) -> float:
    """What a stop leaves between the shoulder and the edge it was touched on; common practice, no source.

    Formula: back-off - extra feed

    back_off: how far the tool was backed off when the stop was set [mm]
    extra_feed: how much deeper the last cut goes than the stop says [mm]

    Returns: the clearance left, under nothing if the last cut eats it up [mm].
    Raises: Impossible for a size under nothing.

    >>> round(stop_clearance(0.381, 0.127), 6)
    0.254
    """
    if back_off < 0 or extra_feed < 0:
        raise Impossible("Back-off and extra feed are sizes from 0 up.")
    return back_off - extra_feed


def _part(said: str) -> Fraction | None:
    """A part of the web, if the words are one; None if they are a size."""
    bare = _OF.sub("", said)
    if bare in _WORDS:
        return _WORDS[bare]
    if met := _PERCENT.fullmatch(bare):
        return Fraction(met[1]) / 100
    if met := _FRACTION.fullmatch(bare):
        over, under = int(met[1]), int(met[2])
        if under == 0:
            raise Refused(f"Nothing can be parted by 0: type {over} over something else.")
        if bare == said and under & (under - 1) == 0:
            both_ways = f"“{over}/{under} of it” or “{over}/{under} in”"
            raise Asked(f"{over}/{under} of the web, or {over}/{under} in? Type {both_ways}.")
        return Fraction(over, under)
    if bare != said:
        raise Refused(f"Type a part of the web such as “half” or “1/3 of it”, not “{said}”.")
    return None


def take(text: str, web: float, unit: str | None = None) -> Take:
    """How much of a web is meant: a size, a part of it, or what must stay; common practice, no source.

    Formula: taken = size, or part of the web, or web - what must stay

    text: such as ".300", "8 mm", "half", "1/3", "40 %", "leave .350", "leave half" [text]
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
    said = " ".join(text.lower().split())
    leave = re.match(r"leave(?:s|\b)(?: (?:just|only))? ?", said)
    rest = said[leave.end() :] if leave else said
    part = _part(rest)
    size = web * float(part) if part is not None else length(rest, unit).amount
    if size > web * (1 + 1e-12):
        raise Impossible(f"The web is {both(web)}: {both(size)} is more than there is.")
    taken = web - size if leave else size
    return Take(taken, web - taken, taken / web)
