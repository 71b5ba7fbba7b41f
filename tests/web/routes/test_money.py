"""The money page: to bill, drafts, who owes what by age, the newest bills."""

import re

from shopapp.office import credits as notes
from shopapp.office import invoices, jobs, ledger, mail, payments, quotes
from shopapp.office.invoices_lines import LineTyped
from tests import makers
from tests.web.conftest import LiveShop
from tests.web.routes.floor import shown


def cells(page: str, customer: str) -> list[str]:
    """The figures of a customer's row in the table of ages."""
    rows = re.findall(r"<tr[^>]*>(.*?)</tr>", page.partition('aria-label="who owes what"')[2], re.S)
    row = next(row for row in rows if customer in row and 'data-head="Owes"' in row)
    return re.findall(r'class="n">([^<]*)</td>', row)


def bill(shop: LiveShop, name: str, dollars: str, terms_days: int = 0) -> int:
    with shop.database.writing() as db:
        customer_id = makers.make_customer(db, shop.maker, name=name, phone="555 0143", terms_days=terms_days)
        job = makers.done_job(db, shop.maker, customer_id=customer_id)
        line = LineTyped("turning", "1", dollars)
        return invoices.issue(db, job_id=job.id, lines=[line], now=shop.now, by=shop.by)


def test_an_empty_till_says_what_to_do(shop: LiveShop) -> None:
    page = shop.get("/money").text
    for words in ("Nothing to bill", "No price sheet waits", "Nobody owes anything", "No invoice was issued yet"):
        assert words in page


def test_finished_pieces_come_to_the_list_and_the_title_block(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.ready_job(db, shop.maker)
    page = shop.get("/money").text
    assert f'href="/jobs/{job.no}/bill"' in page
    assert "1 to bill" in page


def test_a_missing_order_number_is_marked(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        customer_id = makers.make_customer(db, shop.maker, order_number="required")
        makers.ready_job(db, shop.maker, customer_id=customer_id)
    assert "order number missing" in shop.get("/money").text


def test_a_customer_who_is_billed_once_pieces_are_fetched_waits(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        customer_id = makers.make_customer(db, shop.maker, bill_when="fetched")
        makers.ready_job(db, shop.maker, customer_id=customer_id)
    assert "Nothing to bill." in shop.get("/money").text


def test_a_price_sheet_that_is_not_issued_is_a_draft(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.make_job(db, shop.maker)
        quotes.keep_draft(db, job_id=job.id, typed=makers.AN_HOUR, **shop.maker.at())
    page = shop.get("/money").text
    assert f"{job.no} A" in page
    assert "$73.50" in page


def test_what_is_owed_stands_under_its_age(shop: LiveShop) -> None:
    for name, dollars in (("Aldous", "100"), ("Bertil", "200")):
        bill(shop, name, dollars)
    shop.later(days=31)
    bill(shop, "Aldous & Sons", "10", terms_days=30)
    page = shop.get("/money").text
    # By hand, with 5 % tax: due on the day, so 31 days past due.
    assert cells(page, "Bertil") == ["", "", "$210.00", "", "", "$210.00"]
    assert cells(page, "Aldous &amp; Sons") == ["$10.50", "", "", "", "", "$10.50"]
    assert cells(page, ">all<") == ["$10.50", "", "$315.00", "", "", "$325.50"]


def test_the_edges_of_the_ages_are_calendar_days_past_due(shop: LiveShop) -> None:
    bill(shop, "Aldous", "100")
    found = []
    for days in (0, 1, 29, 1, 29, 1, 29, 1):  # 0, 1, 30, 31, 60, 61, 90, 91 days past due
        shop.later(days=days)
        found.append([i for i, cell in enumerate(cells(shop.get("/money").text, "Aldous")[:5]) if cell])
    assert found == [[0], [1], [1], [2], [2], [3], [3], [4]]


def test_a_void_invoice_is_struck_and_owes_nothing(shop: LiveShop) -> None:
    no = bill(shop, "Aldous", "100")
    with shop.database.writing() as db:
        notes.void(db, no=no, reason="twice", **shop.maker.at())
    page = shop.get("/money").text
    assert re.search(rf'class="fig struck">\s*<a href="/invoices/{no}">', page)
    assert "Nobody owes anything." in page


def test_pages_turn_by_number(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.done_job(db, shop.maker, pieces=53)
        for piece in jobs.pieces(db, job.id):
            lines = [LineTyped("turning", "1", "1")]
            invoices.issue(db, job_id=job.id, lines=lines, piece_ids=[piece.id], now=shop.now, by=shop.by)
    first = shop.get("/money").text
    assert 'href="/money?before=504"' in first
    assert "/invoices/504" in first
    assert "/invoices/503" not in first
    second = shop.get("/money", before="504").text
    assert [f"/invoices/{no}" in second for no in (501, 503, 504)] == [True, True, False]
    assert "before=501" not in second


def test_a_name_is_never_markup(shop: LiveShop) -> None:
    bill(shop, "<i>Aldous</i>", "100")
    assert "<i>Aldous" not in shop.get("/money").text


def told(page: str, section: str) -> str:
    """The words of a section of the page, by its name."""
    return shown(page.partition(f'<section class="stack" aria-label="{section}"')[2].partition("</section>")[0])


def test_deposits_are_held_and_are_no_sale(shop: LiveShop) -> None:
    bill(shop, "Aldous", "100")
    with shop.database.writing() as db:
        customer_id = makers.make_customer(db, shop.maker, name="Bertil & Co", phone="7")
        job = makers.make_job(db, shop.maker, customer_id=customer_id)
        payments.pay(db, job_id=job.id, amount="40", how="cash", **shop.maker.at())
    page = shop.get("/money").text
    assert f"Bertil & Co deposit on job {job.no}".replace("&", "&amp;") in told(page, "held for customers")
    assert "Deposits $40.00, credit $0.00." in told(page, "held for customers")
    assert "this month $100.00 $5.00 $40.00" in told(page, "sold")
    assert cells(page, ">all<")[-1] == "$105.00"


def test_credit_stands_apart_from_deposits(shop: LiveShop) -> None:
    no = bill(shop, "Aldous", "100")
    with shop.database.writing() as db:
        job_id = ledger.by_no(db, no).job_id
        payments.pay(db, job_id=job_id, amount="125", how="card", invoice_no=no, **shop.maker.at())
    words = told(shop.get("/money").text, "held for customers")
    assert "credit from job" in words
    assert "Deposits $0.00, credit $20.00." in words


def test_a_month_begins_on_its_first_day(shop: LiveShop) -> None:
    bill(shop, "Aldous", "100")
    shop.later(days=28)  # the first of April
    bill(shop, "Bertil", "10")
    words = told(shop.get("/money").text, "sold")
    assert "this month $10.00" in words
    assert "this year $110.00" in words


def test_who_owes_leads_to_the_statement(shop: LiveShop) -> None:
    bill(shop, "Aldous", "100")
    assert re.search(r'href="/customers/\d+/statement">Aldous', shop.get("/money").text)


def test_work_that_was_called_off_after_minutes_is_to_be_billed(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.make_job(db, shop.maker)
        jobs.spend(db, job_id=job.id, minutes=40, **shop.maker.at())
        jobs.end(db, job_id=job.id, how="called_off", reason="bought new", **shop.maker.at())
    page = shop.get("/money").text
    assert f'href="/jobs/{job.no}/bill"' in page
    assert "called off" in page


def test_what_waits_for_a_call_and_what_is_stuck_in_the_mail_is_named(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.ready_job(db, shop.maker)
        row = mail.post(db, kind="ready", number=f"{job.no}-R1", to="a@b.example", subject="s", **shop.maker.at())
    page = shop.get("/money").text
    assert "On the shelf: 1" in page
    assert 'href="/mail"' not in page
    with shop.database.writing() as db:
        mail.claim(db, letter_id=row, now=shop.now)
        mail.failed(db, letter_id=row, fault="550", now=shop.now, for_good=True)
    assert "Mail: 1 stuck" in shop.get("/money").text
