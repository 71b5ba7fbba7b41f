"""The command line: what each command makes, says and serves."""

import os
import re
import signal
import socket
import subprocess
import sys
from pathlib import Path
from typing import Any

import httpx
import pytest
from typer.testing import CliRunner

from shopapp import __main__ as command_line
from shopapp.demo import telling
from shopapp.office.database import Database, sqlite_url
from tests import makers
from tests.house.tree import ROOT


@pytest.fixture
def served(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> dict[str, Any]:
    """What would be served: the server itself is put aside."""
    monkeypatch.setenv("SHOPAPP_DATA", str(tmp_path / "data"))
    monkeypatch.delenv("SHOPAPP_DATABASE_URL", raising=False)
    seen: dict[str, Any] = {}

    def run(app: Any, **told: Any) -> None:
        with app.state.database.reading() as db:
            seen["jobs"] = len(list(db.connection().exec_driver_sql("SELECT id FROM job")))
        seen.update(told, file=Path(app.state.database.engine.url.database))
        app.state.database.close()

    monkeypatch.setattr(command_line.uvicorn, "run", run)
    monkeypatch.setattr(command_line, "_door_is_free", lambda host, port: None)  # nothing is listened at here
    return seen


def said(*words: str) -> str:
    done = CliRunner().invoke(command_line.cli, list(words))
    assert done.exit_code == 0, done.output
    return done.output


def test_without_a_command_the_shop_is_served_from_its_file(served: dict[str, Any], tmp_path: Path) -> None:
    assert said() == "The shop is at http://127.0.0.1:8000 (stop with Ctrl-C)\n"
    assert (served["file"], served["host"], served["port"]) == (tmp_path / "data" / "shop.db", "127.0.0.1", 8000)
    assert served["jobs"] == 0


@pytest.mark.parametrize("words", [(), ("demo",)])
def test_a_port_that_is_taken_is_said_before_anything_is_made(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, words: tuple[str, ...]
) -> None:
    monkeypatch.setenv("SHOPAPP_DATA", str(tmp_path / "data"))
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        done = CliRunner().invoke(command_line.cli, [*words, "--port", str(port)])
    assert done.exit_code == 1
    assert f"Choose another: --port {port + 1}" in done.output
    assert not (tmp_path / "data").exists()


def test_host_and_port_may_be_told(served: dict[str, Any]) -> None:
    assert "http://0.0.0.0:9001" in said("--host", "0.0.0.0", "--port", "9001")
    assert (served["host"], served["port"]) == ("0.0.0.0", 9001)


def test_the_invented_shop_is_served_from_a_file_that_is_thrown_away(served: dict[str, Any], tmp_path: Path) -> None:
    output = said("demo", "--port", "9002")
    assert "http://127.0.0.1:9002" in output
    assert all(line in output for line in telling.TO_TRY)
    assert len(telling.TO_TRY) == 3
    assert served["jobs"] > 20
    assert not served["file"].exists()
    assert not (tmp_path / "data").exists()


def test_migrating_alone_makes_the_book_and_serves_nothing(served: dict[str, Any], tmp_path: Path) -> None:
    assert said("migrate") == "The book is in step.\n"
    assert served == {}
    book = Database(sqlite_url(tmp_path / "data" / "shop.db"))
    with book.writing() as db:
        assert makers.make_job(db, makers.make_shop(db)).no == 1001
    book.close()


def test_an_unknown_command_is_refused(served: dict[str, Any]) -> None:
    assert CliRunner().invoke(command_line.cli, ["polish"]).exit_code == 2
    assert served == {}


def test_the_shop_answers_at_its_port_and_stops_when_told(tmp_path: Path) -> None:
    port = _free_port()
    shop = subprocess.Popen(
        [sys.executable, "-u", "-m", "shopapp", "--port", str(port)],
        cwd=ROOT, env={**os.environ, "SHOPAPP_DATA": str(tmp_path)}, stdout=subprocess.PIPE, text=True,
    )  # fmt: skip
    try:
        address = re.search(r"http://\S+", shop.stdout.readline())[0]
        transport = httpx.HTTPTransport(retries=8)  # the server may need a moment after it has said its address
        with httpx.Client(transport=transport, base_url=address, follow_redirects=True, timeout=30) as client:
            assert client.get("/").status_code == 200
        assert (tmp_path / "shop.db").is_file()
    finally:
        shop.send_signal(signal.SIGINT)
        shop.wait(30)
        shop.stdout.close()


def _free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as asked:
        return asked.getsockname()[1]
