"""The record of a spoiled piece, pressed and read back."""

from dataclasses import replace

import pytest

from shopapp.office.sheets.question import Shown
from shopapp.papers.press import PressFailed
from shopapp.papers.spoiled import spoiled_html, spoiled_pdf
from tests.papers.desk import photo
from tests.papers.floor import AT, spoiled
from tests.papers.reading import fonts_of, once, pages_of, read, text_of
from tests.papers.samples import NOT_DONE, letterhead
from tests.papers.seeing import codes_on


def test_the_record_says_what_happened_and_when() -> None:
    text = text_of(once(spoiled_pdf, spoiled()))
    for words in ("Spoiled piece 1174-2", "End plate, cast", "15 Dec 2025 10:40", "setting 2, side B",
                  "The plate came out of the jaws at the last pass. A corner is broken off.",
                  "cracked: no; chipped: no", "declared at $180.00; the shop carries the risk",
                  "on the shelf under the window", *NOT_DONE, *letterhead().cautions):  # fmt: skip
        assert words in text


def test_who_told_whom_stands_word_for_word_in_the_order_it_was_said() -> None:
    text = text_of(once(spoiled_pdf, spoiled()))
    first = "15 Dec 2025 11:05 · WK called Tovald Snickerby He has another casting and brings it."
    assert text.index(first) < text.index("16 Dec 2025 09:10 · WK called Tovald Snickerby Labour for this one")


def test_the_money_is_what_was_agreed_and_with_whom() -> None:
    text = text_of(once(spoiled_pdf, spoiled()))
    for words in ("No labour is billed for 1174-2. The casting is his.", "$107.50", "$6.72"):
        assert words in text
    assert "AS AGREED WITH TOVALD SNICKERBY, 16 DEC 2025" in text.upper()


def test_before_anyone_was_told_the_record_says_so() -> None:
    text = text_of(spoiled_pdf(spoiled(said=(), agreed="", agreed_by="", money=(), declared="", risk="")))
    for words in ("Nobody was told yet.", "Nothing is agreed yet.", "no value declared"):
        assert words in text


def test_weights_and_sizes_are_kept_and_struck_ones_stay_with_their_reason() -> None:
    html = spoiled_html(spoiled())
    assert "<s>41.5 lb</s>" in html
    assert "<s>14.5 lb" not in html
    text = text_of(once(spoiled_pdf, spoiled()))
    for words in ("14.5 lb", "41.5 lb", "struck: digits swapped", "7.375 in", "caliper"):
        assert words in text


def test_its_code_opens_the_piece_and_its_photos_are_listed() -> None:
    pdf = once(spoiled_pdf, spoiled())
    assert codes_on(pdf) == [f"{AT}/pieces/1174-2"]
    assert "broken corner, front the jaws as they stood" in text_of(pdf)


def test_many_calls_go_over_several_sheets_with_the_title_block_on_each() -> None:
    row = spoiled().said[0]
    pages = pages_of(spoiled_pdf(spoiled(said=tuple(replace(row, said=f"word {n:02} " * 30) for n in range(30)))))
    assert len(pages) > 2
    assert all(f"SHEET {n} of {len(pages)}" in page and "1174-2" in page for n, page in enumerate(pages, 1))
    assert all(f"word {n:02}" in " ".join(pages) for n in range(30))


def test_fonts_travel_with_the_record() -> None:
    fonts = fonts_of(once(spoiled_pdf, spoiled()))
    assert fonts
    assert all(fonts.values())


def test_the_damage_is_shown_and_the_story_told_once() -> None:
    told = spoiled(number="1174-2-X2", photos=(spoiled().happened, "the jaws"), shown=(Shown("damage", photo()),))
    pdf = spoiled_pdf(told)
    text = text_of(pdf)
    assert len({image.data for page in read(pdf).pages for image in page.images}) == 1
    assert text.count("came out of the jaws at the last pass") == 1
    assert "Spoiled piece 1174-2-X2" in text
    assert "the jaws" in text
    with pytest.raises(PressFailed, match="no JPEG"):
        spoiled_html(spoiled(shown=(Shown("damage", "x"),)))
