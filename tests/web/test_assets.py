"""Addresses that change with the content, and what is sent from them."""

import re
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import anyio
import httpx
import pytest
from fastapi import FastAPI
from fontTools.ttLib import TTFont

from shopapp.papers.places import static_dir
from shopapp.web.assets import CREDITS, VENDOR, Assets, packaged


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "css/kit").mkdir(parents=True)
    (tmp_path / "css/app.css").write_text('@layer kit;\n@import url("kit/ring.css") layer(kit);\nbody { margin: 0 }\n')
    (tmp_path / "css/kit/ring.css").write_text('.ring { background: url("../../mark.svg") }\n')
    (tmp_path / "mark.svg").write_text("<svg/>")
    return tmp_path


@pytest.fixture(scope="module")
def real() -> Assets:
    return Assets(static_dir())


async def ask(assets: Assets, address: str, method: str = "GET", **headers: str) -> httpx.Response:
    app = FastAPI()
    app.mount("/static", assets)
    transport = httpx.ASGITransport(app=app)
    async with httpx.AsyncClient(transport=transport, base_url="http://shop", headers=headers) as client:
        return await client.request(method, address)


def run(assets: Assets, address: str, method: str = "GET", **headers: str) -> httpx.Response:
    async def asking() -> httpx.Response:
        return await ask(assets, address, method, **headers)

    # In a thread of its own, since a browser test may have left its loop running in this one.
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(anyio.run, asking).result()


def test_a_changed_file_has_another_address(folder: Path) -> None:
    before = Assets(folder).url("mark.svg")
    (folder / "mark.svg").write_text("<svg></svg>")
    assert Assets(folder).url("mark.svg") != before


def test_a_file_changed_within_a_sheet_changes_the_sheets_address(folder: Path) -> None:
    before = Assets(folder).url("css/app.css")
    (folder / "mark.svg").write_text("<svg></svg>")
    assert Assets(folder).url("css/app.css") != before


def test_an_import_is_put_into_its_layer(folder: Path) -> None:
    assets = Assets(folder)
    sheet = run(assets, assets.url("css/app.css")).text
    assert "@import" not in sheet
    assert "@layer kit {\n.ring {" in sheet
    assert f'url("{assets.url("mark.svg")}")' in sheet


def test_a_file_may_be_kept_for_ever(folder: Path) -> None:
    assets = Assets(folder)
    answer = run(assets, assets.url("mark.svg"))
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "image/svg+xml"
    # RFC 8246: a kept answer marked so is never asked for again.
    assert "immutable" in answer.headers["cache-control"]


def test_a_browser_that_has_the_file_gets_no_second_copy(folder: Path) -> None:
    assets = Assets(folder)
    mark = run(assets, assets.url("mark.svg")).headers["etag"]
    again = run(assets, assets.url("mark.svg"), **{"If-None-Match": mark})
    assert (again.status_code, again.content) == (304, b"")


def test_text_is_sent_squeezed_to_who_can_read_it(folder: Path) -> None:
    assets = Assets(folder)
    plain = run(assets, assets.url("css/app.css"), **{"Accept-Encoding": "identity"})
    small = run(assets, assets.url("css/app.css"), **{"Accept-Encoding": "gzip"})
    assert small.headers["content-encoding"] == "gzip"
    assert small.text == plain.text


@pytest.mark.parametrize("name", ["000000000000/mark.svg", "../pyproject.toml", "", "x"])
def test_any_other_address_holds_nothing(folder: Path, name: str) -> None:
    assert run(Assets(folder), f"/static/{name}").status_code == 404


def test_nothing_can_be_written_there(folder: Path) -> None:
    assets = Assets(folder)
    assert run(assets, assets.url("mark.svg"), "POST").status_code == 405


def test_a_name_that_is_no_file_is_refused(folder: Path) -> None:
    with pytest.raises(FileNotFoundError, match=re.escape("css/none.css")):
        Assets(folder).url("css/none.css")


def test_a_package_that_is_not_there_is_named() -> None:
    with pytest.raises(FileNotFoundError, match="no_such_package"):
        packaged("no_such_package", "file.js")


def test_the_whole_look_is_one_sheet_without_shouting(real: Assets) -> None:
    sheet = run(real, real.url("css/app.css")).text
    assert "@import" not in sheet
    assert "!important" not in sheet
    assert not re.search(r"^\s*#[\w-]+[^;]*\{", sheet, re.MULTILINE)
    assert len(re.findall(r'url\("/static/[0-9a-f]{12}/fonts/', sheet)) == 5


def test_the_figures_are_told_apart(real: Assets) -> None:
    # The characters that must differ at a glance each have an outline of their own, all of one width.
    font = TTFont(packaged(*VENDOR["fonts/IBMPlexMono-Medium.ttf"]))
    names = font.getBestCmap()
    outlines = {sign: str(font["glyf"][names[ord(sign)]].getCoordinates(font["glyf"])) for sign in "0O1lI"}
    assert len(set(outlines.values())) == 5
    assert {font["hmtx"][names[ord(sign)]][0] for sign in "0123456789./-"} == {600}


@pytest.mark.parametrize("name", [name for name in VENDOR if name.startswith("fonts/")])
def test_a_face_has_what_a_drawing_says_and_an_open_licence(name: str) -> None:
    font = TTFont(packaged(*VENDOR[name]))
    assert set("Ø°±×·−½²³½") <= {chr(code) for code in font.getBestCmap()}
    licence = " ".join(str(record) for record in font["name"].names if record.nameID in (13, 14))
    assert "Open Font License" in licence
    assert any("Open Font License" in credit[2] for credit in CREDITS)
