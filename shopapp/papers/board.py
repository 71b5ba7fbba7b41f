"""The drawing board: strokes, arrows and words collected in one frame, and the room that they take.

Frame: x to the right along the axis, y down, the centre line at y = 0, one unit as in the SVG.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass, field

from shapely.geometry.base import BaseGeometry

SIZE = 13.0
"""Height of letters."""
ADVANCE = 0.6021
"""Width of a monospaced letter by its height (DejaVu Sans Mono: 1233 of 2048)."""

Point = tuple[float, float]


@dataclass(frozen=True)
class Box:
    """A rectangle on the board."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box, gap: float = 2.0) -> bool:
        """Whether the two overlap or come nearer than the gap."""
        return (
            self.left < other.right + gap
            and other.left < self.right + gap
            and self.top < other.bottom + gap
            and other.top < self.bottom + gap
        )


@dataclass(frozen=True)
class Stroke:
    """An open line drawn with a pen."""

    pen: str
    points: tuple[Point, ...]


@dataclass(frozen=True)
class Arrow:
    """An arrow head: its tip and the way that it points."""

    tip: Point
    way: Point


@dataclass(frozen=True)
class Words:
    """Text around a middle point; turned words read upward."""

    text: str
    middle: Point
    pen: str
    turned: bool = False

    @property
    def box(self) -> Box:
        """The room of the letters."""
        long, high = wide(self.text) / 2, SIZE * 0.55
        across, down = (high, long) if self.turned else (long, high)
        x, y = self.middle
        return Box(x - across, y - down, x + across, y + down)


@dataclass
class Board:
    """What is drawn so far around the metal (in the frame); `taken` is where no further words may lie."""

    metal: BaseGeometry
    scale: float
    start: float
    strokes: list[Stroke] = field(default_factory=list)
    arrows: list[Arrow] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)
    taken: list[Box] = field(default_factory=list)

    def at(self, point: Point) -> Point:
        """The place of a (z, r) point [mm] in the frame."""
        return (point[0] - self.start) * self.scale, -point[1] * self.scale

    def line(self, pen: str, *points: Point, blocks: bool = False) -> None:
        """Draw a line; one that blocks keeps words away."""
        self.strokes.append(Stroke(pen, points))
        if blocks:
            self.taken.append(_around(points))

    def arrow(self, tip: Point, way: Point) -> None:
        """Draw an arrow head."""
        self.arrows.append(Arrow(tip, way))

    def say(self, words: Words) -> None:
        """Write words and keep others away from them."""
        self.words.append(words)
        self.taken.append(words.box)

    def free(self, box: Box) -> bool:
        """Whether words may lie here."""
        return not any(box.meets(other) for other in self.taken)

    def bounds(self) -> Box:
        """The room of everything, metal and centre line included."""
        boxes = [_around(stroke.points) for stroke in self.strokes] + [words.box for words in self.words]
        if not self.metal.is_empty:
            boxes.append(Box(*self.metal.bounds))
        boxes = boxes or [Box(0, 0, 0, 0)]
        return Box(
            min(box.left for box in boxes),
            min(box.top for box in boxes),
            max(box.right for box in boxes),
            max(box.bottom for box in boxes),
        )


def wide(text: str) -> float:
    """Width of monospaced text; letters of double width count twice."""
    letters = sum(2 if unicodedata.east_asian_width(letter) in "WF" else 1 for letter in text)
    return letters * SIZE * ADVANCE


def _around(points: tuple[Point, ...]) -> Box:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Box(min(xs), min(ys), max(xs), max(ys))
