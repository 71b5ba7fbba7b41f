"""Customers and the papers that exempt them from tax."""

from datetime import date

from sqlalchemy import CheckConstraint
from sqlmodel import Field, SQLModel

from shopapp.office.tables.columns import key, one_of, words


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
