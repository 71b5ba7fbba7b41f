"""Every table, for the migrations and the test that holds them to the models."""

from sqlmodel import SQLModel

from shopapp.office.tables import (  # noqa: F401
    customers,
    cutrun,
    cutting,
    history,
    intake,
    invoices,
    jobs,
    papers,
    parts,
    people,
    photos,
    quotes,
    shopbook,
    together,
    weighing,
)

METADATA = SQLModel.metadata

#: Tables whose rows are only ever added; a trigger refuses to change or delete one.
ONLY_ADDED = (
    "reading", "strike", "size", "event", "paper", "pressed", "payment", "credit_note", "invoice_line",
    "photo", "condition", "declared", "waiver", "trouble", "truing", "shelf_entry", "write_off", "reversal",
    "applied", "refund", "refund_back", "write_off_back", "billed_piece", "labour_rate", "tax_rate", "phrase",
    "joint_reading", "joint_piece", "joint_strike",
)  # fmt: skip
