"""The statement, pressed and read back."""

from dataclasses import replace

import pytest
from pypdf.generic import NameObject

from shopapp.papers.statement import statement_html, statement_pdf
from tests.papers.desk import BILLS, OWNER_SAYS, bill, statement
from tests.papers.reading import fonts_of, once, pages_of, read, size_of, text_of
from tests.papers.samples import PARTY, letterhead


def test_a_statement_says_what_is_owed_bill_by_bill_and_by_age() -> None:
    text = text_of(once(statement_pdf, statement()))
    for words in ("Statement S3-1", "Open bills on 31 Mar 2026", "Snickerby Sawmill", "account, 30 days", OWNER_SAYS,
                  "709 End plates, truing up job 1169 25 Nov 2025 25 Dec 2025 96 days $76.15 – $76.15",
                  "716 2 reverse wheels job 1176 12 Jan 2026 11 Feb 2026 48 days $356.16 -$50.00 $306.16",
                  "719 Brake drum, skim job 1179 28 Feb 2026 30 Mar 2026 1 day $113.50 – $113.50",
                  "not yet $48.88 – $48.88", "SHEET 1 of 1"):  # fmt: skip
        assert words in text


def test_the_ages_stand_in_one_row_and_the_sum_behind_them() -> None:
    # owing of the invented shop on its day: 48.88 + 113.50 + 306.16 + 76.15 = 544.69, added by hand
    text = text_of(once(statement_pdf, statement()))
    assert "$48.88 $113.50 $306.16 $0.00 $76.15 $544.69" in text
    assert text.upper().index("PAST DUE NOT YET DUE 1 TO 30 DAYS 31 TO 60 DAYS 61 TO 90 DAYS OVER 90 DAYS OWED") > 0
    assert "Owed in all $544.69" in text


def test_money_that_is_held_is_named_and_not_taken_off() -> None:
    assert "Held for you: $50.00." in text_of(once(statement_pdf, statement()))
    assert "Held for you" not in text_of(statement_pdf(statement(held_cents=0)))


def test_where_nothing_is_owed_the_statement_says_so() -> None:
    text = text_of(statement_pdf(statement((), terms="", phrases=(), held_cents=0)))
    assert "No bill is open on this day." in text
    assert "$0.00" in text
    assert "STILL OWED" not in text.upper()


def test_thirty_bills_go_over_two_sheets_with_the_head_on_each_and_none_is_torn() -> None:
    rows = tuple(bill(700 + n, 1000 + n, 3 * n, title=f"Wheel {n:02}, turned on both sides") for n in range(30))
    pages = pages_of(statement_pdf(statement(rows)))
    assert len(pages) == 2
    for n in range(30):
        ends = f"$10.{n:02} – $10.{n:02}"
        assert [f"{700 + n} Wheel {n:02}, " in page for page in pages] == [ends in page for page in pages]
        assert sum(ends in page for page in pages) == 1
    assert all("INVOICE FOR ISSUED DUE PAST DUE TOTAL CAME OFF STILL OWED" in page.upper() for page in pages)
    assert all(f"SHEET {n} of 2" in page and "S3-1" in page for n, page in enumerate(pages, 1))
    assert "Owed in all $304.35" in pages[1]


def test_the_shops_own_money_sign_is_used() -> None:
    html = statement_html(statement(letterhead=letterhead(currency="£")))
    assert "£544.69" in html
    assert "$" not in html


def test_long_names_wrap_and_lose_nothing() -> None:
    name, word = " ".join(f"Amalgamated{n}" for n in range(20)), "unbroken" * 20
    text = text_of(statement_pdf(statement((bill(709, 7615, 96, title=word),), party=replace(PARTY, name=name))))
    assert name in text
    assert word in text.replace(" ", "")


def test_hostile_names_stay_letters_and_nothing_carries_a_style() -> None:
    html = statement_html(statement((replace(BILLS[0], title="<img src=x>"),), party=replace(PARTY, name="<script>")))
    for words in ("<img", "<script", "style="):
        assert words not in html


@pytest.mark.outside("from memory: ISO 216 and ANSI/ASME Y14.1")
@pytest.mark.parametrize(("paper", "size"), [("Letter", (612, 792)), ("A4", (595.28, 841.89))])
def test_it_is_as_large_as_its_paper(paper: str, size: tuple[float, float]) -> None:
    # ISO 216: A4 is 210 x 297 mm; letter is 8.5 x 11 in (ANSI/ASME Y14.1, size A)
    pdf = statement_pdf(statement(letterhead=letterhead(paper=paper)))
    assert size_of(pdf) == pytest.approx(size, abs=0.5)
    assert len(pages_of(pdf)) == 1


def test_the_file_is_tagged_its_fonts_travel_with_it_and_it_names_itself() -> None:
    pdf = once(statement_pdf, statement())
    made = read(pdf)
    assert made.trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert made.trailer["/Root"]["/Lang"] == "en"
    assert fonts_of(pdf)
    assert all(fonts_of(pdf).values())
    assert made.metadata is not None
    assert made.metadata.title == "Statement S3-1 · Knurlbottom Turning & Repair"
    assert made.metadata.author == "Knurlbottom Turning & Repair"
    assert made.metadata.subject == "Open bills on 31 Mar 2026"
    assert made.metadata[NameObject("/CreationDate")].startswith("D:20260331")


def test_the_same_sheet_gives_the_same_bytes() -> None:
    assert statement_pdf(statement()) == once(statement_pdf, statement())


@pytest.mark.bench
def test_pressing_a_statement_of_thirty_bills_warm(benchmark: object) -> None:
    sheet = statement(tuple(bill(700 + n, 1000 + n, 3 * n) for n in range(30)))
    statement_pdf(sheet)
    assert benchmark(statement_pdf, sheet).startswith(b"%PDF")


def test_what_was_given_back_stands_on_it_and_is_no_part_of_the_sum() -> None:
    text = text_of(statement_pdf(statement(given_back=(("6 Mar 2026, cash: they asked for it", 2000),))))
    assert "6 Mar 2026, cash: they asked for it $20.00" in text
    assert "Owed in all $544.69" in text
    assert "ninety days" not in text_of(statement_pdf(statement())).lower()
