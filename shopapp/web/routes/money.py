"""The money page: what to bill, what is in draft, who owes what since when, the newest bills."""

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.office import ledger, quotes, workings_money
from shopapp.web.desk import At

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
        to_bill=ledger.to_bill(desk.db), drafts=quotes.drafts(desk.db), owing=owing, ages=ledger.AGES,
        sums=[sum(column) for column in zip(*(row.ages for row in owing), strict=True)],
        owed=sum(row.total for row in owing), sheets=workings_money.of_ages(ledger.AGES),
    )  # fmt: skip
