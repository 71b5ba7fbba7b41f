"""The run at the machine: chuck settings across pieces, ticks before power, the clock, trouble."""

from datetime import datetime

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlmodel import Field, SQLModel

from shopapp.office.tables.columns import key, moment, one_of, words


class ChuckSetting(SQLModel, table=True):
    """One setting of the chuck, for the same side of every piece that is held alike; sizes as typed."""

    __tablename__ = "chuck_setting"
    __table_args__ = (UniqueConstraint("job_id", "n"), one_of("side", "A", "B"), one_of("unit", "in", "mm"))

    id: int = Field(default=None, primary_key=True)
    job_id: int = Field(sa_column=key("job.id"))
    n: int
    side: str
    hold: str
    unit: str
    machine_id: int | None = Field(default=None, sa_column=key("machine.id", null=True, index=False))
    typed: str = Field(default="{}", sa_column=words())
    done_at: datetime | None = Field(default=None, sa_column=moment(null=True))


class Tick(SQLModel, table=True):
    """A tick that belongs to one setting of one piece and is never carried over."""

    __tablename__ = "tick"
    __table_args__ = (
        UniqueConstraint("setting_id", "piece_id", "what"),
        one_of("what", "key_out", "turned_by_hand", "done"),
    )

    id: int = Field(default=None, primary_key=True)
    setting_id: int = Field(sa_column=key("chuck_setting.id"))
    piece_id: int = Field(sa_column=key("piece.id"))
    what: str
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())


class Clock(SQLModel, table=True):
    """A stretch of work on the clock; minutes are what was kept at the stop, or what was said when it was forgotten."""

    __tablename__ = "clock"
    __table_args__ = (CheckConstraint("minutes IS NULL OR minutes > 0", name="minutes"),)

    id: int = Field(default=None, primary_key=True)
    job_id: int = Field(sa_column=key("job.id"))
    setting_id: int | None = Field(default=None, sa_column=key("chuck_setting.id", null=True))
    by_id: int = Field(sa_column=key("person.id"))
    started_at: datetime = Field(sa_column=moment())
    stopped_at: datetime | None = Field(default=None, sa_column=moment(null=True))
    minutes: int | None = None
    said: str = Field(default="", sa_column=words())


class Trouble(SQLModel, table=True):
    """Trouble at the cut, shown first the next time this kind comes in."""

    __tablename__ = "trouble"

    id: int = Field(default=None, primary_key=True)
    job_id: int = Field(sa_column=key("job.id"))
    piece_id: int | None = Field(default=None, sa_column=key("piece.id", null=True))
    variant_id: int | None = Field(default=None, sa_column=key("variant.id", null=True))
    photo_id: int | None = Field(default=None, sa_column=key("photo.id", null=True, index=False))
    words: str = Field(sa_column=words())
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())


class Truing(SQLModel, table=True):
    """Indicator readings of one surface, as found or as left, as typed."""

    __tablename__ = "truing"
    __table_args__ = (one_of("surface", "outside", "face", "bore"), one_of("stage", "found", "left"))

    id: int = Field(default=None, primary_key=True)
    piece_id: int = Field(sa_column=key("piece.id"))
    setting_id: int | None = Field(default=None, sa_column=key("chuck_setting.id", null=True))
    surface: str
    stage: str
    datum: bool = False
    typed: str = Field(sa_column=words())
    eccentric_mm: float | None = None
    oval_mm: float | None = None
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())


class FinalTick(SQLModel, table=True):
    """One line of a piece's final check: bevels made, keep-out untouched and the like."""

    __tablename__ = "final_tick"
    __table_args__ = (UniqueConstraint("piece_id", "what"),)

    id: int = Field(default=None, primary_key=True)
    piece_id: int = Field(sa_column=key("piece.id"))
    what: str
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())
