"""The ready letter, pressed and read back."""

import pytest

from shopapp.papers.letter import letter_html, letter_pdf
from tests.papers.desk import letter
from tests.papers.reading import fonts_of, once, pages_of, read, text_of
from tests.papers.samples import NOT_DONE, letterhead


def test_a_letter_says_what_waits_since_when_and_what_was_tried() -> None:
    text = text_of(once(letter_pdf, letter()))
    for words in ("Ready letter 1165-L1", "READY SINCE 25 Feb 2026", "ON OUR SHELF 34 days", "Mon-Fri 7:30-16:30",
                  "Your pieces are finished and wait here for you. Please fetch them, or tell us when you can.",
                  "1165-1 End plate, cast", "26 Feb 2026: left a message (WK)", "9 Mar 2026: no answer (WK)",
                  "To pay: $76.15", "Your plates are in the way of the saw, a little.",
                  "Pieces wait 60 days free of charge. After that a shelf costs $2.00 a week.", *NOT_DONE,
                  *letterhead().cautions):  # fmt: skip
        assert words in text
    assert text.index("26 Feb 2026: left") < text.index("9 Mar 2026: no answer")


@pytest.mark.parametrize("days", [14, 30, 60, 365])
def test_it_never_speaks_of_disposal_by_itself(days: int) -> None:
    html = letter_html(letter(days=days, storage="", words="")).casefold()
    assert f"{days} days" in html
    for word in ("dispos", "scrap", "sell", "sold", "thrown", "lien", "forfeit", "destroy"):
        assert word not in html


def test_of_one_piece_it_speaks_as_of_one_and_of_nothing_that_was_not_told() -> None:
    bare = letter(pieces=("1165-1 End plate, cast",), days=1, calls=(), storage="", words="", total_text="", hours="",
                  not_done=(), letterhead=letterhead(cautions=()))  # fmt: skip
    text = text_of(letter_pdf(bare))
    assert "Your piece is finished and waits here for you. Please fetch it" in text
    assert "ON OUR SHELF 1 day " in text
    for words in ("HOW WE TRIED", "STORAGE", "OPEN ", "NOT DONE", "PLEASE NOTE"):
        assert words not in text.upper()


def test_forty_pieces_are_all_named_and_the_answer_is_never_torn() -> None:
    pieces = tuple(f"1165-{n:02} End plate, cast" for n in range(1, 41))
    pages = pages_of(letter_pdf(letter(pieces=pieces)))
    assert len(pages) > 1
    assert all(sum(piece in page for page in pages) == 1 for piece in pieces)
    assert sum("WE FETCH ON WHO COMES PHONE TO REACH US" in page.upper() for page in pages) == 1
    assert all(f"SHEET {n} of {len(pages)}" in page for n, page in enumerate(pages, 1))


def test_hostile_words_stay_letters() -> None:
    html = letter_html(letter(words="<script>x", storage="<img src=x>", calls=("<b onclick='x'>",)))
    for words in ("<script", "<img", "<b onclick", "style="):
        assert words not in html


def test_it_is_one_sheet_tagged_with_its_fonts_and_the_same_again() -> None:
    pdf = once(letter_pdf, letter())
    assert len(pages_of(pdf)) == 1
    assert all(fonts_of(pdf).values())
    assert read(pdf).trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert letter_pdf(letter()) == pdf


def test_on_the_first_day_no_days_are_counted() -> None:
    assert "ON OUR SHELF" not in text_of(letter_pdf(letter(days=0)))
