"""Pictures in the place of photos: a disc on a bench, drawn, so that every piece of the story has one of its own."""

import io
from functools import cache

from PIL import Image, ImageDraw

WIDE, HIGH = 320, 240


@cache
def picture(job_no: int, n: int) -> bytes:
    """A turned piece from the front; the tag beside it says which."""
    sheet = Image.new("RGB", (WIDE, HIGH), "#6b5d4f")
    draw = ImageDraw.Draw(sheet)
    middle = (WIDE // 2 - 30, HIGH // 2)
    for radius, grey in ((100, 88), (96, 132), (52 + job_no % 9, 104), (30, 150), (14, 40)):
        draw.circle(middle, radius, fill=(grey, grey, grey + 4))
    draw.rectangle((WIDE - 92, 24, WIDE - 14, 56), fill="#e9dfc4")
    draw.text((WIDE - 84, 34), f"{job_no}-{n}", fill="#202020")
    kept = io.BytesIO()
    sheet.save(kept, "JPEG", quality=70)
    return kept.getvalue()
