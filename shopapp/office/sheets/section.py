"""The half-section of a piece, in millimetres: what stays, what comes off, what must not be touched."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Literal

Loop = tuple[tuple[float, float], ...]
"""A closed line as (z, r) points [mm]: z along the axis from the back face, r from the centre line."""


@dataclass(frozen=True)
class Patch:
    """One area of the half-section: its outer line and the lines of its holes."""

    outer: Loop
    holes: tuple[Loop, ...] = ()


@dataclass(frozen=True)
class KeepOutMark:
    """A line that no tool may cross, at z [mm], between two diameters [mm] (None: as far as the metal goes)."""

    name: str
    z: float
    inner: float | None
    outer: float | None
    left_text: str
    ok: bool = True


@dataclass(frozen=True)
class SizeMark:
    """One dimension. A diameter is measured from the centre line to a (and b, another point of that edge);
    a length from a to b, along z, or along r where both have the same z. `before`: the size before the cuts."""

    what: Literal["diameter", "length"]
    a: tuple[float, float]
    b: tuple[float, float]
    text: str
    before: bool = False


@dataclass(frozen=True)
class SectionSheet:
    """Everything that the drawing shows; `unit` is the shop's word for lengths on it (in, mm)."""

    title: str
    unit: str
    stays: tuple[Patch, ...]
    removed: tuple[Patch, ...] = ()
    voids: tuple[Loop, ...] = ()
    keep_outs: tuple[KeepOutMark, ...] = ()
    sizes: tuple[SizeMark, ...] = ()
    note: str = ""

    kind: ClassVar[str] = "section"
