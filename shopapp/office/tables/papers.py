"""Issued papers: the sheet frozen at issue with its hash, and the bytes pressed from it."""

from datetime import datetime

from sqlalchemy import Column, LargeBinary
from sqlmodel import Field, SQLModel

from shopapp.office.tables.columns import key, moment, one_of, words


class Paper(SQLModel, table=True):
    """A paper as it was issued; no row is ever changed."""

    __tablename__ = "paper"
    __table_args__ = (one_of("kind", "quote", "ready", "invoice", "credit"),)

    id: int = Field(default=None, primary_key=True)
    kind: str
    number: str
    job_id: int = Field(sa_column=key("job.id"))
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
