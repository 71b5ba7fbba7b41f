"""Shelf labels, pressed and read back."""

from dataclasses import replace

import pytest

from shopapp.papers.label import label_pdf
from tests.papers.floor import AT, label
from tests.papers.reading import fonts_of, once, pages_of, read, text_of
from tests.papers.samples import NOT_DONE, letterhead
from tests.papers.seeing import codes_on


def test_a_label_says_what_it_is_what_it_weighs_and_what_was_not_done() -> None:
    text = pages_of(once(label_pdf, label()))[0]
    for words in ("1161-1", "Carriage reverse wheel, six-pocket", "six round pockets",
                  "17.5 lb scale shows halves of a pound", "turned 8⁷⁄₈, faced, web .350 left",
                  ", ".join(NOT_DONE), "job 1161", "9 Oct 2025", "sheet 1 of 2", "Knurlbottom Turning & Repair",
                  "No speed rating is given. Weight by the shop's own scale."):  # fmt: skip
        assert words in text


def test_a_piece_that_was_not_weighed_says_so() -> None:
    assert "finished weight not taken" in pages_of(once(label_pdf, label()))[1]


@pytest.mark.parametrize("paper", ["Letter", "A4"])
def test_each_label_is_its_own_small_sheet(paper: str) -> None:
    pages = read(label_pdf(label(letterhead=letterhead(paper=paper)))).pages
    assert len(pages) == 2
    # one inch is 25.4 mm, by definition (NIST SP 811), and 72 points
    want = pytest.approx((100 / 25.4 * 72, 60 / 25.4 * 72), abs=0.1)
    assert all((float(page.mediabox.width), float(page.mediabox.height)) == want for page in pages)


def test_the_code_opens_the_piece() -> None:
    assert codes_on(once(label_pdf, label()), 203) == [f"{AT}/pieces/1161-1", f"{AT}/pieces/1161-2"]


def test_a_long_list_of_what_was_not_done_is_never_cut_short() -> None:
    rows = tuple(f"Thing number {n} that is left alone" for n in range(8))
    pdf = label_pdf(label(not_done=rows))
    assert ", ".join(rows) in text_of(pdf)
    assert len(pages_of(pdf)) == 2


def test_thirty_labels_are_thirty_sheets() -> None:
    pages = pages_of(label_pdf(label(labels=label().labels[:1] * 30)))
    assert [f"sheet {n} of 30" in page for n, page in enumerate(pages, 1)] == [True] * 30


def test_fonts_travel_with_the_label() -> None:
    fonts = fonts_of(once(label_pdf, label()))
    assert fonts
    assert all(fonts.values())


def test_what_was_done_and_the_caution_are_never_cut_mid_sentence() -> None:
    rows = tuple(f"turn A, 9-1/2 → 8-7/8, to 1.05{n:02}, for the cast wheel" for n in range(6))
    (first, _) = pages_of(label_pdf(label(labels=(replace(label().labels[0], done=rows),) * 2)))
    assert "turn A, 9¹⁄₂ → 8⁷⁄₈, to 1.0500, for the cast wheel, turn A, 9¹⁄₂ → 8⁷⁄₈, to 1.0501" in first
    assert "for the cast wheel, and 4 more" in first
    assert "No speed rating is given. Weight by the shop's own scale." in first
    assert "…" not in first
    assert "..." not in first
