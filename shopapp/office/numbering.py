"""Numbers without gaps: taken inside the transaction that uses them, so that undoing gives them back."""

from sqlalchemy import text
from sqlmodel import Session

FIRST = {"job": 1001, "invoice": 501, "credit": 1}
"""Where each series begins in a new shop."""


def take(db: Session, series: str) -> int:
    """The next number of a series; a second taker waits until this transaction has ended."""
    db.execute(
        text("INSERT INTO counter (name, next_number) VALUES (:name, :first) ON CONFLICT (name) DO NOTHING"),
        {"name": series, "first": FIRST[series]},
    )
    row = db.execute(
        text("UPDATE counter SET next_number = next_number + 1 WHERE name = :name RETURNING next_number - 1"),
        {"name": series},
    )
    return int(row.scalar_one())


def begin_at(db: Session, series: str, number: int) -> None:
    """Let a series that has not been used begin at a number, as a shop does that had a paper book before."""
    db.execute(
        text(
            "INSERT INTO counter (name, next_number) VALUES (:name, :number) "
            "ON CONFLICT (name) DO UPDATE SET next_number = :number WHERE counter.next_number < :number"
        ),
        {"name": series, "number": number},
    )
