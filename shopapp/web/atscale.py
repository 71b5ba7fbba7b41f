"""At the scale: which one a browser used last, so that the weigh strips offer it again."""

from collections.abc import Sequence

from starlette.responses import Response

from shopapp.office.shopbook import ScaleFacts
from shopapp.office.weighing import Shown
from shopapp.web.desk import Desk

SCALE = "scale"
"""The cookie that keeps which scale this browser used last."""
A_YEAR = 366 * 24 * 3600


def offered(desk: Desk, before: Shown | None, scales: Sequence[ScaleFacts]) -> str:
    """The scale it was weighed in on, else the one that this browser used last, else the only one."""
    if before:
        return str(before.scale_id)
    kept = desk.request.cookies.get(SCALE, "")
    known = [str(scale.id) for scale in scales]
    return kept if kept in known else known[0] if len(known) == 1 else ""


def remember(answer: Response, scale: str) -> Response:
    """Offer this scale the next time, where the form was taken in."""
    if answer.status_code == 303:
        answer.set_cookie(SCALE, scale, max_age=A_YEAR, samesite="lax", httponly=True)
    return answer
