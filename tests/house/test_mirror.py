"""Every module has its test file where a reader looks for it, and every test file its module.

shopapp/office/weighing.py is tested by tests/office/test_weighing.py; a module of a folder inside a room, such as
web/routes or office/sheets, by a file of that name in the room or in the same folder. More files for one module add an
ending: test_cuts_oracles.py. A module without a function (a door plate, a table, a list of words) needs no test file.
The door and the demo are tested by tests/test_<name>.py or tests/demo/. The browser's walks are no mirror of a module.
"""

import ast
from pathlib import Path

import pytest

from tests.house.tree import PACKAGE, ROOMS, ROOT, TESTS, Function, files, parsed, said

ENDINGS = ("_oracles", "_speed", "_postgres", "_kernel")
UNMIRRORED = ("house", "browser", "demo")


def has_functions(file: Path) -> bool:
    nodes = ast.walk(parsed(file))
    return any(isinstance(node, Function) and node.name != "__init__" for node in nodes)


def subject(test: Path) -> str:
    name = test.stem.removeprefix("test_")
    for ending in ENDINGS:
        name = name.removesuffix(ending)
    return name


def modules() -> list[Path]:
    """Modules of the four rooms and of the door that do something."""
    rooms = [file for room in ROOMS for file in files(f"shopapp/{room}")]
    door = sorted(PACKAGE.glob("*.py"))
    return [file for file in (*rooms, *door) if file.name != "__init__.py" and has_functions(file)]


def room_of(file: Path, top: Path) -> str:
    parts = file.relative_to(top).parts
    return parts[0] if len(parts) > 1 else ""


def subjects_of_tests(room: str) -> set[str]:
    found = TESTS.glob("test_*.py") if not room else (TESTS / room).rglob("test_*.py")
    return {subject(file) for file in found}


def known(room: str) -> set[str]:
    """What a test file of a room may be about: its modules and folders, and the folders at the top of the house."""
    inside = PACKAGE.glob("*") if not room else (PACKAGE / room).rglob("*")
    pieces = (ROOT / "templates").glob("*")
    names = {path.stem.strip("_") for path in (*inside, *pieces)}
    return names | {"migrations", "templates", "static"}


def test_the_rooms_are_filled() -> None:
    assert {room_of(file, PACKAGE) for file in modules()} == {"", *ROOMS}


@pytest.mark.parametrize("file", modules(), ids=said)
def test_a_module_has_its_test_file(file: Path) -> None:
    assert file.stem.strip("_") in subjects_of_tests(room_of(file, PACKAGE))


@pytest.mark.parametrize("file", sorted(TESTS.rglob("test_*.py")), ids=said)
def test_a_test_file_has_its_module(file: Path) -> None:
    room = room_of(file, TESTS)
    assert room in (*UNMIRRORED, *ROOMS, "")
    if room not in UNMIRRORED:
        assert subject(file) in known(room)


def test_the_demo_is_tested() -> None:
    assert list(TESTS.glob("demo/test_*.py")) + list(TESTS.glob("test_demo.py"))


def test_every_room_has_a_door_plate() -> None:
    rooms = {file.parent for file in files("shopapp") if file.parent != PACKAGE}
    assert not [said(room) for room in sorted(rooms) if not (room / "__init__.py").exists()]
    for plate in (room / "__init__.py" for room in sorted(rooms)):
        (only,) = parsed(plate).body
        assert isinstance(only, ast.Expr), f"{said(plate)} holds more than its plate"
        assert len((ast.get_docstring(parsed(plate)) or "").splitlines()) <= 8
