"""The receipt for money on bills, pressed and read back."""

from dataclasses import replace

from shopapp.papers.receipt import receipt_html, receipt_pdf
from tests.papers.desk import OWNER_SAYS, receipt
from tests.papers.reading import fonts_of, once, pages_of, read, text_of
from tests.papers.samples import PARTY, letterhead


def test_a_receipt_says_what_came_in_how_when_and_where_it_went() -> None:
    # 243.25 + 56.75 = 300.00, added by hand
    text = text_of(once(receipt_pdf, receipt()))
    for words in ("Receipt 1161-P2", "RECEIVED $300.00", "ON 8 Oct 2025", "HOW cheque", "REFERENCE no. 4471",
                  "FROM Snickerby Sawmill", "invoice 701 $243.25", "held for you, on no bill yet $56.75",
                  "Received $300.00", "paid in full", OWNER_SAYS, "STATUS issued", "SHEET 1 of 1"):  # fmt: skip
        assert words in text


def test_without_a_reference_and_with_nothing_held_no_empty_line_stands() -> None:
    text = text_of(receipt_pdf(receipt(reference="", held_cents=0, rows=(("invoice 701", 30000),), due_text="")))
    for words in ("REFERENCE", "held for you", "paid in full"):
        assert words not in text
    assert "invoice 701 $300.00" in text


def test_money_that_is_given_back_says_so_and_who_received_it() -> None:
    told = receipt(
        number="1161-G1", is_out=True, reason="nothing was to bill", cents=2000, amount="$20.00", held_cents=500,
        rows=(("of $25.00 that came in cash, 4 Mar 2031", 2000),), due_text="",
    )  # fmt: skip
    text = text_of(receipt_pdf(told))
    for words in ("Receipt, given back 1161-G1", "GIVEN BACK $20.00", "TO Snickerby Sawmill", "WHY nothing was to bill",
                  "of $25.00 that came in cash, 4 Mar 2031 $20.00", "Still held for you: $5.00"):  # fmt: skip
        assert words in text
    assert "RECEIVED BY SNICKERBY SAWMILL" in text.upper()
    assert "held for you, on no bill yet" not in text


def test_a_payment_of_which_a_part_was_given_back_says_so() -> None:
    text = text_of(receipt_pdf(receipt(given_back_cents=5675, held_cents=0)))
    assert "given back to you $56.75" in text


def test_thirty_bills_paid_at_once_are_all_named() -> None:
    rows = tuple((f"invoice {700 + n}", 1000 + n) for n in range(30))
    pages = pages_of(receipt_pdf(receipt(rows=rows, held_cents=0, cents=30435, amount="$304.35")))
    assert len(pages) == 2
    assert all(sum(f"invoice {700 + n} $10.{n:02}" in page for page in pages) == 1 for n in range(30))
    assert all("IT WENT TO" in page.upper() for page in pages)
    assert "Received $304.35" in pages[1]


def test_long_and_hostile_names_stay_letters_and_lose_nothing() -> None:
    word = "unbroken" * 20
    told = receipt(party=replace(PARTY, name=f"{word}<i>"), reference="<script>x", letterhead=letterhead(currency="£"))
    assert "<script" not in receipt_html(told)
    text = text_of(receipt_pdf(told))
    assert f"{word}<i>" in text.replace(" ", "")
    assert "£243.25" in text


def test_fonts_travel_with_it_it_is_tagged_and_the_same_sheet_gives_the_same_bytes() -> None:
    pdf = once(receipt_pdf, receipt())
    assert all(fonts_of(pdf).values())
    assert read(pdf).trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert receipt_pdf(receipt()) == pdf
