"""No function is longer than a look, no file longer than a sitting."""

from pathlib import Path

import pytest

from tests.house.tree import ROOT, body_lines, files, functions, said

FUNCTION, FILE, LINE = 40, 400, 120
CODE = files("shopapp", "migrations", "tests")
SHEETS = files("templates", "static", ending=(".html", ".css", ".js"))


def lines(file: Path) -> list[str]:
    return file.read_text(encoding="utf-8").splitlines()


def test_the_whole_house_is_measured() -> None:
    measured = {said(file).split("/")[0] for file in (*CODE, *SHEETS)}
    assert measured == {"shopapp", "migrations", "tests", "templates", "static"}


@pytest.mark.parametrize("file", CODE, ids=said)
def test_no_function_body_is_over_forty_lines(file: Path) -> None:
    # A migration is one list of steps, in order; cutting it up would hide the order.
    if file.parent == ROOT / "migrations" / "versions":
        return
    long = [f"{named}: {body_lines(named.node)}" for named in functions(file) if body_lines(named.node) > FUNCTION]
    assert not long


@pytest.mark.parametrize("file", [*CODE, *SHEETS], ids=said)
def test_no_file_is_over_four_hundred_lines(file: Path) -> None:
    assert len(lines(file)) <= FILE


@pytest.mark.parametrize("file", SHEETS, ids=said)  # the linter measures the rest
def test_no_line_is_over_a_hundred_and_twenty_characters(file: Path) -> None:
    assert not [number for number, line in enumerate(lines(file), 1) if len(line) > LINE]


def test_a_long_body_would_be_seen(tmp_path: Path) -> None:
    file = tmp_path / "long.py"
    file.write_text('def f():\n    """Words."""\n' + "    x = 1\n" * 41)
    (named,) = functions(file)
    assert body_lines(named.node) == 41
