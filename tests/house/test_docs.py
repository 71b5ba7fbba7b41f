"""What README.md and DEVELOPERS.md say is so: commands, options, settings, files, rooms."""

import importlib
import re

import pytest
import typer
from typer.core import TyperGroup

from tests.house.tree import PACKAGE, ROOT

READMES = ("README.md", "DEVELOPERS.md")
TOP_FOLDERS = ("shopapp", "templates", "static", "migrations", "tests", ".ci")
TOP_FILES = ("README.md", "DEVELOPERS.md", "pyproject.toml", "requirements.lock", "requirements-test.lock", "LICENSE")
# Made by tools on a machine and named in .gitignore; not part of the house.
LEFT_BY_TOOLS = re.compile(r"\.venv|\.git|\..*_cache|\.benchmarks|\.hypothesis|__pycache__|build|dist|.*\.egg-info")
COMMAND = re.compile(r"python -m shopapp((?:[ ]+[\w./:-]+)*)")
SPAN = re.compile(r"(?<!`)`([^`\n]+)`(?!`)")
PATH = re.compile(r"[\w.*-]+(/[\w.*-]+)*/?")
ENDINGS = (".py", ".md", ".toml", ".lock", ".html", ".css", ".js")


def words(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


def command_line() -> TyperGroup:
    """The program's own command line, with its commands and their options."""
    door = importlib.import_module("shopapp.__main__")
    (app,) = {value for value in vars(door).values() if isinstance(value, typer.Typer)}
    group = typer.main.get_command(app)
    assert isinstance(group, TyperGroup)
    return group


def options(name: str | None) -> set[str]:
    group = command_line()
    command = group.commands[name] if name else group
    return {option for parameter in command.params for option in parameter.opts if option.startswith("--")}


@pytest.mark.parametrize("name", READMES)
def test_every_command_told_exists_with_its_options(name: str) -> None:
    told = COMMAND.findall(words(name))
    assert told
    for tail in told:
        command = next(iter(tail.split()), None)
        asked = command if command and not command.startswith("-") else None
        assert asked is None or asked in command_line().commands, f"{name}: {tail}"
        assert set(re.findall(r"--[\w-]+", tail)) - {"--help"} <= options(asked), f"{name}: {tail}"


def test_every_command_is_told() -> None:
    told = {tail.split()[0] for name in READMES for tail in COMMAND.findall(words(name)) if tail.split()}
    assert set(command_line().commands) <= told


@pytest.mark.parametrize("name", READMES)
def test_every_setting_told_exists(name: str) -> None:
    settings = importlib.import_module("shopapp.settings")
    known = {f"SHOPAPP_{field.upper()}" for field in settings.Settings.model_fields}
    assert set(re.findall(r"SHOPAPP_\w+", words(name))) <= known


def paths(name: str) -> list[str]:
    """Spans that look like a file or a folder of the house."""
    spans = [span for span in SPAN.findall(words(name)) if PATH.fullmatch(span)]
    tops = {*TOP_FOLDERS, *(folder.name for folder in PACKAGE.iterdir() if folder.is_dir())}
    return [span for span in spans if span.endswith(ENDINGS) or ("/" in span and span.split("/")[0] in tops)]


@pytest.mark.parametrize("name", READMES)
def test_every_file_told_exists(name: str) -> None:
    def there(path: str) -> bool:
        return any(list(top.glob(path.rstrip("/"))) for top in (ROOT, PACKAGE))

    assert paths(name)
    assert not [path for path in paths(name) if not there(path)]


def test_developers_names_each_room_and_each_folder() -> None:
    text = words("DEVELOPERS.md")
    rooms = {path.stem for path in PACKAGE.iterdir() if path.is_dir() and list(path.glob("*.py"))}
    door = {path.name for path in PACKAGE.glob("*.py")} - {"__init__.py"}
    names = (name.strip(".") for name in (*rooms, *door, *TOP_FOLDERS))
    assert not [name for name in names if not re.search(rf"\b{re.escape(name)}", text)]


def test_nothing_else_lies_at_the_top() -> None:
    allowed = {*TOP_FOLDERS, *TOP_FILES, ".gitignore"}
    found = {path.name for path in ROOT.iterdir() if not LEFT_BY_TOOLS.fullmatch(path.name)}
    assert found == allowed


def test_the_readme_has_a_page_and_no_more() -> None:
    assert len(words("README.md").splitlines()) <= 80


def test_the_runner_uses_the_readmes_test_command() -> None:
    runner = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    (command,) = set(re.findall(r"\.venv/bin/python -m pytest$", words("README.md"), re.MULTILINE))
    assert command in runner
