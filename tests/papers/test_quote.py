"""The quote, pressed and read back."""

from dataclasses import replace
from io import BytesIO

import pikepdf
import pytest

from shopapp.papers.quote import quote_html, quote_pdf
from tests.papers.reading import read, size_of, text_of
from tests.papers.samples import NOT_DONE, letterhead, quote, removal, wheel


def test_a_quote_says_what_it_costs_and_what_comes_off() -> None:
    text = text_of(quote_pdf(quote(minutes_text="170 min")))
    for words in ("Quote 1189 A", "Snickerby Sawmill", "24 Apr 2026", "$276.00", "$293.25", "Tax 6.25 %", "8.5 lb",
                  "8.0 to 8.9 lb", "9.500 → 8⁷⁄₈, to 1.0505", "170 min", "1189-2 eight-pocket"):  # fmt: skip
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


def test_a_fraction_is_written_as_one_and_an_order_number_as_it_is() -> None:
    text = text_of(quote_pdf(quote(included=("Bevels 1/32", "24/7 on call"), words="Skim to 8-7/8 in.")))
    for words in ("9.500 → 8⁷⁄₈, to 1.0505", "Bevels ¹⁄₃₂", "24/7 on call", "Skim to 8⁷⁄₈ in."):
        assert words in text
    assert "7/8" not in text


def test_without_tax_a_quote_says_why_and_where_a_paper_is_missing_asks_for_it() -> None:
    free = quote(totals=replace(quote().totals, taxable_cents=0, tax_cents=0, tax_percent="0", total_cents=27600),
                 exempt_reason="certificate K-7, the county")  # fmt: skip
    assert "No tax: certificate K-7, the county $0.00" in text_of(quote_pdf(free))
    asked = "Your certificate K-7 ran out on 3 Apr 2031, so there is tax on this. Send us the new one."
    assert asked in text_of(quote_pdf(quote(tax_paper_text=asked)))


def test_the_drawing_says_its_unit_once_and_in_words() -> None:
    note = "carbon steel 7.85"
    for told in (note, f"{note}; sizes in in"):  # the second as it was frozen long ago
        text = text_of(quote_pdf(quote(sections=(replace(wheel(), note=told),))))
        assert "scale 1 : 2 · sizes in inches · carbon steel 7.85" in text
        assert "in in" not in text.replace("sizes in inches", "")


def test_the_price_is_whole_on_the_first_sheet_and_the_drawings_follow() -> None:
    pages = read(quote_pdf(quote(sections=(wheel(), wheel()), removals=(removal(), removal())))).pages
    first = " ".join(pages[0].extract_text().split())
    for words in ("$293.25", "Heat treatment", "No speed rating given."):
        assert words in first
