"""Parts, their look-alike variants, the signs that tell them apart, and their bodies as typed."""

from datetime import datetime

from sqlalchemy import UniqueConstraint
from sqlmodel import Field, SQLModel

from shopapp.office.tables.columns import key, moment, one_of, words


class Part(SQLModel, table=True):
    """A kind of thing that comes in, with all its look-alikes."""

    __tablename__ = "part"

    id: int = Field(default=None, primary_key=True)
    name: str = Field(unique=True)
    folded: str = Field(index=True)
    note: str = Field(default="", sa_column=words())
    not_done: str = Field(default="", sa_column=words())


class Variant(SQLModel, table=True):
    """One of the look-alikes of a part."""

    __tablename__ = "variant"
    __table_args__ = (
        one_of("unit", "in", "mm"),
        one_of("made", "cast", "wrought"),
        UniqueConstraint("part_id", "name"),
    )

    id: int = Field(default=None, primary_key=True)
    part_id: int = Field(sa_column=key("part.id"))
    name: str
    folded: str = Field(index=True)
    material: str
    made: str
    density: str
    unit: str = "in"
    note: str = Field(default="", sa_column=words())


class Sign(SQLModel, table=True):
    """Something to look for on a piece; one sign of a variant decides."""

    __tablename__ = "sign"
    __table_args__ = (UniqueConstraint("variant_id", "place"),)

    id: int = Field(default=None, primary_key=True)
    variant_id: int = Field(sa_column=key("variant.id"))
    place: int
    words: str
    deciding: bool = False


class Body(SQLModel, table=True):
    """The drawing of a variant in one version: elements, keep-outs and least walls as typed, in one document."""

    __tablename__ = "body"
    __table_args__ = (UniqueConstraint("variant_id", "version"), one_of("unit", "in", "mm"))

    id: int = Field(default=None, primary_key=True)
    variant_id: int = Field(sa_column=key("variant.id"))
    version: int
    unit: str
    typed: str = Field(sa_column=words())
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())
