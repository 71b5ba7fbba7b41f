"""Sendings by script: what the page tells of one that waited, and the answer that a script can read.

A script that sends a form must learn three things that a browser's own posting shows by going on: that this shop took
the form in, where it leads, or that it was refused. So a posting with `Shop-Sent` is never answered with a redirect but
with 204, and each of its answers carries `Shop-Leads-To` (empty for a refusal). An answer without it is not the shop's:
something else on the network spoke, and the sending goes on waiting. Pure ASGI, like the doorkeeper.
"""

from __future__ import annotations

from datetime import timedelta
from urllib.parse import unquote

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

SENT, WAITED, BY, LEADS_TO = "shop-sent", "shop-waited", "shop-by", "shop-leads-to"
AHEAD = "shop-ahead"
"""A page read ahead is not looked at yet: what is told once is not told to it."""
LONGEST = timedelta(days=30)
LATE = timedelta(minutes=1)
"""What waited longer than this is told as entered late."""
MAY_WAIT = frozenset(
    (
        "cutrun.done", "cutrun.start", "cutrun.stop", "cutrun.trouble", "finish.write", "handover.call",
        "intake.keep", "intake.look", "intake.worth", "jobs.spend", "photos.job", "photos.piece", "pieces.measure",
        "pieces.move", "pieces.take_in", "questions.stop", "together.write", "truing.keep", "weighing.write",
    )
)  # fmt: skip
"""The forms marked `later=`. Only what they send may have waited: everything else is of the hour at which it comes."""


class Sendings:
    """Turns the redirect after a form into an answer that a script can read, where a script has sent it."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let one request through."""
        if scope["type"] != "http" or scope["method"] != "POST" or SENT not in Headers(scope=scope):
            await self.app(scope, receive, send)
            return

        async def told(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                leads_to = headers.get("location", "") if message["status"] == 303 else ""
                headers[LEADS_TO] = leads_to
                if leads_to:
                    message["status"] = 204
                    del headers["location"], headers["content-length"]
            await send(message)

        await self.app(scope, receive, told)


def may_wait(scope: Scope) -> bool:
    """Whether what is sent to this route may have waited in a browser."""
    return getattr(scope.get("route"), "name", "") in MAY_WAIT


def waited(headers: Headers) -> timedelta:
    """How long ago the person pressed the button, by the browser's own clock; nothing where it does not say so."""
    seconds = headers.get(WAITED, "")
    if not (seconds.isdecimal() and len(seconds) < 10):
        return timedelta()
    return min(timedelta(seconds=int(seconds)), LONGEST)


def sent_by(headers: Headers) -> str:
    """The initials that stood in the title block when the button was pressed."""
    return unquote(headers.get(BY, ""))
