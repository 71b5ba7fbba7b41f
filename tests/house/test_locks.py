"""The lock files say exactly what is installed: every name, one version, hashes, and no address."""

import re
import tomllib
from dataclasses import dataclass
from importlib import metadata

import pytest
from packaging.markers import Marker
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name as canonical

from tests.house.tree import ROOT

LOCKS = ("requirements.lock", "requirements-test.lock")
HASH = re.compile(r"--hash=sha256:[0-9a-f]{64}")


@dataclass(frozen=True)
class Locked:
    version: str
    marker: Marker | None
    hashes: int

    @property
    def wanted_here(self) -> bool:
        return self.marker is None or self.marker.evaluate()


def text(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


def entries(name: str) -> list[str]:
    return [line for line in text(name).replace("\\\n", " ").splitlines() if line.strip()]


def locked(name: str) -> dict[str, Locked]:
    found: dict[str, Locked] = {}
    for entry in entries(name):
        wanted = Requirement(HASH.sub("", entry).strip())
        (pin,) = wanted.specifier
        one = Locked(pin.version, wanted.marker, len(HASH.findall(entry)))
        if one.wanted_here:
            found[canonical(wanted.name)] = one
    return found


def project(name: str) -> list[Requirement]:
    """What pyproject.toml asks for, for one of the two locks."""
    told = tomllib.loads(text("pyproject.toml"))
    tests = told["dependency-groups"]["dev"] if name == "requirements-test.lock" else []
    return [Requirement(line) for line in (*told["project"]["dependencies"], *tests)]


def let_off() -> set[str]:
    """Packages that we take for a file in them, without what they ask for."""
    told = tomllib.loads(text("pyproject.toml"))["tool"]["uv"]["dependency-metadata"]
    return {canonical(entry["name"]) for entry in told if entry["requires-dist"] == []}


def asked_by(name: str, extras: frozenset[str]) -> list[Requirement]:
    """What an installed package asks for on this machine."""
    if name in let_off():
        return []
    asked = [Requirement(line) for line in metadata.requires(name) or ()]
    settings = [{"extra": extra} for extra in ("", *extras)]
    return [one for one in asked if one.marker is None or any(one.marker.evaluate(dict(s)) for s in settings)]


def closure(name: str) -> dict[str, set[str]]:
    """Every package that the project needs here, with who asked for it."""
    waiting = [(one, "pyproject.toml") for one in project(name) if one.marker is None or one.marker.evaluate()]
    found: dict[str, set[str]] = {}
    seen: set[tuple[str, frozenset[str]]] = set()
    while waiting:
        wanted, who = waiting.pop()
        package, extras = canonical(wanted.name), frozenset(wanted.extras)
        found.setdefault(package, set()).add(who)
        if (package, extras) not in seen:
            seen.add((package, extras))
            waiting += [(one, package) for one in asked_by(package, extras)]
    return found


@pytest.mark.parametrize("name", LOCKS)
def test_a_lock_holds_only_pins_with_hashes(name: str) -> None:
    for entry in entries(name):
        assert re.fullmatch(r"[\w.-]+==\S+( ; [^-]+?)?(\s+--hash=sha256:[0-9a-f]{64})+\s*", entry), entry


@pytest.mark.parametrize("name", LOCKS)
def test_a_lock_names_no_address(name: str) -> None:
    assert not re.search(r"://|@|--(?!hash)|#", text(name))


@pytest.mark.parametrize("name", LOCKS)
def test_what_the_project_asks_for_is_locked_at_a_fitting_version(name: str) -> None:
    pins = locked(name)
    for wanted in project(name):
        assert wanted.specifier.contains(pins[canonical(wanted.name)].version), wanted


@pytest.mark.parametrize("name", LOCKS)
def test_the_lock_holds_what_is_needed_and_nothing_else(name: str) -> None:
    assert set(locked(name)) == set(closure(name))


def test_the_test_lock_has_the_running_lock_inside() -> None:
    small, large = (locked(name) for name in LOCKS)
    assert small.items() <= large.items()


def test_what_is_installed_is_what_is_locked() -> None:
    pins = locked("requirements-test.lock")
    assert {name: metadata.version(name) for name in pins} == {name: pin.version for name, pin in pins.items()}
