"""The first book, part 3 of 3."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "quote",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("job_id", sa.Integer(), nullable=False),
        sa.Column("revision", sa.String(length=2), nullable=False),
        sa.Column("pricing", sa.Text(), nullable=False),
        sa.Column("minutes", sa.Integer(), nullable=False),
        sa.Column("net_cents", sa.Integer(), nullable=False),
        sa.Column("total_cents", sa.Integer(), nullable=False),
        sa.Column("issued_on", sa.Date(), nullable=True),
        sa.Column("good_until", sa.Date(), nullable=True),
        sa.Column("paper_id", sa.Integer(), nullable=True),
        sa.Column("turned_down_on", sa.Date(), nullable=True),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_quote_job_id_job"),
        sa.ForeignKeyConstraint(["paper_id"], ["paper.id"], name="fk_quote_paper_id_paper"),
        sa.PrimaryKeyConstraint("id", name="pk_quote"),
        sa.UniqueConstraint("job_id", "revision", name="uq_quote_job_id_revision"),
    )
    with op.batch_alter_table("quote", schema=None) as batch_op:
        batch_op.create_index("ix_quote_job_id", ["job_id"], unique=False)

    op.create_table(
        "applied",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("payment_id", sa.Integer(), nullable=False),
        sa.Column("invoice_id", sa.Integer(), nullable=False),
        sa.Column("cents", sa.Integer(), nullable=False),
        sa.CheckConstraint("cents > 0", name="ck_applied_cents"),
        sa.ForeignKeyConstraint(["invoice_id"], ["invoice.id"], name="fk_applied_invoice_id_invoice"),
        sa.ForeignKeyConstraint(["payment_id"], ["payment.id"], name="fk_applied_payment_id_payment"),
        sa.PrimaryKeyConstraint("id", name="pk_applied"),
    )
    with op.batch_alter_table("applied", schema=None) as batch_op:
        batch_op.create_index("ix_applied_invoice_id", ["invoice_id"], unique=False)
        batch_op.create_index("ix_applied_payment_id", ["payment_id"], unique=False)

    op.create_table(
        "billed_piece",
        sa.Column("piece_id", sa.Integer(), nullable=False),
        sa.Column("invoice_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["invoice_id"], ["invoice.id"], name="fk_billed_piece_invoice_id_invoice"),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name="fk_billed_piece_piece_id_piece"),
        sa.PrimaryKeyConstraint("piece_id", name="pk_billed_piece"),
    )
    with op.batch_alter_table("billed_piece", schema=None) as batch_op:
        batch_op.create_index("ix_billed_piece_invoice_id", ["invoice_id"], unique=False)

    op.create_table(
        "credit_note",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("no", sa.Integer(), nullable=False),
        sa.Column("invoice_id", sa.Integer(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("issued_on", sa.Date(), nullable=False),
        sa.Column("net_cents", sa.Integer(), nullable=False),
        sa.Column("tax_cents", sa.Integer(), nullable=False),
        sa.Column("total_cents", sa.Integer(), nullable=False),
        sa.Column("paper_id", sa.Integer(), nullable=False),
        sa.CheckConstraint("net_cents + tax_cents = total_cents", name="ck_credit_note_sum"),
        sa.ForeignKeyConstraint(["invoice_id"], ["invoice.id"], name="fk_credit_note_invoice_id_invoice"),
        sa.ForeignKeyConstraint(["paper_id"], ["paper.id"], name="fk_credit_note_paper_id_paper"),
        sa.PrimaryKeyConstraint("id", name="pk_credit_note"),
        sa.UniqueConstraint("no", name="uq_credit_note_no"),
    )
    with op.batch_alter_table("credit_note", schema=None) as batch_op:
        batch_op.create_index("ix_credit_note_invoice_id", ["invoice_id"], unique=False)

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
        "go_ahead",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("job_id", sa.Integer(), nullable=False),
        sa.Column("quote_id", sa.Integer(), nullable=True),
        sa.Column("said_by", sa.String(), nullable=False),
        sa.Column("how", sa.String(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("how IN ('phone', 'in_person', 'in_writing')", name="ck_go_ahead_how"),
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
        sa.CheckConstraint("phase IN ('before', 'between', 'after')", name="ck_reading_phase"),
        sa.CheckConstraint("grams > 0", name="ck_reading_grams"),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_reading_by_id_person"),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name="fk_reading_piece_id_piece"),
        sa.ForeignKeyConstraint(["scale_id"], ["scale.id"], name="fk_reading_scale_id_scale"),
        sa.PrimaryKeyConstraint("id", name="pk_reading"),
    )
    with op.batch_alter_table("reading", schema=None) as batch_op:
        batch_op.create_index("ix_reading_piece_id", ["piece_id"], unique=False)

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
        sa.CheckConstraint("unit IN ('in', 'mm', 'ft', 'm')", name="ck_size_unit"),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_size_by_id_person"),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name="fk_size_piece_id_piece"),
        sa.PrimaryKeyConstraint("id", name="pk_size"),
    )
    with op.batch_alter_table("size", schema=None) as batch_op:
        batch_op.create_index("ix_size_piece_id", ["piece_id"], unique=False)

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
