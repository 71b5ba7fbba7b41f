"""Brings a database in step with the code: one history of migrations for both engines."""

from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection, text

from shopapp.office.database import Database
from shopapp.office.tables.every import METADATA


def migrate(database: Database, scripts: Path, *, to: str = "head") -> None:
    """Run every migration that the database has not seen, or those up to one.

    SQLite rebuilds tables to change them, and with foreign keys on a rebuild deletes the rows that
    point at it: so they are off meanwhile, and checked afterwards.
    """
    sqlite = database.engine.dialect.name == "sqlite"
    with database.engine.connect() as connection:
        if sqlite:
            connection.exec_driver_sql("COMMIT")
            connection.exec_driver_sql("PRAGMA foreign_keys=OFF")
            connection.exec_driver_sql("BEGIN IMMEDIATE")
        _run(connection, scripts, to)
        if sqlite and (orphans := connection.execute(text("PRAGMA foreign_key_check")).all()):
            raise RuntimeError(f"After migrating, rows point at nothing: {orphans[:5]}")
        connection.commit()
        if sqlite:
            connection.invalidate()


def _run(connection: Connection, scripts: Path, to: str) -> None:
    config = Config()
    config.set_main_option("script_location", str(scripts).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = connection
    command.upgrade(config, to)


def autogenerate(database: Database, scripts: Path, message: str) -> None:
    """Write a new migration from what the tables of the code have and the database has not."""
    with database.engine.connect() as connection:
        config = Config()
        config.set_main_option("script_location", str(scripts))
        config.set_main_option("path_separator", "os")
        config.attributes.update(connection=connection, tables=METADATA)
        command.revision(config, message=message, autogenerate=True)
