"""Who stands at the counter: initials chosen once in this browser, people added."""

from __future__ import annotations

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.office import people
from shopapp.office.database import Session
from shopapp.web.desk import WHO, At, Desk, Sent
from shopapp.web.forms import Form

A_YEAR = 365 * 24 * 3600
router = APIRouter()


@router.get("/who", name="people.page")
def page(desk: At) -> Response:
    """The initials to choose from."""
    return _page(desk, Form(typed={"to": desk.back(desk.url("rail.page"))}))


@router.post("/who", name="people.choose")
def choose(desk: At, form: Sent) -> Response:
    """Keep the initials in this browser."""
    hand = people.by_initials(desk.db, form["initials"])
    if hand is None:
        form.problems["who"] = "Nobody here has those initials. Choose one of these, or add a person."
        return _page(desk, form, 422)
    to = form["to"]
    answer = desk.lead_on(to if to.startswith("/") and not to.startswith(("//", "/\\")) else desk.url("rail.page"))
    answer.set_cookie(WHO, hand.initials, max_age=A_YEAR, samesite="lax", httponly=True)
    return answer


@router.post("/who/new", name="people.add")
def add(desk: At, form: Sent) -> Response:
    """One more person."""

    def act(db: Session, by: int) -> str:
        people.add(db, initials=form["initials"], name=form["person"], now=desk.now, by=by)
        return desk.url("people.page")

    return desk.submit(form, act, lambda: _page(desk, form))


def _page(desk: Desk, form: Form, status: int = 200) -> Response:
    return desk.page(
        "people/page.html", sheet="Who", here="who", status=status, form=form, who=desk.who,
        everyone=people.everyone(desk.db),
    )  # fmt: skip
