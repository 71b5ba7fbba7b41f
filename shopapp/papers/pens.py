"""The pens of the drawing: presentation attributes, and on the page class names by which a theme repaints them."""

from __future__ import annotations

FIGURE = "Shop Figure, DejaVu Sans Mono, monospace"
INK, QUIET, RED, OCHRE, BLUE, PAPER = "#15181b", "#5b636b", "#b5301a", "#8a5a00", "#262b7a", "#ffffff"

_THIN = "0.8"
_LETTERS = f'font-family="{FIGURE}"'
ATTRIBUTES = {
    "metal": f'fill="{PAPER}" stroke="{INK}" stroke-width="1.8" stroke-linejoin="round" fill-rule="evenodd"',
    "hatch": f'fill="none" stroke="{INK}" stroke-width="0.6"',
    "off": f'fill="#fbeeea" stroke="{RED}" stroke-width="1.6" stroke-linejoin="round" fill-rule="evenodd"',
    "off-hatch": f'fill="none" stroke="{RED}" stroke-width="0.6"',
    "void": f'fill="{PAPER}" stroke="{INK}" stroke-width="1.2" fill-rule="evenodd"',
    "axis": f'fill="none" stroke="{BLUE}" stroke-width="{_THIN}" stroke-dasharray="18 3 2 3"',
    "symmetry": f'fill="none" stroke="{BLUE}" stroke-width="{_THIN}"',
    "keep": f'fill="none" stroke="{OCHRE}" stroke-width="1.4" stroke-dasharray="14 3 2 3 2 3"',
    "keep-bad": f'fill="none" stroke="{RED}" stroke-width="2.4" stroke-dasharray="14 3 2 3 2 3"',
    "dim": f'fill="none" stroke="{QUIET}" stroke-width="{_THIN}"',
    "arrow": f'fill="{QUIET}" stroke="none"',
    "scale": f'fill="none" stroke="{INK}" stroke-width="1.2"',
    "text-size": f'fill="{INK}" {_LETTERS}',
    "text-before": f'fill="{QUIET}" {_LETTERS}',
    "text-keep": f'fill="{OCHRE}" font-weight="bold" {_LETTERS}',
    "text-keep-bad": f'fill="{RED}" font-weight="bold" {_LETTERS}',
}


class Pens:
    """Attributes for each pen, with or without class names."""

    def __init__(self, classes: bool) -> None:
        self.classes = classes

    def name(self, word: str) -> str:
        """The class attribute alone, if there is one."""
        return f' class="{word}"' if self.classes else ""

    def of(self, pen: str) -> str:
        """All attributes of a pen, with a leading space."""
        return f"{self.name('section-' + pen)} {ATTRIBUTES[pen]}"
