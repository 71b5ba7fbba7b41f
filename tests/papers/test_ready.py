"""The ready notice, pressed and read back."""

from shopapp.office.sheets.ready import ReadyPiece
from shopapp.papers.ready import ready_pdf
from tests.papers.reading import read, text_of
from tests.papers.samples import NOT_DONE, ready


def test_a_ready_notice_says_what_waits_with_both_weights() -> None:
    text = text_of(ready_pdf(ready()))
    for words in ("Ready to fetch 1161", "Your reverse wheels are ready.", "1161-1", "26.0 lb", "17.5 lb", "8.5 lb",
                  "bench dial, shows halves", "agrees", "$293.25", "Mon-Fri 7:30-16:30", *NOT_DONE):  # fmt: skip
        assert words in text


def test_a_piece_that_was_not_weighed_shows_a_dash() -> None:
    piece = ReadyPiece("1183-1", "eight-pocket", "sent back uncut")
    assert text_of(ready_pdf(ready(pieces=(piece,)))).count("–") == 4


def test_twenty_pieces_are_all_named() -> None:
    pieces = tuple(ReadyPiece(f"1188-{n}", "sleeve " * 12, "on the pick-up shelf") for n in range(1, 21))
    pdf = ready_pdf(ready(pieces=pieces))
    assert len(read(pdf).pages) == 2
    assert all(f"1188-{n} " in text_of(pdf) for n in range(1, 21))


def test_each_notice_has_its_own_number_and_an_old_one_that_of_its_job() -> None:
    assert "Ready to fetch 1161-R2" in text_of(ready_pdf(ready(number="1161-R2")))
    assert "Ready to fetch 1161 " in text_of(ready_pdf(ready()))
