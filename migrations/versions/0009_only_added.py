"""Rows that are only ever added: a trigger refuses to change or delete them, on both engines."""

from alembic import op

revision = "0009"
down_revision = "0006"
branch_labels = None
depends_on = None

ONLY_ADDED = (
    "reading", "strike", "size", "event", "paper", "pressed", "payment", "credit_note", "invoice_line",
    "photo", "condition", "declared", "waiver", "trouble", "truing", "shelf_entry", "write_off", "reversal",
)  # fmt: skip


def upgrade() -> None:
    """Put the triggers up."""
    sqlite = op.get_bind().dialect.name == "sqlite"
    if not sqlite:
        op.execute(
            "CREATE FUNCTION only_added() RETURNS trigger LANGUAGE plpgsql AS "
            "$$ BEGIN RAISE EXCEPTION 'rows of % are only ever added', TG_TABLE_NAME; END $$"
        )
    for table in ONLY_ADDED:
        for act in ("UPDATE", "DELETE"):
            name = f"{table}_no_{act.lower()}"
            if sqlite:
                op.execute(
                    f"CREATE TRIGGER {name} BEFORE {act} ON {table} "
                    f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are only ever added'); END"
                )
            else:
                op.execute(f"CREATE TRIGGER {name} BEFORE {act} ON {table} FOR EACH ROW EXECUTE FUNCTION only_added()")
