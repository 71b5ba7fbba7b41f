"""The first screen: the rail with its tickets, and below it whom to call, what to bill, what lies behind."""

from fastapi import APIRouter
from starlette.responses import Response

from shopapp.office import again, parts, rail, workings_scale
from shopapp.web.desk import At
from shopapp.web.forms import Form

router = APIRouter()


@router.get("/", name="rail.page")
def page(desk: At) -> Response:
    """Every job that hangs, in order of promised day."""
    hangs = rail.rail(desk.db, now=desk.now)
    no_parts = not parts.parts(desk.db)
    sheets = workings_scale.of_stubs(hangs.offs)
    return desk.page(
        "rail/page.html", sheet="Rail", rail=hangs, no_parts=no_parts, sheets=sheets,
        recent=again.recent(desk.db), fresh=lambda: Form().once,
    )  # fmt: skip
