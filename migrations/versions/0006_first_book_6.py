"""The first book, part 6 of 6."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make these tables."""
    op.create_table(
        "shelf_entry",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("customer_id", sa.Integer(), nullable=False),
        sa.Column("variant_id", sa.Integer(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=True),
        sa.Column("change", sa.Integer(), nullable=False),
        sa.Column("words", sa.String(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("change <> 0", name=op.f("ck_shelf_entry_change")),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_shelf_entry_by_id_person"),
        sa.ForeignKeyConstraint(["customer_id"], ["customer.id"], name="fk_shelf_entry_customer_id_customer"),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name="fk_shelf_entry_piece_id_piece"),
        sa.ForeignKeyConstraint(["variant_id"], ["variant.id"], name="fk_shelf_entry_variant_id_variant"),
        sa.PrimaryKeyConstraint("id", name="pk_shelf_entry"),
    )
    with op.batch_alter_table("shelf_entry", schema=None) as batch_op:
        batch_op.create_index("ix_shelf_entry_customer_id", ["customer_id"], unique=False)
        batch_op.create_index("ix_shelf_entry_variant_id", ["variant_id"], unique=False)

    op.create_table(
        "size",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("typed", sa.String(), nullable=False),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("mm", sa.Float(), nullable=False),
        sa.Column("instrument", sa.String(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("unit IN ('in', 'mm', 'ft', 'm')", name=op.f("ck_size_unit")),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_size_by_id_person"),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name="fk_size_piece_id_piece"),
        sa.PrimaryKeyConstraint("id", name="pk_size"),
    )
    with op.batch_alter_table("size", schema=None) as batch_op:
        batch_op.create_index("ix_size_piece_id", ["piece_id"], unique=False)

    op.create_table(
        "tick",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("setting_id", sa.Integer(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=False),
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("what IN ('key_out', 'turned_by_hand', 'done')", name=op.f("ck_tick_what")),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_tick_by_id_person"),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name="fk_tick_piece_id_piece"),
        sa.ForeignKeyConstraint(["setting_id"], ["chuck_setting.id"], name="fk_tick_setting_id_chuck_setting"),
        sa.PrimaryKeyConstraint("id", name="pk_tick"),
        sa.UniqueConstraint("setting_id", "piece_id", "what", name="uq_tick_setting_id_piece_id_what"),
    )
    with op.batch_alter_table("tick", schema=None) as batch_op:
        batch_op.create_index("ix_tick_piece_id", ["piece_id"], unique=False)
        batch_op.create_index("ix_tick_setting_id", ["setting_id"], unique=False)

    op.create_table(
        "truing",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=False),
        sa.Column("setting_id", sa.Integer(), nullable=True),
        sa.Column("surface", sa.String(), nullable=False),
        sa.Column("stage", sa.String(), nullable=False),
        sa.Column("datum", sa.Boolean(), nullable=False),
        sa.Column("typed", sa.Text(), nullable=False),
        sa.Column("eccentric_mm", sa.Float(), nullable=True),
        sa.Column("oval_mm", sa.Float(), nullable=True),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("stage IN ('found', 'left')", name=op.f("ck_truing_stage")),
        sa.CheckConstraint("surface IN ('outside', 'face', 'bore')", name=op.f("ck_truing_surface")),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_truing_by_id_person"),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name="fk_truing_piece_id_piece"),
        sa.ForeignKeyConstraint(["setting_id"], ["chuck_setting.id"], name="fk_truing_setting_id_chuck_setting"),
        sa.PrimaryKeyConstraint("id", name="pk_truing"),
    )
    with op.batch_alter_table("truing", schema=None) as batch_op:
        batch_op.create_index("ix_truing_piece_id", ["piece_id"], unique=False)
        batch_op.create_index("ix_truing_setting_id", ["setting_id"], unique=False)

    op.create_table(
        "waiver",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=False),
        sa.Column("missing", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_waiver_by_id_person"),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name="fk_waiver_piece_id_piece"),
        sa.PrimaryKeyConstraint("id", name="pk_waiver"),
    )
    with op.batch_alter_table("waiver", schema=None) as batch_op:
        batch_op.create_index("ix_waiver_piece_id", ["piece_id"], unique=False)

    op.create_table(
        "write_off",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("invoice_id", sa.Integer(), nullable=False),
        sa.Column("cents", sa.Integer(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("cents > 0", name=op.f("ck_write_off_cents")),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_write_off_by_id_person"),
        sa.ForeignKeyConstraint(["invoice_id"], ["invoice.id"], name="fk_write_off_invoice_id_invoice"),
        sa.PrimaryKeyConstraint("id", name="pk_write_off"),
    )
    with op.batch_alter_table("write_off", schema=None) as batch_op:
        batch_op.create_index("ix_write_off_invoice_id", ["invoice_id"], unique=False)

    op.create_table(
        "strike",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("reading_id", sa.Integer(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_strike_by_id_person"),
        sa.ForeignKeyConstraint(["reading_id"], ["reading.id"], name="fk_strike_reading_id_reading"),
        sa.PrimaryKeyConstraint("id", name="pk_strike"),
        sa.UniqueConstraint("reading_id", name="uq_strike_reading_id"),
    )
    op.create_table(
        "trouble",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("job_id", sa.Integer(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=True),
        sa.Column("variant_id", sa.Integer(), nullable=True),
        sa.Column("photo_id", sa.Integer(), nullable=True),
        sa.Column("words", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_trouble_by_id_person"),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_trouble_job_id_job"),
        sa.ForeignKeyConstraint(["photo_id"], ["photo.id"], name="fk_trouble_photo_id_photo"),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name="fk_trouble_piece_id_piece"),
        sa.ForeignKeyConstraint(["variant_id"], ["variant.id"], name="fk_trouble_variant_id_variant"),
        sa.PrimaryKeyConstraint("id", name="pk_trouble"),
    )
    with op.batch_alter_table("trouble", schema=None) as batch_op:
        batch_op.create_index("ix_trouble_job_id", ["job_id"], unique=False)
        batch_op.create_index("ix_trouble_piece_id", ["piece_id"], unique=False)
        batch_op.create_index("ix_trouble_variant_id", ["variant_id"], unique=False)
