"""What the columns of all tables share: names of constraints, aware times, short ways to say a column."""

from datetime import UTC, datetime
from typing import Any

from sqlalchemy import CheckConstraint, Column, DateTime, ForeignKey, Integer, Text, TypeDecorator
from sqlmodel import SQLModel

SQLModel.metadata.naming_convention = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}


class UtcTime(TypeDecorator[datetime]):
    """A moment, aware and in UTC on the way in and on the way out, on both engines."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Any) -> datetime | None:
        """Refuse a naive time; store UTC."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("A time without its zone cannot be stored.")
        return value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Any) -> datetime | None:
        """Give SQLite's naive text back as the UTC it is."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


def moment(*, null: bool = False) -> Column[Any]:
    """A column for a moment in time."""
    return Column(UtcTime(), nullable=null)


def key(target: str, *, null: bool = False, index: bool = True) -> Column[Any]:
    """A column that points at another table's row."""
    return Column(Integer, ForeignKey(target), nullable=null, index=index)


def words(*, null: bool = False, default: str | None = "") -> Column[Any]:
    """A column for text of any length."""
    return Column(Text, nullable=null, default=default)


def one_of(column: str, *codes: str, null: bool = False) -> CheckConstraint:
    """The constraint that a column holds one of the codes."""
    listed = ", ".join(f"'{code}'" for code in codes)
    allowed = f"{column} IN ({listed})"
    return CheckConstraint(f"{column} IS NULL OR {allowed}" if null else allowed, name=column)
