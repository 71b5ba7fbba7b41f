"""The shop's own grammar: typed figures and spoken figures to exact fractions, each with the unit word it carried.

size     := [Ø] amount [unit] ["and" part]
amount   := 5 | 5.625 | 12,7 | 3/8 | 5-5/8 | 5 5/8 | eighteen | half a | three quarters of an
compound := size size            (6'2", 8 lb 8 oz, 1 h 30)
reading  := compound [Ø] [± size | + size [/] - size]
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from shopapp.bench.amounts import Cursor, amount
from shopapp.bench.errors import Asked, BenchError, Refused
from shopapp.bench.tokens import tokens
from shopapp.bench.unitwords import ELSEWHERE, ENDLESS, SUMS, THREADS, WORDS_OF_ADVICE, Kind

LONGEST = 60  # characters of typed text
_GROUP = re.compile(r"[0-9]{3}(?:[.,][0-9]*)?")
_INCHES = frozenset(("in", "inch"))


@dataclass(frozen=True)
class Size:
    """An amount with the key of its unit word, and how it was written: whole, decimal, fraction or spoken."""

    value: Fraction
    unit: str | None
    form: str
    mark: str = ""


@dataclass(frozen=True)
class Reading:
    """What stands in the field: one size, or a large and a small one, and what it may stray up and down."""

    sizes: tuple[Size, ...]
    plus: Size | None = None
    minus: Size | None = None


def _and_part(cursor: Cursor, value: Fraction, units: Mapping[str, str]) -> Fraction:
    """`and a half`, `and 3/4`, and the `and twenty` of a hundred and twenty; `units` may not follow it."""
    start = cursor.at
    if cursor.take("and"):
        part = amount(cursor)
        fits = part is not None and (part[0] < 1 or (value >= 100 and value % 100 == 0 and part[0] < 100))
        if part is not None and fits and cursor.text() not in units:
            return value + part[0]
    cursor.at = start
    return value


def _unit(cursor: Cursor, kind: Kind) -> str | None:
    """The key of the unit word that comes next; `odd` before it when it wants asking."""
    key = kind.words.get(cursor.text())
    if key is None:
        return None
    cursor.at += 1
    if cursor.found[cursor.at - 1].kind == "word":
        cursor.take(".")
    follows = cursor.text(2) if cursor.text() == "of" else cursor.text()
    if key in ("tenth", "hundredth") and (cursor.text() == "of" or kind.words.get(follows) in ("in", "mm", "thou")):
        cursor.at += 3 if cursor.text() == "of" else 1
        return "odd tenth"
    if key in ("thou", "thousandth") and cursor.text() == "of" and follows in _INCHES:
        cursor.at += 3
        return "thou"
    return key


def size(cursor: Cursor, kind: Kind) -> Size | None:
    """One amount with its unit, from the cursor on (common practice, no source).

    Formula: amount, the unit word, then any spoken part ("a tenth and a half" is 1.5 tenths).

    cursor: the place to read from, moved past what was read [place]
    kind: the closed list of unit words [list]

    Returns: the size, or None when no number comes next [unit as written].
    Limits: a number in figures or words up to 999.
    Raises: Refused or Asked when the number itself cannot be read.

    >>> from shopapp.bench.unitwords import LENGTH
    >>> size(Cursor(tokens("a tenth and a half")), LENGTH)
    Size(value=Fraction(3, 2), unit='tenth', form='spoken', mark='tenth')
    """
    start = cursor.at
    found = amount(cursor)
    if found is None:
        return None
    value, form = found
    alone = cursor.text(start - cursor.at) in ("a", "an") and cursor.at == start + 1
    value = _and_part(cursor, value, {})
    mark = cursor.text()
    unit = _unit(cursor, kind)
    if unit is not None:
        value = _and_part(cursor, value, kind.words)
    elif alone and value == 1:
        raise Refused(f"“{cursor.text(-1)}” alone is no number. Type {kind.name} in figures.")
    return Size(value, unit, form, mark if unit else "")


def _no_thousands(cursor: Cursor) -> None:
    """An apostrophe with three figures after it is a foot mark to one and sets off thousands to another."""
    mark, after = cursor.found[cursor.at - 1], cursor.found[cursor.at]
    if mark.text == "'" and mark.end == after.start and _GROUP.fullmatch(after.text):
        raise Asked(f"'{after.text}: feet and inches, or thousands? Type thousands without the mark, like 1250.")


def _second(cursor: Cursor, kind: Kind, first: Size) -> Size | None:
    """The small size after a large one: 2" of 6'2", 8 oz of 8 lb 8 oz."""
    small, many = kind.pairs.get(first.unit or "", ("", 0))
    start = cursor.at
    cursor.take_one(",", "and", *(["-"] if first.mark == "'" else []))
    if not small or cursor.kind() not in ("num", "word"):
        cursor.at = start
        return None
    if first.mark == "'":
        _no_thousands(cursor)
    second = size(cursor, kind)
    if second is None:
        cursor.at = start
        return None
    if second.unit is None and first.unit == "h" and second.form != "whole" and second.value.denominator != 1:
        raise Asked("Part of an hour, or of a minute? Type it like 1.5 h, or like 1 h 30.")
    if second.unit is None and (first.mark == "'" or first.unit == "h"):
        second = replace(second, unit=small)
    if second.unit is None:
        raise Asked(f"The second number has no unit. Is it {small}? Type {small} after it.")
    if second.unit != small:
        raise Asked("Two sizes in one field. Which one is it? Type that one only.")
    if first.value.denominator != 1 or second.value >= many:
        rule = f"Beside {small}, {first.unit} is a whole number, and {small} stays under {many}."
        raise Refused(f"{rule} Type it again.")
    return second


def _stray(cursor: Cursor, kind: Kind) -> tuple[Size | None, Size | None]:
    """`±.005`, `+/-.005`, `+.000/-.002`: what it may stray up, and down."""
    if cursor.take("±") or cursor.take("+", "/", "-") or cursor.take("+", "-"):
        both = size(cursor, kind)
        if both is None:
            raise Refused("After ± a number is missing. Type it like ±.005.")
        return both, both
    if cursor.text() not in ("+", "-") or cursor.kind(1) != "num":
        return None, None
    sides: list[Size] = []
    while len(sides) < 2 and cursor.text() in ("+", "-") and cursor.kind(1) == "num":
        sign = -1 if cursor.text() == "-" else 1
        cursor.at += 1
        side = size(cursor, kind)
        assert side is not None  # a number comes next, seen above
        sides.append(replace(side, value=sign * side.value))
        cursor.take("/")
    if len(sides) < 2:
        raise Refused("A tolerance has two sides. Type both, like +.000/-.002, or ±.002.")
    upper, lower = sorted(sides, key=lambda side: side.value, reverse=True)
    return upper, replace(lower, value=-lower.value)


def _leftover(cursor: Cursor, kind: Kind, bare: bool) -> BenchError:
    """The sentence for what stands after all that could be read."""
    word, following = cursor.text(), cursor.kind()
    if following == "num" or (word in (",", ";") and cursor.kind(1) != "end"):
        if bare and following == "num":
            return Refused("Two numbers side by side. Type one, like 1250, or a fraction like 1-1/4.")
        return Asked("Two sizes in one field. Which one is it? Type that one only.")
    if word == "'" and following == "sign" and cursor.kind(1) == "num" and _GROUP.fullmatch(cursor.text(1)):
        raise Asked(f"'{cursor.text(1)}: thousands? Type the number without the mark, like 1250.")
    if word in SUMS:
        return Refused(f"No sums here. Type {kind.name} as one number.")
    if word in ENDLESS:
        return Refused(f"Type {kind.name} in plain figures: no powers, and nothing without end.")
    if word in THREADS:
        return Refused("That is a thread size, not a measurement. Type the diameter as a number.")
    if word in WORDS_OF_ADVICE:
        return Refused(WORDS_OF_ADVICE[word])
    if word in kind.words:
        return Refused(f"“{word}” stands there without a number of its own. Type one number and one unit.")
    if word in ELSEWHERE:
        return Refused(f"“{word}” is {ELSEWHERE[word]}; here goes {kind.name}. Type {kind.offer}.")
    shown = word if word.isprintable() else f"U+{ord(word[0]):04X}"
    return Refused(f"“{shown}” cannot be read here. This is {kind.name}: type {kind.offer}.")


def _across(cursor: Cursor, kind: Kind) -> None:
    """Steps over a diameter sign or word beside a length."""
    if "in" in kind.words.values() and cursor.take_one("ø", "dia", "diameter"):
        cursor.take(".")


def _opened(text: str, kind: Kind) -> Cursor:
    """A cursor past the signs in front, when the text has a fair length and is not below zero."""
    if len(text) > LONGEST:
        raise Refused(f"That is longer than {LONGEST} characters. Type only {kind.name}.")
    cursor = Cursor(tokens(text))
    if not cursor.found:
        raise Refused(f"Nothing stands here yet. Type {kind.name}.")
    if cursor.text() == "-" and cursor.kind(1) in ("num", "word"):
        raise Refused(f"Below zero is not {kind.name}. Type it without the minus.")
    cursor.take("+")
    if cursor.text() == "#" or (cursor.text() in ("no", "m") and cursor.kind(1) in ("num", "sign")):
        raise Refused("That is a gauge or thread number, not a measurement. Type the size itself.")
    _across(cursor, kind)
    return cursor


def reading(cursor: Cursor, kind: Kind) -> Reading | None:
    """One size or a large and a small one, with its tolerance, from the cursor on (common practice, no source).

    Formula: the grammar at the head of this module.

    cursor: the place to read from, moved past what was read [place]
    kind: the closed list of unit words [list]

    Returns: the sizes with the keys of their units, None when no number comes next [unit as written].
    Limits: as `size`.
    Raises: Refused or Asked when what comes next cannot be read.

    >>> from shopapp.bench.unitwords import LENGTH
    >>> found = reading(Cursor(tokens("6 ft 2 in deep")), LENGTH)
    >>> [(part.value, part.unit) for part in found.sizes]
    [(Fraction(6, 1), 'ft'), (Fraction(2, 1), 'in')]
    """
    first = size(cursor, kind)
    if first is None:
        return None
    second = _second(cursor, kind, first)
    _across(cursor, kind)
    plus, minus = _stray(cursor, kind)
    return Reading((first,) if second is None else (first, second), plus, minus)


def read(text: str, kind: Kind) -> Reading:
    """Reads the whole of a field (common practice, no source).

    Formula: the grammar at the head of this module.

    text: what was typed [text]
    kind: the closed list of unit words and its bounds [list]

    Returns: the sizes with the keys of their units, and what they may stray [unit as written].
    Limits: 60 characters.
    Raises: Refused or Asked with the sentence for the person.

    >>> from shopapp.bench.unitwords import MASS
    >>> [(part.value, part.unit) for part in read("8# 8oz", MASS).sizes]
    [(Fraction(8, 1), 'lb'), (Fraction(8, 1), 'oz')]
    """
    cursor = _opened(text, kind)
    found = reading(cursor, kind)
    if found is None:
        raise _leftover(cursor, kind, False)
    if cursor.kind() != "end":
        raise _leftover(cursor, kind, found.sizes[0].unit is None)
    if found.plus is not None and not kind.spread:
        raise Refused(f"No tolerance goes here. Type only {kind.name}.")
    return found
