"""Text is cut once, in one pass, and every piece knows where it stood."""

from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench.tokens import tokens


def cut(text: str) -> list[str]:
    return [token.text for token in tokens(text)]


def test_figures_words_and_signs_come_apart() -> None:
    assert cut("Ø2.5 mm ±,05") == ["ø", "2.5", "mm", "±", ",05"]
    assert [token.kind for token in tokens("5 in!")] == ["num", "word", "other"]


def test_a_fraction_character_never_joins_the_whole_before_it() -> None:
    assert cut("3½") == ["3", "1", "/", "2"]
    assert cut("5⁷⁄₈") == ["5", "7", "/", "8"]
    assert cut("5¹¹⁄₁₆") == ["5", "11", "/", "16"]


def test_a_raised_figure_after_a_unit_stays_what_it_is() -> None:
    assert [(token.kind, token.text) for token in tokens("mm²")][-1] == ("other", "²")


def test_a_dash_between_words_is_left_out_and_one_between_figures_stays() -> None:
    assert cut("sixty-fourths 13-mm 5-5/8 -3") == ["sixty", "fourths", "13", "mm", "5", "-", "5", "/", "8", "-", "3"]


def test_a_comma_right_after_a_word_or_a_mark_starts_no_figure() -> None:
    assert cut("8lb,8oz 6',2 5 ,5 ±,5") == ["8", "lb", ",", "8", "oz", "6", "'", ",", "2", "5", ",5", "±", ",5"]


def test_two_feet_marks_are_an_inch_mark() -> None:
    assert cut("6' 2''") == ["6", "'", "2", '"']


@given(st.text(max_size=500))
def test_the_pieces_stand_in_order_in_the_text(text: str) -> None:
    places = [(token.start, token.end) for token in tokens(text)]
    assert all(0 <= start < end <= len(text) for start, end in places)
    assert places == sorted(places)
