"""Typed text cut into figures, words and signs, each knowing where it stood in the text."""

from __future__ import annotations

import re
from dataclasses import dataclass

_FOLD = {
    "½": " 1/2", "⅓": " 1/3", "⅔": " 2/3", "¼": " 1/4", "¾": " 3/4", "⅕": " 1/5", "⅖": " 2/5", "⅗": " 3/5",
    "⅘": " 4/5", "⅙": " 1/6", "⅚": " 5/6", "⅐": " 1/7", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8",
    "⅑": " 1/9", "⅒": " 1/10", "×": "x", "⌀": "ø", "∅": "ø", "µ": "μ",
}  # fmt: skip
_FOLD |= dict.fromkeys("−–—‐‑‒﹣－", "-") | dict.fromkeys("⁄∕／", "/")
_FOLD |= dict.fromkeys("″”“„", '"') | dict.fromkeys("′’‘´`", "'")
_FOLD |= {raised: str(figure) for figure, raised in enumerate("⁰¹²³⁴⁵⁶⁷⁸⁹")}
_FOLD |= {lowered: str(figure) for figure, lowered in enumerate("₀₁₂₃₄₅₆₇₈₉")}
_RAISED = frozenset("⁰¹²³⁴⁵⁶⁷⁸⁹")

# Each branch starts with a character of its own and repeats without overlap, so one pass reads any text.
_TOKEN = re.compile(
    r"(?P<num>[0-9]+(?:[.,][0-9]+)*\.?|[.,][0-9]+)"
    r"|(?P<word>[a-zμ]+(?:/[a-zμ]+)?)"
    r"|(?P<sign>''|[-+±/'\"#ø%:;,.])"
    r"|(?P<gap>\s+)"
    r"|(?P<other>.)",
    re.DOTALL,
)


@dataclass(frozen=True)
class Token:
    """One figure (num), word, sign or other character, with its place in the text as typed."""

    kind: str
    text: str
    start: int
    end: int


def _folded(text: str) -> tuple[str, list[int]]:
    """Small letters and plain signs, and for each of them the place it came from."""
    out: list[str] = []
    origin: list[int] = []
    before = ""
    for place, char in enumerate(text):
        plain = _FOLD.get(char) or char.casefold()
        if char in _RAISED and before.isalpha():
            plain = char  # mm² is no length
        elif char in _RAISED and before not in _RAISED:
            plain = " " + plain  # 5⁷⁄₈ is five and seven eighths, never 57/8
        out.append(plain)
        origin.extend([place] * len(plain))
        before = char
    return "".join(out), origin


def _follows(found: list[Token], start: int) -> bool:
    """Whether a word or the mark of a unit stands right before this place."""
    return bool(found) and found[-1].end == start and (found[-1].kind == "word" or found[-1].text in "'\"#.")


def tokens(text: str) -> list[Token]:
    """Cuts typed text into tokens in one pass (common practice, no source).

    Formula: none; fraction characters become figures, dashes and primes become plain ones. A comma right after a word
    or a mark parts two figures (8 lb,8 oz) and starts none.

    text: what was typed [text]

    Returns: the tokens in order; a dash that only joins words is left out [list].
    Limits: works in time proportional to the text.
    Raises: nothing.

    >>> [token.text for token in tokens('3½" Ø')]
    ['3', '1', '/', '2', '"', 'ø']
    """
    plain, origin = _folded(text)
    found: list[Token] = []
    for match in _TOKEN.finditer(plain):
        kind = match.lastgroup or "other"
        if kind == "gap":
            continue
        start, end = origin[match.start()], origin[match.end() - 1] + 1
        if kind == "word" and len(found) > 1 and found[-1].text == "-" and found[-2].kind in ("num", "word"):
            found.pop()  # sixty-fourths, 13-mm
        said = '"' if match.group() == "''" else match.group()
        if kind == "num" and said[0] == "," and _follows(found, start):
            found.append(Token("sign", ",", start, start + 1))
            start, said = start + 1, said[1:]
        found.append(Token(kind, said, start, end))
    return found
