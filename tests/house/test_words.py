"""Words that have no place in the house: half-done work, one machine's paths, addresses, phrases we never say."""

import ast
import re
from pathlib import Path

import pytest

from tests.house.tree import PRODUCT, ROOT, TESTS, Function, files, functions, said

TEXT = (".py", ".html", ".css", ".js", ".svg", ".txt", ".mako", ".md", ".toml", ".lock")
PRODUCT_FILES = files(*PRODUCT, ending=TEXT)
TOP_FILES = [file for file in sorted(ROOT.iterdir()) if file.suffix in TEXT] + [ROOT / ".ci" / "run"]
# This file names the words in order to find them.
TEST_FILES = [file for file in files("tests") if file != Path(__file__)]
HALF_DONE = re.compile(r"\b(TODO|FIXME|XXX|NotImplementedError)\b")
MACHINE = re.compile(r"(?<![\w.<>{}-])/(work|root|home|mnt|Users)/\w")
INDEX = re.compile(r"pypi\s*\.org|pythonhosted|--(extra-)?index-url|--find-links|/simple/", re.I)
NEVER_SAID = re.compile(r"success!|invalid input|\boops\b", re.I)
LEFT_OUT = re.compile(r"pytest\.(skip|xfail|importorskip)\(|mark\.(skip|xfail)|unittest\.skip")
# The one place where a test may be left out, with its reason, where a machine lacks a program.
MAY_LEAVE_OUT = TESTS / "conftest.py"


def found(pattern: re.Pattern[str], file: Path) -> list[str]:
    text = file.read_text(encoding="utf-8")
    return [f"{said(file)}:{text[: hit.start()].count(chr(10)) + 1}: {hit[0]}" for hit in pattern.finditer(text)]


@pytest.mark.parametrize("pattern", [HALF_DONE, MACHINE, INDEX, NEVER_SAID], ids=["half", "machine", "index", "never"])
def test_the_product_holds_no_such_word(pattern: re.Pattern[str]) -> None:
    assert not [hit for file in (*PRODUCT_FILES, *TOP_FILES) for hit in found(pattern, file)]


@pytest.mark.parametrize("pattern", [HALF_DONE, MACHINE, INDEX], ids=["half", "machine", "index"])
def test_the_tests_hold_no_such_word(pattern: re.Pattern[str]) -> None:
    assert not [hit for file in TEST_FILES for hit in found(pattern, file)]


def test_no_test_is_left_out_but_for_a_missing_program() -> None:
    tests = [file for file in TEST_FILES if file != MAY_LEAVE_OUT]
    assert not [hit for file in tests for hit in found(LEFT_OUT, file)]
    assert len(found(LEFT_OUT, MAY_LEAVE_OUT)) == 1


def does_nothing(function: Function) -> bool:
    """A body of only `pass` or `...`; a docstring alone does nothing either."""
    rest = function.body[1:] if ast.get_docstring(function) else function.body
    blank = (isinstance(node, ast.Pass) or (isinstance(node, ast.Expr) and is_dots(node.value)) for node in rest)
    return all(blank)


def is_dots(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and node.value is ...


def test_no_function_of_the_product_is_a_stub() -> None:
    stubs = [str(named) for file in files("shopapp") for named in functions(file) if does_nothing(named.node)]
    assert not stubs


@pytest.mark.parametrize(
    ("pattern", "text"),
    [
        (HALF_DONE, "# TODO later"),
        (MACHINE, "open('/root/x')"),
        (INDEX, "https:" + "//" + "py" + "pi.org/simple"),  # put together here, so that no address stands in the house
        (NEVER_SAID, "Invalid input"),
        (LEFT_OUT, "@pytest.mark.xfail"),
    ],
)
def test_each_word_would_be_seen(pattern: re.Pattern[str], text: str) -> None:
    assert pattern.search(text)


def test_a_stub_would_be_seen() -> None:
    (function,) = ast.parse('def f():\n    """Words."""\n    ...').body
    assert isinstance(function, ast.FunctionDef)
    assert does_nothing(function)
