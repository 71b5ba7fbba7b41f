"""The first book, part 2 of 6."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make these tables."""
    op.create_table(
        "pressed",
        sa.Column("sha256", sa.String(), nullable=False),
        sa.Column("pdf", sa.LargeBinary(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("sha256", name="pk_pressed"),
    )
    op.create_table(
        "scale",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("division", sa.String(), nullable=False),
        sa.Column("capacity", sa.String(), nullable=False),
        sa.Column("in_use", sa.Boolean(), nullable=False),
        sa.CheckConstraint("unit IN ('lb', 'oz', 'g', 'kg')", name=op.f("ck_scale_unit")),
        sa.PrimaryKeyConstraint("id", name="pk_scale"),
        sa.UniqueConstraint("name", name="uq_scale_name"),
    )
    op.create_table(
        "shop",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("owner", sa.String(), nullable=False),
        sa.Column("place", sa.String(), nullable=False),
        sa.Column("phone", sa.String(), nullable=False),
        sa.Column("email", sa.String(), nullable=False),
        sa.Column("tax_id", sa.String(), nullable=False),
        sa.Column("zone", sa.String(), nullable=False),
        sa.Column("currency", sa.String(), nullable=False),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("paper", sa.String(), nullable=False),
        sa.Column("hours", sa.String(), nullable=False),
        sa.Column("minimum_cents", sa.Integer(), nullable=False),
        sa.Column("rush_percent", sa.String(), nullable=False),
        sa.Column("quote_days", sa.Integer(), nullable=False),
        sa.Column("left_behind_days", sa.Integer(), nullable=False),
        sa.Column("country", sa.String(), nullable=False),
        sa.Column("address", sa.Text(), nullable=False),
        sa.Column("tax_by", sa.String(), nullable=False),
        sa.Column("not_done", sa.Text(), nullable=False),
        sa.CheckConstraint("paper IN ('Letter', 'A4')", name=op.f("ck_shop_paper")),
        sa.CheckConstraint("tax_by IN ('document', 'line')", name=op.f("ck_shop_tax_by")),
        sa.CheckConstraint("unit IN ('in', 'mm')", name=op.f("ck_shop_unit")),
        sa.CheckConstraint("id = 1", name=op.f("ck_shop_single")),
        sa.PrimaryKeyConstraint("id", name="pk_shop"),
    )
    op.create_table(
        "tax_rate",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("valid_from", sa.Date(), nullable=False),
        sa.Column("percent", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_tax_rate"),
        sa.UniqueConstraint("valid_from", name="uq_tax_rate_valid_from"),
    )
    op.create_table(
        "job",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("no", sa.Integer(), nullable=False),
        sa.Column("customer_id", sa.Integer(), nullable=False),
        sa.Column("title", sa.String(), nullable=False),
        sa.Column("asked", sa.Text(), nullable=False),
        sa.Column("wanted_by", sa.Date(), nullable=True),
        sa.Column("promised_on", sa.Date(), nullable=True),
        sa.Column("rush", sa.Boolean(), nullable=False),
        sa.Column("order_number", sa.String(), nullable=False),
        sa.Column("opened_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("opened_by", sa.Integer(), nullable=False),
        sa.Column("ended", sa.String(), nullable=True),
        sa.CheckConstraint("ended IS NULL OR ended IN ('not_taken_up', 'called_off')", name=op.f("ck_job_ended")),
        sa.ForeignKeyConstraint(["customer_id"], ["customer.id"], name="fk_job_customer_id_customer"),
        sa.ForeignKeyConstraint(["opened_by"], ["person.id"], name="fk_job_opened_by_person"),
        sa.PrimaryKeyConstraint("id", name="pk_job"),
        sa.UniqueConstraint("no", name="uq_job_no"),
    )
    with op.batch_alter_table("job", schema=None) as batch_op:
        batch_op.create_index("ix_job_customer_id", ["customer_id"], unique=False)

    op.create_table(
        "tax_paper",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("customer_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.String(), nullable=False),
        sa.Column("issuer", sa.String(), nullable=False),
        sa.Column("valid_from", sa.Date(), nullable=False),
        sa.Column("valid_to", sa.Date(), nullable=False),
        sa.CheckConstraint("valid_to >= valid_from", name=op.f("ck_tax_paper_span")),
        sa.ForeignKeyConstraint(["customer_id"], ["customer.id"], name="fk_tax_paper_customer_id_customer"),
        sa.PrimaryKeyConstraint("id", name="pk_tax_paper"),
    )
    with op.batch_alter_table("tax_paper", schema=None) as batch_op:
        batch_op.create_index("ix_tax_paper_customer_id", ["customer_id"], unique=False)

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
        sa.CheckConstraint("made IN ('cast', 'wrought')", name=op.f("ck_variant_made")),
        sa.CheckConstraint("unit IN ('in', 'mm')", name=op.f("ck_variant_unit")),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name="fk_variant_part_id_part"),
        sa.PrimaryKeyConstraint("id", name="pk_variant"),
        sa.UniqueConstraint("part_id", "name", name="uq_variant_part_id_name"),
    )
    with op.batch_alter_table("variant", schema=None) as batch_op:
        batch_op.create_index("ix_variant_folded", ["folded"], unique=False)
        batch_op.create_index("ix_variant_part_id", ["part_id"], unique=False)

    op.create_table(
        "agreement",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("customer_id", sa.Integer(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        sa.Column("variant_id", sa.Integer(), nullable=True),
        sa.Column("from_count", sa.Integer(), nullable=False),
        sa.Column("cents_each", sa.Integer(), nullable=False),
        sa.Column("valid_from", sa.Date(), nullable=False),
        sa.Column("valid_to", sa.Date(), nullable=False),
        sa.Column("words", sa.String(), nullable=False),
        sa.CheckConstraint("cents_each >= 0", name=op.f("ck_agreement_cents_each")),
        sa.CheckConstraint("from_count > 0", name=op.f("ck_agreement_from_count")),
        sa.CheckConstraint("valid_to >= valid_from", name=op.f("ck_agreement_span")),
        sa.ForeignKeyConstraint(["customer_id"], ["customer.id"], name="fk_agreement_customer_id_customer"),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name="fk_agreement_part_id_part"),
        sa.ForeignKeyConstraint(["variant_id"], ["variant.id"], name="fk_agreement_variant_id_variant"),
        sa.PrimaryKeyConstraint("id", name="pk_agreement"),
    )
    with op.batch_alter_table("agreement", schema=None) as batch_op:
        batch_op.create_index("ix_agreement_customer_id", ["customer_id"], unique=False)
        batch_op.create_index("ix_agreement_part_id", ["part_id"], unique=False)

    op.create_table(
        "body",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("variant_id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("typed", sa.Text(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.CheckConstraint("unit IN ('in', 'mm')", name=op.f("ck_body_unit")),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_body_by_id_person"),
        sa.ForeignKeyConstraint(["variant_id"], ["variant.id"], name="fk_body_variant_id_variant"),
        sa.PrimaryKeyConstraint("id", name="pk_body"),
        sa.UniqueConstraint("variant_id", "version", name="uq_body_variant_id_version"),
    )
    with op.batch_alter_table("body", schema=None) as batch_op:
        batch_op.create_index("ix_body_variant_id", ["variant_id"], unique=False)
