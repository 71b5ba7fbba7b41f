"""The shop's machines and measuring instruments: what a dial reads, what a chuck bears, what a caliper is good to."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from sqlmodel import Session, select

from shopapp.bench import quantities
from shopapp.bench.errors import BenchError
from shopapp.bench.lists import parts
from shopapp.bench.unitwords import with_unit
from shopapp.office import history
from shopapp.office.errors import NotHere, TryAgain
from shopapp.office.tables.shopbook import Instrument, Machine, Scale

DIALS = {"radius": "the depth of cut", "diameter": "what comes off the diameter"}
"""What the cross-slide dial of a machine reads."""
MOST_RPM = 10_000


@dataclass(frozen=True)
class MachineFacts:
    """A machine: what its dial reads, its chuck's limit [rpm], its speeds, its motor, the pitch of its jaw screws."""

    id: int
    name: str
    dial: str
    chuck_limit: int
    speeds_text: str
    motor_kw: str
    screw: str

    @property
    def speeds(self) -> tuple[int, ...]:
        """The speeds that can be set [rpm], rising; none where any speed can be set."""
        return tuple(int(word) for word in self.speeds_text.split())

    @property
    def kilowatts(self) -> float | None:
        """The motor's power [kW], if it is known."""
        return float(quantities.number(self.motor_kw)) if self.motor_kw else None

    @property
    def pitch_mm(self) -> float | None:
        """How far a jaw goes in one turn of its screw [mm], if it is known."""
        return quantities.length(self.screw).amount if self.screw else None


@dataclass(frozen=True)
class InstrumentFacts:
    """A measuring instrument: what it shows, and what it is good to, plus or minus."""

    id: int
    name: str
    unit: str
    resolution: str
    good_to: str

    @property
    def resolution_mm(self) -> float:
        """The least step that it shows [mm]."""
        return quantities.length(self.resolution, self.unit).amount

    @property
    def good_to_mm(self) -> float:
        """What it may be off [mm]."""
        return quantities.length(self.good_to, self.unit).amount

    @property
    def words(self) -> str:
        """As it is named beside a size: "dial caliper, shows .001 in, good to .001 in"."""
        shows, good_to = (with_unit(text, self.unit) for text in (self.resolution, self.good_to))
        return f"{self.name}, shows {shows}, good to {good_to}"


def add_machine(
    db: Session, *, name: str, dial: str, chuck_limit: str, speeds: str = "", motor_kw: str = "", screw: str = "",
    now: datetime, by: int,
) -> int:  # fmt: skip
    """Enter a machine; speeds are a list of revolutions, empty where any can be set."""
    problems = _name_stands(db, Machine, name, "machine", "big lathe")
    if dial not in DIALS:
        problems["dial"] = "Say what the dial reads: the radius (depth of cut), or the diameter."
    limit = _revolutions(problems, "chuck_limit", chuck_limit)
    steps = _speeds(problems, speeds)
    _more_than_nothing(problems, "motor_kw", motor_kw, quantities.number, "2.2, in kW")
    _more_than_nothing(problems, "screw", screw, lambda text: quantities.length(text).base, "5 mm or 1/8 in a turn")
    if problems:
        raise TryAgain(problems)
    row = Machine(
        name=name.strip(), dial=dial, chuck_limit=limit, speeds=" ".join(map(str, sorted(set(steps)))),
        motor_kw=motor_kw.strip(), screw=screw.strip(),
    )  # fmt: skip
    db.add(row)
    db.flush()
    words = f"{row.name}: the dial reads {DIALS[dial]}; chuck up to {limit} rpm"
    history.write(db, now=now, by=by, act="machine", words=words)
    return row.id


def machines(db: Session) -> list[MachineFacts]:
    """The machines in use, by name."""
    rows = db.exec(
        select(
            Machine.id, Machine.name, Machine.dial, Machine.chuck_limit, Machine.speeds, Machine.motor_kw, Machine.screw
        ).where(Machine.in_use).order_by(Machine.name)
    )  # fmt: skip
    return [MachineFacts(*row) for row in rows]


def add_instrument(
    db: Session, *, name: str, unit: str, resolution: str, good_to: str, now: datetime, by: int
) -> int:  # fmt: skip
    """Enter a measuring instrument: the least step that it shows, and what it may be off."""
    problems = _name_stands(db, Instrument, name, "instrument", "dial caliper")
    if unit not in ("in", "mm"):
        problems["unit"] = "Say what it shows: in or mm."
    else:
        for field, text in (("resolution", resolution), ("good_to", good_to)):
            if not text.strip():
                problems[field] = "Write a length, such as .001 in; the maker's sheet has it."
            _more_than_nothing(problems, field, text, lambda said: quantities.length(said, unit).base, ".001")
    if problems:
        raise TryAgain(problems)
    row = Instrument(name=name.strip(), unit=unit, resolution=resolution.strip(), good_to=good_to.strip())
    db.add(row)
    db.flush()
    words = InstrumentFacts(row.id, row.name, unit, row.resolution, row.good_to).words
    history.write(db, now=now, by=by, act="instrument", words=words)
    return row.id


def instruments(db: Session) -> list[InstrumentFacts]:
    """The measuring instruments in use, by name."""
    rows = db.exec(
        select(Instrument.id, Instrument.name, Instrument.unit, Instrument.resolution, Instrument.good_to)
        .where(Instrument.in_use)
        .order_by(Instrument.name)
    )
    return [InstrumentFacts(*row) for row in rows]


def retire(db: Session, *, what: str, row_id: int, now: datetime, by: int) -> None:
    """A scale, machine or instrument goes out of use; what was done with it stays."""
    table = {"scale": Scale, "machine": Machine, "instrument": Instrument}.get(what)
    row = db.get(table, row_id) if table else None
    if row is None:
        raise NotHere("That is not in the shop book.")
    row.in_use = False
    db.add(row)
    history.write(db, now=now, by=by, act=what, words=f"{row.name} is out of use")


def _name_stands(
    db: Session, table: type[Machine] | type[Instrument], name: str, field: str, such_as: str
) -> dict[str, str]:
    if not name.strip():
        return {field: f"Name the {field} as the shop calls it, such as {such_as}."}
    if db.exec(select(table.id).where(table.name == name.strip())).first():
        return {field: f"That name is in the book. Give this {field} another one."}
    return {}


def _revolutions(problems: dict[str, str], field: str, text: str) -> int:
    try:
        value = quantities.whole(text)
    except BenchError as refusal:
        problems[field] = str(refusal)
        return 0
    if not 0 < value <= MOST_RPM:
        problems[field] = f"Revolutions are from 1 to {MOST_RPM} a minute. Look at the plate on the machine."
    return value


def _speeds(problems: dict[str, str], text: str) -> list[int]:
    """A list of revolutions; a comma inside a number is asked about before anything is kept."""
    try:
        return [_revolutions(problems, "speeds", word) for word in parts(text, frozenset(("rpm",)))]
    except BenchError as refusal:
        problems["speeds"] = str(refusal)
        return []


def _more_than_nothing(
    problems: dict[str, str], field: str, text: str, read: Callable[[str], Fraction], such_as: str
) -> None:
    """A figure that may be left empty, but is more than nothing where it is typed."""
    if not text.strip():
        return
    try:
        if read(text) <= 0:
            problems[field] = f"Write more than nothing, such as {such_as}."
    except BenchError as refusal:
        problems[field] = str(refusal)
