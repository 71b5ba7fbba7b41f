"""Jobs, their pieces, and what stops, moves or ends them."""

from datetime import date, datetime

from sqlalchemy import CheckConstraint, ColumnElement, UniqueConstraint
from sqlmodel import Field, SQLModel, col, or_

from shopapp.office.tables.columns import key, moment, one_of, words

CUSTODY = ("expected", "rack", "chuck", "checked", "shelf", "gone")
FATES = ("spoiled", "sent_back", "not_come", "again")


class Job(SQLModel, table=True):
    """One piece of business with one customer, from the first call on."""

    __tablename__ = "job"
    __table_args__ = (one_of("ended", "not_taken_up", "called_off", null=True),)

    id: int = Field(default=None, primary_key=True)
    no: int = Field(unique=True)
    customer_id: int = Field(sa_column=key("customer.id"))
    title: str
    asked: str = Field(default="", sa_column=words())
    wanted_by: date | None = None
    promised_on: date | None = None
    rush: bool = False
    order_number: str = ""
    opened_at: datetime = Field(sa_column=moment())
    opened_by: int = Field(sa_column=key("person.id", index=False))
    ended: str | None = None


class Piece(SQLModel, table=True):
    """One thing of the customer's, with its number within the job.

    `custody` is where it is; `fate` is what was decided about it, where it went another way than planned. A thing of
    which something was decided waits on the pick-up shelf, or is not here.
    """

    __tablename__ = "piece"
    __table_args__ = (
        UniqueConstraint("job_id", "n"),
        one_of("custody", *CUSTODY),
        one_of("fate", *FATES, null=True),
        CheckConstraint(
            "fate IS NULL OR custody = 'gone' OR (custody = 'shelf' AND fate IN ('spoiled', 'sent_back'))",
            name="fate_custody",
        ),
        one_of("goes_to", "machine", "shelf"),
        CheckConstraint("n > 0", name="n"),
    )

    id: int = Field(default=None, primary_key=True)
    job_id: int = Field(sa_column=key("job.id"))
    n: int
    variant_id: int | None = Field(default=None, sa_column=key("variant.id", null=True))
    sign_seen: int | None = Field(default=None, sa_column=key("sign.id", null=True, index=False))
    goes_to: str = "machine"
    machine: str = ""
    place: str = ""
    custody: str = Field(default="expected", index=True)
    fate: str | None = None
    moved_at: datetime = Field(sa_column=moment())
    hand_over_id: int | None = Field(default=None, sa_column=key("hand_over.id", null=True))
    rework_of: int | None = Field(default=None, sa_column=key("piece.id", null=True))
    note: str = Field(default="", sa_column=words())


def worked() -> ColumnElement[bool]:
    """As part of a query: the pieces whose work was not given up; a thing that is done again was worked on, too."""
    return or_(col(Piece.fate).is_(None), col(Piece.fate) == "again")


class Stop(SQLModel, table=True):
    """A question to the customer, or material on order, that holds a job up until it is answered."""

    __tablename__ = "stop"
    __table_args__ = (one_of("waits_for", "customer", "material"),)

    id: int = Field(default=None, primary_key=True)
    job_id: int = Field(sa_column=key("job.id"))
    waits_for: str
    question: str = Field(sa_column=words())
    whom: str = ""
    asked_at: datetime = Field(sa_column=moment())
    asked_by: int = Field(sa_column=key("person.id", index=False))
    ask_again_on: date | None = None
    answer: str = Field(default="", sa_column=words())
    answered_at: datetime | None = Field(default=None, sa_column=moment(null=True))


class Spent(SQLModel, table=True):
    """Minutes spent on a job."""

    __tablename__ = "spent"
    __table_args__ = (CheckConstraint("minutes > 0", name="minutes"),)

    id: int = Field(default=None, primary_key=True)
    job_id: int = Field(sa_column=key("job.id"))
    minutes: int
    words: str = ""
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())


class Call(SQLModel, table=True):
    """A call to say that pieces are ready, and what came of it."""

    __tablename__ = "call"
    __table_args__ = (one_of("outcome", "told", "message", "no_answer", "someone_else"),)

    id: int = Field(default=None, primary_key=True)
    job_id: int = Field(sa_column=key("job.id"))
    outcome: str
    whom: str = ""
    words: str = ""
    next_on: date | None = None
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())


class HandOver(SQLModel, table=True):
    """Pieces that left at one time, and who took them."""

    __tablename__ = "hand_over"
    __table_args__ = (one_of("how", "signed", "known"),)

    id: int = Field(default=None, primary_key=True)
    job_id: int = Field(sa_column=key("job.id"))
    taken_by: str
    how: str = "known"
    signature: str = Field(default="", sa_column=words())
    signed_for: str = Field(default="", sa_column=words())
    stub_back: bool = False
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())
