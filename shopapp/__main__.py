"""The command line: serve the shop, serve a throw-away demo, bring a book in step."""

import socket
import tempfile
from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer
import uvicorn

from shopapp import app as door
from shopapp.demo import telling as invented
from shopapp.settings import Settings

cli = typer.Typer(add_completion=False, help="A small machine shop's work orders.")
Host = Annotated[str | None, typer.Option(help="The address to listen at.")]
Port = Annotated[int | None, typer.Option(help="The port to listen at.")]


@cli.callback(invoke_without_command=True)
def serve(context: typer.Context, host: Host = None, port: Port = None) -> None:
    """Serve the shop; its book lies in the user's data folder, or where SHOPAPP_DATA says."""
    if context.invoked_subcommand is None:
        settings = Settings()
        _door_is_free(host or settings.host, port or settings.port)
        _serve(settings, host or settings.host, port or settings.port, "The shop")


@cli.command("demo")
def demo_shop(host: Host = None, port: Port = None) -> None:
    """Serve an invented shop in a throw-away book, its days moved so that its today is today."""
    settings = Settings()
    _door_is_free(host or settings.host, port or settings.port)
    with tempfile.TemporaryDirectory(prefix="shopapp-demo-") as folder:
        throw_away = Settings(data=Path(folder), database_url=None, smtp_url=None)
        database = door.open_book(throw_away)
        invented.fill(database, now=datetime.now(UTC))
        database.close()
        typer.echo("Three things to try:")
        for line in invented.TO_TRY:
            typer.echo(f"  - {line}")
        _serve(throw_away, host or settings.host, port or settings.port, "The invented shop")


@cli.command()
def migrate() -> None:
    """Bring the book in step with this version, without serving it."""
    settings = Settings()
    door.open_book(settings).close()
    typer.echo("The book is in step.")


def _door_is_free(host: str, port: int) -> None:
    """Say at once that another program listens there, before anything is made."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family) as trial:
        trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            trial.bind((host, port))
        except OSError as fault:
            typer.echo(f"At {host}:{port} nothing can be served ({fault.strerror}). Choose another: --port {port + 1}")
            raise typer.Exit(1) from fault


def _serve(settings: Settings, host: str, port: int, what: str) -> None:
    database = door.open_book(settings)
    typer.echo(f"{what} is at http://{host}:{port} (stop with Ctrl-C)")
    app = door.build(database, smtp_url=settings.smtp_url, mail_from=settings.mail_from)
    uvicorn.run(app, host=host, port=port, log_level="warning", access_log=False)


if __name__ == "__main__":
    cli()
