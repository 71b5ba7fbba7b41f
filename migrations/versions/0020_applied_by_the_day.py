"""What a payment went to is only ever added: dated rows, and a row below zero where money was let go again."""

from datetime import UTC, date, datetime
from typing import Any
from zoneinfo import ZoneInfo

import sqlalchemy as sa
from alembic import op

revision = "0020"
down_revision = "0009"
branch_labels = None
depends_on = None

ONLY_ADDED = ("applied",)
_MOMENT = sa.DateTime(timezone=True)
_NEW = sa.table(
    "applied", sa.column("payment_id"), sa.column("invoice_id"), sa.column("cents"), sa.column("day", sa.Date()),
    sa.column("was_held", sa.Boolean()), sa.column("by_id"), sa.column("at", _MOMENT),
)  # fmt: skip


def upgrade() -> None:
    """Read what is there, make the table anew, and put the rows back with the days that the book has for them."""
    rows = _kept()
    op.drop_table("applied")
    op.create_table(
        "applied",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("payment_id", sa.Integer(), nullable=False),
        sa.Column("invoice_id", sa.Integer(), nullable=False),
        sa.Column("cents", sa.Integer(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("was_held", sa.Boolean(), nullable=False),
        sa.Column("by_id", sa.Integer(), nullable=False),
        sa.Column("at", _MOMENT, nullable=False),
        sa.CheckConstraint("cents <> 0", name=op.f("ck_applied_cents")),
        sa.ForeignKeyConstraint(["by_id"], ["person.id"], name="fk_applied_by_id_person"),
        sa.ForeignKeyConstraint(["invoice_id"], ["invoice.id"], name="fk_applied_invoice_id_invoice"),
        sa.ForeignKeyConstraint(["payment_id"], ["payment.id"], name="fk_applied_payment_id_payment"),
        sa.PrimaryKeyConstraint("id", name="pk_applied"),
    )
    op.create_index("ix_applied_invoice_id", "applied", ["invoice_id"])
    op.create_index("ix_applied_payment_id", "applied", ["payment_id"])
    if rows:
        op.bulk_insert(_NEW, rows)
    for table in ONLY_ADDED:
        _only_added(table)


def _kept() -> list[dict[str, Any]]:
    """What was applied, from the day it came in or the bill was issued; what was reversed is let go on its day."""
    told = sa.text(
        "SELECT a.payment_id, a.invoice_id, a.cents, p.paid_on, p.job_id AS paid_job, p.at AS paid_at, p.by_id, "
        "i.issued_on, i.job_id AS billed_job, s.at AS billed_at, r.at AS gone_at, r.by_id AS gone_by "
        "FROM applied a JOIN payment p ON p.id = a.payment_id JOIN invoice i ON i.id = a.invoice_id "
        "JOIN paper s ON s.id = i.paper_id LEFT JOIN reversal r ON r.payment_id = p.id ORDER BY a.id"
    ).columns(paid_on=sa.Date(), issued_on=sa.Date(), paid_at=_MOMENT, billed_at=_MOMENT, gone_at=_MOMENT)
    zone = ZoneInfo(op.get_bind().execute(sa.text("SELECT zone FROM shop")).scalar() or "UTC")
    rows: list[dict[str, Any]] = []
    for one in op.get_bind().execute(told).mappings().all():
        billed_at, paid_at = _aware(one["billed_at"]), _aware(one["paid_at"])
        was_held = paid_at < billed_at or one["paid_job"] != one["billed_job"]
        what = {"payment_id": one["payment_id"], "invoice_id": one["invoice_id"], "was_held": was_held}
        day: date = max(one["paid_on"], one["issued_on"])
        rows.append({**what, "cents": one["cents"], "day": day, "by_id": one["by_id"], "at": max(paid_at, billed_at)})
        if one["gone_at"]:
            at = _aware(one["gone_at"])
            gone = max(at.astimezone(zone).date(), day)
            rows.append({**what, "cents": -one["cents"], "day": gone, "by_id": one["gone_by"], "at": at})
    return rows


def _aware(at: datetime) -> datetime:
    return at.replace(tzinfo=UTC) if at.tzinfo is None else at.astimezone(UTC)


def _only_added(table: str) -> None:
    for act in ("UPDATE", "DELETE"):
        name = f"{table}_no_{act.lower()}"
        if op.get_bind().dialect.name == "sqlite":
            op.execute(
                f"CREATE TRIGGER {name} BEFORE {act} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are only ever added'); END"
            )
        else:
            op.execute(f"CREATE TRIGGER {name} BEFORE {act} ON {table} FOR EACH ROW EXECUTE FUNCTION only_added()")
