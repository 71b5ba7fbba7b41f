"""The papers' templates: everything escaped, nothing missing in silence."""

import pytest
from jinja2 import UndefinedError
from markupsafe import Markup

from shopapp.papers.press import press
from shopapp.papers.render import day, document_html, drawn, environment, paper_part, whole
from tests.papers.reading import pages_of
from tests.papers.samples import credit, invoice, wheel


def test_dates_are_written_so_that_no_one_swaps_day_and_month() -> None:
    assert day("2026-03-01") == "1 Mar 2026"
    assert day("when fetched") == "when fetched"


def test_names_from_outside_stay_letters() -> None:
    assert environment().from_string("{{ name }}").render(name="<b>&") == "&lt;b&gt;&amp;"


def test_an_unknown_name_is_a_fault() -> None:
    with pytest.raises(UndefinedError):
        environment().from_string("{{ nothing_of_the_kind }}").render()


def test_a_drawing_brings_the_words_of_its_scale() -> None:
    picture = drawn(wheel())
    assert picture["scale"] == "1 : 2"
    assert str(picture["svg"]).startswith("<svg")


@pytest.mark.parametrize(
    ("words", "kept"),
    [("leave .350", ".350"), ("(least .250 in)", "(least .250"), ("Ø.530 holes", "Ø.530"), ("−.008,", "−.008,")],
)
def test_a_number_that_begins_with_its_point_is_held_together(words: str, kept: str) -> None:
    held = str(whole(words))
    assert f'<span class="point">{kept.split()[-1]}</span>' in held
    assert Markup(held).striptags() == words


@pytest.mark.parametrize("words", ["8.875", "1.0505 in", "the end.", "v.2", "http://x.example/.5", 7, None])
def test_other_words_stay_as_they_are(words: object) -> None:
    assert whole(words) == words


def test_a_point_stays_with_its_figures_wherever_the_line_ends() -> None:
    rows = tuple(f"{'an ' * n}to .350 on side A" for n in range(5, 45))
    told = invoice(pieces=rows)
    part = paper_part("invoice", told, kind="Invoice", number="7")
    text = " ".join(pages_of(press(document_html((part,), told, kind="Invoice", number="7"))))
    assert text.count("to .350 on") == len(rows)


def test_papers_in_one_document_count_their_own_sheets() -> None:
    many = invoice(pieces=tuple(f"1188-{n}: 26.0 to 17.5 lb" for n in range(60)))
    parts = (paper_part("invoice", many, kind="Invoice", number="701"),
             paper_part("credit", credit(), kind="Credit note", number="12"))  # fmt: skip
    pages = pages_of(press(document_html(parts, many, kind="Invoice", number="701")))
    own = len(pages) - 1
    assert own > 1
    assert [f"SHEET {n} of {own}" in page for n, page in enumerate(pages[:-1], 1)] == [True] * own
    assert "SHEET 1 of 1" in pages[-1]
    assert "Credit note" in pages[-1]
