"""The first book, part 5 of 6."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make these tables."""
    op.create_table(
        "cut_plan",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("job_id", sa.Integer(), nullable=False),
        sa.Column("variant_id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("basis", sa.String(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=True),
        sa.Column("body_id", sa.Integer(), nullable=True),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("typed", sa.Text(), nullable=False),
        sa.Column("grams", sa.Float(), nullable=False),
        sa.Column("spread", sa.Float(), nullable=False),
        sa.Column("about", sa.String(), nullable=False),
        sa.Column("removal", sa.Text(), nullable=False),
        sa.Column("section", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("basis IN ('planned', 'measured')", name=op.f("ck_cut_plan_basis")),
        sa.CheckConstraint("unit IN ('in', 'mm')", name=op.f("ck_cut_plan_unit")),
        sa.ForeignKeyConstraint(["body_id"], ["body.id"], name="fk_cut_plan_body_id_body"),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_cut_plan_by_id_person"),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_cut_plan_job_id_job"),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name="fk_cut_plan_piece_id_piece"),
        sa.ForeignKeyConstraint(["variant_id"], ["variant.id"], name="fk_cut_plan_variant_id_variant"),
        sa.PrimaryKeyConstraint("id", name="pk_cut_plan"),
        sa.UniqueConstraint("job_id", "variant_id", "version", name="uq_cut_plan_job_id_variant_id_version"),
    )
    with op.batch_alter_table("cut_plan", schema=None) as batch_op:
        batch_op.create_index("ix_cut_plan_job_id", ["job_id"], unique=False)
        batch_op.create_index("ix_cut_plan_piece_id", ["piece_id"], unique=False)
        batch_op.create_index("ix_cut_plan_variant_id", ["variant_id"], unique=False)

    op.create_table(
        "declared",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=False),
        sa.Column("cents", sa.Integer(), nullable=True),
        sa.Column("risk", sa.String(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("risk IN ('customer', 'shop')", name=op.f("ck_declared_risk")),
        sa.CheckConstraint("cents IS NULL OR cents > 0", name=op.f("ck_declared_cents")),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_declared_by_id_person"),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name="fk_declared_piece_id_piece"),
        sa.PrimaryKeyConstraint("id", name="pk_declared"),
    )
    with op.batch_alter_table("declared", schema=None) as batch_op:
        batch_op.create_index("ix_declared_piece_id", ["piece_id"], unique=False)

    op.create_table(
        "event",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("act", sa.String(), nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.Column("customer_id", sa.Integer(), nullable=True),
        sa.Column("job_id", sa.Integer(), nullable=True),
        sa.Column("piece_id", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_event_by_id_person"),
        sa.ForeignKeyConstraint(["customer_id"], ["customer.id"], name="fk_event_customer_id_customer"),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_event_job_id_job"),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name="fk_event_piece_id_piece"),
        sa.PrimaryKeyConstraint("id", name="pk_event"),
    )
    with op.batch_alter_table("event", schema=None) as batch_op:
        batch_op.create_index("ix_event_customer_id", ["customer_id"], unique=False)
        batch_op.create_index("ix_event_job_id", ["job_id"], unique=False)
        batch_op.create_index("ix_event_piece_id", ["piece_id"], unique=False)

    op.create_table(
        "final_tick",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=False),
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_final_tick_by_id_person"),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name="fk_final_tick_piece_id_piece"),
        sa.PrimaryKeyConstraint("id", name="pk_final_tick"),
        sa.UniqueConstraint("piece_id", "what", name="uq_final_tick_piece_id_what"),
    )
    with op.batch_alter_table("final_tick", schema=None) as batch_op:
        batch_op.create_index("ix_final_tick_piece_id", ["piece_id"], unique=False)

    op.create_table(
        "go_ahead",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("job_id", sa.Integer(), nullable=False),
        sa.Column("quote_id", sa.Integer(), nullable=True),
        sa.Column("said_by", sa.String(), nullable=False),
        sa.Column("how", sa.String(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("how IN ('phone', 'in_person', 'in_writing')", name=op.f("ck_go_ahead_how")),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_go_ahead_by_id_person"),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_go_ahead_job_id_job"),
        sa.ForeignKeyConstraint(["quote_id"], ["quote.id"], name="fk_go_ahead_quote_id_quote"),
        sa.PrimaryKeyConstraint("id", name="pk_go_ahead"),
    )
    with op.batch_alter_table("go_ahead", schema=None) as batch_op:
        batch_op.create_index("ix_go_ahead_job_id", ["job_id"], unique=False)

    op.create_table(
        "invoice_line",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("invoice_id", sa.Integer(), nullable=False),
        sa.Column("words", sa.String(), nullable=False),
        sa.Column("quantity", sa.String(), nullable=False),
        sa.Column("unit_cents", sa.Integer(), nullable=False),
        sa.Column("cents", sa.Integer(), nullable=False),
        sa.Column("taxable", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(["invoice_id"], ["invoice.id"], name="fk_invoice_line_invoice_id_invoice"),
        sa.PrimaryKeyConstraint("id", name="pk_invoice_line"),
    )
    with op.batch_alter_table("invoice_line", schema=None) as batch_op:
        batch_op.create_index("ix_invoice_line_invoice_id", ["invoice_id"], unique=False)

    op.create_table(
        "loose_bit",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=False),
        sa.Column("words", sa.String(), nullable=False),
        sa.Column("back_at", sa.DateTime(timezone=True), nullable=True),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name="fk_loose_bit_piece_id_piece"),
        sa.PrimaryKeyConstraint("id", name="pk_loose_bit"),
    )
    with op.batch_alter_table("loose_bit", schema=None) as batch_op:
        batch_op.create_index("ix_loose_bit_piece_id", ["piece_id"], unique=False)

    op.create_table(
        "photo",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("job_id", sa.Integer(), nullable=True),
        sa.Column("piece_id", sa.Integer(), nullable=True),
        sa.Column("sign_id", sa.Integer(), nullable=True),
        sa.Column("sha256", sa.String(), nullable=False),
        sa.Column("jpeg", sa.LargeBinary(), nullable=False),
        sa.Column("wide", sa.Integer(), nullable=False),
        sa.Column("high", sa.Integer(), nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint(
            "what IN ('intake', 'damage', 'sign', 'trouble', 'question', 'finished', 'paper_back')",
            name=op.f("ck_photo_what"),
        ),
        sa.CheckConstraint("wide > 0 AND high > 0", name=op.f("ck_photo_size")),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_photo_by_id_person"),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_photo_job_id_job"),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name="fk_photo_piece_id_piece"),
        sa.ForeignKeyConstraint(["sign_id"], ["sign.id"], name="fk_photo_sign_id_sign"),
        sa.PrimaryKeyConstraint("id", name="pk_photo"),
    )
    with op.batch_alter_table("photo", schema=None) as batch_op:
        batch_op.create_index("ix_photo_job_id", ["job_id"], unique=False)
        batch_op.create_index("ix_photo_piece_id", ["piece_id"], unique=False)
        batch_op.create_index("ix_photo_sha256", ["sha256"], unique=False)
        batch_op.create_index("ix_photo_sign_id", ["sign_id"], unique=False)

    op.create_table(
        "reading",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=False),
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
        sa.CheckConstraint("phase IN ('before', 'between', 'after')", name=op.f("ck_reading_phase")),
        sa.CheckConstraint("grams > 0", name=op.f("ck_reading_grams")),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_reading_by_id_person"),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name="fk_reading_piece_id_piece"),
        sa.ForeignKeyConstraint(["scale_id"], ["scale.id"], name="fk_reading_scale_id_scale"),
        sa.PrimaryKeyConstraint("id", name="pk_reading"),
    )
    with op.batch_alter_table("reading", schema=None) as batch_op:
        batch_op.create_index("ix_reading_piece_id", ["piece_id"], unique=False)
