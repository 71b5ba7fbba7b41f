"""The types hold, strictly on the bench, and the linter finds nothing."""

import subprocess
import sys
import tomllib

from tests.house.tree import ROOT


def ran(*arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-m", *arguments], cwd=ROOT, capture_output=True, text=True, check=False)


def test_the_types_hold() -> None:
    done = ran("mypy")
    assert done.returncode == 0, done.stdout + done.stderr


def test_the_bench_is_held_strictly() -> None:
    told = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["mypy"]
    assert told["files"] == ["shopapp"]
    assert {"module": "shopapp.bench.*", "strict": True} in told["overrides"]


def test_the_linter_finds_nothing() -> None:
    done = ran("ruff", "check", ".")
    assert done.returncode == 0, done.stdout + done.stderr
