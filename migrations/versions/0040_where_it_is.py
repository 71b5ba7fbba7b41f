"""Where a piece is and what was decided about it are two facts; what a scale showed with nothing on it is kept."""

import sqlalchemy as sa
from alembic import op

revision = "0040"
down_revision = "0030"
branch_labels = None
depends_on = None

CUSTODY = "custody IN ('expected', 'rack', 'chuck', 'checked', 'shelf', 'gone')"
FATE = "fate IS NULL OR fate IN ('spoiled', 'sent_back', 'not_come', 'again')"
FATE_CUSTODY = "fate IS NULL OR custody = 'gone' OR (custody = 'shelf' AND fate IN ('spoiled', 'sent_back'))"


def upgrade() -> None:
    """Split custody; what was sent back or spoiled and not handed over lies on the pick-up shelf."""
    with op.batch_alter_table("piece") as piece:
        piece.add_column(sa.Column("fate", sa.String(), nullable=True))
        piece.drop_constraint(op.f("ck_piece_custody"), type_="check")
    op.execute("UPDATE piece SET fate = custody WHERE custody IN ('spoiled', 'sent_back')")
    op.execute(
        "UPDATE piece SET custody = CASE WHEN hand_over_id IS NULL THEN 'shelf' ELSE 'gone' END "
        "WHERE custody IN ('spoiled', 'sent_back')"
    )
    for was, fate, custody in (("rack", "sent_back", "shelf"), ("expected", "not_come", "gone")):
        op.execute(
            sa.text(
                "UPDATE piece SET fate = :fate, custody = :custody "
                "WHERE custody = :was AND job_id IN (SELECT id FROM job WHERE ended IS NOT NULL)"
            ).bindparams(fate=fate, custody=custody, was=was)
        )
    with op.batch_alter_table("piece") as piece:
        piece.create_check_constraint(op.f("ck_piece_custody"), CUSTODY)
        piece.create_check_constraint(op.f("ck_piece_fate"), FATE)
        piece.create_check_constraint(op.f("ck_piece_fate_custody"), FATE_CUSTODY)
    # Rows of readings are only ever added: a column more, and no table made anew, which would lose its triggers.
    op.add_column("reading", sa.Column("zero", sa.String(), nullable=True))
    op.create_index("ix_reading_at", "reading", ["at"], unique=False)
