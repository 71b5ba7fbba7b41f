"""The first book, part 2 of 3."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "variant",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("folded", sa.String(), nullable=False),
        sa.Column("material", sa.String(), nullable=False),
        sa.Column("made", sa.String(), nullable=False),
        sa.Column("density", sa.String(), nullable=False),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.CheckConstraint("made IN ('cast', 'wrought')", name="ck_variant_made"),
        sa.CheckConstraint("unit IN ('in', 'mm')", name="ck_variant_unit"),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name="fk_variant_part_id_part"),
        sa.PrimaryKeyConstraint("id", name="pk_variant"),
        sa.UniqueConstraint("part_id", "name", name="uq_variant_part_id_name"),
    )
    with op.batch_alter_table("variant", schema=None) as batch_op:
        batch_op.create_index("ix_variant_folded", ["folded"], unique=False)
        batch_op.create_index("ix_variant_part_id", ["part_id"], unique=False)

    op.create_table(
        "body",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("variant_id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("typed", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("unit IN ('in', 'mm')", name="ck_body_unit"),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_body_by_id_person"),
        sa.ForeignKeyConstraint(["variant_id"], ["variant.id"], name="fk_body_variant_id_variant"),
        sa.PrimaryKeyConstraint("id", name="pk_body"),
        sa.UniqueConstraint("variant_id", "version", name="uq_body_variant_id_version"),
    )
    with op.batch_alter_table("body", schema=None) as batch_op:
        batch_op.create_index("ix_body_variant_id", ["variant_id"], unique=False)

    op.create_table(
        "call",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("job_id", sa.Integer(), nullable=False),
        sa.Column("outcome", sa.String(), nullable=False),
        sa.Column("whom", sa.String(), nullable=False),
        sa.Column("words", sa.String(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("outcome IN ('told', 'message', 'no_answer', 'someone_else')", name="ck_call_outcome"),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_call_by_id_person"),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_call_job_id_job"),
        sa.PrimaryKeyConstraint("id", name="pk_call"),
    )
    with op.batch_alter_table("call", schema=None) as batch_op:
        batch_op.create_index("ix_call_job_id", ["job_id"], unique=False)

    op.create_table(
        "hand_over",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("job_id", sa.Integer(), nullable=False),
        sa.Column("taken_by", sa.String(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_hand_over_by_id_person"),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_hand_over_job_id_job"),
        sa.PrimaryKeyConstraint("id", name="pk_hand_over"),
    )
    with op.batch_alter_table("hand_over", schema=None) as batch_op:
        batch_op.create_index("ix_hand_over_job_id", ["job_id"], unique=False)

    op.create_table(
        "paper",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("number", sa.String(), nullable=False),
        sa.Column("job_id", sa.Integer(), nullable=False),
        sa.Column("sheet", sa.Text(), nullable=False),
        sa.Column("sha256", sa.String(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("kind IN ('quote', 'ready', 'invoice', 'credit')", name="ck_paper_kind"),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_paper_by_id_person"),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_paper_job_id_job"),
        sa.PrimaryKeyConstraint("id", name="pk_paper"),
    )
    with op.batch_alter_table("paper", schema=None) as batch_op:
        batch_op.create_index("ix_paper_job_id", ["job_id"], unique=False)
        batch_op.create_index("ix_paper_sha256", ["sha256"], unique=False)

    op.create_table(
        "payment",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("customer_id", sa.Integer(), nullable=False),
        sa.Column("job_id", sa.Integer(), nullable=False),
        sa.Column("cents", sa.Integer(), nullable=False),
        sa.Column("how", sa.String(), nullable=False),
        sa.Column("reference", sa.String(), nullable=False),
        sa.Column("paid_on", sa.Date(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("cents > 0", name="ck_payment_cents"),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_payment_by_id_person"),
        sa.ForeignKeyConstraint(["customer_id"], ["customer.id"], name="fk_payment_customer_id_customer"),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_payment_job_id_job"),
        sa.PrimaryKeyConstraint("id", name="pk_payment"),
    )
    with op.batch_alter_table("payment", schema=None) as batch_op:
        batch_op.create_index("ix_payment_customer_id", ["customer_id"], unique=False)
        batch_op.create_index("ix_payment_job_id", ["job_id"], unique=False)

    op.create_table(
        "sign",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("variant_id", sa.Integer(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("words", sa.String(), nullable=False),
        sa.Column("deciding", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(["variant_id"], ["variant.id"], name="fk_sign_variant_id_variant"),
        sa.PrimaryKeyConstraint("id", name="pk_sign"),
        sa.UniqueConstraint("variant_id", "place", name="uq_sign_variant_id_place"),
    )
    with op.batch_alter_table("sign", schema=None) as batch_op:
        batch_op.create_index("ix_sign_variant_id", ["variant_id"], unique=False)

    op.create_table(
        "spent",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("job_id", sa.Integer(), nullable=False),
        sa.Column("minutes", sa.Integer(), nullable=False),
        sa.Column("words", sa.String(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("minutes > 0", name="ck_spent_minutes"),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_spent_by_id_person"),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_spent_job_id_job"),
        sa.PrimaryKeyConstraint("id", name="pk_spent"),
    )
    with op.batch_alter_table("spent", schema=None) as batch_op:
        batch_op.create_index("ix_spent_job_id", ["job_id"], unique=False)

    op.create_table(
        "stop",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("job_id", sa.Integer(), nullable=False),
        sa.Column("waits_for", sa.String(), nullable=False),
        sa.Column("question", sa.Text(), nullable=False),
        sa.Column("whom", sa.String(), nullable=False),
        sa.Column("asked_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("asked_by", sa.Integer(), nullable=False),
        sa.Column("ask_again_on", sa.Date(), nullable=True),
        sa.Column("answer", sa.Text(), nullable=False),
        sa.Column("answered_at", sa.DateTime(timezone=True), nullable=True),
        sa.CheckConstraint("waits_for IN ('customer', 'material')", name="ck_stop_waits_for"),
        sa.ForeignKeyConstraint(["asked_by"], ["person.id"], name="fk_stop_asked_by_person"),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_stop_job_id_job"),
        sa.PrimaryKeyConstraint("id", name="pk_stop"),
    )
    with op.batch_alter_table("stop", schema=None) as batch_op:
        batch_op.create_index("ix_stop_job_id", ["job_id"], unique=False)

    op.create_table(
        "cut_plan",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("job_id", sa.Integer(), nullable=False),
        sa.Column("variant_id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
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
        sa.CheckConstraint("unit IN ('in', 'mm')", name="ck_cut_plan_unit"),
        sa.ForeignKeyConstraint(["body_id"], ["body.id"], name="fk_cut_plan_body_id_body"),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_cut_plan_by_id_person"),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_cut_plan_job_id_job"),
        sa.ForeignKeyConstraint(["variant_id"], ["variant.id"], name="fk_cut_plan_variant_id_variant"),
        sa.PrimaryKeyConstraint("id", name="pk_cut_plan"),
        sa.UniqueConstraint("job_id", "variant_id", "version", name="uq_cut_plan_job_id_variant_id_version"),
    )
    with op.batch_alter_table("cut_plan", schema=None) as batch_op:
        batch_op.create_index("ix_cut_plan_job_id", ["job_id"], unique=False)
        batch_op.create_index("ix_cut_plan_variant_id", ["variant_id"], unique=False)

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
        sa.CheckConstraint("net_cents + tax_cents = total_cents", name="ck_invoice_sum"),
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
            name="ck_piece_custody",
        ),
        sa.CheckConstraint("goes_to IN ('machine', 'shelf')", name="ck_piece_goes_to"),
        sa.CheckConstraint("n > 0", name="ck_piece_n"),
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
