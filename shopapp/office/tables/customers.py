"""Customers: tax papers, agreed prices, and what lies on their own shelves."""

from datetime import date, datetime

from sqlalchemy import CheckConstraint
from sqlmodel import Field, SQLModel

from shopapp.office.tables.columns import key, moment, one_of, words


class Customer(SQLModel, table=True):
    """Somebody whose pieces we work on; a name and a phone are enough."""

    __tablename__ = "customer"
    __table_args__ = (
        one_of("bill_when", "ready", "fetched"),
        one_of("order_number", "none", "wanted", "required"),
        CheckConstraint("terms_days >= 0", name="terms_days"),
    )

    id: int = Field(default=None, primary_key=True)
    name: str
    folded: str = Field(index=True)
    contact: str = ""
    phone: str
    email: str = ""
    address: str = Field(default="", sa_column=words())
    terms_days: int = 0
    bill_when: str = "ready"
    order_number: str = "none"
    deposit_percent: str = "0"
    country: str = ""
    tax_id: str = ""
    note: str = Field(default="", sa_column=words())


class TaxPaper(SQLModel, table=True):
    """A certificate that frees a customer from tax between two days, both included."""

    __tablename__ = "tax_paper"
    __table_args__ = (CheckConstraint("valid_to >= valid_from", name="span"),)

    id: int = Field(default=None, primary_key=True)
    customer_id: int = Field(sa_column=key("customer.id"))
    number: str
    issuer: str
    valid_from: date
    valid_to: date


class Agreement(SQLModel, table=True):
    """A price agreed with a customer for a part or one variant of it, from a count on, between two days.

    One that was written wrong stays, and holds for nothing from `wrong_at` on.
    """

    __tablename__ = "agreement"
    __table_args__ = (
        CheckConstraint("valid_to >= valid_from", name="span"),
        CheckConstraint("cents_each >= 0", name="cents_each"),
        CheckConstraint("from_count > 0", name="from_count"),
    )

    id: int = Field(default=None, primary_key=True)
    customer_id: int = Field(sa_column=key("customer.id"))
    part_id: int = Field(sa_column=key("part.id"))
    variant_id: int | None = Field(default=None, sa_column=key("variant.id", null=True, index=False))
    from_count: int = 1
    cents_each: int
    valid_from: date
    valid_to: date
    words: str = ""
    wrong_at: datetime | None = Field(default=None, sa_column=moment(null=True))


class ShelfEntry(SQLModel, table=True):
    """What came to lie on a customer's own shelf, or was used from it, as last told."""

    __tablename__ = "shelf_entry"
    __table_args__ = (CheckConstraint("change <> 0", name="change"),)

    id: int = Field(default=None, primary_key=True)
    customer_id: int = Field(sa_column=key("customer.id"))
    variant_id: int = Field(sa_column=key("variant.id"))
    piece_id: int | None = Field(default=None, sa_column=key("piece.id", null=True, index=False))
    change: int
    words: str = ""
    by_id: int = Field(sa_column=key("person.id", index=False))
    at: datetime = Field(sa_column=moment())
