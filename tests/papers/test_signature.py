"""A signature on paper: strokes are drawn as they came, everything else is refused."""

from io import BytesIO
from xml.etree import ElementTree

import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.papers.press import PressFailed, press
from shopapp.papers.signature import WANTS, signature
from tests.papers.desk import SIGNED

SVG = "{http://www.w3.org/2000/svg}"


def test_the_strokes_stand_in_the_drawing_as_they_came() -> None:
    root = ElementTree.parse(BytesIO(signature(SIGNED, "Ottoline & Co").encode())).getroot()
    paths = root.findall(f"{SVG}path")
    assert [path.get("d") for path in paths] == [SIGNED]
    assert root.findtext(f"{SVG}title") == "Signature of Ottoline & Co"
    assert "style" not in root.attrib


def test_no_strokes_are_no_drawing() -> None:
    assert signature("", "Ottoline") == ""


@pytest.mark.parametrize(
    "strokes",
    ["M1 2L3 4", "m.5-.5l3,4", "M 1,2 3,4 z", "M1 2H5V6h-1v-1Z", "M0 0C1 1 2 2 3 3S4 4 5 5Q6 6 7 7T8 8", "M1. 2.L3 4"],
)
def test_paths_of_the_standard_are_drawn(strokes: str) -> None:
    # W3C SVG 1.1 (Second Edition), 8.3.1: separators may go where a sign or a point tells numbers apart; from memory
    assert f'd="{strokes}"' in signature(strokes, "x")


@pytest.mark.parametrize(
    "text",
    ['M0 0"/><script>x</script>', "M0 0 url(#a)", "M0 0L1", "M0 0Z1", "L1 2", "M", "M0 0 A5 5 0 0 1 9 9", "M1e9 0",
     "M0 0L1.2.3 4", "M0 0L--1 2", "<path/>", "M0 0&#10;", "M0 0L99999999 1", "M0 0X1 2", "Ottoline"],
)  # fmt: skip
def test_anything_but_path_commands_and_numbers_is_refused(text: str) -> None:
    with pytest.raises(PressFailed, match="no drawing of strokes"):
        signature(text, "x")


@given(st.text(alphabet='MLHVCSQTZmlz0123456789 ,.-+"<>&', max_size=60))
def test_whatever_comes_is_a_drawing_or_refused(text: str) -> None:
    try:
        drawn = signature(text, "x")
    except PressFailed:
        return
    if text:
        (path,) = ElementTree.parse(BytesIO(drawn.encode())).getroot().findall(f"{SVG}path")
        assert set(path.get("d", "")) <= {*WANTS, *"mlz0123456789 ,.-+"}


def test_it_is_inked_where_the_finger_went_and_nowhere_else() -> None:
    field = f"<div>{signature('M100 100H500', 'x')}</div>"
    css = "@page{size:600px 200px;margin:0}body{margin:0}div{width:600px;height:200px}svg{display:block}"
    page = f"<!doctype html><html lang=en><title>s</title><style>{css}</style>{field}</html>"
    document = pypdfium2.PdfDocument(press(page))
    picture = document[0].render(scale=600 / document[0].get_width()).to_pil().convert("L")
    document.close()
    box = picture.point(lambda grey: 255 if grey < 128 else 0).getbbox()
    assert box is not None
    assert box == pytest.approx((98, 98, 502, 102), abs=2)
