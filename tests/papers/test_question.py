"""The question letter, pressed and read back."""

from base64 import b64decode, b64encode
from dataclasses import replace

import pypdfium2
import pytest

from shopapp.office.sheets.question import Shown
from shopapp.papers.press import PressFailed
from shopapp.papers.question import question_html, question_pdf
from tests.papers.desk import photo, question
from tests.papers.reading import fonts_of, once, pages_of, read, text_of
from tests.papers.samples import NOT_DONE, letterhead


def pictures(pdf: bytes) -> list[list[tuple[int, int]]]:
    """The photos that are seen on each sheet, by their pixels."""
    document = pypdfium2.PdfDocument(pdf)
    seen = [
        sorted(picture.get_px_size() for picture in page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_IMAGE]))
        for page in document
    ]
    document.close()
    return seen


def test_a_question_stands_word_for_word_with_whom_and_when() -> None:
    text = text_of(once(question_pdf, question()))
    for words in ("Question 1174-Q1", "ASKED ON 11 Dec 2025", "TO Tovald Snickerby", "ASKED BY WK",
                  "There is a crack from the bore to the rim, .350 long. Shall we turn the plate all the same?",
                  "The job waits for your answer.", "1174-1 End plate, cast", "the crack, beside the key",
                  "from the back", *NOT_DONE, *letterhead().cautions):  # fmt: skip
        assert words in text


def test_its_photos_are_on_it_pixel_by_pixel() -> None:
    pdf = once(question_pdf, question())
    assert pictures(pdf) == [[(480, 640), (640, 480)]]
    assert b64decode(photo()) in pdf  # the JPEG as it was kept, not made anew
    assert pictures(question_pdf(question(photos=()))) == [[]]


def test_it_has_room_for_the_answer_on_the_sheet_that_asks() -> None:
    for photos in ((), question().photos[:1], question().photos):
        (page,) = pages_of(question_pdf(question(photos=photos)))
        assert page.upper().index("YOUR ANSWER") < page.upper().index("NAME DAY SIGNATURE")
    assert question_html(question()).count("answer-line") == 4


def test_more_photos_follow_the_answer_and_none_is_torn_from_its_words() -> None:
    many = tuple(Shown(f"view {n:02}", photo(300, 200 + n)) for n in range(9))
    pdf = question_pdf(question(photos=many))
    seen = [[high - 200 for _, high in sizes] for sizes in pictures(pdf)]
    assert sorted(n for shown in seen for n in shown) == list(range(9))
    for page, shown in zip(pages_of(pdf), seen, strict=True):
        assert shown == [n for n in range(9) if f"view {n:02}" in page]


def test_a_long_question_is_told_to_its_end() -> None:
    long = " ".join(f"word{n}" for n in range(700))
    pages = pages_of(question_pdf(question(question=long)))
    assert len(pages) > 1
    assert "word0 word1 " in pages[0]
    assert "word699" in " ".join(pages)
    assert all(f"SHEET {n} of {len(pages)}" in page for n, page in enumerate(pages, 1))


@pytest.mark.parametrize(
    "bad",
    ["", "no base64!", b64encode(b"\x89PNG\r\n").decode(), b64encode(b"<svg/>").decode(), 'x" onerror="y'],
)
def test_what_is_no_jpeg_is_refused_with_its_words(bad: str) -> None:
    with pytest.raises(PressFailed, match="“the crack” on this sheet is no JPEG"):
        question_pdf(question(photos=(Shown("the crack", bad),)))


def test_with_nothing_else_told_it_only_asks() -> None:
    bare = question(photos=(), pieces=(), not_done=(), whom="", letterhead=letterhead(cautions=()))
    text = text_of(question_pdf(bare))
    for words in ("PIECES OF", "NOT DONE", "PLEASE NOTE", " TO "):
        assert words not in text.upper().replace("TO THE RIM", "")
    assert "Shall we turn the plate" in text


def test_hostile_words_stay_letters() -> None:
    told = question(question="<script>x", photos=(replace(question().photos[0], words='"><b onclick="x">'),))
    html = question_html(told)
    for words in ("<script", "<b onclick", "style="):
        assert words not in html


def test_it_is_tagged_each_photo_has_its_words_and_the_same_sheet_gives_the_same_bytes() -> None:
    pdf = once(question_pdf, question())
    assert all(fonts_of(pdf).values())
    assert read(pdf).trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert {"the crack, beside the key", "from the back"} <= set(_alternatives(read(pdf).trailer["/Root"]))
    assert question_pdf(question()) == pdf


def _alternatives(root: object) -> list[str]:
    """The words for those who do not see a figure, of all structure elements (ISO 32000-1, 14.9.3)."""
    found, waiting = [], [root["/StructTreeRoot"]]
    while waiting:
        one = waiting.pop().get_object()
        if isinstance(one, list):
            waiting += one
        elif hasattr(one, "get"):
            found += [str(one["/Alt"])] if "/Alt" in one else []
            waiting += [one["/K"]] if "/K" in one else []
    return found
