"""The first book, part 3 of 6."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make these tables."""
    op.create_table(
        "call",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("job_id", sa.Integer(), nullable=False),
        sa.Column("outcome", sa.String(), nullable=False),
        sa.Column("whom", sa.String(), nullable=False),
        sa.Column("words", sa.String(), nullable=False),
        sa.Column("next_on", sa.Date(), nullable=True),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("outcome IN ('told', 'message', 'no_answer', 'someone_else')", name=op.f("ck_call_outcome")),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_call_by_id_person"),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_call_job_id_job"),
        sa.PrimaryKeyConstraint("id", name="pk_call"),
    )
    with op.batch_alter_table("call", schema=None) as batch_op:
        batch_op.create_index("ix_call_job_id", ["job_id"], unique=False)

    op.create_table(
        "chuck_setting",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("job_id", sa.Integer(), nullable=False),
        sa.Column("n", sa.Integer(), nullable=False),
        sa.Column("side", sa.String(), nullable=False),
        sa.Column("hold", sa.String(), nullable=False),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("machine_id", sa.Integer(), nullable=True),
        sa.Column("typed", sa.Text(), nullable=False),
        sa.Column("done_at", sa.DateTime(timezone=True), nullable=True),
        sa.CheckConstraint("side IN ('A', 'B')", name=op.f("ck_chuck_setting_side")),
        sa.CheckConstraint("unit IN ('in', 'mm')", name=op.f("ck_chuck_setting_unit")),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_chuck_setting_job_id_job"),
        sa.ForeignKeyConstraint(["machine_id"], ["machine.id"], name="fk_chuck_setting_machine_id_machine"),
        sa.PrimaryKeyConstraint("id", name="pk_chuck_setting"),
        sa.UniqueConstraint("job_id", "n", name="uq_chuck_setting_job_id_n"),
    )
    with op.batch_alter_table("chuck_setting", schema=None) as batch_op:
        batch_op.create_index("ix_chuck_setting_job_id", ["job_id"], unique=False)

    op.create_table(
        "hand_over",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("job_id", sa.Integer(), nullable=False),
        sa.Column("taken_by", sa.String(), nullable=False),
        sa.Column("how", sa.String(), nullable=False),
        sa.Column("signature", sa.Text(), nullable=False),
        sa.Column("signed_for", sa.Text(), nullable=False),
        sa.Column("stub_back", sa.Boolean(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("how IN ('signed', 'known')", name=op.f("ck_hand_over_how")),
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
        sa.Column("job_id", sa.Integer(), nullable=True),
        sa.Column("customer_id", sa.Integer(), nullable=True),
        sa.Column("sheet", sa.Text(), nullable=False),
        sa.Column("sha256", sa.String(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint(
            "kind IN ('quote', 'ready', 'invoice', 'credit', 'stub', 'tags', 'ticket', 'label', 'deposit', 'question', 'letter', 'hand_over', 'receipt', 'statement', 'reminder', 'spoiled')",
            name=op.f("ck_paper_kind"),
        ),
        sa.CheckConstraint("job_id IS NOT NULL OR customer_id IS NOT NULL", name=op.f("ck_paper_whose")),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_paper_by_id_person"),
        sa.ForeignKeyConstraint(["customer_id"], ["customer.id"], name="fk_paper_customer_id_customer"),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_paper_job_id_job"),
        sa.PrimaryKeyConstraint("id", name="pk_paper"),
    )
    with op.batch_alter_table("paper", schema=None) as batch_op:
        batch_op.create_index("ix_paper_customer_id", ["customer_id"], unique=False)
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
        sa.CheckConstraint("cents > 0", name=op.f("ck_payment_cents")),
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
        sa.CheckConstraint("minutes > 0", name=op.f("ck_spent_minutes")),
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
        sa.CheckConstraint("waits_for IN ('customer', 'material')", name=op.f("ck_stop_waits_for")),
        sa.ForeignKeyConstraint(["asked_by"], ["person.id"], name="fk_stop_asked_by_person"),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_stop_job_id_job"),
        sa.PrimaryKeyConstraint("id", name="pk_stop"),
    )
    with op.batch_alter_table("stop", schema=None) as batch_op:
        batch_op.create_index("ix_stop_job_id", ["job_id"], unique=False)

    op.create_table(
        "clock",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("job_id", sa.Integer(), nullable=False),
        sa.Column("setting_id", sa.Integer(), nullable=True),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("started_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("stopped_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("minutes", sa.Integer(), nullable=True),
        sa.Column("said", sa.Text(), nullable=False),
        sa.CheckConstraint("minutes IS NULL OR minutes > 0", name=op.f("ck_clock_minutes")),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_clock_by_id_person"),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name="fk_clock_job_id_job"),
        sa.ForeignKeyConstraint(["setting_id"], ["chuck_setting.id"], name="fk_clock_setting_id_chuck_setting"),
        sa.PrimaryKeyConstraint("id", name="pk_clock"),
    )
    with op.batch_alter_table("clock", schema=None) as batch_op:
        batch_op.create_index("ix_clock_by_id", ["by_id"], unique=False)
        batch_op.create_index("ix_clock_job_id", ["job_id"], unique=False)
        batch_op.create_index("ix_clock_setting_id", ["setting_id"], unique=False)
