"""The shop's own facts: letterhead, dated rates, scales, running numbers."""

from datetime import date

from sqlalchemy import CheckConstraint
from sqlmodel import Field, SQLModel

from shopapp.office.tables.columns import one_of, words


class Shop(SQLModel, table=True):
    """The shop itself, a single row."""

    __tablename__ = "shop"
    __table_args__ = (
        CheckConstraint("id = 1", name="single"),
        one_of("unit", "in", "mm"),
        one_of("paper", "Letter", "A4"),
        one_of("tax_by", "document", "line"),
    )

    id: int = Field(default=1, primary_key=True)
    name: str
    owner: str = ""
    place: str = ""
    phone: str = ""
    email: str = ""
    tax_id: str = ""
    zone: str = "UTC"
    currency: str = "$"
    unit: str = "in"
    paper: str = "Letter"
    hours: str = ""
    minimum_cents: int = 0
    rush_percent: str = "0"
    quote_days: int = 30
    left_behind_days: int = 30
    country: str = "US"
    address: str = Field(default="", sa_column=words())
    tax_by: str = "document"
    not_done: str = Field(default="", sa_column=words())


class LabourRate(SQLModel, table=True):
    """What an hour at the bench costs from a day on; of several rows for a day the newest counts."""

    __tablename__ = "labour_rate"

    id: int = Field(default=None, primary_key=True)
    valid_from: date
    cents_per_hour: int


class TaxRate(SQLModel, table=True):
    """The trade tax from a day on, its percent as exact text; of several rows for a day the newest counts."""

    __tablename__ = "tax_rate"

    id: int = Field(default=None, primary_key=True)
    valid_from: date
    percent: str


class Scale(SQLModel, table=True):
    """A weighing instrument: what one division is worth and how much it carries, as exact text in its unit."""

    __tablename__ = "scale"
    __table_args__ = (one_of("unit", "lb", "oz", "g", "kg"),)

    id: int = Field(default=None, primary_key=True)
    name: str = Field(unique=True)
    unit: str
    division: str
    capacity: str
    in_use: bool = True


class Machine(SQLModel, table=True):
    """A machine: what its cross-slide dial reads, its list of speeds, its chuck's limit, its motor."""

    __tablename__ = "machine"
    __table_args__ = (one_of("dial", "radius", "diameter"), CheckConstraint("chuck_limit > 0", name="chuck_limit"))

    id: int = Field(default=None, primary_key=True)
    name: str = Field(unique=True)
    dial: str
    chuck_limit: int
    speeds: str = ""
    motor_kw: str = ""
    screw: str = ""
    in_use: bool = True


class Instrument(SQLModel, table=True):
    """A measuring instrument: what it shows, and what it is good to, as typed."""

    __tablename__ = "instrument"
    __table_args__ = (one_of("unit", "in", "mm"),)

    id: int = Field(default=None, primary_key=True)
    name: str = Field(unique=True)
    unit: str
    resolution: str
    good_to: str
    in_use: bool = True


class Phrase(SQLModel, table=True):
    """The owner's own words for a paper, from a day on; of several for a day the newest count."""

    __tablename__ = "phrase"
    __table_args__ = (
        one_of("subject", "storage", "workmanship", "terms", "quote", "ready", "reminder", "invoice", "hand_over"),
    )

    id: int = Field(default=None, primary_key=True)
    subject: str
    words: str = Field(sa_column=words())
    valid_from: date


class Counter(SQLModel, table=True):
    """The next number of a series that must have no gaps."""

    __tablename__ = "counter"

    name: str = Field(primary_key=True)
    next_number: int
