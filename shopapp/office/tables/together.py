"""Alike pieces on the scale at once: the reading, its pieces, the line through a wrong one; only ever added."""

from datetime import datetime

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlmodel import Field, SQLModel

from shopapp.office.tables.columns import key, moment, one_of, words


class JointReading(SQLModel, table=True):
    """What a scale showed for several pieces at once: as typed, grams, and the scale's division as it was then."""

    __tablename__ = "joint_reading"
    __table_args__ = (one_of("phase", "before", "after"), CheckConstraint("grams > 0", name="grams"))

    id: int = Field(default=None, primary_key=True)
    scale_id: int = Field(sa_column=key("scale.id", index=False))
    phase: str
    typed: str
    unit: str
    grams: float
    division: str
    zero_seen: bool = False
    note: str = Field(default="", sa_column=words())
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())


class JointPiece(SQLModel, table=True):
    """One of the pieces that lay on the scale for a joint reading."""

    __tablename__ = "joint_piece"
    __table_args__ = (UniqueConstraint("joint_id", "piece_id"),)

    id: int = Field(default=None, primary_key=True)
    joint_id: int = Field(sa_column=key("joint_reading.id"))
    piece_id: int = Field(sa_column=key("piece.id"))


class JointStrike(SQLModel, table=True):
    """The line through a wrong joint reading, with its reason."""

    __tablename__ = "joint_strike"

    id: int = Field(default=None, primary_key=True)
    joint_id: int = Field(sa_column_kwargs={"unique": True}, foreign_key="joint_reading.id")
    reason: str = Field(sa_column=words())
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())
