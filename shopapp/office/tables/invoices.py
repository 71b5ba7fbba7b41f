"""Invoices, their lines, voids and credit notes; money that came in, what it went to, what was given back."""

from datetime import date, datetime

from sqlalchemy import CheckConstraint
from sqlmodel import Field, SQLModel

from shopapp.office.tables.columns import key, moment, words


class Invoice(SQLModel, table=True):
    """An invoice, frozen at issue; a void one keeps its number."""

    __tablename__ = "invoice"
    __table_args__ = (CheckConstraint("net_cents + tax_cents = total_cents", name="sum"),)

    id: int = Field(default=None, primary_key=True)
    no: int = Field(unique=True)
    customer_id: int = Field(sa_column=key("customer.id"))
    job_id: int = Field(sa_column=key("job.id"))
    issued_on: date = Field(index=True)
    due_on: date
    net_cents: int
    tax_cents: int
    total_cents: int
    paper_id: int = Field(sa_column=key("paper.id", index=False))
    void_on: date | None = None
    void_reason: str = Field(default="", sa_column=words())


class InvoiceLine(SQLModel, table=True):
    """A line of an invoice. A piece stands on at most one line of an invoice that is not void."""

    __tablename__ = "invoice_line"

    id: int = Field(default=None, primary_key=True)
    invoice_id: int = Field(sa_column=key("invoice.id"))
    words: str
    quantity: str
    unit_cents: int
    cents: int
    taxable: bool = True


class BilledPiece(SQLModel, table=True):
    """That a piece stands on an invoice; it is billed by one that is neither void nor taken back as a whole."""

    __tablename__ = "billed_piece"

    piece_id: int = Field(primary_key=True, foreign_key="piece.id")
    invoice_id: int = Field(primary_key=True, foreign_key="invoice.id", index=True)


class CreditNote(SQLModel, table=True):
    """Money taken back from an invoice, with its own number."""

    __tablename__ = "credit_note"
    __table_args__ = (CheckConstraint("net_cents + tax_cents = total_cents", name="sum"),)

    id: int = Field(default=None, primary_key=True)
    no: int = Field(unique=True)
    invoice_id: int = Field(sa_column=key("invoice.id"))
    reason: str = Field(sa_column=words())
    issued_on: date
    net_cents: int
    tax_cents: int
    total_cents: int
    paper_id: int = Field(sa_column=key("paper.id", index=False))


class Payment(SQLModel, table=True):
    """Money received from a customer; a deposit when it came before the bill."""

    __tablename__ = "payment"
    __table_args__ = (CheckConstraint("cents > 0", name="cents"),)

    id: int = Field(default=None, primary_key=True)
    customer_id: int = Field(sa_column=key("customer.id"))
    job_id: int = Field(sa_column=key("job.id"))
    cents: int
    how: str
    reference: str = ""
    paid_on: date = Field(index=True)
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())


class Applied(SQLModel, table=True):
    """That so much of a payment goes to an invoice from a day on; below zero, that it was let go again.

    `was_held`: it was the customer's before, a deposit or credit, and did not come in on this invoice.
    """

    __tablename__ = "applied"
    __table_args__ = (CheckConstraint("cents <> 0", name="cents"),)

    id: int = Field(default=None, primary_key=True)
    payment_id: int = Field(sa_column=key("payment.id"))
    invoice_id: int = Field(sa_column=key("invoice.id"))
    cents: int
    day: date
    was_held: bool = False
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())


class Refund(SQLModel, table=True):
    """Money of a payment that was held and is given back to the customer."""

    __tablename__ = "refund"
    __table_args__ = (CheckConstraint("cents > 0", name="cents"),)

    id: int = Field(default=None, primary_key=True)
    payment_id: int = Field(sa_column=key("payment.id"))
    cents: int
    how: str
    reference: str = ""
    reason: str = Field(sa_column=words())
    paid_on: date = Field(index=True)
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())


class RefundBack(SQLModel, table=True):
    """A refund that was wrong, or was not taken; it stays in the book and counts for nothing."""

    __tablename__ = "refund_back"

    id: int = Field(default=None, primary_key=True)
    refund_id: int = Field(sa_column_kwargs={"unique": True}, foreign_key="refund.id")
    reason: str = Field(sa_column=words())
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())


class WriteOff(SQLModel, table=True):
    """What will not be paid any more, and why [cents]."""

    __tablename__ = "write_off"
    __table_args__ = (CheckConstraint("cents > 0", name="cents"),)

    id: int = Field(default=None, primary_key=True)
    invoice_id: int = Field(sa_column=key("invoice.id"))
    cents: int
    reason: str = Field(sa_column=words())
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())


class WriteOffBack(SQLModel, table=True):
    """That a write-off was taken back: the money is asked for again, for it was paid after all, or may be."""

    __tablename__ = "write_off_back"

    id: int = Field(default=None, primary_key=True)
    write_off_id: int = Field(sa_column_kwargs={"unique": True}, foreign_key="write_off.id")
    reason: str = Field(sa_column=words())
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())


class Reversal(SQLModel, table=True):
    """A payment that was wrong or came back; it stays in the book and counts for nothing."""

    __tablename__ = "reversal"

    id: int = Field(default=None, primary_key=True)
    payment_id: int = Field(sa_column_kwargs={"unique": True}, foreign_key="payment.id")
    reason: str = Field(sa_column=words())
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())
