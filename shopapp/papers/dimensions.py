"""Dimension lines that keep out of each other's way: the shorter nearer to the metal, each on its own level.

Diameters stand beside the half-section with one arrow head, their line running past the centre line, as is the
drawing practice for half views; sizes from before the cuts stand in brackets (ISO 129-1, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from textwrap import wrap

from shapely import LineString

from shopapp.office.sheets.section import KeepOutMark, SizeMark
from shopapp.papers.board import SIZE, Board, Box, Point, Words, wide

FIRST = 12.0
LEVEL = 24.0
HEAD = 9.0
PAST = 6.0
LONGEST_LINE = 44


def dimension(board: Board, sizes: tuple[SizeMark, ...], keep_outs: tuple[KeepOutMark, ...]) -> None:
    """Draw all dimensions and keep-out lines around the metal on the board."""
    marks = list(dict.fromkeys(sizes))
    upright = [_upright(board, mark) for mark in marks if mark.what == "diameter" or mark.a[0] == mark.b[0]]
    for side in (-1, 1):
        _stand(board, sorted((u for u in upright if u.side == side), key=lambda u: u.low - u.high), side)
    flat = [_flat(board, mark) for mark in marks if mark.what == "length" and mark.a[0] != mark.b[0]]
    for below in (True, False):
        _lie(board, sorted((f for f in flat if f.below is below), key=lambda f: f.end[0] - f.start[0]), below)
    _keep(board, keep_outs)


@dataclass(frozen=True)
class _Upright:
    text: str
    pen: str
    foot: Point
    top: Point
    side: int
    both: bool

    @property
    def high(self) -> float:
        return self.top[1]

    @property
    def low(self) -> float:
        return self.foot[1]


def _upright(board: Board, mark: SizeMark) -> _Upright:
    a, b = board.at(mark.a), board.at(mark.b)
    if mark.what == "length":
        top, foot = (a, b) if a[1] < b[1] else (b, a)
        return _Upright(_text(mark), _pen(mark), foot, top, _side(board, top, top), True)
    same_edge = (a, b) if abs(a[1] - b[1]) < 0.01 else (a, a)
    side = _side(board, *same_edge)
    top = max(same_edge) if side > 0 else min(same_edge)
    return _Upright(_text(mark), _pen(mark), (top[0], 0.0), top, side, False)


def _side(board: Board, a: Point, b: Point) -> int:
    """Where the helping line crosses less metal: 1 on the right, -1 on the left."""
    left, _, right, _ = board.metal.bounds
    to_right = _crossed(board, max(a, b), (right + 1, a[1]))
    to_left = _crossed(board, min(a, b), (left - 1, a[1]))
    return 1 if to_right <= to_left else -1


def _crossed(board: Board, start: Point, end: Point) -> float:
    # A line along a face only touches it; the metal is drawn in a little so that touching counts for nothing.
    return float(board.metal.buffer(-0.05).intersection(LineString([start, end])).length)


def _stand(board: Board, marks: list[_Upright], side: int) -> None:
    left, _, right, _ = board.metal.bounds
    x = right + FIRST + SIZE if side > 0 else left - FIRST
    for mark in marks:
        board.line("dim", (mark.top[0] + side * 2, mark.high), (x + side * PAST, mark.high))
        room = mark.low - mark.high
        foot = mark.low if mark.both else mark.low + PAST
        middle = mark.high + room / 2
        if wide(mark.text) > room - 2 * HEAD:
            middle = mark.low + HEAD + 4 + wide(mark.text) / 2  # past the lower end, clear of the centre line
            foot = max(foot, middle + wide(mark.text) / 2)
        if mark.both:
            board.line("dim", (mark.foot[0] + side * 2, mark.low), (x + side * PAST, mark.low))
            board.arrow((x, mark.low), (0, 1))
        board.line("dim", (x, mark.high), (x, foot), blocks=True)
        board.arrow((x, mark.high), (0, -1))
        board.say(Words(mark.text, (x - SIZE * 0.7, middle), mark.pen, turned=True))
        x += side * LEVEL


@dataclass(frozen=True)
class _Flat:
    text: str
    pen: str
    start: Point
    end: Point
    below: bool


def _flat(board: Board, mark: SizeMark) -> _Flat:
    """Above or below, where its helping lines cross less metal, and among equals where they are shorter."""
    start, end = sorted((board.at(mark.a), board.at(mark.b)))
    top = board.metal.bounds[1]
    down = sum(_crossed(board, point, (point[0], 1.0)) - 0.01 * point[1] for point in (start, end))
    up = sum(_crossed(board, point, (point[0], top - 1)) + 0.01 * (point[1] - top) for point in (start, end))
    return _Flat(_text(mark), _pen(mark), start, end, down <= up)


def _lie(board: Board, marks: list[_Flat], below: bool) -> None:
    step = LEVEL if below else -LEVEL
    base = FIRST + SIZE + 6 if below else board.metal.bounds[1] - FIRST
    away = PAST if below else -PAST
    posts: list[_Post] = []
    for place, mark in enumerate(marks):
        later = [(x, inf) for other in marks[place + 1 :] for x in (other.start[0], other.end[0])]
        turn, words = _level(board, mark, base, step, [*posts, *later])
        level = base + step * turn
        for x, y in (mark.start, mark.end):
            board.line("dim", (x, y + away / 3), (x, level + away))
            posts.append((x, turn))
        _arrows(board, mark, level)
        board.taken.append(Box(mark.start[0], level - 3, mark.end[0], level + 3))
        board.say(words)


_Post = tuple[float, float]
"""A helping line: its x and how many levels out it reaches."""


def _level(board: Board, mark: _Flat, base: float, step: float, posts: list[_Post]) -> tuple[int, Words]:
    """The nearest level on which the line and its words are free; helping lines may be crossed as a last resort."""
    for strict, turn in [(True, turn) for turn in range(5)] + [(False, turn) for turn in range(40)]:
        level = base + step * turn
        line = Box(mark.start[0], level - 3, mark.end[0], level + 3)
        for words in _beside(mark, level, step):
            through = any(words.box.left - 2 < x < words.box.right + 2 and reach >= turn for x, reach in posts)
            if board.free(line) and board.free(words.box) and not (strict and through):
                return turn, words
    return turn, words


def _beside(mark: _Flat, level: float, step: float) -> list[Words]:
    half = wide(mark.text) / 2
    left, right = mark.start[0], mark.end[0]
    middle = (left + right) / 2
    beyond = level + (1 if step > 0 else -1) * (PAST + SIZE * 0.6)
    places = [(middle, beyond), (right + HEAD + 6 + half, level), (left - HEAD - 6 - half, level)]
    if half * 2 < right - left - 4:
        places.insert(0, (middle, level - SIZE * 0.7))
    return [Words(mark.text, place, mark.pen) for place in places]


def _arrows(board: Board, mark: _Flat, level: float) -> None:
    left, right = mark.start[0], mark.end[0]
    inside = right - left > 2.5 * HEAD
    reach = 0.0 if inside else HEAD + 4
    board.line("dim", (left - reach, level), (right + reach, level))
    board.arrow((left, level), (-1, 0) if inside else (1, 0))
    board.arrow((right, level), (1, 0) if inside else (-1, 0))


def _keep(board: Board, marks: tuple[KeepOutMark, ...]) -> None:
    ceiling = min([board.metal.bounds[1] - 4] + [box.top for box in board.taken]) - SIZE
    by_label: dict[tuple[str, bool], list[float]] = {}
    for mark in marks:
        x, top = board.at((mark.z, (mark.outer or 0) / 2))
        top = top if mark.outer is not None else board.metal.bounds[1]
        foot = board.at((mark.z, mark.inner / 2))[1] if mark.inner is not None else board.metal.bounds[3]
        pen = "keep" if mark.ok else "keep-bad"
        board.line(pen, (x, min(foot + HEAD, 0.0)), (x, min(top - HEAD, ceiling + SIZE * 0.7)))
        text = " · ".join(part for part in (mark.name, mark.left_text) if part)
        by_label.setdefault((text, mark.ok), []).append(x)
    for (text, ok), xs in by_label.items():
        _label(board, text, sum(xs) / len(xs), ceiling, "keep" if ok else "keep-bad")


def _label(board: Board, text: str, x: float, ceiling: float, pen: str) -> None:
    lines = wrap(text, LONGEST_LINE, max_lines=3, placeholder=" …") or [""]
    for turn in range(40):
        foot = ceiling - turn * (SIZE + 6)
        words = [Words(line, (x, foot - (len(lines) - 1 - row) * (SIZE + 3)), pen) for row, line in enumerate(lines)]
        if all(board.free(word.box) for word in words):
            break
    for word in words:
        board.say(word)


def _text(mark: SizeMark) -> str:
    text = mark.text.strip()
    if mark.what == "diameter" and not text.startswith(("Ø", "⌀")):
        text = f"Ø {text}"
    return f"({text})" if mark.before else text


def _pen(mark: SizeMark) -> str:
    return "before" if mark.before else "size"
