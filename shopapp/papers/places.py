"""Where the templates, the static files and the fonts lie: in a checkout, and in an installed wheel."""

from __future__ import annotations

from functools import cache
from importlib.util import find_spec
from pathlib import Path

FONT_PACKAGES = ("fontpkg_barlow_semi_condensed", "fontpkg_ibm_plex_mono")
"""Packages whose .ttf files the papers may use; a stylesheet names them as if they lay in static/fonts."""


@cache
def templates_dir() -> Path:
    """The folder of all templates."""
    return _top("templates")


@cache
def static_dir() -> Path:
    """The folder of stylesheets, scripts and other files that are served as they are."""
    return _top("static")


@cache
def migrations_dir() -> Path:
    """The folder of the database's migrations."""
    return _top("migrations")


@cache
def font_files() -> dict[str, Path]:
    """Font files by name: those of static/fonts, then those of the font packages."""
    folders = [static_dir() / "fonts"]
    for name in FONT_PACKAGES:
        spec = find_spec(name)
        folders += [Path(place) for place in (spec.submodule_search_locations or ())] if spec else []
    found: dict[str, Path] = {}
    for folder in folders:
        for file in sorted(folder.rglob("*")):
            if file.suffix in (".ttf", ".otf", ".woff", ".woff2"):
                found.setdefault(file.name, file)
    return found


def _top(name: str) -> Path:
    here = Path(__file__).resolve()
    for folder in (here.parents[1] / "_top" / name, here.parents[2] / name):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"The folder {name} is neither inside the package nor beside it.")
