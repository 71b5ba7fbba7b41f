"""Runs the migrations on the connection that the program hands over."""

from alembic import context

from shopapp.office.tables.every import METADATA


def run() -> None:
    """Bring the database in step, with SQLite's foreign keys off while tables are rebuilt."""
    connection = context.config.attributes["connection"]
    context.configure(connection=connection, target_metadata=METADATA, render_as_batch=True, compare_type=True)
    with context.begin_transaction():
        context.run_migrations()


run()
