"""The press: one child, the same bytes again, nothing fetched from elsewhere, and no fear of a dead child."""

import os
import signal
import time
from base64 import b64encode
from datetime import date
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from shopapp.papers import press as the_press
from shopapp.papers.places import static_dir
from shopapp.papers.press import Inside, PressFailed, own_file, press
from tests.papers.reading import read, text_of

PAGE = "<!doctype html><html lang=en><title>Stub</title><meta name=dcterms.created content=2026-03-31><p>{}</p></html>"


def child() -> int:
    pool = the_press._the_press._pool
    assert pool is not None
    return next(iter(pool._processes))


def test_words_go_in_and_a_tagged_pdf_comes_out() -> None:
    pdf = press(PAGE.format("7-3/8 in"))
    assert text_of(pdf) == "7-3/8 in"
    catalogue = read(pdf).trailer["/Root"]
    assert catalogue["/MarkInfo"]["/Marked"]
    assert catalogue["/Lang"] == "en"


def test_the_same_page_gives_the_same_bytes_in_another_child() -> None:
    first = press(PAGE.format("again"))
    assert press(PAGE.format("again")) == first
    before = child()
    the_press.close()
    assert press(PAGE.format("again")) == first
    assert child() != before


def test_a_child_that_died_is_replaced() -> None:
    first = press(PAGE.format("x"))
    gone = child()
    os.kill(gone, signal.SIGKILL)
    while Path(f"/proc/{gone}/stat").exists() and "Z" not in Path(f"/proc/{gone}/stat").read_text().split()[2]:
        time.sleep(0.01)
    assert press(PAGE.format("x")) == first
    assert child() != gone


def test_closing_twice_harms_nothing() -> None:
    the_press.close()
    the_press.close()


@pytest.mark.parametrize(
    "address", ["http://127.0.0.1:9/x.png", "file:///etc/hostname", "../pyproject.toml", "ftp://x/y"]
)
def test_a_paper_fetches_nothing_from_elsewhere(address: str) -> None:
    with pytest.raises(PressFailed, match="may not fetch"):
        press(PAGE.format(f"<img alt='' src='{address}'>"))


def test_a_picture_inside_the_page_is_printed() -> None:
    held = BytesIO()
    Image.new("RGB", (3, 3), "red").save(held, "PNG")
    dot = f"data:image/png;base64,{b64encode(held.getvalue()).decode()}"
    assert len(read(press(PAGE.format(f"<img alt='a dot' src='{dot}'>"))).pages[0].images) == 1


def test_only_files_of_the_static_folder_and_fonts_are_our_own() -> None:
    static = static_dir().as_uri()
    assert own_file(f"{static}/css/paper.css") == static_dir() / "css" / "paper.css"
    assert own_file(f"{static}/css/../../pyproject.toml") is None
    assert own_file(f"{static}/css/%2e%2e/%2e%2e/pyproject.toml") is None
    assert own_file("http://localhost/css/paper.css") is None


# ISO 19005-3, 6.8 and ISO 32000-2, 14.13: a file inside is embedded, named, dated, and its relationship is said.
@pytest.mark.outside("from memory: ISO 19005-3, 6.8, and ISO 32000-2, 14.13")
def test_a_file_inside_is_associated_with_the_paper() -> None:
    inside = Inside("bill.xml", "<bill>é</bill>".encode(), "the bill", date(2031, 3, 4))
    made = press(PAGE.format("a bill"), inside)
    with pikepdf.open(BytesIO(made)) as pdf:
        (file,) = pdf.Root.AF
        assert (str(file.UF), str(file.AFRelationship), str(file.EF.F.Subtype)) == ("bill.xml", "/Data", "/text/xml")
        assert file.EF.F.read_bytes() == inside.content
        assert pdf.Root.OutputIntents[0].S == "/GTS_PDFA1"
        with pdf.open_metadata() as told:
            assert told.pdfa_status == "3B"


def test_the_same_file_in_the_same_paper_is_the_same_bytes() -> None:
    inside = Inside("bill.xml", b"<bill/>", "the bill", date(2031, 3, 4))
    assert press(PAGE.format("a bill"), inside) == press(PAGE.format("a bill"), inside)


@pytest.mark.parametrize(("lines", "sheets"), [(50, 1), (58, 1), (110, 2)])
def test_a_paper_is_set_tighter_where_that_saves_a_sheet(lines: int, sheets: int) -> None:
    style = "<style>@page{size:A4;margin:10mm} p{margin:0;line-height:5mm} .paper--tight p{line-height:4.5mm}</style>"
    rows = "".join(f"<p>row {n}" for n in range(lines))
    page = PAGE.replace("<p>{}</p></html>", f'{style}<body class="paper">{rows}</body></html>')
    assert len(read(press(page)).pages) == sheets
