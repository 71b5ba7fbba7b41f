"""The credit note, pressed and read back."""

from shopapp.office.sheets.money import Totals
from shopapp.papers.credit import credit_pdf
from tests.papers.reading import read, text_of
from tests.papers.samples import NOT_DONE, credit, line


def test_a_credit_note_names_its_invoice_its_reason_and_its_sum() -> None:
    text = text_of(credit_pdf(credit()))
    for words in ("Credit note 12", "714", "One end plate was spoiled in our chuck.", "$107.50", "$6.72",
                  "Credited $114.22", "20 Dec 2025", *NOT_DONE):  # fmt: skip
        assert words in text
    assert "To pay" not in text


def test_a_credit_note_is_one_sheet() -> None:
    assert len(read(credit_pdf(credit())).pages) == 1


def test_a_reason_that_is_the_line_is_printed_once() -> None:
    pdf = credit_pdf(credit(lines=(line("a scratch on the rim"),), reason="a scratch on the rim"))
    assert text_of(pdf).count("a scratch on the rim") == 1


def test_a_note_of_tax_alone_names_no_sum_that_the_tax_is_on() -> None:
    text = text_of(credit_pdf(credit(totals=Totals(0, 0, "6.25", 672, 672))))
    assert "Tax 6.25 % $6.72" in text
    assert "Credited $6.72" in text
