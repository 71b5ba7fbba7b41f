"""Tags, pressed, read back, and their codes read as a phone would."""

from dataclasses import replace

from shopapp.papers.tags import tags_pdf
from tests.papers.floor import AT, tag, tags
from tests.papers.reading import fonts_of, once, pages_of, text_of
from tests.papers.samples import NOT_DONE, PARTY, letterhead
from tests.papers.seeing import codes_on


def test_each_piece_has_two_tags_one_for_the_part_and_one_for_its_box() -> None:
    text = text_of(once(tags_pdf, tags()))
    for number in ("1187-1", "1187-2"):
        assert text.count(f"ON THE PART {number}") == text.count(f"ON THE BOX {number}") == 1
    assert text.count("Snickerby Sawmill Carriage reverse wheel") == 4


def test_a_tag_says_whose_which_by_which_sign_and_where_it_goes() -> None:
    text = text_of(tags_pdf(tags(tags=(tag(),))))
    for words in ("Carriage reverse wheel, six-", "six round pockets", "carriage 2", "2 Apr 2026", "B3"):
        assert text.count(words) == 2
    for words in ("23 Mar 2026", "SHEET 1 of 1", *NOT_DONE, *letterhead().cautions):
        assert words in text


def test_a_tag_without_a_day_or_a_destination_says_so() -> None:
    text = text_of(tags_pdf(tags(tags=(tag(goes_to="", promised="", place="", sign=""),))))
    assert text.count("not said") == text.count("no day") == 2


def test_both_codes_open_the_piece() -> None:
    assert codes_on(once(tags_pdf, tags())) == [f"{AT}/pieces/1187-{n}" for n in (1, 1, 2, 2)]
    assert codes_on(tags_pdf(tags(tags=(tag(address=""),)))) == []


def test_thirty_pieces_keep_their_tags_whole_and_side_by_side() -> None:
    many = tuple(tag(f"1187-{n:02}", place=f"P{n:02}") for n in range(1, 31))
    for paper in ("Letter", "A4"):
        pages = pages_of(tags_pdf(tags(tags=many, letterhead=letterhead(paper=paper))))
        assert 8 <= len(pages) <= 9
        for n in range(1, 31):
            (page,) = [page for page in pages if f"ON THE PART 1187-{n:02}" in page]
            assert f"ON THE BOX 1187-{n:02}" in page
            assert page.count(f"P{n:02}") == 2


def test_a_tag_with_the_longest_words_still_shows_its_number_sign_place_and_code() -> None:
    worst = tag(
        "11870-30", name="thirty-six-pocket intermediate wheel " * 4, goes_to="the second carriage " * 3,
        sign="thirty-six round pockets, the ninth drilled through to the hub",
    )  # fmt: skip
    pdf = tags_pdf(tags(tags=(worst,) * 4, party=replace(PARTY, name="Amalgamated " * 12)))
    text = text_of(pdf)
    assert text.count("11870-30") == 8
    assert text.count("thirty-six round pockets, the ninth drilled through to the hub") == 8
    assert text.count("B3") == 8
    assert codes_on(pdf) == [worst.address] * 8
    assert len(pages_of(pdf)) <= 2


def test_fonts_travel_with_the_tags() -> None:
    fonts = fonts_of(once(tags_pdf, tags()))
    assert fonts
    assert all(fonts.values())
