"""The blank ticket, pressed and read back."""

import pytest

from shopapp.papers.blank import blank_html, blank_pdf
from tests.papers.floor import LOOKED, WATCH, blank
from tests.papers.reading import fonts_of, once, pages_of, size_of, text_of
from tests.papers.samples import NOT_DONE, letterhead


def test_a_blank_ticket_asks_what_the_floor_asks() -> None:
    text = text_of(once(blank_pdf, blank())).casefold()
    for words in ("customer", "phone", "brought by", "wanted", "promised", "who said go ahead", "sign seen on it",
                  "came along", "photos", "value, whose risk", "scale", "zero", "before, unit", "after, unit",
                  "instrument", "hold here", "stop sum", "half-section", "entered late", "fetched by",
                  "halves of a pound to 50 lb", "status blank", "31 mar 2026", "sheet 1 of 2"):  # fmt: skip
        assert words in text
    for words in (*WATCH, *NOT_DONE, *letterhead().cautions, *(word for word, _ in LOOKED)):
        assert words.casefold() in text


def test_each_condition_word_has_three_boxes_and_none_is_ticked() -> None:
    html = blank_html(blank(pieces=3))
    for answer in ("yes", "no", "not looked"):
        assert html.count(f'tick-box"></span> {answer}</span>') == 3 * len(LOOKED)
    assert html.count("key out") == html.count("turned by hand") == 6


@pytest.mark.parametrize("paper", ["Letter", "A4"])
def test_for_two_pieces_it_is_both_sides_of_one_leaf(paper: str) -> None:
    assert len(pages_of(blank_pdf(blank(letterhead=letterhead(paper=paper))))) == 2


@pytest.mark.outside("from memory: ISO 216")
def test_it_is_as_large_as_its_paper() -> None:
    # ISO 216: A4 is 210 x 297 mm
    assert size_of(blank_pdf(blank(letterhead=letterhead(paper="A4")))) == pytest.approx((595.28, 841.89), abs=0.5)


def test_thirty_pieces_have_their_rows() -> None:
    text = text_of(blank_pdf(blank(pieces=30)))
    assert text.count("–30 ") == 3
    assert "As left –7".upper() not in text.upper()


def test_fonts_travel_with_it() -> None:
    fonts = fonts_of(once(blank_pdf, blank()))
    assert fonts
    assert all(fonts.values())
