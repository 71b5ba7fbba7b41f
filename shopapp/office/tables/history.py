"""The day book: a line for every act, never changed; and the keys of forms already taken in."""

from datetime import datetime

from sqlmodel import Field, SQLModel

from shopapp.office.tables.columns import key, moment, words


class Event(SQLModel, table=True):
    """One act: what was done, by whom, when, to what; `entered_at` is told where it was written down later."""

    __tablename__ = "event"

    id: int = Field(default=None, primary_key=True)
    at: datetime = Field(sa_column=moment())
    by_id: int = Field(sa_column=key("person.id", index=False))
    act: str
    words: str = Field(sa_column=words())
    customer_id: int | None = Field(default=None, sa_column=key("customer.id", null=True))
    job_id: int | None = Field(default=None, sa_column=key("job.id", null=True))
    piece_id: int | None = Field(default=None, sa_column=key("piece.id", null=True))
    entered_at: datetime | None = Field(default=None, sa_column=moment(null=True))


class Once(SQLModel, table=True):
    """A form's own key and a hash of what it held, so that the form is taken in once."""

    __tablename__ = "once"

    form_key: str = Field(primary_key=True)
    content: str = ""
    leads_to: str
    at: datetime = Field(sa_column=moment())
