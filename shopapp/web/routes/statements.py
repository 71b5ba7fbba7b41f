"""What a customer owes: the statement as of a day, by age, and the reminder of what is past due; page and paper."""

from datetime import date
from typing import Any

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.office import customers, ledger, mail, papers, statements, workings_money
from shopapp.office.database import Session
from shopapp.office.sheets.working import WorkingSheet
from shopapp.web import posting
from shopapp.web.desk import Asked, At, Desk, Sent
from shopapp.web.forms import Form

router = APIRouter()
NAMES = {"statement": "Statement", "reminder": "Reminder"}


@router.get("/customers/{customer_id}/statement", name="statements.page")
def page(desk: At, customer_id: int, asked: Asked) -> Response:
    """What is owed today, or as of the day that the address names."""
    day = asked.day("as_of")
    if day and day > desk.today:
        asked.problems["as_of"] = "That day is still to come. Choose today or a day before."
    return _page(desk, customer_id, asked, as_of=None if asked.problems else day)


@router.post("/customers/{customer_id}/statement", name="statements.issue")
def issue(desk: At, customer_id: int, form: Sent) -> Response:
    """Freeze the statement and show its paper; by mail too, where that is ticked."""

    def act(db: Session, by: int) -> str:
        day = form.day("as_of")
        form.check()
        number = statements.issue(db, customer_id=customer_id, as_of=day, now=desk.now, by=by)
        posting.with_it(db, desk, form, kind="statement", number=number, by=by)
        return _after(desk, form, customer_id, "statement", number)

    return desk.submit(form, act, lambda: _page(desk, customer_id, form))


@router.post("/customers/{customer_id}/reminder", name="statements.remind")
def remind(desk: At, customer_id: int, form: Sent) -> Response:
    """Freeze a reminder of what is past due and show its paper; by mail too, where that is ticked."""

    def act(db: Session, by: int) -> str:
        words = form.words("reminder_words")
        form.check()
        number = statements.remind(db, customer_id=customer_id, words=words, now=desk.now, by=by)
        posting.with_it(db, desk, form, kind="reminder", number=number, by=by)
        return _after(desk, form, customer_id, "reminder", number)

    return desk.submit(form, act, lambda: _page(desk, customer_id, Form(), reminder=form))


def _after(desk: Desk, form: Form, customer_id: int, kind: str, number: str) -> str:
    """Mailed, it is listed on the page; else its paper is what is wanted."""
    if form.ticked("by_mail"):
        return desk.url("statements.page", customer_id=customer_id)
    return desk.url("papers.pdf", kind=kind, number=number)


def _page(
    desk: Desk, customer_id: int, form: Form, *, as_of: date | None = None, reminder: Form | None = None
) -> Response:
    customer, day = customers.one(desk.db, customer_id), as_of or desk.today
    account = statements.account(desk.db, customer_id=customer_id, as_of=day)
    late_today = account.late if day == desk.today else _late_today(desk, customer_id)
    ages = list(zip(ledger.AGES, account.ages, strict=True))
    return desk.page(
        "statements/page.html", sheet="Statement", here="money", customer=customer, account=account, day=day,
        ages=ages, sheets=_workings(desk, account.total_cents, ages), late_today=late_today, form=form,
        reminder=reminder or Form(), names=NAMES, date_of=date.fromisoformat,
        printed=[one for one in papers.of_customer(desk.db, customer_id) if one.kind in NAMES],
        mailed=mail.of_customer(desk.db, customer_id),
        problems={**form.problems, **(reminder.problems if reminder else {})},
        **posting.offered(desk, customer_id),
    )  # fmt: skip


def _workings(desk: Desk, owed_cents: int, ages: list[tuple[str, int]]) -> tuple[WorkingSheet, ...]:
    """How the sum and its ages were found; nothing where nothing is owed."""
    if not owed_cents:
        return ()
    owed = workings_money.of_owed(owed_cents, ages, desk.shop.currency)
    return (*owed, *workings_money.of_ages(ledger.AGES, "the day of the statement"))


def _late_today(desk: Desk, customer_id: int) -> tuple[Any, ...]:
    return statements.account(desk.db, customer_id=customer_id, as_of=desk.today).late
