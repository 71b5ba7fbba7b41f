"""The first book, part 4 of 6."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make these tables."""
    op.create_table(
        "invoice",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("no", sa.Integer(), nullable=False),
        sa.Column("customer_id", sa.Integer(), nullable=False),
        sa.Column("job_id", sa.Integer(), nullable=False),
        sa.Column("issued_on", sa.Date(), nullable=False),
        sa.Column("due_on", sa.Date(), nullable=False),
        sa.Column("net_cents", sa.Integer(), nullable=False),
        sa.Column("tax_cents", sa.Integer(), nullable=False),
        sa.Column("total_cents", sa.Integer(), nullable=False),
        sa.Column("paper_id", sa.Integer(), nullable=False),
        sa.Column("void_on", sa.Date(), nullable=True),
        sa.Column("void_reason", sa.Text(), nullable=False),
        sa.CheckConstraint("net_cents + tax_cents = total_cents", name=op.f("ck_invoice_sum")),
        sa.ForeignKeyConstraint(["customer_id"], ["customer.id"], name="fk_invoice_customer_id_customer"),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_invoice_job_id_job"),
        sa.ForeignKeyConstraint(["paper_id"], ["paper.id"], name="fk_invoice_paper_id_paper"),
        sa.PrimaryKeyConstraint("id", name="pk_invoice"),
        sa.UniqueConstraint("no", name="uq_invoice_no"),
    )
    with op.batch_alter_table("invoice", schema=None) as batch_op:
        batch_op.create_index("ix_invoice_customer_id", ["customer_id"], unique=False)
        batch_op.create_index("ix_invoice_job_id", ["job_id"], unique=False)

    op.create_table(
        "piece",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("job_id", sa.Integer(), nullable=False),
        sa.Column("n", sa.Integer(), nullable=False),
        sa.Column("variant_id", sa.Integer(), nullable=True),
        sa.Column("sign_seen", sa.Integer(), nullable=True),
        sa.Column("goes_to", sa.String(), nullable=False),
        sa.Column("machine", sa.String(), nullable=False),
        sa.Column("place", sa.String(), nullable=False),
        sa.Column("custody", sa.String(), nullable=False),
        sa.Column("moved_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("hand_over_id", sa.Integer(), nullable=True),
        sa.Column("rework_of", sa.Integer(), nullable=True),
        sa.Column("note", sa.Text(), nullable=False),
        sa.CheckConstraint(
            "custody IN ('expected', 'rack', 'chuck', 'checked', 'shelf', 'gone', 'spoiled', 'sent_back')",
            name=op.f("ck_piece_custody"),
        ),
        sa.CheckConstraint("goes_to IN ('machine', 'shelf')", name=op.f("ck_piece_goes_to")),
        sa.CheckConstraint("n > 0", name=op.f("ck_piece_n")),
        sa.ForeignKeyConstraint(["hand_over_id"], ["hand_over.id"], name="fk_piece_hand_over_id_hand_over"),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_piece_job_id_job"),
        sa.ForeignKeyConstraint(["rework_of"], ["piece.id"], name="fk_piece_rework_of_piece"),
        sa.ForeignKeyConstraint(["sign_seen"], ["sign.id"], name="fk_piece_sign_seen_sign"),
        sa.ForeignKeyConstraint(["variant_id"], ["variant.id"], name="fk_piece_variant_id_variant"),
        sa.PrimaryKeyConstraint("id", name="pk_piece"),
        sa.UniqueConstraint("job_id", "n", name="uq_piece_job_id_n"),
    )
    with op.batch_alter_table("piece", schema=None) as batch_op:
        batch_op.create_index("ix_piece_hand_over_id", ["hand_over_id"], unique=False)
        batch_op.create_index("ix_piece_job_id", ["job_id"], unique=False)
        batch_op.create_index("ix_piece_variant_id", ["variant_id"], unique=False)

    op.create_table(
        "posted",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("paper_id", sa.Integer(), nullable=False),
        sa.Column("to_address", sa.String(), nullable=False),
        sa.Column("subject", sa.String(), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.Column("message_id", sa.String(), nullable=False),
        sa.Column("state", sa.String(), nullable=False),
        sa.Column("tries", sa.Integer(), nullable=False),
        sa.Column("next_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("sent_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("fault", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("state IN ('waiting', 'sent', 'stuck', 'called_back')", name=op.f("ck_posted_state")),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_posted_by_id_person"),
        sa.ForeignKeyConstraint(["paper_id"], ["paper.id"], name="fk_posted_paper_id_paper"),
        sa.PrimaryKeyConstraint("id", name="pk_posted"),
        sa.UniqueConstraint("message_id", name="uq_posted_message_id"),
    )
    with op.batch_alter_table("posted", schema=None) as batch_op:
        batch_op.create_index("ix_posted_paper_id", ["paper_id"], unique=False)
        batch_op.create_index("ix_posted_state", ["state"], unique=False)

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
        "reversal",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("payment_id", sa.Integer(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_reversal_by_id_person"),
        sa.ForeignKeyConstraint(["payment_id"], ["payment.id"], name="fk_reversal_payment_id_payment"),
        sa.PrimaryKeyConstraint("id", name="pk_reversal"),
        sa.UniqueConstraint("payment_id", name="uq_reversal_payment_id"),
    )
    op.create_table(
        "applied",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("payment_id", sa.Integer(), nullable=False),
        sa.Column("invoice_id", sa.Integer(), nullable=False),
        sa.Column("cents", sa.Integer(), nullable=False),
        sa.CheckConstraint("cents > 0", name=op.f("ck_applied_cents")),
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
        "condition",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("piece_id", sa.Integer(), nullable=False),
        sa.Column("word", sa.String(), nullable=False),
        sa.Column("answer", sa.String(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("answer IN ('yes', 'no', 'not_looked')", name=op.f("ck_condition_answer")),
        sa.CheckConstraint(
            "word IN ('cracked', 'chipped', 'rusted', 'welded', 'bent', 'missing_bits')", name=op.f("ck_condition_word")
        ),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_condition_by_id_person"),
        sa.ForeignKeyConstraint(["piece_id"], ["piece.id"], name="fk_condition_piece_id_piece"),
        sa.PrimaryKeyConstraint("id", name="pk_condition"),
    )
    with op.batch_alter_table("condition", schema=None) as batch_op:
        batch_op.create_index("ix_condition_piece_id", ["piece_id"], unique=False)

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
        sa.CheckConstraint("net_cents + tax_cents = total_cents", name=op.f("ck_credit_note_sum")),
        sa.ForeignKeyConstraint(["invoice_id"], ["invoice.id"], name="fk_credit_note_invoice_id_invoice"),
        sa.ForeignKeyConstraint(["paper_id"], ["paper.id"], name="fk_credit_note_paper_id_paper"),
        sa.PrimaryKeyConstraint("id", name="pk_credit_note"),
        sa.UniqueConstraint("no", name="uq_credit_note_no"),
    )
    with op.batch_alter_table("credit_note", schema=None) as batch_op:
        batch_op.create_index("ix_credit_note_invoice_id", ["invoice_id"], unique=False)
