"""The working behind money."""

from sqlmodel import Session

from shopapp.office import quotes, workings_money
from shopapp.office.ledger import AGES
from shopapp.office.tracks import Bill
from tests.cast import TODAY
from tests.makers import AN_HOUR, Shop, make_job


def test_every_figure_of_a_price_has_its_working_with_a_source(db: Session, shop: Shop) -> None:
    told = quotes.preview(db, job_id=make_job(db, shop).id, typed=AN_HOUR, day=TODAY)
    sheets = workings_money.of_price(told, "$")
    assert [sheet.figure for sheet in sheets] == ["the price", "minutes of a setting", "each line", "tax", "total"]
    assert all(sheet.source for sheet in sheets)
    assert sheets[2].inputs == (("bench time 70 min at $60.00/h", "70 min × $60.00/h = $70.00"),)
    assert dict(sheets[3].inputs) == {"taxable": "$70.00", "rate": "5 %", "rounded": "once for the whole paper"}
    assert (sheets[3].value, sheets[4].value) == ("$3.50", "$73.50")


def test_a_reason_for_no_tax_stands_in_the_working_of_the_tax(db: Session, shop: Shop) -> None:
    told = quotes.preview(db, job_id=make_job(db, shop).id, typed=AN_HOUR, day=TODAY)
    tax = workings_money.of_sums(told.rows, told.totals, "$", "certificate 7")[1]
    assert dict(tax.inputs)["no tax"] == "certificate 7"


def test_what_is_due_shows_what_was_taken_off() -> None:
    (due,) = workings_money.of_due(4350, 7350, [("paid cash", 3000)], "$")
    assert due.value == "$43.50"
    assert due.inputs == (("total", "$73.50"), ("paid cash", "−$30.00"))


def test_the_ages_of_debts_say_how_days_are_counted() -> None:
    days, still = workings_money.of_ages(AGES)
    assert dict(days.inputs)["columns"] == ", ".join(AGES)
    assert days.source == still.source == "Common practice, no source"


def test_what_is_owed_is_shown_by_age() -> None:
    (owed,) = workings_money.of_owed(11550, [("not yet due", 1050), ("31 to 60 days", 10500)], "$")
    assert (owed.value, owed.inputs) == ("$115.50", (("not yet due", "$10.50"), ("31 to 60 days", "$105.00")))


def test_what_is_due_of_a_job_takes_its_bills_together() -> None:
    bills = [Bill(7350, 350, 3000, TODAY), Bill(1000, 0, 500, TODAY)]
    (due,) = workings_money.of_job(4500, bills, "$")
    assert due.value == "$45.00"
    assert due.inputs == (("total", "$83.50"), ("credit notes", "−$3.50"), ("paid", "−$35.00"))


def test_days_on_the_shelf_say_how_they_are_counted() -> None:
    (days,) = workings_money.of_waiting((14, 30))
    assert days.limits == "calendar days in the shop's zone"
    assert days.source == "Common practice, no source"
    assert days.inputs == (("14 days and more", "from day 14 on"), ("30 days and more", "from day 30 on"))
