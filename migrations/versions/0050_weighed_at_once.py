"""Several alike pieces on the scale at once: the reading, its pieces, the line through it; only ever added."""

import sqlalchemy as sa
from alembic import op

revision = "0050"
down_revision = "0040"
branch_labels = None
depends_on = None

ONLY_ADDED = ("joint_reading", "joint_piece", "joint_strike")


def upgrade() -> None:
    """Make these tables, and put their triggers up."""
    op.create_table(
        "joint_reading",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("scale_id", sa.Integer(), nullable=False),
        sa.Column("phase", sa.String(), nullable=False),
        sa.Column("typed", sa.String(), nullable=False),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("grams", sa.Float(), nullable=False),
        sa.Column("division", sa.String(), nullable=False),
        sa.Column("zero_seen", sa.Boolean(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("phase IN ('before', 'after')", name="ck_joint_reading_phase"),
        sa.CheckConstraint("grams > 0", name="ck_joint_reading_grams"),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_joint_reading_by_id_person"),
        sa.ForeignKeyConstraint(["scale_id"], ["scale.id"], name="fk_joint_reading_scale_id_scale"),
        sa.PrimaryKeyConstraint("id", name="pk_joint_reading"),
    )
    op.create_table(
        "joint_strike",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("joint_id", sa.Integer(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_joint_strike_by_id_person"),
        sa.ForeignKeyConstraint(["joint_id"], ["joint_reading.id"], name="fk_joint_strike_joint_id_joint_reading"),
        sa.PrimaryKeyConstraint("id", name="pk_joint_strike"),
        sa.UniqueConstraint("joint_id", name="uq_joint_strike_joint_id"),
    )
    op.create_table(
        "joint_piece",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("joint_id", sa.Integer(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["joint_id"], ["joint_reading.id"], name="fk_joint_piece_joint_id_joint_reading"),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name="fk_joint_piece_piece_id_piece"),
        sa.PrimaryKeyConstraint("id", name="pk_joint_piece"),
        sa.UniqueConstraint("joint_id", "piece_id", name="uq_joint_piece_joint_id_piece_id"),
    )
    op.create_index("ix_joint_piece_joint_id", "joint_piece", ["joint_id"])
    op.create_index("ix_joint_piece_piece_id", "joint_piece", ["piece_id"])
    _only_added()


def _only_added() -> None:
    sqlite = op.get_bind().dialect.name == "sqlite"
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
