"""Imports run one way, and every contract that says so has been seen to refuse a breach."""

import json
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from tests.house.tree import ROOT

TABLE = "from shopapp.office import tables\n"
# contract: file to add (in the package) and its text
BREACHES = {
    "downward": {"bench/planted.py": "import shopapp.office\n"},
    "downward/stray": {"helpers.py": ""},
    "settings": {"web/planted.py": "import shopapp.settings\n"},
    "settings-alone": {"settings.py": "import shopapp.office\n"},
    "bench-pure": {"bench/planted.py": "import os\n"},
    "pint-at-one-door": {"web/planted.py": "import pint\n"},
    "one-press": {"papers/planted.py": "from weasyprint import HTML\n"},
    "http": {"office/planted.py": "from fastapi import Request\n"},
    "sql": {"web/planted.py": "from sqlmodel import select\n"},
    "tables": {"web/planted.py": TABLE},
    "papers-see-sheets": {"papers/planted.py": "import shopapp.office.history\n"},
    "papers-bench": {"papers/planted.py": "import shopapp.bench.outline\n"},
    "routes": {"web/routes/planted_a.py": "import shopapp.web.routes.planted_b\n", "web/routes/planted_b.py": ""},
    "web-bench": {"web/planted.py": "import shopapp.bench.outline\n"},
    "no-cycles": {
        "office/planted_a.py": "import shopapp.office.planted_b\n",
        "office/planted_b.py": "import shopapp.office.planted_a\n",
    },
    "office-floors": {"office/tables/planted.py": "import shopapp.office.history\n"},
    "office-verbs": {"office/sheets/planted.py": "import shopapp.office.planted\n", "office/planted.py": ""},
}
# Runs in the copy: asks each contract alone, plants its breach, asks again, clears it away.
PLANTER = """
import json, sys
from pathlib import Path
from importlinter.cli import lint_imports

def kept(name):
    return lint_imports(limit_to_contracts=(name.split("/")[0],), no_cache=True, no_logo=True) == 0

answers = {}
for name, plants in json.loads(sys.argv[1]).items():
    before = kept(name)
    were = {Path("shopapp", place): text for place, text in plants.items()}
    for file, text in were.items():
        were[file] = file.read_text() if file.exists() else None
        file.write_text((were[file] or "") + text)
    answers[name] = (before, kept(name))
    for file, text in were.items():
        file.unlink() if text is None else file.write_text(text)
print(json.dumps(answers))
"""
LINT = "import sys; from importlinter.cli import lint_imports; sys.exit(lint_imports(no_cache=True, no_logo=True))"


def contracts() -> set[str]:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text())
    return {contract["id"] for contract in settings["tool"]["importlinter"]["contracts"]}


@pytest.fixture(scope="module")
def answers(tmp_path_factory: pytest.TempPathFactory) -> dict[str, tuple[bool, bool]]:
    """Of each breach: was its contract kept before, and with it planted."""
    copy: Path = tmp_path_factory.mktemp("house")
    shutil.copytree(ROOT / "shopapp", copy / "shopapp", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", copy)
    command = [sys.executable, "-c", PLANTER, json.dumps(BREACHES)]
    done = subprocess.run(command, cwd=copy, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    *_, last = done.stdout.splitlines()
    return {name: (before, after) for name, (before, after) in json.loads(last).items()}


def test_every_import_runs_downward() -> None:
    done = subprocess.run([sys.executable, "-c", LINT], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def test_every_contract_has_its_planted_breach() -> None:
    assert {name.split("/")[0] for name in BREACHES} == contracts()


@pytest.mark.parametrize("name", BREACHES)
def test_a_contract_that_is_kept_refuses_its_planted_breach(name: str, answers: dict[str, tuple[bool, bool]]) -> None:
    assert answers[name] == (True, False)
