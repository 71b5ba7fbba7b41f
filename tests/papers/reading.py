"""A PDF read back by a library that had no part in making it."""

from collections.abc import Callable
from functools import cache
from io import BytesIO

from pypdf import PdfReader


def read(pdf: bytes) -> PdfReader:
    return PdfReader(BytesIO(pdf), strict=True)


def text_of(pdf: bytes) -> str:
    return " ".join(" ".join(page.extract_text() for page in read(pdf).pages).split())


def size_of(pdf: bytes) -> tuple[float, float]:
    box = read(pdf).pages[0].mediabox
    return float(box.width), float(box.height)


def pages_of(pdf: bytes) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in read(pdf).pages]


def fonts_of(pdf: bytes) -> dict[str, bool]:
    """The name of each font on each page, and whether its letters travel with the paper."""
    found = {}
    for page in read(pdf).pages:
        for font in page["/Resources"]["/Font"].values():
            face = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
            found[str(face["/FontName"])] = "/FontFile2" in face or "/FontFile3" in face
    return found


@cache
def once(make: Callable[..., bytes], *sheets: object) -> bytes:
    """A paper that several tests read, pressed by the first of them."""
    return make(*sheets)
