"""Money that is given back, and what takes back a write-off or a refund that was wrong: rows that are only added."""

import sqlalchemy as sa
from alembic import op

revision = "0021"
down_revision = "0020"
branch_labels = None
depends_on = None

ONLY_ADDED = ("refund", "refund_back", "write_off_back")


def upgrade() -> None:
    """Make the three tables and put their triggers up."""
    op.create_table(
        "refund",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("payment_id", sa.Integer(), nullable=False),
        sa.Column("cents", sa.Integer(), nullable=False),
        sa.Column("how", sa.String(), nullable=False),
        sa.Column("reference", sa.String(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("paid_on", sa.Date(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("cents > 0", name=op.f("ck_refund_cents")),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_refund_by_id_person"),
        sa.ForeignKeyConstraint(["payment_id"], ["payment.id"], name="fk_refund_payment_id_payment"),
        sa.PrimaryKeyConstraint("id", name="pk_refund"),
    )
    op.create_index("ix_refund_payment_id", "refund", ["payment_id"])
    op.create_index("ix_refund_paid_on", "refund", ["paid_on"])
    for table in ("refund", "write_off"):
        _taken_back(table)
    for table in ONLY_ADDED:
        _only_added(table)


def _taken_back(of: str) -> None:
    table, column = f"{of}_back", f"{of}_id"
    op.create_table(
        table,
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column(column, sa.Integer(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name=f"fk_{table}_by_id_person"),
        sa.ForeignKeyConstraint([column], [f"{of}.id"], name=f"fk_{table}_{column}_{of}"),
        sa.PrimaryKeyConstraint("id", name=f"pk_{table}"),
        sa.UniqueConstraint(column, name=f"uq_{table}_{column}"),
    )


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
