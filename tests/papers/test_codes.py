"""Codes, read back by a reader that had no part in making them."""

import re
from io import BytesIO
from xml.etree import ElementTree

import pikepdf
import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageDraw

from shopapp.papers.codes import QUIET, code
from shopapp.papers.press import press
from tests.papers.seeing import codes_on

ADDRESS = "http://shop.example:8000/pieces/1187-1"
SVG = "{http://www.w3.org/2000/svg}"


def drawn(svg: str, dot: int = 4) -> Image.Image:
    """The code as its path says, bar by bar, by no library of codes or drawings."""
    root = ElementTree.fromstring(svg)
    side = int(root.attrib["viewBox"].split()[2])
    picture = Image.new("L", (side * dot, side * dot), 255)
    pen = ImageDraw.Draw(picture)
    for bar in re.finditer(r"M(\d+) (\d+)h(\d+)v1h-\3z", root.findall(f"{SVG}path")[1].attrib["d"]):
        x, y, long = (int(number) * dot for number in bar.groups())
        pen.rectangle((x, y, x + long - 1, y + dot - 1), fill=0)
    return picture


@pytest.mark.outside("verified: read back by zxing-cpp")
@given(st.from_regex(r"https?://[a-z0-9.:\[\]-]{1,60}/[A-Za-z0-9/._~?=%&-]{0,120}", fullmatch=True))
@settings(max_examples=30, deadline=None)
def test_a_reader_finds_the_whole_address(address: str) -> None:
    # the reader: zxing-cpp
    (found,) = zxingcpp.read_barcodes(drawn(code(address, "x")))
    assert found.text == address
    assert found.format == zxingcpp.BarcodeFormat.QRCode
    assert found.ec_level in "MQH"


@pytest.mark.outside("from memory: ISO/IEC 18004, level M")
def test_a_code_with_a_spot_of_grease_is_still_read() -> None:
    # ISO/IEC 18004: level M recovers about 15 % of the codewords (from memory)
    picture = drawn(code(ADDRESS, "x"), 8)
    pen, side = ImageDraw.Draw(picture), picture.width
    spot = int(side * 0.2)
    pen.rectangle((side // 2, side // 2, side // 2 + spot, side // 2 + spot), fill=0)
    assert [found.text for found in zxingcpp.read_barcodes(picture)] == [ADDRESS]


@pytest.mark.outside("from memory: ISO/IEC 18004, quiet zone")
def test_four_modules_around_it_stay_white() -> None:
    # ISO/IEC 18004: quiet zone of 4 modules on all sides (from memory)
    assert QUIET == 4
    picture = drawn(code(ADDRESS, "x"), 1)
    dark = Image.eval(picture, lambda value: 255 - value).getbbox()
    assert dark == (4, 4, picture.width - 4, picture.height - 4)


def test_on_paper_it_is_a_picture_with_words() -> None:
    page = "<!doctype html><html lang=en><title>x</title><div style='width:25mm;height:25mm'>{}</div></html>"
    pdf = press(page.format(code(ADDRESS, "Code that opens piece 1187-1")))
    assert codes_on(pdf) == [ADDRESS]
    with pikepdf.open(BytesIO(pdf)) as file:
        figures = [o for o in file.objects if isinstance(o, pikepdf.Dictionary) and o.get("/S") == "/Figure"]
        assert [str(figure.Alt) for figure in figures] == ["Code that opens piece 1187-1"]


def test_it_carries_no_style_and_no_foreign_words() -> None:
    svg = code(ADDRESS, '"><script>')
    assert "style" not in svg
    assert "<script" not in svg
    assert "class" not in svg


def test_no_address_no_code() -> None:
    assert code("", "x") == ""
