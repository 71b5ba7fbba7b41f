"""Readings and sizes: only ever added. A wrong reading is struck through by a row of its own."""

from datetime import datetime

from sqlalchemy import CheckConstraint, Index
from sqlmodel import Field, SQLModel

from shopapp.office.tables.columns import key, moment, one_of, words


class Reading(SQLModel, table=True):
    """What a scale showed for a piece: text as typed, and the scale's division as it was then; what it showed with
    nothing on it, and the grams that the piece weighs, less that. `zero` is empty where nobody looked.
    """

    __tablename__ = "reading"
    __table_args__ = (
        one_of("phase", "before", "between", "after"),
        CheckConstraint("grams > 0", name="grams"),
        Index("ix_reading_at", "at"),
    )

    id: int = Field(default=None, primary_key=True)
    piece_id: int = Field(sa_column=key("piece.id"))
    scale_id: int = Field(sa_column=key("scale.id", index=False))
    phase: str
    typed: str
    unit: str
    grams: float
    division: str
    zero_seen: bool = False
    zero: str | None = None
    note: str = Field(default="", sa_column=words())
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())


class Strike(SQLModel, table=True):
    """The line through a wrong reading, with its reason."""

    __tablename__ = "strike"

    id: int = Field(default=None, primary_key=True)
    reading_id: int = Field(sa_column_kwargs={"unique": True}, foreign_key="reading.id")
    reason: str = Field(sa_column=words())
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())


class Size(SQLModel, table=True):
    """A size measured on a piece, as typed, with the instrument named."""

    __tablename__ = "size"
    __table_args__ = (one_of("unit", "in", "mm", "ft", "m"),)

    id: int = Field(default=None, primary_key=True)
    piece_id: int = Field(sa_column=key("piece.id"))
    name: str
    typed: str
    unit: str
    mm: float
    instrument: str = ""
    note: str = Field(default="", sa_column=words())
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())
