"""What every answer carries and every posting must show: pure ASGI, so that it costs next to nothing."""

from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

CONTENT = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; "
    "font-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'"
)
_HEADERS = {
    "content-security-policy": CONTENT,
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
}


class Doorkeeper:
    """Refuses what another site posts, and puts the headers on every answer."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let one request through, or not."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in _HEADERS.items():
                    headers.setdefault(name, value)
            await send(message)

        if scope["method"] not in ("GET", "HEAD") and not _from_here(Headers(scope=scope)):
            refusal = PlainTextResponse("This was sent from another site, so it was not taken in.", status_code=403)
            await refusal(scope, receive, with_headers)
            return
        await self.app(scope, receive, with_headers)


def _from_here(headers: Headers) -> bool:
    """Whether a posting comes from a page of ours: its origin is the host it is sent to.

    On plain-http names of a shop's own network browsers send no Sec-Fetch-Site, only Origin.
    """
    origin = headers.get("origin")
    if origin is None:
        return headers.get("sec-fetch-site", "same-origin") in ("same-origin", "none")
    return urlsplit(origin).netloc == headers.get("host", "")
