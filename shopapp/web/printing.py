"""A paper on its way to the browser: pressed once, kept under the sheet's hash, the same bytes ever after."""

from __future__ import annotations

import re
from collections.abc import Callable
from urllib.parse import quote

from fastapi.responses import Response

from shopapp.office import papers
from shopapp.papers.press import PressFailed
from shopapp.web.desk import Desk

POLICY = "default-src 'none'; style-src 'unsafe-inline'; object-src 'self'; frame-ancestors 'none'"
"""What a browser's own viewer of PDF needs; a paper runs nothing."""


def printed(desk: Desk, name: str, whom: str, digest: str, press: Callable[[], bytes]) -> Response:
    """The paper, shown in the browser; the browser may keep it and only asks whether it is still the same."""
    mark = f'"{digest}"'
    if mark in desk.request.headers.get("if-none-match", ""):
        return Response(status_code=304, headers={"ETag": mark})
    try:
        made = _bytes(desk, digest, press)
    except PressFailed as failed:
        return _not_pressed(desk, name, failed)
    headers = {
        "ETag": mark, "Cache-Control": "private, no-cache", "Content-Security-Policy": POLICY,
        "Content-Disposition": _named(f"{name}, {whom}"),
    }  # fmt: skip
    return Response(made, media_type="application/pdf", headers=headers)


def _bytes(desk: Desk, digest: str, press: Callable[[], bytes]) -> bytes:
    """The bytes of the first pressing. Of two presses at once the one that is kept counts."""
    kept = papers.pressed(desk.db, digest)
    if kept is not None:
        return kept
    made = press()
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
