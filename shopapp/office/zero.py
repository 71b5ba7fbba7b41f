"""What a scale shows with nothing on it: looked at each day, kept with each reading, taken off where it is not 0."""

from datetime import datetime, time
from fractions import Fraction
from zoneinfo import ZoneInfo

from sqlmodel import Session, select

from shopapp.bench import quantities
from shopapp.bench import weighing as bench
from shopapp.bench.errors import BenchError
from shopapp.office import shopbook
from shopapp.office.errors import TryAgain
from shopapp.office.shopbook import ScaleFacts
from shopapp.office.tables.together import JointReading
from shopapp.office.tables.weighing import Reading


def grams(zero: str | None, unit: str) -> Fraction:
    """What a scale showed with nothing on it [g]; it may be less than nothing."""
    typed = ((zero or "").strip() or "0").replace("\N{MINUS SIGN}", "-")
    return (-1 if typed.startswith("-") else 1) * quantities.mass(typed.removeprefix("-"), unit).base


def taken_off(reading: Fraction, zero: str, scale: ScaleFacts, *, less_zero: bool) -> Fraction:
    """A reading [g] less what the scale showed with nothing on it, where the person says so; asked about otherwise."""
    try:
        off = grams(zero, scale.unit)
        bench.snap(abs(off) / quantities.mass("1", scale.unit).base, Fraction(scale.division), scale.unit)
    except BenchError as refusal:
        raise TryAgain({"zero": str(refusal)}) from refusal
    if off and not less_zero:
        shows = f"{scale.name} shows {words(zero, scale.unit)} with nothing on it."
        raise TryAgain({"zero": f"{shows} Set it to zero and weigh again, or keep the reading less that."})
    if off >= reading:
        raise TryAgain({"zero": "Nothing is left of the reading. Read the scale again, empty and loaded."})
    return reading - off


def words(zero: str, unit: str) -> str:
    """A zero as it was typed, with its unit."""
    return zero if any(sign.isalpha() or sign == "#" for sign in zero) else f"{zero} {unit}"


def less(typed: str, zero: str | None, unit: str, weighs: float, division: str) -> str:
    """A reading as it is said: as typed, or what the piece weighs [g] less what the scale showed with nothing on it."""
    places = len(division.partition(".")[2])
    return quantities.show_mass(weighs, unit, places) if grams(zero, unit) else words(typed, unit)


def said(typed: str, zero: str | None, unit: str) -> str:
    """What was taken off a reading, or that the zero was seen; empty where nobody looked."""
    if zero and grams(zero, unit):
        return f"{words(typed, unit)} shown, less {words(zero, unit)} at zero"
    return "zero seen" if zero else ""


def not_seen(db: Session, *, now: datetime) -> set[int]:
    """The scales whose zero nobody looked at today, by the shop's own clock."""
    shop = shopbook.the_shop(db)
    morning = datetime.combine(shop.today(now), time(), ZoneInfo(shop.zone))
    seen: set[int] = set()
    for table in (Reading, JointReading):
        seen |= set(db.exec(select(table.scale_id).where(table.at >= morning, table.zero_seen).distinct()))
    return {scale.id for scale in shopbook.scales(db)} - seen
