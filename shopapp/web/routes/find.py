"""The find box: a number leads straight there, a word lists what it finds."""

from __future__ import annotations

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from shopapp.office import search
from shopapp.web.desk import Asked, At

router = APIRouter()


@router.get("/find", name="find.page")
def page(desk: At, form: Asked) -> Response:
    """What the typed number or word finds."""
    text = form["q"].strip()[:100]
    number = search.by_number(desk.db, text)
    if number is not None:
        no, n = number
        to = desk.url("jobs.page", no=no) if n is None else desk.url("pieces.page", no=no, n=n)
        return RedirectResponse(to, status_code=303)
    found = search.find(desk.db, text)
    return desk.page("find/page.html", sheet="Find", text=text, found=found)


@router.get("/find/found", name="find.found")
def found(desk: At, form: Asked) -> Response:
    """What is found so far, while it is typed; a number waits for the return key, which leads there."""
    text = form["q"].strip()[:100]
    if not text:
        return Response(headers={"HX-Redirect": desk.url("rail.page")})
    return desk.fragment("find/page.html", "found", text=text, found=search.find(desk.db, text))
