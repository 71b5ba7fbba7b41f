"""The receipt for a deposit, pressed and read back."""

from dataclasses import replace

from shopapp.papers.deposit import deposit_html, deposit_pdf
from tests.papers.desk import OWNER_SAYS, deposit
from tests.papers.reading import fonts_of, once, pages_of, read, text_of
from tests.papers.samples import PARTY


def test_a_deposit_receipt_says_what_is_held_and_of_what_it_is_a_part() -> None:
    text = text_of(once(deposit_pdf, deposit()))
    for words in ("Deposit receipt 1161-P1", "RECEIVED $50.00", "ON 3 Oct 2025", "HOW cash",
                  "total by quote A: $293.25", "left after what is held: $243.25", OWNER_SAYS,
                  "SHEET 1 of 1"):  # fmt: skip
        assert words in text
    assert "REFERENCE" not in text


def test_it_says_that_it_is_no_invoice_and_charges_no_tax() -> None:
    text = text_of(once(deposit_pdf, deposit()))
    assert "THIS IS NO INVOICE" in text.upper()
    assert "taken off what you pay when the work is billed. There is no tax on it until then." in text
    for words in ("Net $", "Tax 6", "To pay $", "Due "):
        assert words not in text


def test_without_a_quote_it_stands_alone() -> None:
    text = text_of(deposit_pdf(deposit(of_text="", left_text="", phrases=())))
    assert "A PART OF" not in text
    assert "$50.00" in text


def test_long_and_hostile_names_stay_letters_and_lose_nothing() -> None:
    word = "unbroken" * 20
    told = deposit(party=replace(PARTY, name=f"{word}<i>"), title="<script>x " * 9, reference="draft 9")
    assert "<script" not in deposit_html(told)
    text = text_of(deposit_pdf(told))
    assert f"{word}<i>" in text.replace(" ", "")
    assert "REFERENCE draft 9" in text


def test_it_is_one_sheet_tagged_with_its_fonts_and_the_same_again() -> None:
    pdf = once(deposit_pdf, deposit())
    assert len(pages_of(pdf)) == 1
    assert all(fonts_of(pdf).values())
    assert read(pdf).trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert deposit_pdf(deposit()) == pdf


def test_money_that_no_bill_asks_for_is_no_deposit() -> None:
    text = text_of(deposit_pdf(deposit(held_as="credit")))
    assert "Deposit" not in text
    assert "Receipt 1161-P1" in text
    assert "No bill of ours asks for this money. It is held for you as your credit" in text
    assert "total by quote" not in text
