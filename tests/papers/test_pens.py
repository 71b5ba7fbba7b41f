"""Every pen draws without a stylesheet, and carries a name only where a theme may repaint it."""

import pytest

from shopapp.papers.pens import ATTRIBUTES, Pens


@pytest.mark.parametrize("pen", ATTRIBUTES)
def test_every_pen_says_its_colour_itself(pen: str) -> None:
    assert "fill=" in Pens(False).of(pen)
    assert "class" not in Pens(False).of(pen)
    assert Pens(True).of(pen).startswith(f' class="section-{pen}" ')


@pytest.mark.outside("from memory: WCAG 2.2, 1.4.3")
@pytest.mark.parametrize("pen", [pen for pen in ATTRIBUTES if pen.startswith("text-")])
def test_words_on_the_drawing_have_enough_contrast(pen: str) -> None:
    # WCAG 2.2, success criterion 1.4.3: at least 4.5 to 1; relative luminance as defined there
    ink = ATTRIBUTES[pen].split('fill="#')[1][:6]
    shares = [int(ink[n : n + 2], 16) / 255 for n in (0, 2, 4)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in shares)
    assert 1.05 / (0.2126 * red + 0.7152 * green + 0.0722 * blue + 0.05) >= 4.5
