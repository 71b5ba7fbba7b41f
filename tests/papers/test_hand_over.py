"""The hand-over receipt, pressed and read back."""

from dataclasses import replace

import pytest

from shopapp.office.sheets.handover import GonePiece
from shopapp.papers.hand_over import hand_over_html, hand_over_pdf
from shopapp.papers.press import PressFailed
from tests.papers.desk import SIGNED, hand_over
from tests.papers.reading import fonts_of, once, pages_of, read, text_of
from tests.papers.samples import NOT_DONE, PARTY, letterhead


def test_a_receipt_says_which_pieces_left_with_what_and_who_took_them() -> None:
    text = text_of(once(hand_over_pdf, hand_over()))
    for words in ("Hand-over 1187-H1", "2 pieces handed over to Ottoline Snickerby", "JOBS 1187, 1190",
                  "STUB came back", "1187-1 Carriage reverse wheel, six-pocket gone home · for carriage 2",
                  "26.0 lb 17.5 lb 8.5 lb", "1190-1 Brake drum", "key of 1187-1", "two set screws of 1187-1",
                  "1187-2 Carriage reverse wheel", "on the pick-up shelf", "To pay: $243.25",
                  "I took the pieces named here", *NOT_DONE, *letterhead().cautions):  # fmt: skip
        assert words in text


def test_what_was_signed_for_stands_above_the_signature_line_by_line() -> None:
    text = text_of(once(hand_over_pdf, hand_over()))
    signed = text[text.upper().index("SIGNED FOR") :]
    places = [signed.index(line) for line in hand_over().signed_for]
    assert places == sorted(places)
    assert places[-1] < signed.index("Ottoline Snickerby, 2 Apr 2026")


def test_the_signature_is_a_drawing_and_no_picture() -> None:
    assert f'd="{SIGNED}"' in hand_over_html(hand_over())
    pdf = once(hand_over_pdf, hand_over())
    assert all(len(page.images) == 0 for page in read(pdf).pages)
    inked = read(pdf).pages[0].get_contents().get_data()
    bare = read(hand_over_pdf(hand_over(signature="", how="known"))).pages[0].get_contents().get_data()
    # a curve to is the operator c (ISO 32000-1, table 59, from memory); nothing else on this paper is curved
    assert inked.count(b" c\n") - bare.count(b" c\n") >= SIGNED.count("C")


@pytest.mark.parametrize("bad", ['M0 0"/><script>x</script>', "M0 0 url(x)", "<svg>", "M0 0L5"])
def test_a_signature_that_is_no_drawing_is_refused(bad: str) -> None:
    with pytest.raises(PressFailed, match="no drawing of strokes"):
        hand_over_pdf(hand_over(signature=bad))


def test_taken_by_someone_known_it_says_unsigned() -> None:
    text = text_of(hand_over_pdf(hand_over(signature="", how="known", stub_back=False)))
    assert "Taken by Ottoline Snickerby on 2 Apr 2026, known to us, unsigned." in text
    assert "SIGNED FOR" not in text.upper().replace("UNSIGNED", "")
    assert "STUB did not come back" in text


def test_with_nothing_else_told_nothing_stands_on_another() -> None:
    bare = hand_over(bits_back=(), bits_here=(), left_here=(), due_text="", not_done=(), phrases=(), signature="",
                     how="known", signed_for=(), job_numbers=("1187",), letterhead=letterhead(cautions=()))  # fmt: skip
    text = text_of(hand_over_pdf(bare))
    assert "JOB 1187 " in text
    assert text.index("for the customer's shelf") < text.index("Taken by Ottoline")
    for words in ("STAYS HERE", "GIVEN BACK", "NOT DONE", "PLEASE NOTE"):
        assert words not in text.upper()


def test_forty_pieces_are_never_torn_and_the_name_stays_with_the_signature() -> None:
    plain = hand_over().pieces[0]
    pieces = tuple(replace(plain, number=f"1187-{n:02}", destination=f"end of {n:02}.") for n in range(1, 41))
    lines = tuple(f"signed for {n:02}" for n in range(1, 41))
    pages = pages_of(hand_over_pdf(hand_over(pieces=pieces, signed_for=lines)))
    assert len(pages) > 2
    for n in range(1, 41):
        assert [f"1187-{n:02} " in page for page in pages] == [f"end of {n:02}." in page for page in pages]
        assert sum(f"signed for {n:02}" in page for page in pages) == 1
    assert "Ottoline Snickerby, 2 Apr 2026" in pages[-1]
    assert all(f"SHEET {n} of {len(pages)}" in page for n, page in enumerate(pages, 1))


def test_long_and_hostile_names_stay_letters_and_lose_nothing() -> None:
    word = "unbroken" * 20
    told = hand_over(party=replace(PARTY, name="<script>x"), taken_by=f"{word}<i>")
    assert "<script" not in hand_over_html(told)
    assert "<i>" not in hand_over_html(told)
    assert f"{word}<i>" in text_of(hand_over_pdf(told)).replace(" ", "")


def test_it_is_one_sheet_tagged_with_its_fonts_and_the_same_again() -> None:
    pdf = once(hand_over_pdf, hand_over())
    assert len(pages_of(pdf)) == 1
    assert all(fonts_of(pdf).values())
    assert read(pdf).trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert hand_over_pdf(hand_over()) == pdf


def test_each_piece_has_the_words_of_the_weigh_slip() -> None:
    gone = GonePiece("1165-1", "End plate", "gone home", "14.5 lb", "14 lb", "0.5 lb", predicted="0.79 lb",
                     scale_words="bench dial, shows 0.5 lb", verdict="scale too coarse")  # fmt: skip
    text = text_of(hand_over_pdf(hand_over(pieces=(gone,))))
    assert "gone home · bench dial, shows 0.5 lb · scale too coarse 14.5 lb 14 lb 0.5 lb 0.79 lb" in text
