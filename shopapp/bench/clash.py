"""Two statements about one thing that cannot both be so, and figures that look like a slip of the unit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from shopapp.bench.amounts import Cursor
from shopapp.bench.errors import Asked, BenchError
from shopapp.bench.grammar import reading, size
from shopapp.bench.quantities import WORTH, Quantity, length
from shopapp.bench.rounding import exact, fixed
from shopapp.bench.tokens import Token, tokens
from shopapp.bench.unitwords import LENGTH

_LONGEST_NOTE = 2000  # characters of a note that are read
_HALF_WITHIN = Fraction(5, 100)
_RATIO_WITHIN = Fraction(2, 100)
# After these the word in is no inch: "turn 3 in the chuck", "take 2 in each pass".
_PLACES = frozenset(
    "the a an this that these those my our your his her its their it them there here which what all both each every "
    "either any some no one two three four five six seven eight nine ten turn turns stock total case place "
    "hand order line row store chuck jaws vice lathe mill box bin drawer rack shop passes pass cuts go goes".split()
)
_RATIOS = (
    (Fraction(254, 10), "25.4 times last time's: millimetres?"),
    (Fraction(10, 254), "1/25.4 of last time's: inches?"),
    (Fraction(2), "twice last time's: a diameter where a radius was?"),
    (Fraction(1, 2), "half of last time's: a radius where a diameter was?"),
    (Fraction(10), "10 times last time's: is the point one place off?"),
    (Fraction(1, 10), "1/10 of last time's: is the point one place off?"),
    (Fraction(12), "12 times last time's: feet where inches were?"),
    (Fraction(1, 12), "1/12 of last time's: inches where feet were?"),
    (Fraction(100), "100 times last time's: is the point two places off?"),
    (Fraction(1, 100), "1/100 of last time's: is the point two places off?"),
)


@dataclass(frozen=True)
class Clash:
    """Two statements about one thing, how far apart they are, and the question."""

    a: Quantity
    b: Quantity
    gap_mm: float
    words: str


def _inch(mm: Fraction) -> str:
    """To the thou, without the zero before the point; finer when that would show nothing."""
    inches = mm / WORTH["in"]
    text = fixed(inches, 3 if inches >= Fraction(1, 1000) or not inches else 5)
    return f"{text.removeprefix('0')} in"


def _said(q: Quantity) -> str:
    """The words as typed, with the unit when it stood only on the field, and what they are in inches."""
    bare = not any(char.isalpha() or char in "'\"′″’”" for char in q.text.replace("Ø", ""))
    words = f"{q.text} {q.unit}" if bare else q.text
    inches = _inch(q.base)
    return words if words.removeprefix("0") == inches else f"{words} is {inches}"


def _range(q: Quantity) -> tuple[Fraction, Fraction]:
    return q.base - (q.minus or 0), q.base + (q.plus or 0)


def _half(a: Quantity, b: Quantity) -> str:
    """A half is often said where the whole was meant: name it, so that it can be chosen."""
    large, small = (a, b) if a.base >= b.base else (b, a)
    if not small.base or abs(large.base / small.base - 2) > 2 * _HALF_WITHIN:
        return ""
    half = large.base / 2
    return f" Half of {large.text} is {fixed(half, 3, strip=True)} mm ({_inch(half)})."


def clash(a: Quantity, b: Quantity, plus_minus: float) -> Clash | None:
    """Two statements about one thing that differ by more than the instrument explains (common practice, no source).

    Formula: |a - b| > plus_minus, taken between the nearest limits when a tolerance was typed.

    a: one statement, a length [mm]
    b: the other statement, a length [mm]
    plus_minus: the most that two statements about one thing may differ with this instrument [mm]

    Returns: the clash with its question, gap in [mm]; None when both can be so.
    Limits: lengths of one thing; says nothing about which is right.
    Raises: Impossible for an endless plus_minus.

    >>> clash(length("22 mm"), length("3/4 in"), 0.025).words
    '22 mm is .866 in; 3/4 in is .750 in: they differ by .116 in (2.95 mm). Which one is it?'
    """
    (low_a, high_a), (low_b, high_b) = _range(a), _range(b)
    gap = max(low_a - high_b, low_b - high_a)
    if gap <= exact(plus_minus):
        return None
    apart = abs(a.base - b.base)
    metric = fixed(apart, 2 if apart >= Fraction(1, 10) else 4, strip=True)
    words = f"{_said(a)}; {_said(b)}: they differ by {_inch(apart)} ({metric} mm). Which one is it?{_half(a, b)}"
    return Clash(a, b, float(apart), words)


def _statement(text: str, cursor: Cursor, parser: object) -> Quantity | None:
    """The length that starts at the cursor, moved past it; None when none does."""
    start = cursor.at
    try:
        found = reading(cursor, LENGTH) if parser is reading else size(cursor, LENGTH)
        if found is None or cursor.at == start:
            return None
        last = cursor.found[cursor.at - 1]
        if last.text == "in" and (cursor.text() in _PLACES or cursor.kind() == "num"):
            return None
        return length(text[cursor.found[start].start : last.end])
    except Asked:
        raise
    except BenchError:
        return None


def _first(note: str, found: Sequence[Token], at: int) -> tuple[Quantity | None, int]:
    """The length that starts at this token, None when none does or it would be asked about, and where to go on."""
    for parser in (reading, size):
        cursor = Cursor(found, at)
        try:
            one = _statement(note, cursor, parser)
        except Asked:
            break
        if one is not None:
            return one, cursor.at
    after = at + 1
    while found[at].kind == "num" and after < len(found) and _goes_on(found[after]):
        after += 1  # the rest of a figure that was not understood is no figure either
    return None, after


def _goes_on(token: Token) -> bool:
    return token.kind == "num" or token.text in "'\"+-/±" or token.text in LENGTH.words


def statements(text: str) -> list[Quantity]:
    """The lengths said in one note, in order (common practice, no source).

    Formula: each number with a unit of length of its own; numbers without one say nothing here.

    text: the note as typed [text]

    Returns: the lengths, base in [mm].
    Limits: the first 2000 characters; what would be asked about in a field is passed over.
    Raises: nothing.

    >>> [said.text for said in statements("web 22 mm, 3/4 in by the rule")]
    ['22 mm', '3/4 in']
    """
    note = text[:_LONGEST_NOTE]
    found = tokens(note)
    said: list[Quantity] = []
    at = 0
    while at < len(found):
        one, after = _first(note, found, at) if found[at].kind in ("num", "word") else (None, at + 1)
        if one is not None:
            said.append(one)
        at = after
    return said


def ratio_watch(now_mm: float, last_mm: float) -> str | None:
    """A size that is a suspicious multiple of last time's (common practice, no source).

    Formula: now/last within 2 % of 25.4, 2, 10, 12 or 100, or of one over these.

    now_mm: the size typed now [mm]
    last_mm: the same size last time [mm]

    Returns: the question, None when there is none [text].
    Limits: sizes above zero.
    Raises: Impossible for an endless size.

    >>> ratio_watch(558.8, 22.0)
    "25.4 times last time's: millimetres?"
    """
    now, last = exact(now_mm), exact(last_mm)
    if now <= 0 or last <= 0:
        return None
    for ratio, words in _RATIOS:
        if abs(now / last / ratio - 1) <= _RATIO_WITHIN:
            return words
    return None
