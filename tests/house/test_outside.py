"""Every value from outside says how it is known: verified, computed from a published formula, or from memory."""

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests import outside
from tests.house.tree import ROOT, files, parsed, said

LEAST = 200


def marks(tree: ast.Module) -> Iterator[ast.expr]:
    """Every place where the marker stands: a call where it says how, a bare name where it does not."""
    called = {id(node.func): node for node in ast.walk(tree) if isinstance(node, ast.Call)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and node.attr == "outside" and ast.unparse(node.value) == "pytest.mark":
            yield called.get(id(node), node)


def how(mark: ast.expr) -> str | None:
    """The kind that a marker says, nothing where it says none."""
    if not isinstance(mark, ast.Call) or len(mark.args) != 1 or mark.keywords:
        return None
    (told,) = mark.args
    return outside.kind(told.value) if isinstance(told, ast.Constant) else None


@pytest.mark.parametrize("file", files("tests"), ids=said)
def test_every_value_from_outside_says_how_it_is_known(file: Path) -> None:
    assert not [f"{said(file)}:{mark.lineno}" for mark in marks(parsed(file)) if how(mark) is None]


@pytest.mark.parametrize("file", files("tests/bench"), ids=said)
def test_a_benchmark_is_no_value_from_outside(file: Path) -> None:
    for node in ast.walk(parsed(file)):
        if isinstance(node, ast.FunctionDef):
            told = " ".join(ast.unparse(one) for one in node.decorator_list)
            assert not ("mark.bench" in told and "mark.outside" in told), node.name


@pytest.mark.parametrize(
    "text",
    [
        "@pytest.mark.outside\ndef test_x(): ...",
        "@pytest.mark.outside()\ndef test_x(): ...",
        "@pytest.mark.outside('verified')\ndef test_x(): ...",
        "@pytest.mark.outside('verified: ')\ndef test_x(): ...",
        "@pytest.mark.outside('believed: a book, p. 3')\ndef test_x(): ...",
        "@pytest.mark.outside(f'verified: {BOOK}')\ndef test_x(): ...",
        "pytestmark = pytest.mark.outside",
        "CASES = [pytest.param(1, marks=pytest.mark.outside)]",
    ],
)
def test_a_marker_that_says_nothing_would_be_seen(text: str) -> None:
    assert [how(mark) for mark in marks(ast.parse(text))] == [None]


@pytest.mark.parametrize("kind", outside.KINDS)
def test_each_of_the_three_words_is_read(kind: str) -> None:
    (mark,) = marks(ast.parse(f"@pytest.mark.outside('{kind}: a book, p. 3')\ndef test_x(): ..."))
    assert how(mark) == kind


def test_the_bench_is_held_to_two_hundred_values_or_more() -> None:
    """Counted as a run counts them, each case of a table for itself, in a run of its own that only collects."""
    told = [sys.executable, "-m", "pytest", "-m", "outside", "--collect-only", "-q", "tests/bench"]
    run = subprocess.run(told, cwd=ROOT, capture_output=True, text=True, check=False)
    found = re.search(r"(\d+) values from outside: (\d+) verified, (\d+) computed, (\d+) from memory\n", run.stdout)
    assert found, run.stdout[-2000:] + run.stderr[-2000:]
    total, *kinds = map(int, found.groups())
    assert total == sum(kinds) >= LEAST
    assert all(kinds)
