"""Customers: a name and a phone are enough; everything else can wait."""

import re
from dataclasses import asdict, dataclass
from datetime import date, datetime

from sqlalchemy import literal, tuple_
from sqlmodel import Session, select

from shopapp.bench import quantities
from shopapp.bench.errors import BenchError
from shopapp.office import history
from shopapp.office.errors import NotHere, TryAgain
from shopapp.office.folding import folded
from shopapp.office.sheets.letterhead import Party
from shopapp.office.tables.customers import Customer, TaxPaper


@dataclass(frozen=True)
class CustomerFacts:
    """A customer as the book has it today."""

    id: int
    name: str
    contact: str
    phone: str
    email: str
    address: str
    terms_days: int
    bill_when: str
    order_number: str
    deposit_percent: str
    note: str
    country: str = ""
    tax_id: str = ""

    def party(self) -> Party:
        """The addressee that is frozen on a paper."""
        return Party(
            name=self.name, contact=self.contact, address=self.address, phone=self.phone, email=self.email,
            country=self.country, tax_id=self.tax_id,
        )  # fmt: skip

    def terms(self) -> str:
        """The terms of payment in words."""
        return f"account, {self.terms_days} days" if self.terms_days else "pays at pick-up"


@dataclass(frozen=True)
class TaxPaperFacts:
    """A certificate that frees from tax between two days, both included."""

    number: str
    issuer: str
    valid_from: date
    valid_to: date

    def reason(self) -> str:
        """Why a bill carries no tax, as it stands on the bill."""
        parts = (f"certificate {self.number}", self.issuer, f"valid to {self.valid_to.day} {self.valid_to:%b %Y}")
        return ", ".join(part for part in parts if part)


CALLED = {
    "terms_days": "terms|days", "bill_when": "billed when", "deposit_percent": "deposit|%", "tax_id": "tax number",
}  # fmt: skip
"""What a fact is called in the day book, with its unit after a bar."""

_COLUMNS = [getattr(Customer, name) for name in CustomerFacts.__dataclass_fields__]


def keep(db: Session, *, now: datetime, by: int, customer_id: int | None = None, **told: object) -> int:
    """Enter a customer, or write over what the book has of one; told fields only."""
    _mend_first(db, told, customer_id)
    row = db.get(Customer, customer_id) if customer_id else Customer(name="", folded="", phone="")
    if row is None:
        raise NotHere("That customer is not in the book.")
    told = {name: value.strip() if isinstance(value, str) else value for name, value in told.items()}
    changed = history.changes(vars(row), told, CALLED) or "nothing changed"
    for name, value in told.items():
        setattr(row, name, value)
    row.folded = folded(f"{row.name} {row.contact}")
    db.add(row)
    db.flush()
    words = f"{row.name}: {changed}" if customer_id else f"{row.name}, {row.phone}"
    history.write(db, now=now, by=by, act="customer", words=words, customer_id=row.id)
    return row.id


def _mend_first(db: Session, told: dict[str, object], customer_id: int | None) -> None:
    problems = {}
    if (customer_id is None or "name" in told) and not str(told.get("name") or "").strip():
        problems["name"] = "Write the customer's name, or a first name for a counter sale."
    if (customer_id is None or "phone" in told) and not str(told.get("phone") or "").strip():
        problems["phone"] = "Write a phone number, so that they can be told when it is ready."
    problems |= _reached(told)
    if "deposit_percent" in told:
        try:
            share = quantities.percent(str(told["deposit_percent"]) or "0")
            told["deposit_percent"] = f"{float(share * 100):g}"
            if share > 1:
                problems["deposit_percent"] = "From 0 to 100 % of the price before tax, please."
        except BenchError as refusal:
            problems["deposit_percent"] = str(refusal)
    if problems:
        raise TryAgain(problems)
    if customer_id is None and twin(db, str(told["name"]), str(told["phone"])):
        raise TryAgain({"name": "A customer of that name and phone is in the book already. Open that one instead."})


def _reached(told: dict[str, object]) -> dict[str, str]:
    """What was typed to reach them by that cannot reach anybody; an empty e-mail is no mistake."""
    said = {name: str(told.get(name) or "").strip() for name in ("phone", "email")}
    problems = {}
    if said["phone"] and not _digits(said["phone"]):
        problems["phone"] = "A phone number has digits, such as 555 0143. Look at it again."
    if said["email"] and not re.fullmatch(r"[^\s@]+@[^\s@]+\.[^\s@]+", said["email"]):
        problems["email"] = "Write the e-mail as name@place.example, or leave it empty."
    return problems


def twin(db: Session, name: str, phone: str) -> int | None:
    """The customer of that name and phone, where one is in the book."""
    digits = _digits(phone)
    rows = db.exec(select(Customer.id, Customer.name, Customer.phone).where(Customer.folded.startswith(folded(name))))
    return next((row for row, n, p in rows if folded(n) == folded(name) and _digits(p) == digits), None)


def _digits(phone: str) -> str:
    return "".join(c for c in phone if c.isdigit())


def one(db: Session, customer_id: int) -> CustomerFacts:
    """The customer."""
    row = db.exec(select(*_COLUMNS).where(Customer.id == customer_id)).first()
    if row is None:
        raise NotHere("That customer is not in the book.")
    return CustomerFacts(*row)


def listing(db: Session, *, like: str = "", after: int = 0, most: int = 50) -> list[CustomerFacts]:
    """Customers by name; `like` keeps those whose name or contact holds it, `after` goes on behind that customer."""
    query = select(*_COLUMNS).order_by(Customer.folded, Customer.id).limit(most)
    if like.strip():
        query = query.where(Customer.folded.contains(folded(like), autoescape=True))
    if after and (last := db.get(Customer, after)):
        query = query.where(tuple_(Customer.folded, Customer.id) > tuple_(literal(last.folded), literal(last.id)))
    return [CustomerFacts(*row) for row in db.exec(query)]


def add_tax_paper(
    db: Session, *, customer_id: int, number: str, issuer: str, valid_from: date, valid_to: date,
    now: datetime, by: int,
) -> None:  # fmt: skip
    """Enter an exemption certificate."""
    if not number.strip():
        raise TryAgain({"number": "Write the number that stands on the certificate."})
    if valid_to < valid_from:
        raise TryAgain({"valid_to": "The certificate ends before it begins. Look at both days again."})
    paper = TaxPaper(
        customer_id=customer_id, number=number.strip(), issuer=issuer.strip(), valid_from=valid_from,
        valid_to=valid_to,
    )  # fmt: skip
    db.add(paper)
    history.write(
        db, now=now, by=by, act="tax paper", words=f"certificate {number}, {valid_from} to {valid_to}",
        customer_id=customer_id,
    )  # fmt: skip


def exempt_on(db: Session, customer_id: int, day: date) -> TaxPaperFacts | None:
    """The certificate that frees the customer from tax on a day, if there is one."""
    papers = [p for p in tax_papers(db, customer_id) if p.valid_from <= day <= p.valid_to]
    return papers[0] if papers else None


def tax_papers(db: Session, customer_id: int) -> list[TaxPaperFacts]:
    """All certificates of a customer, the one valid longest first."""
    rows = db.exec(
        select(TaxPaper.number, TaxPaper.issuer, TaxPaper.valid_from, TaxPaper.valid_to)
        .where(TaxPaper.customer_id == customer_id)
        .order_by(TaxPaper.valid_to.desc())
    )
    return [TaxPaperFacts(*row) for row in rows]


def as_typed(facts: CustomerFacts) -> dict[str, str]:
    """The customer's fields as a form shows them."""
    return {name: str(value) for name, value in asdict(facts).items() if name != "id"}
