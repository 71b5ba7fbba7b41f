"""Indexes for what is asked for by day, place or number; and a letter that is being sent has a state of its own."""

from alembic import op

revision = "0022"
down_revision = "0021"
branch_labels = None
depends_on = None

INDEXES = (
    ("paper", ("kind", "number")), ("piece", ("custody",)), ("piece", ("rework_of",)), ("invoice", ("issued_on",)),
    ("payment", ("paid_on",)),
)  # fmt: skip
STATES = "state IN ('waiting', 'sending', 'sent', 'stuck', 'called_back')"


def upgrade() -> None:
    """Make the indexes, and let a letter be on its way."""
    for table, columns in INDEXES:
        op.create_index("_".join(("ix", table, *columns)), table, list(columns))
    with op.batch_alter_table("posted") as posted:
        posted.drop_constraint(op.f("ck_posted_state"), type_="check")
        posted.create_check_constraint(op.f("ck_posted_state"), STATES)
