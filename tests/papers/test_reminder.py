"""The reminder, pressed and read back."""

from shopapp.papers.reminder import reminder_html, reminder_pdf
from tests.papers.desk import BILLS, OWNER_SAYS, bill, reminder
from tests.papers.reading import fonts_of, once, pages_of, text_of
from tests.papers.samples import letterhead


def test_a_reminder_names_each_bill_that_is_past_due_and_what_it_still_asks() -> None:
    # 76.15 + 306.16 + 113.50 = 495.81, added by hand
    text = text_of(once(reminder_pdf, reminder()))
    for words in ("Reminder M3-1", "Bills past due on 31 Mar 2026", "Tovald, these slipped by.", OWNER_SAYS,
                  "96 days $76.15", "48 days $356.16 -$50.00 $306.16", "1 day $113.50", "Past due in all $495.81",
                  "By our book these bills were past due and not paid in full on 31 Mar 2026."):  # fmt: skip
        assert words in text


def test_of_one_bill_it_speaks_as_of_one() -> None:
    text = text_of(reminder_pdf(reminder(rows=BILLS[:1], total_cents=7615, words="", phrases=())))
    assert "By our book this bill was past due" in text


def test_thirty_bills_are_never_torn_and_the_head_is_on_each_sheet() -> None:
    rows = tuple(bill(700 + n, 1000 + n, 90 - n) for n in range(30))
    pages = pages_of(reminder_pdf(reminder(rows=rows, total_cents=30435)))
    assert len(pages) == 2
    assert all(sum(f"$10.{n:02} – $10.{n:02}" in page for page in pages) == 1 for n in range(30))
    assert all("STILL OWED" in page.upper() and f"SHEET {n} of 2" in page for n, page in enumerate(pages, 1))


def test_hostile_words_stay_letters() -> None:
    html = reminder_html(reminder(words="<b onclick='x'>", letterhead=letterhead(currency="€")))
    assert "<b onclick" not in html
    assert "€495.81" in html


def test_fonts_travel_with_it_and_the_same_sheet_gives_the_same_bytes() -> None:
    pdf = once(reminder_pdf, reminder())
    assert fonts_of(pdf)
    assert all(fonts_of(pdf).values())
    assert reminder_pdf(reminder()) == pdf
