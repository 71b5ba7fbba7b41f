"""A server lets a whole table be emptied at once: refused for rows that are only ever added. SQLite knows no such act."""

from alembic import op

revision = "0090"
down_revision = "0060"
branch_labels = None
depends_on = None

TABLES = (
    "reading", "strike", "size", "event", "paper", "pressed", "payment", "credit_note", "invoice_line",
    "photo", "condition", "declared", "waiver", "trouble", "truing", "shelf_entry", "write_off", "reversal",
    "applied", "refund", "refund_back", "write_off_back", "billed_piece", "labour_rate", "tax_rate", "phrase",
    "joint_reading", "joint_piece", "joint_strike",
)  # fmt: skip


def upgrade() -> None:
    """Put the triggers up."""
    if op.get_bind().dialect.name == "sqlite":
        return
    for table in TABLES:
        op.execute(
            f"CREATE TRIGGER {table}_no_truncate BEFORE TRUNCATE ON {table} "
            "FOR EACH STATEMENT EXECUTE FUNCTION only_added()"
        )
