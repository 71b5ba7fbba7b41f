"""Cents as parts of a query, each correlated on its bill or payment: what it comes to now, or by the end of a day.

There is one definition of each sum, so that a bill, a job, a customer's statement and the till cannot disagree.
"""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import ColumnElement
from sqlmodel import and_, col, exists, func, or_, select

from shopapp.office.tables.invoices import (
    Applied,
    BilledPiece,
    CreditNote,
    Invoice,
    Payment,
    Refund,
    RefundBack,
    Reversal,
    WriteOff,
    WriteOffBack,
)
from shopapp.office.tables.jobs import Piece


@dataclass(frozen=True)
class AsOf:
    """The end of a day on the shop's calendar."""

    day: date
    end: datetime


def paid(as_of: AsOf | None = None) -> ColumnElement[int]:
    """What payments have gone to a bill, less what was let go again [cents]."""
    return _sum(Applied.cents, Invoice, Applied.invoice_id == Invoice.id, *_by_day(Applied.day, as_of))


def credited(as_of: AsOf | None = None) -> ColumnElement[int]:
    """What credit notes have taken back from a bill [cents]."""
    return _sum(
        CreditNote.total_cents, Invoice, CreditNote.invoice_id == Invoice.id, *_by_day(CreditNote.issued_on, as_of)
    )


def credited_net() -> ColumnElement[int]:
    """The same before tax [cents]."""
    return _sum(CreditNote.net_cents, Invoice, CreditNote.invoice_id == Invoice.id)


def written_off(as_of: AsOf | None = None) -> ColumnElement[int]:
    """What of a bill is written off, and the writing off not taken back [cents]."""
    back = exists().where(WriteOffBack.write_off_id == WriteOff.id, *_by_end(WriteOffBack.at, as_of))
    return _sum(WriteOff.cents, Invoice, WriteOff.invoice_id == Invoice.id, ~back, *_by_end(WriteOff.at, as_of))


def stands() -> ColumnElement[bool]:
    """Whether a bill is neither void nor taken back as a whole by credit notes."""
    return and_(Invoice.void_on.is_(None), or_(Invoice.total_cents == 0, credited() < Invoice.total_cents))


def on_a_bill() -> ColumnElement[bool]:
    """Whether a piece stands on a bill that stands."""
    billed = exists().where(BilledPiece.piece_id == Piece.id, Invoice.id == BilledPiece.invoice_id, stands())
    return billed.correlate(Piece)


def used(as_of: AsOf | None = None) -> ColumnElement[int]:
    """What of a payment is on bills [cents]."""
    return _sum(Applied.cents, Payment, Applied.payment_id == Payment.id, *_by_day(Applied.day, as_of))


def given_back(as_of: AsOf | None = None) -> ColumnElement[int]:
    """What of a payment was given back to the customer [cents]."""
    wrong = exists().where(RefundBack.refund_id == Refund.id, *_by_end(RefundBack.at, as_of))
    return _sum(Refund.cents, Payment, Refund.payment_id == Payment.id, ~wrong, *_by_day(Refund.paid_on, as_of))


def left(as_of: AsOf | None = None) -> ColumnElement[int]:
    """What of a payment is held: on no bill, and not given back [cents]; reversed ones are not looked at here."""
    return col(Payment.cents) - used(as_of) - given_back(as_of)


def is_reversed(as_of: AsOf | None = None) -> ColumnElement[bool]:
    """Whether a payment counts for nothing."""
    return exists().where(Reversal.payment_id == Payment.id, *_by_end(Reversal.at, as_of)).correlate(Payment)


def _sum(cents: Any, of: Any, *where: Any) -> ColumnElement[int]:
    found: ColumnElement[int] = select(func.coalesce(func.sum(cents), 0)).where(*where).correlate(of).scalar_subquery()
    return found


def _by_day(column: Any, as_of: AsOf | None) -> tuple[Any, ...]:
    return (column <= as_of.day,) if as_of else ()


def _by_end(column: Any, as_of: AsOf | None) -> tuple[Any, ...]:
    return (column < as_of.end,) if as_of else ()
