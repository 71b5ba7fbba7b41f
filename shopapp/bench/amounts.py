"""Amounts, written in figures or in words, read from a run of tokens to exact fractions."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction

from shopapp.bench.errors import Asked, Refused
from shopapp.bench.tokens import Token

_FIGURES = 12  # figures in one number
_GROUPED = re.compile(r"[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]+)?")
_COUNTS = {"a": 1, "an": 1, "zero": 0, "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60}
_COUNTS |= {"seventy": 70, "eighty": 80, "ninety": 90}
_COUNTS |= {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9}
_COUNTS |= {"ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16}
_COUNTS |= {"seventeen": 17, "eighteen": 18, "nineteen": 19}
_ONES = frozenset(("one", "two", "three", "four", "five", "six", "seven", "eight", "nine"))
_PARTS = {"half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "eighth": 8, "eighths": 8}
_PARTS |= {"sixteenth": 16, "sixteenths": 16}
_PAIRS = {("thirty", "second"): 32, ("thirty", "seconds"): 32, ("sixty", "fourth"): 64, ("sixty", "fourths"): 64}


class Cursor:
    """A place in the tokens."""

    def __init__(self, found: Sequence[Token], at: int = 0) -> None:
        self.found, self.at = found, at

    def text(self, ahead: int = 0) -> str:
        """The token so many places ahead; empty past the end."""
        place = self.at + ahead
        return self.found[place].text if place < len(self.found) else ""

    def kind(self, ahead: int = 0) -> str:
        """What that token is: num, word, sign, other or end."""
        place = self.at + ahead
        return self.found[place].kind if place < len(self.found) else "end"

    def take(self, *texts: str) -> bool:
        """Steps over these tokens when they come next."""
        if all(self.text(ahead) == text for ahead, text in enumerate(texts)):
            self.at += len(texts)
            return True
        return False

    def take_one(self, *texts: str) -> bool:
        """Steps over the next token when it is one of these."""
        return any(self.take(text) for text in texts)

    def whole(self, ahead: int = 0) -> bool:
        """A number without point or comma stands there."""
        return self.kind(ahead) == "num" and self.text(ahead).isdigit()

    def fraction(self, ahead: int = 0) -> bool:
        """A plain fraction starts there."""
        return self.whole(ahead) and self.text(ahead + 1) == "/" and self.kind(ahead + 2) == "num"


def figures(text: str) -> tuple[Fraction, str]:
    """One run of figures with its points and commas (common practice, no source).

    Formula: 12,7 is 12.7; 1,250.5 is 1250.5; 1,250 is asked about.

    text: figures, points and commas only [text]

    Returns: the value and `whole` or `decimal` [any].
    Limits: at most 12 figures.
    Raises: Asked for a comma before three figures; Refused for two points.

    >>> figures("12,7")
    (Fraction(127, 10), 'decimal')
    """
    text = text.rstrip(".")
    points, commas = text.count("."), text.count(",")
    if len(text) - points - commas > _FIGURES:
        raise Refused(f"That is more figures than an instrument shows. Type no more than {_FIGURES}.")
    if points + commas == 0:
        return Fraction(text), "whole"
    if points > 1:
        raise Refused(f"{text} has {points} points. Type one point.")
    if commas == 1 and not points:
        before, after = text.split(",")
        if len(after) == 3 and _GROUPED.fullmatch(text):
            raise Asked(f"{text}: is that {before}{after}, or {before}.{after}? Type it without the comma.")
        return Fraction(f"{before or '0'}.{after}"), "decimal"
    if commas and not _GROUPED.fullmatch(text):
        raise Refused(f"{text}: the commas are not where thousands go. Type it with one point and no comma.")
    plain = text.replace(",", "")
    return Fraction(f"0{plain}"), "decimal" if points else "whole"


def _over(cursor: Cursor) -> Fraction:
    """A plain fraction, 3/8."""
    typed = f"{cursor.text()}/{cursor.text(2)}"
    if not cursor.whole(2) or (cursor.text(3) == "/" and cursor.kind(4) == "num"):
        raise Refused(f"{typed} is no fraction that can be read. Type it like 3/8 or as a decimal.")
    top, bottom = figures(cursor.text())[0], figures(cursor.text(2))[0]
    if not bottom:
        raise Refused(f"{typed}: nothing can be divided by 0. Type the fraction again.")
    cursor.at += 3
    return top / bottom


def _no_thread(cursor: Cursor, start: int) -> None:
    """A dash and a whole number after a whole number or a fraction is a thread size: 1/2-13, 10-24."""
    if cursor.text() == "-" and cursor.whole(1) and not cursor.fraction(1):
        typed = "".join(cursor.found[place].text for place in range(start, cursor.at + 2))
        raise Refused(f"{typed} is a thread size, or two numbers. Type one number, like 10.5 or 10-1/2.")


def _no_full_stop(cursor: Cursor) -> None:
    """A point between letters and figures may end the word or start the figure: lb.8 is asked about."""
    if cursor.at == 0 or cursor.text()[0] != ".":
        return
    before, here = cursor.found[cursor.at - 1], cursor.found[cursor.at]
    if before.kind == "word" and before.end == here.start:
        stop, point = f"{before.text}. {here.text[1:]}", f"{before.text} {here.text}"
        raise Asked(f"{before.text}{here.text}: a full stop, or a point? Type it with a space, “{stop}” or “{point}”.")


def _whole_halves(cursor: Cursor, count: Fraction | int | None) -> None:
    """Six half inches: a number of things, or half of one?"""
    if cursor.text() == "half" and count is not None and count > 1:
        raise Asked(f"{count} halves, or {count} and a half? Type it in figures, with its unit.")


def _written(cursor: Cursor) -> tuple[Fraction, str]:
    """A number in figures: whole, decimal, fraction, or whole and fraction."""
    start = cursor.at
    _no_full_stop(cursor)
    if cursor.fraction():
        value, form = _over(cursor), "fraction"
        _no_thread(cursor, start)
        return value, form
    value, form = figures(cursor.text())
    cursor.at += 1
    if form == "decimal":
        if cursor.text() == "/" and cursor.kind(1) == "num":
            raise Refused("A fraction has whole numbers above and below. Type it like 3/8 or as a decimal.")
        return value, form
    _no_thread(cursor, start)
    dash = 1 if cursor.text() == "-" else 0
    if cursor.fraction(dash):
        cursor.at += dash
        typed = f"{cursor.text()}/{cursor.text(2)}"
        part = _over(cursor)
        if part >= 1:
            raise Refused(f"{typed} after a whole number is one or more. Type the fraction again.")
        _no_thread(cursor, start)
        return value + part, "fraction"
    return value, form


def _part_next(cursor: Cursor) -> int:
    """The bottom of a spoken fraction, stepped over; 0 when none comes next."""
    pair = _PAIRS.get((cursor.text(), cursor.text(1)))
    if pair:
        cursor.at += 2
        return pair
    part = _PARTS.get(cursor.text(), 0)
    cursor.at += 1 if part else 0
    return part


def _joins(total: int, word: str) -> bool:
    """Ninety after nine hundred, five after ninety."""
    tens = total % 100
    return (word in _ONES and tens >= 20 and tens % 10 == 0) or (total > 0 and tens == 0 and _COUNTS.get(word, 0) > 0)


def _count(cursor: Cursor) -> int | None:
    """Words from a to nine hundred ninety-nine; None when the next word is no number."""
    total: int | None = None
    while (cursor.text(), cursor.text(1)) not in _PAIRS:
        word = cursor.text()
        if word == "hundred" and total is not None and 0 < total < 10:
            total *= 100
        elif word in _COUNTS and total is None:
            total = _COUNTS[word]
        elif total is not None and _joins(total, word):
            total += _COUNTS[word]
        else:
            break
        cursor.at += 1
    return total


def _spoken(cursor: Cursor) -> Fraction | None:
    """A number in words; None when no such word comes next."""
    count = _count(cursor)
    _whole_halves(cursor, count)
    bottom = _part_next(cursor)
    if not bottom:
        return None if count is None else Fraction(count)
    cursor.take("of")
    cursor.take_one("a", "an")
    return Fraction(1 if count is None else count, bottom)


def amount(cursor: Cursor) -> tuple[Fraction, str] | None:
    """One number, in figures or in words, from the cursor on (common practice, no source).

    Formula: 5-5/8 is 5 + 5/8; `three quarters of an` is 3/4.

    cursor: the place to read from, moved past what was read [place]

    Returns: the value and how it was written, None when no number comes next [any].
    Limits: figures up to 12 places, words up to 999.
    Raises: Refused for thread sizes and broken fractions; Asked for a comma before three figures and for lb.8.

    >>> from shopapp.bench.tokens import tokens
    >>> amount(Cursor(tokens("5-5/8")))
    (Fraction(45, 8), 'fraction')
    """
    if cursor.kind() == "num":
        value, form = _written(cursor)
        if form == "whole":
            _whole_halves(cursor, value)
        bottom = _part_next(cursor) if form == "whole" else 0
        return (value / bottom, "spoken") if bottom else (value, form)
    if cursor.kind() == "word":
        value_or_none = _spoken(cursor)
        return None if value_or_none is None else (value_or_none, "spoken")
    return None
