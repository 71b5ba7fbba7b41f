"""One table says which refusal answers with which code; all answer with a page that says what to do."""

import logging
import secrets

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response

from shopapp.bench.errors import BenchError
from shopapp.office.errors import InTheWay, NewShop, NotHere, TryAgain
from shopapp.web.render import page

TABLE: dict[type[Exception], tuple[int, str]] = {
    NotHere: (404, "Not in the book"),
    InTheWay: (409, "Something stands in the way"),
    TryAgain: (422, "That wants mending"),
    BenchError: (422, "That wants mending"),
    OverflowError: (404, "Not in the book"),
}

_log = logging.getLogger("shopapp")


def handle(app: FastAPI) -> None:
    """Let the app answer every refusal with a page."""
    for kind in TABLE:
        app.add_exception_handler(kind, _refused)
    app.add_exception_handler(NewShop, _new_shop)
    app.add_exception_handler(HTTPException, _no_page)
    app.add_exception_handler(RequestValidationError, _odd_address)
    app.add_exception_handler(Exception, _broken)


def _new_shop(request: Request, _refusal: Exception) -> Response:
    return RedirectResponse(request.app.url_path_for("shopbook.first"), status_code=303)


def _refused(request: Request, refusal: Exception) -> Response:
    status, title = next(answer for kind, answer in TABLE.items() if isinstance(refusal, kind))
    words = "No number in the book is that long." if isinstance(refusal, OverflowError) else str(refusal)
    return page(request, "errors/refused.html", status=status, title=title, words=words)


def _no_page(request: Request, refusal: Exception) -> Response:
    status = getattr(refusal, "status_code", 404)
    words = "There is no page at that address. The rail has every job." if status == 404 else str(refusal)
    return page(request, "errors/refused.html", status=status, title="No such page", words=words)


def _odd_address(request: Request, _refusal: Exception) -> Response:
    words = "There is no page at that address. The rail has every job."
    return page(request, "errors/refused.html", status=404, title="No such page", words=words)


def _broken(request: Request, fault: Exception) -> Response:
    reference = secrets.token_hex(4)
    _log.error("fault %s at %s", reference, request.url.path, exc_info=fault)
    return page(request, "errors/broken.html", status=500, reference=reference)
