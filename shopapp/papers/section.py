"""The half-section as SVG: true to scale, for the page and for the paper.

Above the centre line, the axis to the right. Metal that stays is hatched, metal that comes off is hatched densely
both ways, keep-outs are long-dash-double-dot lines (ISO 128, from memory). No style attribute and no style element:
presentation attributes, and class names on the page, where a stylesheet may repaint each pen.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from html import escape

from shapely import Polygon, unary_union
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry
from shapely.validation import make_valid

from shopapp.office.sheets.section import Loop, Patch, SectionSheet
from shopapp.papers.board import SIZE, Board, Box, Words, wide
from shopapp.papers.dimensions import dimension
from shopapp.papers.fractions import glyphs
from shopapp.papers.hatch import hatch
from shopapp.papers.pens import Pens

STANDARD_SCALES = (10.0, 5.0, 2.0, 1.0, 1 / 2, 1 / 5, 1 / 10, 1 / 20, 1 / 50, 1 / 100)
"""Drawing scales of ISO 5455:1979 (from memory)."""
UNIT_MM = 0.22
"""On paper one unit of the drawing [mm]: letters are 2.9 mm high then, wide lines 0.4 mm."""
UNITS = {"in": "inches", "ft": "feet", "mm": "millimetres", "m": "metres"}
IN_MM = {"in": 25.4, "ft": 304.8, "m": 1000.0}
MARGIN = 8.0


def section_svg(sheet: SectionSheet, *, width: int = 640, theme_classes: bool = True) -> str:
    """The drawing for a page, as large as `width` allows; `theme_classes` adds the class names."""
    pens = Pens(theme_classes)
    left, right, top = _reach(sheet)
    scale = min((width - 40) / max(right - left, 1e-6), 0.72 * width / max(top, 1e-6))
    board = _board(sheet, scale)
    for _ in range(4):
        box = board.bounds()
        over = box.right - box.left + 2 * MARGIN - width
        metal = (right - left) * scale
        if over <= 0 or metal <= 60:
            break
        scale *= max(metal - over - 1, 60) / metal
        board = _board(sheet, scale)
    box = _framed(board.bounds(), width)
    return _svg(sheet, board, box, pens, f'width="{_n(box.right - box.left)}" height="{_n(box.bottom - box.top)}"')


def section_paper(sheet: SectionSheet, *, wide_mm: float = 110, high_mm: float = 110) -> tuple[str, str]:
    """The drawing for a paper at the largest standard scale that fits, and the words of that scale ("1 : 2")."""
    for ratio in STANDARD_SCALES:
        board = _board(sheet, ratio / UNIT_MM)
        box = _framed(board.bounds(), 0)
        across, down = (box.right - box.left) * UNIT_MM, (box.bottom - box.top) * UNIT_MM
        if across <= wide_mm and down <= high_mm:
            break
    size = f'width="{_n(across)}mm" height="{_n(down)}mm"'
    words = f"{_n(ratio)} : 1" if ratio > 1 else f"1 : {_n(1 / ratio)}"
    return _svg(sheet, board, box, Pens(False), size), words


def section_words(sheet: SectionSheet) -> str:
    """What the drawing shows, for those who do not see it."""
    parts = ["Half-section above the centre line, the axis to the right."]
    if sheet.removed:
        parts.append(f"Metal comes off in {len(sheet.removed)} place{'s' * (len(sheet.removed) > 1)}.")
    for name, before in (("Sizes", False), ("Sizes before the cuts", True)):
        texts = [_said(size.what, size.text) for size in sheet.sizes if size.before is before]
        if texts:
            parts.append(f"{name}: {', '.join(texts)}.")
    parts += [f"Keep out: {mark.name}, {mark.left_text}." for mark in sheet.keep_outs]
    return " ".join([*parts, *(f"{words[:1].upper()}{words[1:]}." for words in section_about(sheet))])


def section_about(sheet: SectionSheet) -> tuple[str, ...]:
    """What is written under the drawing: the unit of its sizes in words, and the note, once each."""
    unit = UNITS.get(sheet.unit, sheet.unit)
    note = sheet.note.removesuffix(f"; sizes in {sheet.unit}")  # so it stands on sheets frozen long ago
    return (f"sizes in {unit}", note) if note else (f"sizes in {unit}",)


def _said(what: str, text: str) -> str:
    return f"diameter {text.lstrip('Ø⌀ ')}" if what == "diameter" else f"length {text}"


def _reach(sheet: SectionSheet) -> tuple[float, float, float]:
    points = [point for patch in (*sheet.stays, *sheet.removed) for point in patch.outer] or [(0.0, 0.0), (40.0, 20.0)]
    return min(z for z, _ in points), max(z for z, _ in points), max(r for _, r in points)


def _board(sheet: SectionSheet, scale: float) -> Board:
    start, end, _ = _reach(sheet)
    metal = unary_union([*_areas(sheet.stays, scale, start), *_areas(sheet.removed, scale, start)])
    board = Board(metal, scale, start)
    reach = (end - start) * scale
    board.line("axis", (-18, 0), (reach + 18, 0))
    for x in (-14, reach + 14):  # the sign of symmetry: two short strokes across each end of the line
        board.line("symmetry", (x - 1.5, -4), (x - 1.5, 4))
        board.line("symmetry", (x + 1.5, -4), (x + 1.5, 4))
    if metal.is_empty:
        board.say(Words("no metal drawn yet", (reach / 2, -40), "size"))
        return board
    dimension(board, sheet.sizes, sheet.keep_outs)
    _scale_bar(board, sheet.unit)
    return board


def _areas(patches: Iterable[Patch], scale: float, start: float) -> list[BaseGeometry]:
    return [_placed(patch.outer, patch.holes, scale, start) for patch in patches]


def _placed(outer: Loop, holes: tuple[Loop, ...], scale: float, start: float) -> BaseGeometry:
    area = make_valid(Polygon(outer, holes))
    return affine_transform(area, (scale, 0, 0, -scale, -start * scale, 0))


def _scale_bar(board: Board, unit: str) -> None:
    size = IN_MM.get(unit, 1.0) * board.scale
    steps = [step * 10.0**power for power in range(-3, 4) for step in (1, 2, 5)]
    length = max([step for step in steps if step * size <= 110], default=steps[0])
    long, y = length * size, board.bounds().bottom + SIZE + 10
    left = board.metal.bounds[0]
    board.line("scale", (left, y - 4), (left, y), (left + long, y), (left + long, y - 4))
    text = f"{_n(length)} {unit if unit in IN_MM else 'mm'}"
    board.say(Words(text, (left + long + 8 + wide(text) / 2, y - 4), "size"))


def _framed(box: Box, width: float) -> Box:
    spare = max(0.0, (width - (box.right - box.left) - 2 * MARGIN) / 2)
    return Box(box.left - MARGIN - spare, box.top - MARGIN, box.right + MARGIN + spare, box.bottom + MARGIN)


def _svg(sheet: SectionSheet, board: Board, box: Box, pens: Pens, size: str) -> str:
    view = f"{_n(box.left)} {_n(box.top)} {_n(box.right - box.left)} {_n(box.bottom - box.top)}"
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view}" {size} role="img"{pens.name("section")}>',
        f"<title>{_clean(sheet.title)}</title><desc>{_clean(section_words(sheet))}</desc>",
        *_metal(sheet, board, pens),
        *(f'<path{pens.of(stroke.pen)} d="{_line(stroke.points)}"/>' for stroke in board.strokes),
        *(f'<path{pens.of("arrow")} d="{_head(arrow.tip, arrow.way)}"/>' for arrow in board.arrows),
        *(_text(words, pens) for words in board.words),
        "</svg>",
    ]
    return "".join(parts)


def _metal(sheet: SectionSheet, board: Board, pens: Pens) -> list[str]:
    stays = _areas(sheet.stays, board.scale, board.start)
    removed = _areas(sheet.removed, board.scale, board.start)
    voids = [_placed(loop, (), board.scale, board.start) for loop in sheet.voids]
    gaps = unary_union(voids)
    parts = [f'<path{pens.of("off")} d="{_outline(area)}"/>' for area in removed]
    parts += [_hatched(area.difference(gaps), 5, rising, pens, "off-hatch") for area in removed for rising in (1, 0)]
    parts += [f'<path{pens.of("metal")} d="{_outline(area)}"/>' for area in stays]
    parts += [_hatched(area.difference(gaps), 7, 1, pens, "hatch") for area in stays]
    return parts + [f'<path{pens.of("void")} d="{_outline(area)}"/>' for area in voids]


def _hatched(area: BaseGeometry, spacing: float, rising: int, pens: Pens, pen: str) -> str:
    # Relative strokes with equal steps both ways stay at 45 degrees however the numbers are rounded.
    sign = "-" if rising else ""
    strokes = (
        f"M{_n(start[0])} {_n(start[1])}l{_n(end[0] - start[0])} {sign}{_n(end[0] - start[0])}"
        for start, end in hatch(area, spacing, bool(rising))
    )
    return f'<path{pens.of(pen)} d="{"".join(strokes)}"/>'


def _outline(area: BaseGeometry) -> str:
    shapes = getattr(area, "geoms", (area,))
    rings = [
        ring
        for shape in shapes
        if isinstance(shape, Polygon) and not shape.is_empty
        for ring in (shape.exterior, *shape.interiors)
    ]
    return "".join(f"{_line(tuple(ring.coords)[:-1])}Z" for ring in rings)


def _line(points: Iterable[tuple[float, ...]]) -> str:
    return "M" + "L".join(f"{_n(point[0])} {_n(point[1])}" for point in points)


def _head(tip: tuple[float, float], way: tuple[float, float]) -> str:
    (x, y), (dx, dy) = tip, way
    return _line(((x, y), (x - 9 * dx + 2 * dy, y - 9 * dy + 2 * dx), (x - 9 * dx - 2 * dy, y - 9 * dy - 2 * dx))) + "Z"


def _text(words: Words, pens: Pens) -> str:
    x, y = words.middle
    turn = f' transform="rotate(-90 {_n(x)} {_n(y)})"' if words.turned else ""
    place = f'x="{_n(x)}" y="{_n(y + SIZE * 0.35)}" text-anchor="middle" font-size="{_n(SIZE)}"'
    said = words.text if pens.classes else glyphs(words.text)
    return f"<text{pens.of('text-' + words.pen)} {place}{turn}>{_clean(said)}</text>"


def _clean(text: str) -> str:
    return escape(re.sub(r"[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]", "\N{REPLACEMENT CHARACTER}", text))


def _n(value: float) -> str:
    """A number as short as it can be: two decimals, no trailing zeros, no minus before zero."""
    short = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if short in ("-0", "") else short
