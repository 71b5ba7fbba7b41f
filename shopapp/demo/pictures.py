"""Pictures in the place of photos: a disc on a bench, drawn, so that every piece of the story has one of its own."""

import io
from functools import cache

from PIL import Image, ImageDraw

from shopapp.office import photos
from shopapp.office.photos import Kept

WIDE, HIGH = 320, 240
_RINGS = ((100, 88), (96, 132), (52, 104), (30, 150), (14, 40))


@cache
def picture(job_no: int, n: int, shows: str = "") -> Kept:
    """A turned piece from the front; the tag beside it says which, a red ring where it is damaged."""
    sheet, draw = _disc(job_no % 9, bright=24 if shows == "finished" else 0)
    if shows == "damage":
        draw.circle((WIDE // 2 - 10, HIGH // 2 - 26), 22, outline="#c0281c", width=4)
    draw.rectangle((WIDE - 92, 24, WIDE - 14, 56), fill="#e9dfc4")
    draw.text((WIDE - 84, 34), f"{job_no}-{n}", fill="#202020")
    return _kept(sheet)


@cache
def of_sign(words: str, variant_no: int) -> Kept:
    """What a look-alike is told by, with its words under it."""
    sheet, draw = _disc(variant_no % 9, bright=12)
    draw.rectangle((0, HIGH - 34, WIDE, HIGH), fill="#e9dfc4")
    draw.text((10, HIGH - 24), words, fill="#202020")
    return _kept(sheet)


def _disc(wider: int, bright: int) -> tuple[Image.Image, ImageDraw.ImageDraw]:
    sheet = Image.new("RGB", (WIDE, HIGH), "#6b5d4f")
    draw = ImageDraw.Draw(sheet)
    for radius, grey in _RINGS:
        shade = grey + bright
        outer = radius + wider if radius == 52 else radius
        draw.circle((WIDE // 2 - 30, HIGH // 2), outer, fill=(shade, shade, shade + 4))
    return sheet, draw


def _kept(sheet: Image.Image) -> Kept:
    taken = io.BytesIO()
    sheet.save(taken, "JPEG", quality=70)
    return photos.made_small(taken.getvalue())


def strokes(name: str) -> str:
    """A name as a finger would draw it, one line a letter: the path of an invented signature."""
    points = [f"{12 + 9 * i} {20 + ord(letter) * 7 % 31}" for i, letter in enumerate(name)]
    return f"M{points[0]}" + "".join(f"L{point}" for point in points[1:])
