"""The lists of unit words are closed, and no word of advice hides a unit."""

import pytest

from shopapp.bench.unitwords import ELSEWHERE, ENDLESS, LENGTH, MASS, MINUTES, SPEED, SUMS, THREADS, WORDS_OF_ADVICE

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
