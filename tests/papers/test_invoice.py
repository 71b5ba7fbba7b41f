"""The invoice, pressed and read back."""

from dataclasses import replace

from shopapp.office.sheets.money import Totals
from shopapp.papers.invoice import invoice_pdf
from tests.papers.reading import pages_of, read, size_of, text_of
from tests.papers.samples import NOT_DONE, PARTY, invoice, letterhead, line


def test_an_invoice_says_what_is_owed_and_by_when() -> None:
    text = text_of(invoice_pdf(invoice()))
    for words in ("Invoice 701", "8 Nov 2025", "account, 30 days", "PO-88", "Net $276.00", "$17.25", "Total $293.25",
                  "To pay $243.25", "1161-1: 26.0 to 17.5 lb", *NOT_DONE):  # fmt: skip
        assert words in text


def test_a_deposit_stands_under_the_total() -> None:
    text = text_of(invoice_pdf(invoice()))
    assert text.index("Total $293.25") < text.index("Deposit of 3 Oct 2025, cash -$50.00") < text.index("To pay")


def test_the_reason_for_no_tax_is_printed() -> None:
    exempt = invoice(exempt_reason="certificate valid to 30 Jun 2027", totals=Totals(12900, 0, "6.25", 0, 12900))
    text = text_of(invoice_pdf(exempt))
    assert "No tax: certificate valid to 30 Jun 2027 $0.00" in text
    assert "6.25" not in text


def test_thirty_lines_go_over_two_sheets_and_none_is_torn() -> None:
    lines = tuple(line(f"Work number {n:02} on the wheel", 1000 + n) for n in range(30))
    pages = [" ".join(page.extract_text().split()) for page in read(invoice_pdf(invoice(lines=lines))).pages]
    assert len(pages) == 2
    for n in range(30):
        whole = f"Work number {n:02} on the wheel 1 $10.{n:02} $10.{n:02}"
        assert sum(whole in page for page in pages) == 1
    assert all("work and material" in page.casefold() for page in pages)
    assert "To pay" in pages[1]


def test_long_names_wrap_and_lose_nothing() -> None:
    name = " ".join(f"Amalgamated{n}" for n in range(20))
    word = "unbroken" * 20
    pdf = invoice_pdf(invoice(party=replace(PARTY, name=name), lines=(line(word),), title="A long title " * 12))
    text = text_of(pdf)
    assert name in text
    assert word in text.replace(" ", "")
    pages = read(pdf).pages
    assert all("SHEET" in page.extract_text().upper() for page in pages)
    assert size_of(pdf) == (612, 792)


def test_a_line_without_tax_says_so() -> None:
    assert "stamp no tax" in text_of(invoice_pdf(invoice(lines=(line("stamp", 55, taxable=False),))))


def test_sums_are_in_the_shops_money_and_the_owners_words_stand_below() -> None:
    sheet = invoice(letterhead=replace(letterhead(), currency="€"), phrases=("Work put right within thirty days.",))
    text = text_of(invoice_pdf(sheet))
    assert "To pay €243.25" in text
    assert "Work put right within thirty days." in text


def test_a_void_bill_says_so_on_every_sheet_and_asks_for_nothing() -> None:
    many = tuple(line(f"line {n}") for n in range(60))
    void = invoice(void_on="2025-10-12", void_reason="wrong customer", lines=many)
    pages = pages_of(invoice_pdf(void))
    assert len(pages) > 1
    for page in pages:
        assert "VOID" in page
        assert "STATUS void" in page
        assert "DOCUMENT TYPE Void invoice" in page
    text = " ".join(pages)
    assert "VOID SINCE 12 OCT 2025 WRONG CUSTOMER" in text.upper()
    assert "There is nothing to pay on this invoice." in text
    assert "Void nothing to pay" in text
    for words in ("To pay", "Deposit of 3 Oct", "DUE", "STATUS issued"):
        assert words not in text


def test_a_bill_that_stands_is_not_marked_void() -> None:
    text = text_of(invoice_pdf(invoice()))
    assert "VOID" not in text.upper()
    assert "STATUS issued" in text


def test_the_order_number_stands_as_the_customer_wrote_it() -> None:
    text = text_of(invoice_pdf(invoice(order_number="7-1/2", lines=(line("turned to 7-1/2"),))))
    assert "YOUR ORDER 7-1/2" in text
    assert "turned to 7¹⁄₂" in text


def test_the_title_block_names_who_said_go_ahead_or_the_owner() -> None:
    said = "Marn, quote A, 4 Mar 2031"
    assert f"APPROVED BY {said}" in text_of(invoice_pdf(invoice(approved=said)))
    assert "APPROVED BY Wendeline Knurlbottom" in text_of(invoice_pdf(invoice()))


def test_the_shops_own_address_is_in_the_head() -> None:
    head = letterhead(address="4 Tailstock Lane\nLower Quench 99120")
    text = text_of(invoice_pdf(invoice(letterhead=head)))
    assert "Wendeline Knurlbottom 4 Tailstock Lane Lower Quench 99120 555-0100" in text
    assert "Wendeline Knurlbottom · Lower Quench 555-0100" in text_of(invoice_pdf(invoice()))
