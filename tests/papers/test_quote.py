"""The quote, pressed and read back."""

from dataclasses import replace
from io import BytesIO

import pikepdf
import pytest

from shopapp.papers.quote import quote_html, quote_pdf
from tests.papers.reading import read, size_of, text_of
from tests.papers.samples import NOT_DONE, letterhead, quote, wheel


def test_a_quote_says_what_it_costs_and_what_comes_off() -> None:
    text = text_of(quote_pdf(quote(minutes_text="170 min")))
    for words in ("Quote 1189 A", "Snickerby Sawmill", "24 Apr 2026", "$276.00", "$293.25", "Tax 6.25 %", "8.5 lb",
                  "8.0 to 8.9 lb", "9.500 → 8-7/8, to 1.0505", "170 min", "1189-2 eight-pocket"):  # fmt: skip
        assert words in text


def test_not_done_here_and_the_cautions_are_on_it() -> None:
    text = text_of(quote_pdf(quote())).casefold()
    assert "not done here" in text
    for words in (*NOT_DONE, *letterhead().cautions):
        assert words.casefold() in text


def test_each_sheet_carries_the_title_block() -> None:
    pages = read(quote_pdf(quote(sections=(wheel(), wheel())))).pages
    assert len(pages) > 1
    for number, page in enumerate(pages, 1):
        text = " ".join(page.extract_text().split())
        assert f"{number} of {len(pages)}" in text
        assert "1189 A" in text
        assert "Knurlbottom Turning & Repair" in text
        assert "25 Mar 2026" in text


def test_the_drawing_is_on_it_with_its_sizes_and_a_text_for_those_who_do_not_see_it() -> None:
    pdf = quote_pdf(quote())
    text = text_of(pdf)
    assert "scale 1 : 2" in text
    assert "(Ø 9.500)" in text
    with pikepdf.open(BytesIO(pdf)) as file:
        figures = [o for o in file.objects if isinstance(o, pikepdf.Dictionary) and o.get("/S") == "/Figure"]
        assert [str(figure.Alt) for figure in figures] == ["Carriage reverse wheel, six-pocket"]


@pytest.mark.outside("from memory: ISO 216 and ANSI/ASME Y14.1")
@pytest.mark.parametrize(("paper", "size"), [("Letter", (612, 792)), ("A4", (595.28, 841.89))])
def test_the_sheet_has_the_size_of_its_paper(paper: str, size: tuple[float, float]) -> None:
    # ISO 216: A4 is 210 x 297 mm; letter is 8.5 x 11 in (ANSI/ASME Y14.1, size A)
    assert size_of(quote_pdf(quote(letterhead=letterhead(paper=paper)))) == pytest.approx(size, abs=0.5)


def test_date_author_and_title_come_from_the_sheet() -> None:
    about = read(quote_pdf(quote())).metadata
    assert about is not None
    assert about.title == "Quote 1189 A · Knurlbottom Turning & Repair"
    assert about.author == "Knurlbottom Turning & Repair"
    assert about.creation_date is not None
    assert about.creation_date.date().isoformat() == "2026-03-25"


def test_fonts_travel_with_the_paper() -> None:
    fonts = [font.get_object() for font in read(quote_pdf(quote())).pages[0]["/Resources"]["/Font"].values()]
    inner = [font["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object() for font in fonts]
    assert inner
    assert all("/FontFile2" in face or "/FontFile3" in face for face in inner)
    assert any("Shop-Figure" in face["/FontName"] for face in inner)


def test_the_same_sheet_gives_the_same_bytes() -> None:
    assert quote_pdf(quote()) == quote_pdf(quote())


def test_a_quote_without_drawing_or_figures_is_one_sheet() -> None:
    bare = quote(removals=(), sections=(), included=(), words="")
    assert len(read(quote_pdf(bare)).pages) == 1


def test_hostile_names_stay_letters() -> None:
    html = quote_html(quote(title="<script>x</script>", party=replace(quote().party, name='"><img src=x>')))
    assert "<script" not in html
    assert "<img" not in html


@pytest.mark.bench
def test_pressing_a_quote_warm(benchmark: object) -> None:
    quote_pdf(quote())
    assert benchmark(quote_pdf, quote()).startswith(b"%PDF")
