"""A form: what was typed beside what wants mending, so that nothing typed is ever lost."""

from __future__ import annotations

import hashlib
import json
import secrets
import threading
from collections.abc import Callable, Container
from dataclasses import dataclass, field
from datetime import date, datetime, tzinfo
from fractions import Fraction
from typing import BinaryIO

from shopapp.bench import quantities
from shopapp.bench.errors import BenchError
from shopapp.bench.quantities import Quantity
from shopapp.bench.rounding import half_up
from shopapp.office import photos
from shopapp.office.errors import TryAgain
from shopapp.office.photos import Kept

LONGEST = 4000
MOST_BYTES = 26_000_000
"""No photo is read further than this; the office refuses a smaller one already."""
_AT_ONCE = threading.BoundedSemaphore(2)
"""How many photos are open at the same time; one of 60 million pixels fills a quarter of a gigabyte."""


@dataclass
class Form:
    """Typed text and photos by field name, problems by field name, and the key that makes a second sending harmless."""

    typed: dict[str, str] = field(default_factory=dict)
    lists: dict[str, list[str]] = field(default_factory=dict)
    files: dict[str, list[BinaryIO]] = field(default_factory=dict)
    problems: dict[str, str] = field(default_factory=dict)
    once: str = field(default_factory=lambda: secrets.token_urlsafe(12))
    stale: str = ""
    _kept: dict[str, list[Kept]] = field(default_factory=dict)
    _none: dict[str, str] = field(default_factory=dict)

    def __getitem__(self, name: str) -> str:
        """The typed text of a field, empty where nothing was typed."""
        return self.typed.get(name, "")

    @property
    def content(self) -> str:
        """A hash of what was typed and of the photos: sent again unchanged it is the same."""
        photos = {name: [_digest(one) for one in files] for name, files in self.files.items()}
        told = [self.typed, self.lists, photos] if photos else [self.typed, self.lists]
        typed = json.dumps(told, sort_keys=True, ensure_ascii=False).replace(r"\r\n", r"\n")
        return hashlib.sha256(typed.encode()).hexdigest()

    def anew(self) -> None:
        """The next sending of this form is another one: with a key of its own."""
        self.once = secrets.token_urlsafe(12)

    def all(self, name: str) -> list[str]:
        """Every value sent under one name, as ticks are."""
        return self.lists.get(name, [])

    def photos(self, name: str) -> list[Kept]:
        """The photos sent under one name, as `make_small` left them; refused beside their field where one is none."""
        if name in self._none:
            raise TryAgain({name: self._none[name]})
        return self._kept.get(name, [])

    def make_small(self) -> None:
        """Make every photo small; before a transaction begins, so that no other writer waits for it."""
        for name, files in self.files.items():
            try:
                self._kept[name] = [_small(one) for one in files]
            except TryAgain as refusal:
                self._none[name] = refusal.problems["photo"]

    def ticked(self, name: str) -> bool:
        """Whether a box was ticked."""
        return bool(self[name])

    def words(self, name: str, ask: str = "") -> str:
        """Text of a field; `ask` is the sentence where nothing was typed, none where that may be."""
        text = self[name].strip()
        if len(text) > LONGEST:
            self.problems[name] = f"That is longer than {LONGEST} letters. Shorten it."
        elif not text and ask:
            self.problems[name] = ask
        return text

    def day(self, name: str, ask: str = "") -> date | None:
        """A day as the browser's field sends it, or typed as 2026-03-31."""
        text = self.words(name, ask)
        if not text:
            return None
        try:
            return date.fromisoformat(text)
        except ValueError:
            self.problems[name] = "Write the day as year-month-day, such as 2026-03-31."
            return None

    def moment(self, name: str, zone: tzinfo) -> datetime | None:
        """A day and a time by the shop's own clock, as the browser's field sends them or typed as 2026-03-31 14:05."""
        text = self.words(name)
        if not text:
            return None
        try:
            return datetime.fromisoformat(text).replace(tzinfo=zone)
        except ValueError:
            self.problems[name] = "Write the day and the time, such as 2026-03-31 14:05."
            return None

    def whole(self, name: str, least: int = 0, most: int = 1_000_000, empty: int = 0) -> int:
        """A whole number between two limits."""
        if not self[name].strip():
            return empty
        try:
            value = quantities.whole(self[name])
        except BenchError as refusal:
            self.problems[name] = str(refusal)
            return empty
        if not least <= value <= most:
            self.problems[name] = f"A whole number from {least} to {most}, please."
        return value

    def minutes(self, name: str) -> int:
        """Minutes, typed as 45 or 1h 30."""
        return half_up(self._read(name, quantities.minutes))

    def cents(self, name: str, empty: int = 0) -> int:
        """Money in whole cents."""
        return int(self._read(name, quantities.money)) if self[name].strip() else empty

    def key(self, name: str, ask: str = "") -> int | None:
        """The row that a list or a choice names."""
        text = self[name].strip()
        if text.isdecimal() and len(text) < 12:
            return int(text)
        if ask:
            self.problems[name] = ask
        return None

    def one_of(self, name: str, codes: Container[str], ask: str) -> str:
        """One of several codes."""
        text = self[name].strip()
        if text not in codes:
            self.problems[name] = ask
        return text

    def check(self) -> None:
        """Stop here if anything wants mending."""
        if self.problems:
            raise TryAgain(self.problems)

    def take(self, refusal: TryAgain) -> None:
        """Put a verb's problems beside those that were found in reading, and beside every photo that is none."""
        self.problems = {**self.problems, **self._none, **refusal.problems}

    def _read(self, name: str, reader: Callable[[str], Quantity]) -> Fraction:
        try:
            return reader(self[name]).base
        except BenchError as refusal:
            self.problems[name] = str(refusal)
            return Fraction(0)


def _small(photo: BinaryIO) -> Kept:
    with _AT_ONCE:
        return photos.made_small(_bytes_of(photo))


def _bytes_of(photo: BinaryIO) -> bytes:
    photo.seek(0)
    return photo.read(MOST_BYTES)


def _digest(photo: BinaryIO) -> str:
    return hashlib.sha256(_bytes_of(photo)).hexdigest()
