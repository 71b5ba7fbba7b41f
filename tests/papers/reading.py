"""A PDF read back by a library that had no part in making it."""

from io import BytesIO

from pypdf import PdfReader


def read(pdf: bytes) -> PdfReader:
    return PdfReader(BytesIO(pdf), strict=True)


def text_of(pdf: bytes) -> str:
    return " ".join(" ".join(page.extract_text() for page in read(pdf).pages).split())


def size_of(pdf: bytes) -> tuple[float, float]:
    box = read(pdf).pages[0].mediabox
    return float(box.width), float(box.height)
