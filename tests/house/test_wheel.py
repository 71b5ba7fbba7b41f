"""A built wheel carries all that a checkout has, and runs where there is no checkout."""

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from tests.house.tree import ROOT

CARRIED = ("templates", "static", "migrations")


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(place)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    (wheel,) = place.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(place / "site")
    return place / "site"


def run(unpacked: Path, *arguments: str) -> str:
    """Run with the unpacked wheel alone: not the checkout, and not its folder."""
    surroundings = {**os.environ, "PYTHONPATH": str(unpacked), "PYTHONDONTWRITEBYTECODE": "1"}
    command = [sys.executable, *arguments]
    done = subprocess.run(command, cwd=unpacked, env=surroundings, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def inside(folder: Path) -> set[str]:
    found = (path.relative_to(folder) for path in folder.rglob("*") if path.is_file())
    return {path.as_posix() for path in found if "__pycache__" not in path.parts}


@pytest.mark.parametrize("folder", CARRIED)
def test_the_wheel_carries_every_file_of(folder: str, unpacked: Path) -> None:
    assert inside(ROOT / folder)
    assert inside(unpacked / "shopapp" / "_top" / folder) == inside(ROOT / folder)


def test_the_wheel_carries_every_module(unpacked: Path) -> None:
    carried = {name for name in inside(unpacked / "shopapp") if not name.startswith("_top/")}
    assert carried == inside(ROOT / "shopapp")


def test_the_wheel_carries_its_licence(unpacked: Path) -> None:
    assert list(unpacked.glob("*.dist-info/licenses/LICENSE"))


def test_the_wheel_runs(unpacked: Path) -> None:
    assert "demo" in run(unpacked, "-m", "shopapp", "--help")


def test_the_wheel_finds_its_own_folders(unpacked: Path) -> None:
    told = run(unpacked, "-c", "from shopapp.papers import places; print(places.templates_dir(), places.static_dir())")
    assert told.split() == [str(unpacked / "shopapp" / "_top" / name) for name in ("templates", "static")]
