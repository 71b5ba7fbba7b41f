"""Issued papers as PDF: pressed once, kept under the sheet's hash, the same bytes ever after."""

import re
from collections.abc import Callable
from typing import Any
from urllib.parse import quote

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.office import papers
from shopapp.office.errors import NotHere
from shopapp.papers.credit import credit_pdf
from shopapp.papers.invoice import invoice_pdf
from shopapp.papers.press import PressFailed
from shopapp.papers.quote import quote_pdf
from shopapp.papers.ready import ready_pdf
from shopapp.web.desk import At, Desk

router = APIRouter()
PRESSES: dict[str, tuple[str, Callable[[Any], bytes]]] = {
    "quote": ("Quote", quote_pdf),
    "ready": ("Ready", ready_pdf),
    "invoice": ("Invoice", invoice_pdf),
    "credit": ("Credit note", credit_pdf),
}
POLICY = "default-src 'none'; style-src 'unsafe-inline'; object-src 'self'; frame-ancestors 'none'"
"""What a browser's own viewer of PDF needs; a paper runs nothing."""


@router.get("/papers/{kind}/{number}.pdf", name="papers.pdf")
def pdf(desk: At, kind: str, number: str) -> Response:
    """The paper, shown in the browser; the browser may keep it and only asks whether it is still the same."""
    if kind not in PRESSES:
        raise NotHere("There is no paper of that kind: quote, ready, invoice and credit are printed.")
    sheet, digest = papers.sheet(desk.db, kind, number)
    mark = f'"{digest}"'
    if mark in desk.request.headers.get("if-none-match", ""):
        return Response(status_code=304, headers={"ETag": mark})
    name, press = PRESSES[kind]
    whom = sheet.party.name if hasattr(sheet, "party") else ""
    try:
        made = _bytes(desk, digest, press, sheet)
    except PressFailed as failed:
        return _not_pressed(desk, f"{name} {number}", failed)
    headers = {
        "ETag": mark, "Cache-Control": "private, no-cache", "Content-Security-Policy": POLICY,
        "Content-Disposition": _named(f"{name} {number}, {whom}"),
    }  # fmt: skip
    return Response(made, media_type="application/pdf", headers=headers)


def _bytes(desk: Desk, digest: str, press: Callable[[Any], bytes], sheet: Any) -> bytes:
    """The bytes of the first pressing. Of two presses at once the one that is kept counts."""
    kept = papers.pressed(desk.db, digest)
    if kept is not None:
        return kept
    made = press(sheet)
    with desk.database.writing() as db:
        papers.keep_pressed(db, digest, made, now=desk.now)
        return papers.pressed(db, digest) or made


def _not_pressed(desk: Desk, paper: str, failed: PressFailed) -> Response:
    words = (
        f"{paper} is issued and safe in the book, but its paper could not be made just now. {failed} "
        "Wait a minute and load this page again; if it stays so, restart the app."
    )
    return desk.page("errors/refused.html", sheet=paper, title="The paper was not made", words=words, status=503)


def _named(words: str) -> str:
    """Show it here, and save it under a name that says what it is."""
    safe = re.sub(r"[^\w\s,.-]", "", words).strip()[:80]
    plain = re.sub(r"[^ -~]", "_", safe)
    return f"inline; filename=\"{plain}.pdf\"; filename*=UTF-8''{quote(safe)}.pdf"
