"""Quotes in revisions, and the go-ahead that names one."""

from datetime import date, datetime

from sqlalchemy import UniqueConstraint
from sqlmodel import Field, SQLModel

from shopapp.office.tables.columns import key, moment, one_of, words


class Quote(SQLModel, table=True):
    """A price put to the customer. A draft has no paper yet."""

    __tablename__ = "quote"
    __table_args__ = (UniqueConstraint("job_id", "revision"),)

    id: int = Field(default=None, primary_key=True)
    job_id: int = Field(sa_column=key("job.id"))
    revision: str = Field(max_length=2)
    pricing: str = Field(sa_column=words())
    minutes: int = 0
    net_cents: int = 0
    total_cents: int = 0
    issued_on: date | None = None
    good_until: date | None = None
    paper_id: int | None = Field(default=None, sa_column=key("paper.id", null=True, index=False))
    turned_down_on: date | None = None


class GoAhead(SQLModel, table=True):
    """The customer's yes: who said it, how, to which revision."""

    __tablename__ = "go_ahead"
    __table_args__ = (one_of("how", "phone", "in_person", "in_writing"),)

    id: int = Field(default=None, primary_key=True)
    job_id: int = Field(sa_column=key("job.id"))
    quote_id: int | None = Field(default=None, sa_column=key("quote.id", null=True, index=False))
    said_by: str
    how: str
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())
