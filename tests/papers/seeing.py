"""A page looked at as a picture, and the codes that a reader finds on it; both by libraries of others."""

import pypdfium2
import zxingcpp


def codes_on(pdf: bytes, dpi: int = 200) -> list[str]:
    """What the codes of all pages say, page by page, from top to bottom and left to right."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        pictures = [page.render(scale=dpi / 72).to_pil().convert("L") for page in document]
    finally:
        document.close()
    found = []
    for picture in pictures:
        codes = zxingcpp.read_barcodes(picture)
        assert all(code.format == zxingcpp.BarcodeFormat.QRCode for code in codes)
        found += [c.text for c in sorted(codes, key=lambda c: (c.position.top_left.y // 60, c.position.top_left.x))]
    return found
