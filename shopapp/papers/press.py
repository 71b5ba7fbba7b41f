"""The press: HTML in, PDF out, in one child process.

A broken font set-up kills the process that typesets, and typesetting holds the interpreter; so it is done next
door. The child is started at the first pressing and kept. The same HTML gives the same bytes on one machine.
"""

from __future__ import annotations

import logging
import signal
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures import TimeoutError as TookTooLong
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from functools import cache, partial
from mimetypes import guess_type
from multiprocessing import get_context
from pathlib import Path
from threading import Lock
from typing import Any
from urllib.parse import unquote, urlsplit

from shopapp.papers.places import font_files, static_dir

LOOSE, TIGHT = '<body class="paper">', '<body class="paper paper--tight">'
"""A paper is set a little tighter where that saves a sheet, so that no last sheet carries a few lines alone."""
LONGEST = 120
"""Seconds after which a pressing is given up."""


class PressFailed(Exception):
    """The paper could not be made; the words say why."""


@dataclass(frozen=True)
class Inside:
    """A file that travels inside a paper for other programs: its name, its bytes, what it is, the day it is of."""

    name: str
    content: bytes
    words: str
    day: date


class _Press:
    """The one child and the lock around its coming and going."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._pool: ProcessPoolExecutor | None = None

    def run(self, work: Callable[[str], bytes], html: str) -> bytes:
        try:
            return self._once(work, html)
        except BrokenProcessPool:
            pass  # the child died, perhaps of another paper: a new one gets one chance
        try:
            return self._once(work, html)
        except BrokenProcessPool as broken:
            raise PressFailed("The press stopped twice on this paper. Are any fonts installed?") from broken

    def close(self) -> None:
        with self._lock:
            pool, self._pool = self._pool, None
        if pool is not None:
            pool.shutdown(wait=True, cancel_futures=True)

    def _once(self, work: Callable[[str], bytes], html: str) -> bytes:
        pool = self._ready()
        try:
            return pool.submit(work, html).result(timeout=LONGEST)
        except BrokenProcessPool:
            self._drop(pool)
            raise
        except TookTooLong as late:
            for child in list((getattr(pool, "_processes", None) or {}).values()):
                child.kill()
            self._drop(pool)
            raise PressFailed(f"The paper was not ready after {LONGEST} seconds.") from late

    def _ready(self) -> ProcessPoolExecutor:
        with self._lock:
            if self._pool is None:
                self._pool = ProcessPoolExecutor(1, mp_context=get_context("spawn"), initializer=_warm)
            return self._pool

    def _drop(self, pool: ProcessPoolExecutor) -> None:
        with self._lock:
            if self._pool is pool:
                self._pool = None
        pool.shutdown(wait=False, cancel_futures=True)


_the_press = _Press()


def press(html: str, inside: Inside | None = None) -> bytes:
    """The PDF of a whole HTML document (tagged, PDF/UA-1). It may use data: addresses, files of the static folder
    by relative address, and fonts; anything else raises PressFailed, as does a document that cannot be made. With a
    file inside it is written as PDF/A-3 instead (ISO 19005-3), the file associated with it as its data."""
    return _the_press.run(partial(_pressed, inside=inside) if inside else _pressed, html)


def close() -> None:
    """End the child; a later pressing starts a new one."""
    _the_press.close()


def _warm() -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent decides when the press stops
    logging.getLogger("weasyprint").setLevel(logging.CRITICAL)
    logging.getLogger("fontTools").setLevel(logging.CRITICAL)
    _pressed("<!doctype html><html lang=en><title>warm</title><p>warm</p>")


def _pressed(html: str, inside: Inside | None = None) -> bytes:
    from weasyprint import DEFAULT_OPTIONS
    from weasyprint.urls import FatalURLFetchingError

    kept: dict[str, Any] = {**DEFAULT_OPTIONS, "pdf_variant": "pdf/ua-1"}
    if inside:
        kept |= {"pdf_variant": "pdf/a-3b", "attachments": [_attached(inside)]}
    try:
        document = _laid(html, kept)
        if len(document.pages) > 1 and LOOSE in html:
            tight = _laid(html.replace(LOOSE, TIGHT, 1), kept)
            document = tight if len(tight.pages) < len(document.pages) else document
        made: bytes = document.write_pdf(finisher=_named_once if inside else None, **kept)
    except FatalURLFetchingError as refused:
        raise PressFailed(str(refused)) from None
    return made


def _laid(html: str, kept: dict[str, Any]) -> Any:
    from weasyprint import HTML

    return HTML(string=html, base_url=f"{static_dir().as_uri()}/", url_fetcher=_fetcher()).render(**kept)


def _attached(inside: Inside) -> Any:
    from weasyprint import Attachment

    day = datetime.combine(inside.day, time(), UTC)  # of the paper's day, so that the same sheet gives the same bytes
    return Attachment(
        string=inside.content, name=inside.name, description=inside.words, created=day, modified=day,
        relationship="Data",
    )  # fmt: skip


def _named_once(_document: Any, pdf: Any) -> None:
    """The typesetter names each associated file twice."""
    pdf.catalog["AF"][:] = dict.fromkeys(pdf.catalog["AF"])


@cache
def _fetcher() -> Any:
    from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

    class OwnFilesOnly(URLFetcher):  # type: ignore[misc]
        def fetch(self, url: str, headers: dict[str, str] | None = None) -> Any:
            if urlsplit(url).scheme == "data":
                return super().fetch(url, headers)
            file = own_file(url)
            if file is None:
                raise FatalURLFetchingError(f"A paper may not fetch {url[:200]}")
            kind = guess_type(file.name)[0] or "application/octet-stream"
            return URLFetcherResponse(url, file.read_bytes(), {"Content-Type": kind})

    return OwnFilesOnly(allowed_protocols=("data",))


def own_file(url: str) -> Path | None:
    """The file that an address means, if it lies in the static folder or is a known font; else None."""
    parts = urlsplit(url)
    if parts.scheme != "file" or parts.netloc not in ("", "localhost"):
        return None
    file = Path(unquote(parts.path)).resolve()
    if file.is_file() and file.is_relative_to(static_dir().resolve()):
        return file
    return font_files().get(file.name) if file.parent == (static_dir() / "fonts").resolve() else None
