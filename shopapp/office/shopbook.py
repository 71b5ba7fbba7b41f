"""The shop book: letterhead, dated rates, scales. Dated rows are added, never overwritten."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction
from functools import cache
from typing import Generic, TypeVar
from zoneinfo import ZoneInfo, available_timezones

from sqlmodel import Session, select

from shopapp.bench import money, quantities
from shopapp.bench.errors import BenchError
from shopapp.office import history
from shopapp.office.errors import InTheWay, NewShop, TryAgain
from shopapp.office.sheets.letterhead import Letterhead
from shopapp.office.tables.shopbook import LabourRate, Scale, Shop, TaxRate

MOST_CENTS = 10**9
"""What no hour costs; far below what the tables can hold."""
TIMES = 10
"""A rate so many times the one before, or that part of it, is asked about: a point may be missing."""
CALLED = {
    "quote_days": "a quote is good for|days", "left_behind_days": "left behind after|days", "rush_percent": "rush|%",
    "minimum_cents": "least charge in cents", "not_done": "not done here", "tax_by": "tax is rounded by",
}  # fmt: skip
"""What a fact is called in the day book, with its unit after a bar."""

T = TypeVar("T")
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
class Dated(Generic[T]):
    """What holds from a day on. One that was put right by a newer row of the same day is superseded."""

    valid_from: date
    value: T
    superseded: bool


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
        told["rush_percent"] = _percent(str(told["rush_percent"]), "rush_percent", most=500)
    row = db.get(Shop, 1)
    words = history.changes(vars(row), told, CALLED) if row else ""
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


def add_rate(db: Session, *, valid_from: date, cents_per_hour: int, sure: bool = False, now: datetime, by: int) -> None:
    """A dated row: what an hour at the bench costs from a day on. A newer row of the same day puts an older one right.

    One that is ten times the rate before it, or a tenth, is asked about until `sure`.
    """
    if not 0 < cents_per_hour <= MOST_CENTS:
        raise TryAgain({"rate": "Write the price of an hour at the bench, such as 86.00."})
    before = db.exec(_RATES.where(LabourRate.valid_from < valid_from)).first()
    if before and not sure and not before[1] < cents_per_hour * TIMES < before[1] * TIMES**2:
        was, new = money.show(before[1], ""), money.show(cents_per_hour, "")
        raise TryAgain({"rate_sure": f"An hour was {was} before, and would now be {new}. If it is meant so, tick it."})
    words = f"{money.show(cents_per_hour, '')} an hour from {valid_from}"
    words = _put_right(words, [money.show(row.value, "") for row in rates(db, valid_from)])
    db.add(LabourRate(valid_from=valid_from, cents_per_hour=cents_per_hour))
    history.write(db, now=now, by=by, act="rate", words=words)


def add_tax(db: Session, *, valid_from: date, percent: str, now: datetime, by: int) -> None:
    """A dated row: the trade tax from a day on. A newer row of the same day puts an older one right."""
    exact = _percent(percent, "tax")
    words = _put_right(f"{exact} % tax from {valid_from}", [f"{row.value} %" for row in taxes(db, valid_from)])
    db.add(TaxRate(valid_from=valid_from, percent=exact))
    history.write(db, now=now, by=by, act="tax", words=words)


def _put_right(words: str, there: list[str]) -> str:
    """The line of the day book, with what the newest row of the same day said until now."""
    return f"{words}; put right, it said {there[0]}" if there else words


_RATES = select(LabourRate.valid_from, LabourRate.cents_per_hour).order_by(
    LabourRate.valid_from.desc(), LabourRate.id.desc()
)
_TAXES = select(TaxRate.valid_from, TaxRate.percent).order_by(TaxRate.valid_from.desc(), TaxRate.id.desc())


def rate_on(db: Session, day: date) -> int:
    """The price of an hour on a day [cents]."""
    row = db.exec(_RATES.where(LabourRate.valid_from <= day)).first()
    if row is None:
        raise InTheWay("The shop book has no rate for that day. Add one there first.")
    return int(row[1])


def tax_on(db: Session, day: date) -> str:
    """The tax in percent on a day, as exact text; "0" where the shop has no tax."""
    row = db.exec(_TAXES.where(TaxRate.valid_from <= day)).first()
    return str(row[1]) if row else "0"


def rates(db: Session, day: date | None = None) -> list[Dated[int]]:
    """The dated rates [cents], or those from one day on, newest first; those put right behind what puts them right."""
    return dated(db.exec(_RATES if day is None else _RATES.where(LabourRate.valid_from == day)))


def taxes(db: Session, day: date | None = None) -> list[Dated[str]]:
    """The dated taxes in percent, or those from one day on, newest first, as the rates."""
    return dated(db.exec(_TAXES if day is None else _TAXES.where(TaxRate.valid_from == day)))


def dated(rows: Iterable[tuple[date, T]]) -> list[Dated[T]]:
    """Rows of day and value, newest first: of several for one day the first counts."""
    told: list[Dated[T]] = []
    for day, value in rows:
        told.append(Dated(day, value, superseded=bool(told) and told[-1].valid_from == day))
    return told


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


def _percent(text: str, field: str, most: int = 100) -> str:
    try:
        exact = quantities.percent(text)
    except BenchError as refusal:
        raise TryAgain({field: str(refusal)}) from refusal
    if exact * 100 > most:
        raise TryAgain({field: f"From 0 to {most} %, please. Look at the figure again."})
    return f"{float(exact * 100):g}" if Fraction(f"{float(exact * 100):g}") == exact * 100 else str(exact * 100)


def _decimal(mass: quantities.Quantity, unit: str) -> str:
    """The mass as exact decimal text in a unit."""
    value = mass.base / quantities.mass("1", unit).base
    if value <= 0:
        raise TryAgain({"division": "A division is more than nothing."})
    return f"{float(value):g}" if Fraction(f"{float(value):g}") == value else str(value)
