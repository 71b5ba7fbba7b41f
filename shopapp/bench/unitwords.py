"""The closed lists of unit words, one list for each kind of figure, and the words that must be asked about."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction


@dataclass(frozen=True)
class Kind:
    """One kind of figure: its words, its bounds and what to say when it cannot be read."""

    name: str  # "a length"
    words: Mapping[str, str]  # word as typed, in small letters -> key of the unit
    ask: str  # what to type when no unit is in sight
    offer: str  # the units to offer
    most: Fraction = Fraction(10**9)  # in base units
    most_words: str = ""
    pairs: Mapping[str, tuple[str, int]] = field(default_factory=dict)  # large unit -> small unit, how many in one
    spread: bool = False  # may carry ± or +/-


def _spelled(**lists: str) -> dict[str, str]:
    """`key="word word"` turned round, word to key."""
    return {word: key for key, words in lists.items() for word in words.split()}


def _set(words: str) -> frozenset[str]:
    return frozenset(words.split())


_LENGTH = _spelled(
    ft="ft foot feet '",
    thou="thou thous",
    thousandth="thousandth thousandths",
    hundredth="hundredth hundredths",
    tenth="tenth tenths",
    mil="mil mils",
    mm="mm mms millimeter millimeters millimetre millimetres",
    cm="cm centimeter centimeters centimetre centimetres",
    m="m meter meters metre metres",
    um="um μm micron microns micrometre micrometres",
) | dict.fromkeys(("in", "ins", "inch", "inches", '"'), "in")
_MASS = _spelled(
    lb="lb lbs pound pounds #",
    oz="oz ozs ounce ounces",
    g="g gm gram grams gramme grammes",
    kg="kg kgs kilo kilos kilogram kilograms kilogramme kilogrammes",
    gr="gr grs",
)
_MINUTES = _spelled(min="min mins minute minutes m", h="h hr hrs hour hours")
_SPEED = {"rpm": "rpm", "r/min": "rpm", "rev/min": "rpm", "m/min": "m/min"}
_SPEED |= dict.fromkeys(("ft/min", "fpm", "sfm", "sfpm", "feet/min", "ft/minute"), "ft/min")

LENGTH = Kind(
    "a length", _LENGTH, "{0} what? Type {0} in or {0} mm.", "in, mm, ft, m or thou",
    Fraction(100_000), "100 m", {"ft": ("in", 12)}, True,
)  # fmt: skip
MASS = Kind(
    "a weight", _MASS, "{0} what? Type {0} lb, {0} oz, {0} g or {0} kg.", "lb, oz, g or kg",
    Fraction(10_000_000), "10,000 kg", {"lb": ("oz", 16), "kg": ("g", 1000)}, True,
)  # fmt: skip
SPEED = Kind(
    "a speed", _SPEED, "{0} what? Type {0} rpm, {0} ft/min or {0} m/min.", "rpm, ft/min or m/min",
    Fraction(100_000), "100,000",
)  # fmt: skip
MINUTES = Kind(
    "a time", _MINUTES, "{0} what? Type {0} min or {0} h.", "min or h",
    Fraction(100_000), "100,000 min", {"h": ("min", 60)},
)  # fmt: skip
PLAIN = Kind("a number", {}, "", "figures only", Fraction(10**9), "1,000,000,000")
PERCENT = Kind("a percentage", {"%": "%", "percent": "%"}, "", "figures, with or without %", Fraction(5), "500 %")

THREADS = _set("unc unf unef un npt nptf nps bsp bspp bspt whitworth tpi thread tap")
SUMS = frozenset("*^=()+")
ENDLESS = _set("nan inf infinity infinite e")
ELSEWHERE = {word: kind.name for kind in (MINUTES, SPEED, MASS, LENGTH) for word in kind.words}
WORDS_OF_ADVICE = {
    "t": "t is a metric ton to some and a slip to others. Type lb or kg.",
    "ton": "Which ton? Type lb or kg.",
    "tons": "Which ton? Type lb or kg.",
    "tonne": "Type it in kg: a tonne is 1000 kg.",
    "lbf": "lbf is a force. Type lb for the weight.",
    "fl": "fl oz is a volume. Type oz for the weight.",
    "x": "One size in each field. Type only this one.",
    "r": "A radius, or the size across? Type the diameter without the R.",
}
_BARE = re.compile(r"[^A-Za-z'\"′″’”µμ°%$€£#]*")


def with_unit(text: str, unit: str) -> str:
    """What was typed, with the unit of its field where none was typed (common practice, no source).

    Formula: none; text that holds a letter or the mark of a unit stays as it is.

    text: what was typed [text]
    unit: the unit visible on the field, empty when none is [word]

    Returns: the text as it is said back [text].
    Limits: reads nothing; a word that is no unit stops the unit too.
    Raises: nothing.

    >>> with_unit("2870", "rpm"), with_unit("2870 rpm", "rpm"), with_unit(".05 mm", "in")
    ('2870 rpm', '2870 rpm', '.05 mm')
    """
    said = text.strip()
    return f"{said} {unit}" if unit and _BARE.fullmatch(said) else said
