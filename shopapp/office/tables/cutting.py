"""Cuts planned for the pieces of one variant in a job, each version kept with what it predicted."""

from datetime import datetime

from sqlalchemy import UniqueConstraint
from sqlmodel import Field, SQLModel

from shopapp.office.tables.columns import key, moment, one_of, words


class CutPlan(SQLModel, table=True):
    """One version of the cuts, as typed, with the prediction frozen beside them."""

    __tablename__ = "cut_plan"
    __table_args__ = (
        UniqueConstraint("job_id", "variant_id", "version"),
        one_of("unit", "in", "mm"),
        one_of("basis", "planned", "measured"),
    )

    id: int = Field(default=None, primary_key=True)
    job_id: int = Field(sa_column=key("job.id"))
    variant_id: int = Field(sa_column=key("variant.id"))
    version: int
    basis: str = "planned"
    piece_id: int | None = Field(default=None, sa_column=key("piece.id", null=True))
    body_id: int | None = Field(default=None, sa_column=key("body.id", null=True, index=False))
    unit: str
    typed: str = Field(sa_column=words())
    grams: float
    spread: float
    about: str
    removal: str = Field(sa_column=words())
    section: str = Field(sa_column=words())
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())
