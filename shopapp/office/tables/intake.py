"""What is written down when a customer's property comes in; answers are added, and the newest counts."""

from datetime import datetime

from sqlalchemy import CheckConstraint
from sqlmodel import Field, SQLModel

from shopapp.office.tables.columns import key, moment, one_of, words

CONDITIONS = ("cracked", "chipped", "rusted", "welded", "bent", "missing_bits")


class Condition(SQLModel, table=True):
    """One answer about the state of a piece: yes, no, or not looked."""

    __tablename__ = "condition"
    __table_args__ = (one_of("word", *CONDITIONS), one_of("answer", "yes", "no", "not_looked"))

    id: int = Field(default=None, primary_key=True)
    piece_id: int = Field(sa_column=key("piece.id"))
    word: str
    answer: str
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())


class Declared(SQLModel, table=True):
    """The value that the customer declared [cents], or that none was declared; and who carries the risk."""

    __tablename__ = "declared"
    __table_args__ = (
        one_of("risk", "customer", "shop"),
        CheckConstraint("cents IS NULL OR cents > 0", name="cents"),
    )

    id: int = Field(default=None, primary_key=True)
    piece_id: int = Field(sa_column=key("piece.id"))
    cents: int | None = None
    risk: str = "customer"
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())


class LooseBit(SQLModel, table=True):
    """Something that came along with a piece: a key, bolts, a washer; and when it went back."""

    __tablename__ = "loose_bit"

    id: int = Field(default=None, primary_key=True)
    piece_id: int = Field(sa_column=key("piece.id"))
    words: str
    back_at: datetime | None = Field(default=None, sa_column=moment(null=True))


class Waiver(SQLModel, table=True):
    """That a piece was cut although facts were missing: which, and the owner's reason."""

    __tablename__ = "waiver"

    id: int = Field(default=None, primary_key=True)
    piece_id: int = Field(sa_column=key("piece.id"))
    missing: str = Field(sa_column=words())
    reason: str = Field(sa_column=words())
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())
