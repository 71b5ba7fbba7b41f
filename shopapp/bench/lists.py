"""Several figures typed in one field, parted where one ends and the next begins."""

from __future__ import annotations

import re

from shopapp.bench.errors import Asked

_BETWEEN = re.compile(r"[0-9],[0-9]")
_SEPARATORS = re.compile(r"[,;]")
_HOURS = re.compile(r"[0-9] ?(?:h|hr|hrs|hours?)\.?$", re.IGNORECASE)
_HOURS_IN = re.compile(r"[0-9] ?h", re.IGNORECASE)
_GROUPED = re.compile(r"(?<![0-9])[0-9]\s[0-9]{3}(?![0-9])")
_FIGURE = re.compile(r"[0-9]{1,2}(?: ?(?:m|mins?|minutes?)\.?)?$", re.IGNORECASE)


def _says(word: str, idle: frozenset[str]) -> bool:
    return bool(word) and word.casefold() not in idle


def parts(text: str, idle: frozenset[str] = frozenset()) -> list[str]:
    """A list cut into its figures, still as typed (common practice, no source).

    Formula: semicolons, commas with a space after them and spaces part figures; between semicolons and commas, hours
    and their minutes stay together.

    text: what was typed, `70, 200; 460` or `70 200 460` [text]
    idle: unit words that may stand by themselves and say nothing [list]

    Returns: the figures in order [list].
    Limits: reads no figure itself; "1h 30, 2h" is two times, "1h 30 2h" is asked about.
    Raises: Asked for a comma with a figure on both sides, which may part two or belong to one, and for 1 200.

    >>> parts("1h 30, 2h"), parts("70 200 rpm", frozenset(["rpm"]))
    (['1h 30', '2h'], ['70', '200'])
    """
    said = text.strip()
    if found := _BETWEEN.search(said):
        start, end = found.span()
        first, last = re.split(r"[\s;]", said[: start + 1])[-1], re.split(r"[\s;]", said[end - 1 :])[0]
        raise Asked(f"{first},{last}: one number, or two? Put a space after a comma that parts two, and none in one.")
    if found := _GROUPED.search(said):
        raise Asked(f"{found[0]}: one number, or two? Type one without the space, or a comma and a space between two.")
    if _SEPARATORS.search(said):
        listed = [part.strip() for part in _SEPARATORS.split(said)]
        split = ([part] if _HOURS_IN.search(part) else part.split() for part in listed)
        return [one for ones in split for one in ones if _says(one, idle)]
    words = [word for word in said.split() if _says(word, idle)]
    for before, after in zip(words, words[1:], strict=False):
        if _HOURS.search(before) and _FIGURE.match(after):
            joined = f"{before} {after}"
            raise Asked(f"{joined}: one time, or two? Type one as 1h30, or put a comma between the two.")
    return words
