"""What a set of cuts takes off one piece: per cut, per side, before and after, and what is left of walls."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar


@dataclass(frozen=True)
class TakeRow:
    """One cut: side, words ("turn"), sizes as typed, what it takes [g] and the same as text."""

    side: str
    words: str
    sizes_as_typed: str
    grams: float
    text: str


@dataclass(frozen=True)
class RemovalSheet:
    """Removal of one piece [g] with its spread, and the same for the set of alike pieces.

    `about` is the rounded figure with its unit ("8.5 lb"), `range_text` the spread ("8.0 to 8.9"); `sides`
    are pairs of side and text. `working` shows each formula, its inputs as typed and its source. Texts that
    do not apply are empty.
    """

    rows: tuple[TakeRow, ...]
    sides: tuple[tuple[str, str], ...]
    grams: float
    low_g: float
    high_g: float
    about: str
    range_text: str
    before_text: str = ""
    after_text: str = ""
    inertia_text: str = ""
    web_text: str = ""
    wall_text: str = ""
    clearances: tuple[str, ...] = ()
    refusals: tuple[str, ...] = ()
    hints: tuple[str, ...] = ()
    working: tuple[str, ...] = ()
    material_text: str = ""
    pieces: int = 1
    set_text: str = ""

    kind: ClassVar[str] = "removal"

    @property
    def sure_g(self) -> float:
        """U of the prediction [g]: from the upper end, as the lower one is never under nothing."""
        return self.high_g - self.grams
