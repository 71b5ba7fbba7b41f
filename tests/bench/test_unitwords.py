"""The lists of unit words are closed, and no word of advice hides a unit."""

import pytest

from shopapp.bench.unitwords import (
    ELSEWHERE,
    ENDLESS,
    LENGTH,
    MASS,
    MINUTES,
    SPEED,
    SUMS,
    THREADS,
    WORDS_OF_ADVICE,
    with_unit,
)  # fmt: skip

KINDS = (LENGTH, MASS, SPEED, MINUTES)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_every_word_is_in_small_letters_and_stands_in_the_list_of_all(kind) -> None:
    assert all(word == word.casefold() for word in kind.words)
    assert set(kind.words) <= set(ELSEWHERE)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_no_word_of_refusal_is_a_unit(kind) -> None:
    assert not set(kind.words) & (THREADS | ENDLESS | SUMS | set(WORDS_OF_ADVICE))


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_pairs_are_made_of_units_of_the_kind(kind) -> None:
    known = set(kind.words.values())
    assert all(large in known and small in known for large, (small, _) in kind.pairs.items())
    assert all(word in kind.ask or word in kind.offer for word in ("in", "lb", "rpm", "min") if word in known)


@pytest.mark.parametrize(
    ("text", "unit", "said"),
    [
        ("2870", "rpm", "2870 rpm"), ("2870 rpm", "rpm", "2870 rpm"), ("9000 ft/min", "rpm", "9000 ft/min"),
        (" .05 mm ", "in", ".05 mm"), ('1/2"', "mm", '1/2"'), ("5-5/8", "in", "5-5/8 in"), ("40 %", "%", "40 %"),
        ("six", "", "six"),
    ],
)  # fmt: skip
def test_a_unit_is_said_once(text: str, unit: str, said: str) -> None:
    assert with_unit(text, unit) == said
