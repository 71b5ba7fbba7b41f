"""The house as files and syntax trees, for the tests that measure it."""

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "shopapp"
TESTS = ROOT / "tests"
ROOMS = ("bench", "office", "papers", "web")
PRODUCT = ("shopapp", "templates", "static", "migrations")
Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True)
class Named:
    """A function and where it stands."""

    file: Path
    node: Function

    def __str__(self) -> str:
        return f"{said(self.file)}:{self.node.lineno} {self.node.name}"


def said(file: Path) -> str:
    """A file as it is named from the top of the house."""
    return file.relative_to(ROOT).as_posix()


def files(*folders: str, ending: tuple[str, ...] = (".py",)) -> list[Path]:
    """Every file under these folders with one of these endings, caches left out."""
    found = (file for folder in folders for file in sorted((ROOT / folder).rglob("*")))
    return [file for file in found if file.suffix in ending and "__pycache__" not in file.parts]


def parsed(file: Path) -> ast.Module:
    """The syntax tree of a file."""
    return ast.parse(file.read_text(encoding="utf-8"))


def functions(file: Path) -> Iterator[Named]:
    """Every function and method of a file, inner ones too."""
    for node in ast.walk(parsed(file)):
        if isinstance(node, Function):
            yield Named(file, node)


def body_lines(function: Function) -> int:
    """Lines from the first statement after the docstring to the end."""
    body = function.body[1:] if ast.get_docstring(function) else function.body
    if not body:
        return 0
    return (function.end_lineno or 0) - body[0].lineno + 1
