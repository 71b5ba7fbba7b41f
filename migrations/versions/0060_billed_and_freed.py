"""On which bills a piece has stood is only added: a bill that is void, or taken back as a whole, bills it no more."""

import sqlalchemy as sa
from alembic import op

revision = "0060"
down_revision = "0050"
branch_labels = None
depends_on = None

ONLY_ADDED = ("billed_piece",)


def upgrade() -> None:
    """Make the table anew with a key of piece and bill, put the rows back, and its triggers up."""
    rows = op.get_bind().execute(sa.text("SELECT piece_id, invoice_id FROM billed_piece")).mappings().all()
    op.drop_table("billed_piece")
    made = op.create_table(
        "billed_piece",
        sa.Column("piece_id", sa.Integer(), nullable=False),
        sa.Column("invoice_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["invoice_id"], ["invoice.id"], name="fk_billed_piece_invoice_id_invoice"),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name="fk_billed_piece_piece_id_piece"),
        sa.PrimaryKeyConstraint("piece_id", "invoice_id", name="pk_billed_piece"),
    )
    op.create_index("ix_billed_piece_invoice_id", "billed_piece", ["invoice_id"])
    if rows:
        op.bulk_insert(made, [dict(row) for row in rows])
    for table in ONLY_ADDED:
        _only_added(table)


def _only_added(table: str) -> None:
    for act in ("UPDATE", "DELETE"):
        name = f"{table}_no_{act.lower()}"
        if op.get_bind().dialect.name == "sqlite":
            op.execute(
                f"CREATE TRIGGER {name} BEFORE {act} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are only ever added'); END"
            )
        else:
            op.execute(f"CREATE TRIGGER {name} BEFORE {act} ON {table} FOR EACH ROW EXECUTE FUNCTION only_added()")
