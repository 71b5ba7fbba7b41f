"""A real PostgreSQL for the tests: made in a temporary folder, reached by its socket, gone afterwards."""

import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from uuid import uuid4

import psycopg

_QUICK = "-c listen_addresses= -c fsync=off -c synchronous_commit=off -c full_page_writes=off"


def programs() -> Path | None:
    """The folder of the newest server on this machine, or None where there is none."""
    places = sorted(Path("/usr/lib/postgresql").glob("*/bin"), key=lambda place: int(place.parent.name.split(".")[0]))
    if found := shutil.which("initdb"):
        places.insert(0, Path(found).resolve().parent)
    return places[-1] if places else None


@contextmanager
def running(bin_folder: Path) -> Iterator[str]:
    """Run a server and give the address of its first database."""
    folder = Path(tempfile.mkdtemp(prefix="shop-pg-"))
    user = _server_user()
    if user:
        shutil.chown(folder, user, user)
    data = folder / "data"
    control = [str(bin_folder / "pg_ctl"), "-D", str(data), "-s", "-w"]
    try:
        initdb = [str(bin_folder / "initdb"), "-D", str(data), "-U", "postgres", "-A", "trust"]
        _run([*initdb, "-E", "UTF8", "--locale=C.UTF-8", "--no-sync"], user)
        socket = f"-c unix_socket_directories={folder}"
        _run([*control, "-l", str(folder / "log"), "-o", f"{_QUICK} {socket}", "start"], user)
        try:
            yield f"postgresql+psycopg://postgres@/postgres?host={folder}"
        finally:
            _run([*control, "-m", "immediate", "stop"], user)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


@contextmanager
def fresh_database(url: str) -> Iterator[str]:
    """An empty database on the running server, dropped at the end."""
    name = f"shop_{uuid4().hex[:12]}"
    with psycopg.connect(_plain(url), autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name} TEMPLATE template0")
        try:
            yield url.replace("/postgres?", f"/{name}?")
        finally:
            connection.execute(f"DROP DATABASE {name} WITH (FORCE)")


def _plain(url: str) -> str:
    return url.replace("+psycopg", "")


def _server_user() -> str | None:
    """The server refuses to be run by root: then its own user runs it."""
    if os.geteuid() != 0:
        return None
    return pwd.getpwnam("postgres").pw_name


def _run(command: list[str], user: str | None) -> None:
    # Output goes to a file and not a pipe: the server inherits it, and a pipe would stay open as long as it runs.
    with tempfile.TemporaryFile() as said:
        done = subprocess.run(command, user=user, group=user, cwd="/", stdout=said, stderr=said, check=False)
        said.seek(0)
        if done.returncode:
            raise RuntimeError(f"{command[0]}: {said.read().decode(errors='replace')}")
