"""The working behind money: the lines of a price or a bill, tax, what is due, how old a debt is, corrected minutes."""

from collections.abc import Iterable
from typing import Any

from shopapp.bench import money, pricing
from shopapp.office import workings
from shopapp.office.pricing import Priced
from shopapp.office.sheets.money import LineRow, Totals
from shopapp.office.sheets.working import WorkingSheet
from shopapp.office.tracks import Bill

NO_SOURCE = "Common practice, no source"


def of_price(told: Priced, sign: str) -> tuple[WorkingSheet, ...]:
    """Every figure of a price sheet: the minutes, the lines, the tax, the total."""
    minutes = (("minutes in all", f"{told.price.minutes} min"),)
    return (
        workings.of(
            pricing.price, figure="the price", value=money.show(told.price.net, sign),
            inputs=(*minutes, *_lines(told.rows)),
        ),
        workings.of(pricing.setting_minutes, figure="minutes of a setting"),
        *of_sums(told.rows, told.totals, sign),
    )  # fmt: skip


def of_sums(rows: Iterable[LineRow], totals: Totals, sign: str, exempt: str = "") -> tuple[WorkingSheet, ...]:
    """Lines, tax and total of a paper."""
    rounded = "once for the whole paper" if totals.tax_by == "document" else "on each line"
    taxed = (
        ("taxable", money.show(totals.taxable_cents, sign)), ("rate", f"{totals.tax_percent} %"), ("rounded", rounded),
        *((("no tax", exempt),) if exempt else ()),
    )  # fmt: skip
    sums = (("net", money.show(totals.net_cents, sign)), ("tax", money.show(totals.tax_cents, sign)))
    return (
        workings.of(money.line, figure="each line", inputs=_lines(rows)),
        workings.of(money.tax, figure="tax", value=money.show(totals.tax_cents, sign), inputs=taxed),
        _plain("total", money.show(totals.total_cents, sign), "Net and tax together.", "net + tax", sums),
    )


def of_due(due_cents: int, total_cents: int, taken: Iterable[tuple[str, int]], sign: str) -> tuple[WorkingSheet, ...]:
    """What is still to pay of a bill, after what came in and what was taken back."""
    inputs = (("total", money.show(total_cents, sign)), *((words, f"−{money.show(c, sign)}") for words, c in taken))
    formula = "total − deposits − payments − credit notes − what was written off"
    return (_plain("to pay", money.show(due_cents, sign), "What of a bill is not paid yet.", formula, inputs),)


def of_ages(ages: Iterable[str], day: str = "today") -> tuple[WorkingSheet, ...]:
    """How old a debt is on a day, and how the columns are added."""
    inputs = (("columns", ", ".join(ages)),)
    return (
        _plain(
            "days past due", "", f"Calendar days from the day a bill is due to {day}, on the shop's own wall.",
            f"{day} − due; up to 0: not yet due; then by thirties, over 90 together", inputs,
        ),
        _plain(
            "still due", "", "What of a bill is not paid yet; void bills owe nothing.",
            "total − deposits − payments − credit notes − what was written off", (),
        ),
    )  # fmt: skip


def of_owed(owed_cents: int, ages: Iterable[tuple[str, int]], sign: str) -> tuple[WorkingSheet, ...]:
    """What somebody owes in all, from what is still due at each age."""
    inputs = ((age, money.show(cents, sign)) for age, cents in ages)
    words = "What is still due of all their bills, whatever its age; money of theirs that no bill has used is no part."
    return (_plain("owes", money.show(owed_cents, sign), words, "still due at each age, added", inputs),)


def of_job(due_cents: int, bills: Iterable[Bill], sign: str) -> tuple[WorkingSheet, ...]:
    """What is still to pay of all the bills of a job that are not void."""
    told = tuple(bills)
    off = ("credit notes", "credited"), ("paid", "paid"), ("written off", "written_off")
    sums = ((words, sum(getattr(bill, name) for bill in told)) for words, name in off)
    return of_due(due_cents, sum(bill.total for bill in told), [one for one in sums if one[1]], sign)


def of_quoted(revision: str, total_cents: int, net_cents: int, sign: str) -> tuple[WorkingSheet, ...]:
    """What is due where nothing is billed yet: the total of the quote that was agreed to."""
    inputs = (("net", money.show(net_cents, sign)), ("tax", money.show(total_cents - net_cents, sign)))
    words = "Nothing is billed yet: the total of the quote that was agreed to."
    return (_plain(f"by quote {revision}", money.show(total_cents, sign), words, "net + tax", inputs),)


def of_waiting(bands: Iterable[int]) -> tuple[WorkingSheet, ...]:
    """How long finished pieces wait on the pick-up shelf, and from which day on they come into the next list."""
    lists = tuple((f"{days} days and more", f"from day {days} on") for days in bands)
    return (
        WorkingSheet(
            "days waiting", "", "Calendar days since the first of a job's pieces that are still there was put there.",
            "today − the day it came to the shelf", lists, "calendar days in the shop's zone", NO_SOURCE,
        ),
    )  # fmt: skip


def _lines(rows: Iterable[LineRow]) -> tuple[tuple[str, str], ...]:
    return tuple((row.text, f"{row.quantity} × {row.unit_price} = {row.amount}") for row in rows)


def _plain(figure: str, value: str, sentence: str, formula: str, inputs: Iterable[Any]) -> WorkingSheet:
    return WorkingSheet(figure, value, sentence, formula, tuple(inputs), "whole cents", NO_SOURCE)
