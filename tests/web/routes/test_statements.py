"""The statement of a customer by age, page and paper; the reminder of what is past due."""

import re
from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest

from shopapp.demo import telling
from shopapp.demo.days import ZONE
from shopapp.office import customers, history, invoices, mail, papers, payments
from shopapp.office.invoices_lines import LineTyped
from shopapp.office.sheets.statement import ReminderSheet, StatementSheet
from tests import makers
from tests.web.conftest import LiveShop
from tests.web.routes.floor import shown


@pytest.fixture
def customer(shop: LiveShop) -> int:
    with shop.database.writing() as db:
        return makers.make_customer(db, shop.maker, email="marn@mill.example", terms_days=30)


def bill(shop: LiveShop, customer_id: int, dollars: str) -> int:
    with shop.database.writing() as db:
        job = makers.done_job(db, shop.maker, customer_id=customer_id, title="skim <plates>")
        lines = [LineTyped("turning", "1", dollars)]
        return invoices.issue(db, job_id=job.id, lines=lines, now=shop.now, by=shop.by)


def owed(page: str) -> dict[str, str]:
    """What the side of the page says for each age, and all of it."""
    side = page.partition('class="sums-lines"')[2].partition("</section>")[0]
    ages = re.findall(r'<dt>([^<]+)</dt><dd class="fig">([^<]+)</dd>', side)
    return dict(ages) | {"owes": re.findall(r'figure-value">([^<]+)<', side)[0].strip()}


def test_what_is_owed_stands_by_age(shop: LiveShop, customer: int) -> None:
    no = bill(shop, customer, "100")
    shop.later(days=61)
    bill(shop, customer, "10")
    page = shop.get(f"/customers/{customer}/statement").text
    # By hand, with 5 % tax and thirty days: 61 days on, the first is 31 days past due.
    assert owed(page) == {
        "not yet due": "$10.50", "1 to 30 days": "–", "31 to 60 days": "$105.00", "61 to 90 days": "–",
        "over 90 days": "–", "owes": "$115.50",
    }  # fmt: skip
    assert f'href="/invoices/{no}"' in page
    assert "skim &lt;plates&gt;" in page


def test_ages_and_their_sum_show_the_working_with_its_source(shop: LiveShop, customer: int) -> None:
    path = f"/customers/{customer}/statement"
    assert "show the working" not in shop.get(path).text
    bill(shop, customer, "100")
    shop.later(days=61)
    fold = shown(shop.get(path).text.partition("show the working")[2])
    # By hand: $100.00 and 5 % tax, thirty days to pay, 31 days past due.
    assert "owes $105.00" in fold
    assert "31 to 60 days $105.00" in fold
    assert "the day of the statement − due" in fold
    assert "Common practice, no source" in fold


def test_a_day_before_is_shown_as_it_was(shop: LiveShop, customer: int) -> None:
    bill(shop, customer, "100")
    shop.later(days=40)
    path = f"/customers/{customer}/statement"
    assert owed(shop.get(path, as_of="2031-03-05").text)["not yet due"] == "$105.00"
    assert "On that day nothing was owed." in shop.get(path, as_of="2031-03-03").text
    to_come = shop.get(path, as_of="2031-12-24").text
    assert "still to come" in to_come
    assert owed(to_come)["1 to 30 days"] == "$105.00"


def test_money_that_is_held_is_shown_and_is_no_part_of_the_sum(shop: LiveShop, customer: int) -> None:
    bill(shop, customer, "100")
    with shop.database.writing() as db:
        job = makers.make_job(db, shop.maker, customer_id=customer)
        payments.pay(db, job_id=job.id, amount="30", how="cash", **shop.maker.at())
    page = shop.get(f"/customers/{customer}/statement").text
    assert owed(page)["owes"] == "$105.00"
    assert "$30.00" in page
    assert f"job {job.no}" in page


def test_the_statement_is_frozen_and_its_paper_shown(shop: LiveShop, customer: int) -> None:
    bill(shop, customer, "100")
    path = f"/customers/{customer}/statement"
    places = [shop.post(path, as_of="2031-03-04", once="s-1").headers["location"] for _ in range(2)]
    assert places == [f"/papers/statement/S{customer}-1.pdf"] * 2
    with shop.database.reading() as db:
        sheet, _ = papers.sheet(db, "statement", f"S{customer}-1")
    assert isinstance(sheet, StatementSheet)
    assert (sheet.total_cents, sheet.as_of) == (10500, "2031-03-04")
    assert f"Statement S{customer}-1" in shown(shop.get(path).text)
    assert shop.get(places[0]).content.startswith(b"%PDF")


@pytest.mark.parametrize(("typed", "told"), [("2031-03-05", "still to come"), ("March", "year-month-day")])
def test_a_statement_of_another_day_is_refused(shop: LiveShop, customer: int, typed: str, told: str) -> None:
    answer = shop.post(f"/customers/{customer}/statement", as_of=typed)
    assert answer.status_code == 422
    assert told in answer.text
    assert f'value="{typed}"' in answer.text
    with shop.database.reading() as db:
        assert papers.count(db, "statement", customer_id=customer) == 0


def test_a_reminder_names_what_is_past_due(shop: LiveShop, customer: int) -> None:
    bill(shop, customer, "100")
    assert "Print a reminder" not in shop.get(f"/customers/{customer}/statement").text
    assert shop.post(f"/customers/{customer}/reminder", reminder_words="early").status_code == 409
    shop.later(days=31)
    bill(shop, customer, "10")
    assert "1 past due: remind" in shown(shop.get(f"/customers/{customer}/statement").text)
    answer = shop.post(f"/customers/{customer}/reminder", reminder_words="Please & thank you.")
    assert answer.headers["location"] == f"/papers/reminder/M{customer}-1.pdf"
    with shop.database.reading() as db:
        sheet, _ = papers.sheet(db, "reminder", f"M{customer}-1")
    assert isinstance(sheet, ReminderSheet)
    assert (sheet.total_cents, sheet.words) == (10500, "Please & thank you.")


def test_a_statement_goes_by_mail_with_its_freezing_or_neither(
    shop: LiveShop, customer: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = f"/customers/{customer}/statement"
    assert "by_mail" not in shop.get(path).text
    monkeypatch.setattr(shop.app.state, "postman", object(), raising=False)
    assert shop.post(path, by_mail="yes", mail_to="nowhere").status_code == 422
    assert shop.post(path, by_mail="yes", mail_to="marn@mill.example").headers["location"] == path
    with shop.database.reading() as db:
        (letter,) = mail.newest(db)
        assert papers.count(db, "statement", customer_id=customer) == 1
        assert "mail" in [line.act for line in history.of_customer(db, customer)]
    assert (letter.kind, letter.number) == ("statement", f"S{customer}-1")
    assert "Mail to marn@mill.example" in shop.get(path).text


def test_nobody_has_no_statement(shop: LiveShop) -> None:
    assert shop.get("/customers/99/statement").status_code == 404
    assert shop.post("/customers/99/statement").status_code == 404


def test_the_invented_shops_statements_add_up_on_the_last_day_of_its_story(new_shop: LiveShop) -> None:
    new_shop.now = datetime(2026, 3, 31, 18, 30, tzinfo=ZoneInfo(ZONE))
    telling.fill(new_shop.database, now=new_shop.now)
    with new_shop.database.reading() as db:
        everyone = customers.listing(db, most=200)
    told = {one.name: owed(new_shop.get(f"/customers/{one.id}/statement").text) for one in everyone}
    # The story's own figures, worked out by hand when it was made up.
    assert {name: ages["owes"] for name, ages in told.items() if ages["owes"] != "$0.00"} == {
        "Snickerby Sawmill": "$192.13", "Mottlebury Pottery School": "$162.91", "Fenlatch Grain Growers": "$113.50",
        "Plumwick Press Room": "$76.15",
    }  # fmt: skip
    money = new_shop.get("/money").text
    assert re.findall(r'class="fig owed">([^<]+)<', money)[0] == "$544.69"
    sums = re.search(r'<tr[^>]*class="sum">(.*?)</tr>', money, re.S)
    assert sums
    assert re.findall(r'class="n">([^<]*)</td>', sums[1]) == ["$48.88", "$113.50", "$306.16", "", "$76.15", "$544.69"]
    assert date(2026, 3, 31).isoformat() in new_shop.get(f"/customers/{everyone[0].id}/statement").text
