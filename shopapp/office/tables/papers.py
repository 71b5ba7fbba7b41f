"""Issued papers: the sheet frozen at issue with its hash, and the bytes pressed from it."""

from datetime import datetime

from sqlalchemy import CheckConstraint, Column, Index, LargeBinary
from sqlmodel import Field, SQLModel

from shopapp.office.tables.columns import key, moment, one_of, words

KINDS = (
    "quote", "ready", "invoice", "credit", "stub", "tags", "ticket", "label", "deposit", "question", "letter",
    "hand_over", "receipt", "statement", "reminder", "spoiled",
)  # fmt: skip


class Paper(SQLModel, table=True):
    """A paper as it was issued; no row is ever changed."""

    __tablename__ = "paper"
    __table_args__ = (
        one_of("kind", *KINDS),
        CheckConstraint("job_id IS NOT NULL OR customer_id IS NOT NULL", name="whose"),
        Index(None, "kind", "number"),
    )

    id: int = Field(default=None, primary_key=True)
    kind: str
    number: str
    job_id: int | None = Field(default=None, sa_column=key("job.id", null=True))
    customer_id: int | None = Field(default=None, sa_column=key("customer.id", null=True))
    sheet: str = Field(sa_column=words())
    sha256: str = Field(index=True)
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())


class Pressed(SQLModel, table=True):
    """The bytes of a sheet's first pressing, under the sheet's hash."""

    __tablename__ = "pressed"

    sha256: str = Field(primary_key=True)
    pdf: bytes = Field(sa_column=Column(LargeBinary, nullable=False))
    at: datetime = Field(sa_column=moment())


class Posted(SQLModel, table=True):
    """A paper to be sent by mail: which, to whom, and how that went."""

    __tablename__ = "posted"
    __table_args__ = (one_of("state", "waiting", "sending", "sent", "stuck", "called_back"),)

    id: int = Field(default=None, primary_key=True)
    paper_id: int = Field(sa_column=key("paper.id"))
    to_address: str
    subject: str
    body: str = Field(sa_column=words())
    message_id: str = Field(unique=True)
    state: str = Field(default="waiting", index=True)
    tries: int = 0
    next_at: datetime = Field(sa_column=moment())
    sent_at: datetime | None = Field(default=None, sa_column=moment(null=True))
    fault: str = Field(default="", sa_column=words())
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())
