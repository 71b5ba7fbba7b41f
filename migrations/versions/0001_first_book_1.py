"""The first book, part 1 of 6."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make these tables."""
    op.create_table(
        "counter",
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("next_number", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("name", name="pk_counter"),
    )
    op.create_table(
        "customer",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("folded", sa.String(), nullable=False),
        sa.Column("contact", sa.String(), nullable=False),
        sa.Column("phone", sa.String(), nullable=False),
        sa.Column("email", sa.String(), nullable=False),
        sa.Column("address", sa.Text(), nullable=False),
        sa.Column("terms_days", sa.Integer(), nullable=False),
        sa.Column("bill_when", sa.String(), nullable=False),
        sa.Column("order_number", sa.String(), nullable=False),
        sa.Column("deposit_percent", sa.String(), nullable=False),
        sa.Column("country", sa.String(), nullable=False),
        sa.Column("tax_id", sa.String(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.CheckConstraint("bill_when IN ('ready', 'fetched')", name=op.f("ck_customer_bill_when")),
        sa.CheckConstraint("order_number IN ('none', 'wanted', 'required')", name=op.f("ck_customer_order_number")),
        sa.CheckConstraint("terms_days >= 0", name=op.f("ck_customer_terms_days")),
        sa.PrimaryKeyConstraint("id", name="pk_customer"),
    )
    with op.batch_alter_table("customer", schema=None) as batch_op:
        batch_op.create_index("ix_customer_folded", ["folded"], unique=False)

    op.create_table(
        "instrument",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("resolution", sa.String(), nullable=False),
        sa.Column("good_to", sa.String(), nullable=False),
        sa.Column("in_use", sa.Boolean(), nullable=False),
        sa.CheckConstraint("unit IN ('in', 'mm')", name=op.f("ck_instrument_unit")),
        sa.PrimaryKeyConstraint("id", name="pk_instrument"),
        sa.UniqueConstraint("name", name="uq_instrument_name"),
    )
    op.create_table(
        "labour_rate",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("valid_from", sa.Date(), nullable=False),
        sa.Column("cents_per_hour", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_labour_rate"),
        sa.UniqueConstraint("valid_from", name="uq_labour_rate_valid_from"),
    )
    op.create_table(
        "machine",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("dial", sa.String(), nullable=False),
        sa.Column("chuck_limit", sa.Integer(), nullable=False),
        sa.Column("speeds", sa.String(), nullable=False),
        sa.Column("motor_kw", sa.String(), nullable=False),
        sa.Column("screw", sa.String(), nullable=False),
        sa.Column("in_use", sa.Boolean(), nullable=False),
        sa.CheckConstraint("dial IN ('radius', 'diameter')", name=op.f("ck_machine_dial")),
        sa.CheckConstraint("chuck_limit > 0", name=op.f("ck_machine_chuck_limit")),
        sa.PrimaryKeyConstraint("id", name="pk_machine"),
        sa.UniqueConstraint("name", name="uq_machine_name"),
    )
    op.create_table(
        "once",
        sa.Column("form_key", sa.String(), nullable=False),
        sa.Column("leads_to", sa.String(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("form_key", name="pk_once"),
    )
    op.create_table(
        "part",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("folded", sa.String(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("not_done", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_part"),
        sa.UniqueConstraint("name", name="uq_part_name"),
    )
    with op.batch_alter_table("part", schema=None) as batch_op:
        batch_op.create_index("ix_part_folded", ["folded"], unique=False)

    op.create_table(
        "person",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("initials", sa.String(length=4), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("works_here", sa.Boolean(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_person"),
        sa.UniqueConstraint("initials", name="uq_person_initials"),
    )
    op.create_table(
        "phrase",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("subject", sa.String(), nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.Column("valid_from", sa.Date(), nullable=False),
        sa.CheckConstraint(
            "subject IN ('storage', 'workmanship', 'terms', 'quote', 'ready', 'reminder', 'invoice', 'hand_over')",
            name=op.f("ck_phrase_subject"),
        ),
        sa.PrimaryKeyConstraint("id", name="pk_phrase"),
        sa.UniqueConstraint("subject", "valid_from", name="uq_phrase_subject_valid_from"),
    )
