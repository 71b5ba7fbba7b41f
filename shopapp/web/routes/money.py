"""The money page: what to bill, what is in draft, who owes what since when, whose money is held, what was sold."""

from typing import Any

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.office import handover, ledger, mail, quotes, takings, workings_money
from shopapp.web import posting
from shopapp.web.desk import At, Desk

router = APIRouter()
A_PAGE = 50


@router.get("/money", name="money.page")
def page(desk: At, before: int | None = None) -> Response:
    """The whole money side on one sheet; `before` turns the bills' page by their number."""
    bills = ledger.newest(desk.db, before_no=before, most=A_PAGE + 1)
    owing = ledger.owing(desk.db, now=desk.now)
    return desk.page(
        "money/page.html", sheet="Money", here="money", before=before, bills=bills[:A_PAGE],
        older=bills[A_PAGE - 1].no if len(bills) > A_PAGE else None,
        states={bill.no: bill.state(desk.today) for bill in bills},
        to_bill=[*ledger.to_bill(desk.db), *ledger.called_off_to_bill(desk.db)],
        drafts=quotes.drafts(desk.db), owing=owing, ages=ledger.AGES,
        sums=[sum(column) for column in zip(*(row.ages for row in owing), strict=True)],
        owed=sum(row.total for row in owing), sheets=workings_money.of_ages(ledger.AGES),
        **({} if before else _till(desk)),
    )  # fmt: skip


def _till(desk: Desk) -> dict[str, Any]:
    """What was sold and came in, whose money is held, and what waits for a call or in the mail."""
    held, today = takings.held(desk.db), desk.today
    spans = [("this month", today.replace(day=1)), ("this year", today.replace(month=1, day=1))]
    return {
        "held": held,
        "deposits_cents": sum(one.left_cents for one in held if not one.is_credit),
        "credit_cents": sum(one.left_cents for one in held if one.is_credit),
        "sales": [(words, takings.sales(desk.db, since=since, until=today)) for words, since in spans],
        "waiting": handover.uncollected(desk.db, now=desk.now),
        "mail_set": posting.is_set(desk),
        "stuck": len(mail.stuck(desk.db)),
    }
