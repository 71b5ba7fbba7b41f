"""The shop book: letterhead, dated rates, scales. Dated rows are added, never overwritten."""

from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction
from functools import cache
from zoneinfo import ZoneInfo, available_timezones

from sqlmodel import Session, select

from shopapp.bench import quantities
from shopapp.bench.errors import BenchError
from shopapp.office import history
from shopapp.office.errors import InTheWay, NewShop, TryAgain
from shopapp.office.sheets.letterhead import Letterhead
from shopapp.office.tables.shopbook import LabourRate, Scale, Shop, TaxRate

CAUTIONS = (
    "Weights are by the shop's own scale, read to its division; not for trade by weight.",
    "No speed rating is given. Whether a part may run, and how fast, is for its maker or a licensed engineer to say.",
    "Thinned or re-turned parts can have flaws that turning does not show. Follow the rules of your trade and place.",
)


@dataclass(frozen=True)
class ShopFacts:
    """The shop as it stands today."""

    name: str
    owner: str
    place: str
    phone: str
    email: str
    tax_id: str
    zone: str
    currency: str
    unit: str
    paper: str
    hours: str
    minimum_cents: int
    rush_percent: str
    quote_days: int
    left_behind_days: int
    not_done: str
    tax_by: str = "document"
    country: str = "US"
    address: str = ""

    def today(self, now: datetime) -> date:
        """The calendar day on the shop's wall."""
        return now.astimezone(ZoneInfo(self.zone)).date()

    def not_done_lines(self) -> tuple[str, ...]:
        """What the shop does not do, a line each."""
        return tuple(line.strip() for line in self.not_done.splitlines() if line.strip())

    def letterhead(self) -> Letterhead:
        """The head that is frozen on a paper."""
        return Letterhead(
            shop=self.name, owner=self.owner, place=self.place, phone=self.phone, email=self.email,
            tax_id=self.tax_id, paper=self.paper, cautions=CAUTIONS,
            address=self.address, country=self.country, currency=self.currency,
        )  # fmt: skip


@dataclass(frozen=True)
class ScaleFacts:
    """A scale: its unit, and its division and capacity both as text and in grams."""

    id: int
    name: str
    unit: str
    division: str
    capacity: str

    @property
    def division_g(self) -> Fraction:
        """One division [g]."""
        return quantities.mass(self.division, self.unit).base

    @property
    def capacity_g(self) -> Fraction:
        """What it carries [g]."""
        return quantities.mass(self.capacity, self.unit).base


def shop(db: Session) -> ShopFacts | None:
    """The shop, or None while the book is empty."""
    row = db.get(Shop, 1)
    if row is None:
        return None
    return ShopFacts(**{name: getattr(row, name) for name in ShopFacts.__dataclass_fields__})


def the_shop(db: Session) -> ShopFacts:
    """The shop; refused while the book is empty."""
    facts = shop(db)
    if facts is None:
        raise NewShop
    return facts


def change(db: Session, *, now: datetime, by: int, **told: object) -> None:
    """Write the shop's facts; those that are not told stay as they are."""
    if not str(told.get("name", "-")).strip():
        raise TryAgain({"name": "Write the shop's name as it shall stand on papers."})
    if "zone" in told and told["zone"] not in available_timezones():
        raise TryAgain({"zone": "Write the zone as Area/City, such as America/Denver, or UTC."})
    if told.get("tax_by", "document") not in ("document", "line"):
        raise TryAgain({"tax_by": "Say where tax is rounded: once per document, or on each line."})
    if "rush_percent" in told:
        told["rush_percent"] = _percent(str(told["rush_percent"]), "rush_percent")
    row = db.get(Shop, 1)
    changed = [name for name, value in told.items() if row is not None and getattr(row, name) != value]
    words = "; ".join(f"{name.replace('_', ' ')}: {told[name] or 'none'}" for name in changed)
    first = "the shop's facts were written" if row is None else "the shop's facts stay as they are"
    row = row or Shop(id=1, name="")
    for name, value in told.items():
        setattr(row, name, value)
    db.add(row)
    db.flush()
    history.write(db, now=now, by=by, act="shop", words=words or first)


@cache
def zones() -> tuple[str, ...]:
    """The zones of the world's clocks by name, Area/City, and UTC."""
    cities = (name for name in available_timezones() if "/" in name and not name.startswith("Etc/"))
    return ("UTC", *sorted(cities))


def add_rate(db: Session, *, valid_from: date, cents_per_hour: int, now: datetime, by: int) -> None:
    """A dated row: what an hour at the bench costs from a day on."""
    if cents_per_hour <= 0:
        raise TryAgain({"rate": "Write the price of an hour at the bench, such as 86.00."})
    if db.exec(select(LabourRate).where(LabourRate.valid_from == valid_from)).first():
        raise TryAgain({"rate_from": "A rate begins on that day already. Choose another day."})
    db.add(LabourRate(valid_from=valid_from, cents_per_hour=cents_per_hour))
    history.write(db, now=now, by=by, act="rate", words=f"{cents_per_hour / 100:.2f} an hour from {valid_from}")


def add_tax(db: Session, *, valid_from: date, percent: str, now: datetime, by: int) -> None:
    """A dated row: the trade tax from a day on."""
    exact = _percent(percent, "tax")
    if db.exec(select(TaxRate).where(TaxRate.valid_from == valid_from)).first():
        raise TryAgain({"tax_from": "A tax rate begins on that day already. Choose another day."})
    db.add(TaxRate(valid_from=valid_from, percent=exact))
    history.write(db, now=now, by=by, act="tax", words=f"{exact} % tax from {valid_from}")


def rate_on(db: Session, day: date) -> int:
    """The price of an hour on a day [cents]."""
    cents = db.exec(
        select(LabourRate.cents_per_hour).where(LabourRate.valid_from <= day).order_by(LabourRate.valid_from.desc())
    ).first()
    if cents is None:
        raise InTheWay("The shop book has no rate for that day. Add one there first.")
    return cents


def tax_on(db: Session, day: date) -> str:
    """The tax in percent on a day, as exact text; "0" where the shop has no tax."""
    percent = db.exec(
        select(TaxRate.percent).where(TaxRate.valid_from <= day).order_by(TaxRate.valid_from.desc())
    ).first()
    return percent or "0"


def rates(db: Session) -> list[tuple[date, int]]:
    """The dated rates, newest first."""
    rows = db.exec(select(LabourRate.valid_from, LabourRate.cents_per_hour).order_by(LabourRate.valid_from.desc()))
    return [tuple(row) for row in rows]


def taxes(db: Session) -> list[tuple[date, str]]:
    """The dated taxes, newest first."""
    rows = db.exec(select(TaxRate.valid_from, TaxRate.percent).order_by(TaxRate.valid_from.desc()))
    return [tuple(row) for row in rows]


def add_scale(db: Session, *, name: str, unit: str, division: str, capacity: str, now: datetime, by: int) -> int:
    """Enter a scale: its division and capacity in its own unit."""
    problems = {} if name.strip() else {"scale": "Name the scale as the shop calls it, such as bench dial."}
    sizes: dict[str, str] = {}
    for field, text in (("division", division), ("capacity", capacity)):
        try:
            sizes[field] = _decimal(quantities.mass(text, unit), unit)
        except BenchError as refusal:
            problems[field] = str(refusal)
    if not problems and Fraction(sizes["capacity"]) < Fraction(sizes["division"]):
        problems["capacity"] = "A scale carries more than one of its divisions. Look at both again."
    if not problems and db.exec(select(Scale).where(Scale.name == name.strip())).first():
        problems["scale"] = "A scale of that name is in the book. Give this one another name."
    if problems:
        raise TryAgain(problems)
    scale = Scale(name=name.strip(), unit=unit, **sizes)
    db.add(scale)
    db.flush()
    history.write(db, now=now, by=by, act="scale", words=f"{scale.name}: {scale.division} {unit} a division")
    return scale.id


def scales(db: Session) -> list[ScaleFacts]:
    """The scales in use, by name."""
    rows = db.exec(
        select(Scale.id, Scale.name, Scale.unit, Scale.division, Scale.capacity)
        .where(Scale.in_use)
        .order_by(Scale.name)
    )
    return [ScaleFacts(*row) for row in rows]


def _percent(text: str, field: str) -> str:
    try:
        exact = quantities.percent(text)
    except BenchError as refusal:
        raise TryAgain({field: str(refusal)}) from refusal
    return f"{float(exact * 100):g}" if Fraction(f"{float(exact * 100):g}") == exact * 100 else str(exact * 100)


def _decimal(mass: quantities.Quantity, unit: str) -> str:
    """The mass as exact decimal text in a unit."""
    value = mass.base / quantities.mass("1", unit).base
    if value <= 0:
        raise TryAgain({"division": "A division is more than nothing."})
    return f"{float(value):g}" if Fraction(f"{float(value):g}") == value else str(value)
