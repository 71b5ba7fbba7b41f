"""Runs the migrations on the connection that the program hands over."""

from alembic import context


def run() -> None:
    """Bring the database in step, with SQLite's foreign keys off while tables are rebuilt."""
    told = context.config.attributes
    # Only writing a new migration looks at the tables of the code. Running one must not: their convention for names
    # would be put before names that are written out already.
    tables = told.get("tables")
    context.configure(connection=told["connection"], target_metadata=tables, render_as_batch=True, compare_type=True)
    with context.begin_transaction():
        context.run_migrations()


run()
