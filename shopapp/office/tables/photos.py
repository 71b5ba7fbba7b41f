"""Photos, made small and stripped of where they were taken; none is ever replaced."""

from datetime import datetime

from sqlalchemy import CheckConstraint, Column, LargeBinary
from sqlmodel import Field, SQLModel

from shopapp.office.tables.columns import key, moment, one_of, words


class Photo(SQLModel, table=True):
    """One photo, of a piece, a sign, a question or a trouble."""

    __tablename__ = "photo"
    __table_args__ = (
        one_of("what", "intake", "damage", "sign", "trouble", "question", "finished", "paper_back"),
        CheckConstraint("wide > 0 AND high > 0", name="size"),
    )

    id: int = Field(default=None, primary_key=True)
    what: str
    job_id: int | None = Field(default=None, sa_column=key("job.id", null=True))
    piece_id: int | None = Field(default=None, sa_column=key("piece.id", null=True))
    sign_id: int | None = Field(default=None, sa_column=key("sign.id", null=True))
    sha256: str = Field(index=True)
    jpeg: bytes = Field(sa_column=Column(LargeBinary, nullable=False))
    wide: int
    high: int
    words: str = Field(default="", sa_column=words())
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())
