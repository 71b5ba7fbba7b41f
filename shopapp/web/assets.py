"""Style, script and type at addresses that change with their content, so that a browser may keep them for ever."""

from __future__ import annotations

import gzip
import hashlib
import mimetypes
import posixpath
import re
from dataclasses import dataclass, field
from importlib.util import find_spec
from pathlib import Path

from starlette.responses import Response
from starlette.types import Receive, Scope, Send

IMPORT = re.compile(r"""@import\s+url\(["']?(?P<path>[^"')]+)["']?\)(?:\s+layer\((?P<layer>[\w-]+)\))?\s*;""")
ADDRESS = re.compile(r"""url\(["']?(?P<path>[^"'):]+)["']?\)""")
TYPES = {".js": "text/javascript", ".css": "text/css", ".svg": "image/svg+xml", ".ttf": "font/ttf", ".otf": "font/otf"}
SQUEEZED = {"text/javascript", "text/css", "image/svg+xml", "font/ttf"}
FOR_EVER = "public, max-age=31536000, immutable"

_LABEL = "fontpkg_barlow_semi_condensed"
_FIGURE = "fontpkg_ibm_plex_mono"
VENDOR = {
    "vendor/htmx.js": ("django_htmx", "static/django_htmx/htmx-2.min.js"),
    "fonts/BarlowSemiCondensed-Medium.ttf": (_LABEL, "files/BarlowSemiCondensed-Medium.ttf"),
    "fonts/BarlowSemiCondensed-SemiBold.ttf": (_LABEL, "files/BarlowSemiCondensed-SemiBold.ttf"),
    "fonts/BarlowSemiCondensed-Bold.ttf": (_LABEL, "files/BarlowSemiCondensed-Bold.ttf"),
    "fonts/IBMPlexMono-Medium.ttf": (_FIGURE, "files/IBMPlexMono-Medium.ttf"),
    "fonts/IBMPlexMono-Bold.ttf": (_FIGURE, "files/IBMPlexMono-Bold.ttf"),
}
CREDITS = (
    ("Barlow Semi Condensed", "© 2017 The Barlow Project Authors", "SIL Open Font License 1.1"),
    ("Plex Mono", "© 2017 IBM Corp.", "SIL Open Font License 1.1"),
    ("htmx", "© Big Sky Software", "Zero-Clause BSD"),
)


@dataclass(frozen=True)
class Asset:
    """One file as it is sent."""

    name: str
    body: bytes
    kind: str
    mark: str = field(default="")
    squeezed: bytes = field(default=b"", repr=False)


def packaged(package: str, path: str) -> Path:
    """Find a file inside an installed package without importing the package."""
    spec = find_spec(package)
    places = list(spec.submodule_search_locations or ()) if spec else []
    for place in places:
        found = Path(place) / path
        if found.is_file():
            return found
    raise FileNotFoundError(f"{path} is not in the package {package}. Install the packages of the lock file again.")


class Assets:
    """All files under the static folder and the vendor files, read once, each at `/static/<hash>/<name>`.

    Mount it: `app.mount("/static", assets)`.
    """

    def __init__(self, folder: Path, prefix: str = "/static") -> None:
        self.folder = folder
        self.prefix = prefix
        self._held: dict[str, Asset] = {}
        for name in self._names():
            self._hold(name)

    def url(self, name: str) -> str:
        """Give the address of a file by its name: `css/app.css`."""
        return f"{self.prefix}/{self._hold(name).mark}/{name}"

    def _names(self) -> list[str]:
        own = [path.relative_to(self.folder).as_posix() for path in self.folder.rglob("*") if path.is_file()]
        return sorted(own) + sorted(VENDOR)

    def _path(self, name: str) -> Path:
        if name in VENDOR:
            return packaged(*VENDOR[name])
        path = self.folder / name
        if not path.is_file():
            raise FileNotFoundError(f"There is no static file {name}.")
        return path

    def _hold(self, name: str) -> Asset:
        if name not in self._held:
            kind = TYPES.get(posixpath.splitext(name)[1]) or mimetypes.guess_type(name)[0] or "application/octet-stream"
            body = self._sheet(name).encode() if kind == "text/css" else self._path(name).read_bytes()
            mark = hashlib.sha256(body).hexdigest()[:12]
            squeezed = gzip.compress(body, 6, mtime=0) if kind in SQUEEZED else b""
            self._held[name] = Asset(name, body, kind, mark, squeezed)
        return self._held[name]

    def _sheet(self, name: str) -> str:
        """Give a style sheet as one text: imports put in their layer, addresses of files made lasting."""
        text = self._path(name).read_text("utf-8")
        here = posixpath.dirname(name)

        def beside(path: str) -> str:
            return posixpath.normpath(posixpath.join(here, path))

        def put_in(found: re.Match[str]) -> str:
            inner, layer = self._sheet(beside(found["path"])), found["layer"]
            return f"@layer {layer} {{\n{inner}\n}}" if layer else inner

        def lasting(found: re.Match[str]) -> str:
            path = found["path"]
            return found[0] if path.startswith("/") else f'url("{self.url(beside(path))}")'

        parts: list[str] = []
        end = 0
        for found in IMPORT.finditer(text):
            parts += [ADDRESS.sub(lasting, text[end : found.start()]), put_in(found)]
            end = found.end()
        return "".join([*parts, ADDRESS.sub(lasting, text[end:])])

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request below the mount."""
        if scope["type"] == "http":
            await self._answer(scope)(scope, receive, send)

    def _answer(self, scope: Scope) -> Response:
        if scope["method"] not in ("GET", "HEAD"):
            return Response(status_code=405, headers={"Allow": "GET, HEAD"})
        path = scope["path"].removeprefix(scope.get("root_path", "")).removeprefix(self.prefix)
        mark, _, name = path.lstrip("/").partition("/")
        asset = self._held.get(name)
        if asset is None or asset.mark != mark:
            return Response("Nothing here.", status_code=404, media_type="text/plain")
        return self._send(asset, dict(scope["headers"]))

    def _send(self, asset: Asset, asked: dict[bytes, bytes]) -> Response:
        headers = {"Cache-Control": FOR_EVER, "ETag": f'"{asset.mark}"', "Vary": "Accept-Encoding"}
        if f'"{asset.mark}"'.encode() in asked.get(b"if-none-match", b""):
            return Response(status_code=304, headers=headers)
        body = asset.body
        if asset.squeezed and b"gzip" in asked.get(b"accept-encoding", b""):
            body, headers["Content-Encoding"] = asset.squeezed, "gzip"
        return Response(body, media_type=asset.kind, headers=headers)
