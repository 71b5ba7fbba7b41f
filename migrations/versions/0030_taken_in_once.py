"""A form's key holds what it held; dated rows may be put right on their own day; an act knows its customer and its hour.

A dated row that was typed wrong is put right by a newer one of the same day, so the day is no key any more, and the rows
themselves are only added. An act of a job written before carries its job's customer from now on.
"""

import sqlalchemy as sa
from alembic import op

revision = "0030"
down_revision = "0022"
branch_labels = None
depends_on = None

ONLY_ADDED = ("labour_rate", "tax_rate", "phrase")
KEYS = {
    "labour_rate": "uq_labour_rate_valid_from",
    "tax_rate": "uq_tax_rate_valid_from",
    "phrase": "uq_phrase_subject_valid_from",
}
WHOSE = "UPDATE event SET customer_id = (SELECT job.customer_id FROM job WHERE job.id = event.job_id) "
NOBODY = "WHERE customer_id IS NULL AND job_id IS NOT NULL"


def upgrade() -> None:
    """Add the columns, let go of the keys, and put the triggers up."""
    sqlite = op.get_bind().dialect.name == "sqlite"
    op.add_column("once", sa.Column("content", sa.String(), nullable=False, server_default=""))
    with op.batch_alter_table("once") as batch:
        batch.alter_column("content", server_default=None)
    op.add_column("agreement", sa.Column("wrong_at", sa.DateTime(timezone=True), nullable=True))
    op.add_column("event", sa.Column("entered_at", sa.DateTime(timezone=True), nullable=True))
    for table, name in KEYS.items():
        with op.batch_alter_table(table) as batch:
            batch.drop_constraint(name, type_="unique")
    (_whose_on_a_file if sqlite else _whose_on_a_server)()
    for table in ONLY_ADDED:
        _only_added(table, sqlite)


def _whose_on_a_file() -> None:
    """The triggers of the day book come down while its old lines learn whose they are, and go up as they were."""
    found = sa.text("SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'event'")
    triggers = op.get_bind().execute(found).all()
    for name, _ in triggers:
        op.execute(f"DROP TRIGGER {name}")
    op.execute(WHOSE + NOBODY)
    for _, made_by in triggers:
        op.execute(sa.text(made_by.replace(":", r"\:")))


def _whose_on_a_server() -> None:
    op.execute("ALTER TABLE event DISABLE TRIGGER USER")
    op.execute(WHOSE + NOBODY)
    op.execute("ALTER TABLE event ENABLE TRIGGER USER")


def _only_added(table: str, sqlite: bool) -> None:
    for act in ("UPDATE", "DELETE"):
        name = f"{table}_no_{act.lower()}"
        if sqlite:
            op.execute(
                f"CREATE TRIGGER {name} BEFORE {act} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are only ever added'); END"
            )
        else:
            op.execute(f"CREATE TRIGGER {name} BEFORE {act} ON {table} FOR EACH ROW EXECUTE FUNCTION only_added()")
