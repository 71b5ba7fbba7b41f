"""What a sum of the scratch sheet is made of: fields as typed, what is read of them, and the answer."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from shopapp.bench import indicator, quantities
from shopapp.bench.errors import BenchError, Impossible, Refused
from shopapp.bench.lists import parts
from shopapp.bench.quantities import Quantity
from shopapp.bench.rounding import fixed, significant
from shopapp.bench.turns import turns
from shopapp.bench.unitwords import with_unit
from shopapp.office import workings
from shopapp.office.sheets.section import SectionSheet
from shopapp.office.sheets.working import WorkingSheet

MOST_COUNT, MOST_ROWS, LONGEST_LIST = 10_000, 20, 40
CHUCK_KEY = "Take the key out of the chuck before the spindle turns, also by hand."
SKIPPED = ("skip", "keyway", "k", "x", "/", "-", "–")
_IDLE = frozenset(("rpm", "min"))

Value = Quantity | Fraction | str | tuple[Fraction, ...] | None


@dataclass(frozen=True)
class Field:
    """One thing to type or to choose. `unit` is the unit on the field where its kind does not say it: one for all, or
    one for inches and one for millimetres. `fits` names the block of fields that depends on this choice."""

    name: str
    label: str
    kind: str = "length"
    needed: bool = True
    unit: str | tuple[str, str] = ""
    hint: str = ""
    options: tuple[tuple[str, str], ...] = ()
    fits: str = ""


@dataclass(frozen=True)
class Group:
    """Fields that stand together; those of `head` decide which others there are."""

    fields: tuple[Field, ...]
    key: str = "sizes"
    legend: str = ""
    head: tuple[Field, ...] = ()


@dataclass(frozen=True)
class Table:
    """Rows under heads, all text; a head ending in a bar holds figures."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    caption: str = ""


@dataclass(frozen=True)
class Rose:
    """Four jaws: readings by their angle, where the arrow points [deg], what each jaw does, what the arrow says."""

    readings: tuple[tuple[float, str], ...]
    high: float | None = None
    jaws: tuple[tuple[int, str], ...] = ()
    says: str = ""


@dataclass(frozen=True)
class Answer:
    """What a sum gives. `tone` is how the first sentence is said: plain, agree, look, no or coarse."""

    figures: tuple[tuple[str, str, str], ...] = ()
    sentences: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    workings: tuple[WorkingSheet, ...] = ()
    section: SectionSheet | None = None
    tables: tuple[Table, ...] = ()
    rose: Rose | None = None
    tone: str = "plain"


Groups = Callable[[Mapping[str, str]], tuple[Group, ...]]


@dataclass(frozen=True)
class Sum:
    """One sum: what it is for, what it asks, how it is worked out, and an example of it."""

    key: str
    title: str
    purpose: str
    groups: Groups
    work: Callable[["Told"], Answer]
    example: Mapping[str, str]
    switches: tuple[Field, ...] = ()
    grows: str = ""


UNIT = Field("unit", "Sizes in", "choice", options=(("in", "inches"), ("mm", "millimetres")), fits="fields")
WEIGH = Field(
    "weigh", "Weights in", "choice", options=(("lb", "lb"), ("oz", "oz"), ("kg", "kg"), ("g", "g")), fits="fields"
)  # fmt: skip
READS = Field(
    "reads", "Indicator reads", "choice", fits="fields",
    options=(("thou", "thou"), ("tenth", "tenths"), ("mm", "mm")),
)  # fmt: skip
_METRIC = {"unit": "mm", "weigh": "kg", "reads": "mm"}


def plain(*fields: Field) -> Groups:
    """A form that is always the same."""
    return lambda typed: (Group(fields),)


def chosen(switch: Field, typed: Mapping[str, str], shop_unit: str = "in") -> str:
    """What a choice stands at: as sent, or else the first of it; units begin as the shop's own."""
    known = [key for key, _ in switch.options]
    if typed.get(switch.name) in known:
        return typed[switch.name]
    return _METRIC[switch.name] if shop_unit == "mm" and _METRIC.get(switch.name) in known else known[0]


@dataclass
class Told:
    """What was typed for a sum, read: numbers in the bench's own units, and every text as it stands."""

    values: dict[str, Value] = field(default_factory=dict)
    texts: dict[str, str] = field(default_factory=dict)
    fields: dict[str, Field] = field(default_factory=dict)
    units: dict[str, str] = field(default_factory=dict)
    sign: str = "$"

    @property
    def unit(self) -> str:
        """The unit that stands on lengths."""
        return self.units["unit"]

    @property
    def metric(self) -> bool:
        """Whether lengths are in millimetres."""
        return self.unit == "mm"

    @property
    def weigh(self) -> str:
        """The unit that stands on weights."""
        return self.units["weigh"]

    def has(self, name: str) -> bool:
        """Whether something was typed there."""
        return self.values.get(name) is not None

    def exact(self, name: str, otherwise: Fraction | int = 0) -> Fraction:
        """A number, exact: mm, g, rpm, m/min, min, cents, a share or a count."""
        value = self.values.get(name)
        if isinstance(value, Quantity):
            return value.base
        return value if isinstance(value, Fraction) else Fraction(otherwise)

    def num(self, name: str, otherwise: float = 0.0) -> float:
        """The same as a float."""
        return float(self.exact(name)) if self.has(name) else otherwise

    def maybe(self, name: str) -> float | None:
        """The same, or None where nothing was typed."""
        return self.num(name) if self.has(name) else None

    def count(self, name: str, otherwise: int = 1) -> int:
        """A whole number."""
        return int(self.exact(name, otherwise))

    def word(self, name: str) -> str:
        """What was chosen, or text as typed."""
        value = self.values.get(name)
        return value if isinstance(value, str) else ""

    def quantity(self, name: str) -> Quantity:
        """A length or weight with its text."""
        value = self.values[name]
        if not isinstance(value, Quantity):
            raise Refused(f"Type “{self.fields[name].label}”.")
        return value

    def several(self, name: str) -> tuple[float, ...]:
        """A list of numbers."""
        value = self.values.get(name)
        return tuple(float(one) for one in value) if isinstance(value, tuple) else ()

    def typed(self, *names: str) -> tuple[tuple[str, str], ...]:
        """Inputs as typed, each with its unit, for the working; a choice in its words."""
        return tuple((self.fields[name].label, self._said(name)) for name in names if self._said(name))

    def _said(self, name: str) -> str:
        one, text = self.fields.get(name), self.texts.get(name, "")
        if one is None or not text:
            return ""
        if one.kind == "choice":
            return dict(one.options).get(text, text)
        return with_unit(text, unit_on(one, self.units))

    def length(self, mm: float, places: int | None = None) -> str:
        """A length in the unit of the sizes, figures alone: to the thou or a hundredth, finer where places says."""
        return quantities.show_length(mm, self.unit, places).removesuffix(f" {self.unit}")

    def fine(self, mm: float) -> str:
        """A length to the tenth, or to a thousandth of a millimetre."""
        return self.length(mm, 3 if self.metric else 4)

    def mass(self, grams: float) -> str:
        """A weight in the unit of the weights, figures alone."""
        return quantities.show_mass(grams, self.weigh).removesuffix(f" {self.weigh}")

    def shown(
        self, function: Callable[..., Any], figure: str, value: str, *names: str, more: Iterable[tuple[str, str]] = ()
    ) -> WorkingSheet:
        """The working of a figure, with the inputs it came from."""
        return workings.of(function, figure=figure, value=value, inputs=(*self.typed(*names), *more))


def unit_on(one: Field, units: Mapping[str, str]) -> str:
    """The unit that stands on a field."""
    metric = units["unit"] == "mm"
    if isinstance(one.unit, tuple):
        return one.unit[1 if metric else 0]
    by_kind = {
        "length": units["unit"], "size": units["unit"], "mass": units["weigh"], "reading": units["reads"],
        "speed": "m/min" if metric else "ft/min", "rpm": "rpm", "rpms": "rpm", "minutes": "min", "times": "min",
        "percent": "%",
    }  # fmt: skip
    return one.unit or by_kind.get(one.kind, "")


def read(one: Field, text: str, unit: str) -> Value:
    """What stands in one field; refuses with the sentence for the person."""
    return _READERS[one.kind](text, unit)


def _count(text: str, unit: str) -> Fraction:
    value = quantities.whole(text)
    if value > MOST_COUNT:
        raise Refused(f"A scratch sum counts up to {MOST_COUNT:,}. Type fewer.")
    return Fraction(value)


def _cutting_speed(text: str, unit: str) -> Quantity:
    found = quantities.speed(text, unit)
    if found.unit == "rpm":
        raise Refused(f"Here goes a cutting speed. Type it in {unit}.")
    return found


def _rpm(text: str, unit: str) -> Quantity:
    return turns(text)


def _list(reader: Callable[[str, str], Quantity]) -> Callable[[str, str], tuple[Fraction, ...]]:
    def read_list(text: str, unit: str) -> tuple[Fraction, ...]:
        listed = parts(text, _IDLE)
        if len(listed) > LONGEST_LIST:
            raise Refused(f"That is a long list. Type up to {LONGEST_LIST}, with spaces or commas between.")
        return tuple(reader(part, unit).base for part in listed)

    return read_list


def _reading(text: str, unit: str) -> Quantity | str:
    """What an indicator shows, over or under its zero; a place that was skipped stays words."""
    said = text.strip()
    if said.casefold() in SKIPPED:
        return "skipped"
    return indicator.reading(said, unit)


_READERS: dict[str, Callable[[str, str], Value]] = {
    "length": quantities.length, "mass": quantities.mass, "speed": _cutting_speed, "rpm": _rpm, "rpms": _list(_rpm),
    "minutes": quantities.minutes, "times": _list(quantities.minutes), "count": _count, "reading": _reading,
    "number": lambda text, unit: quantities.number(text), "percent": lambda text, unit: quantities.percent(text),
    "money": lambda text, unit: quantities.money(text), "choice": lambda text, unit: text,
    "text": lambda text, unit: text, "size": lambda text, unit: text,
}  # fmt: skip


def echo(one: Field, text: str, units: Mapping[str, str]) -> str:
    """What a half-typed field says: the other unit, or how to type it."""
    try:
        found = read(one, text, unit_on(one, units)) if text.strip() else None
        if one.kind == "size" and found:
            found = quantities.length(text, units["unit"])
    except (BenchError, ArithmeticError) as hint:
        return str(hint) if isinstance(hint, BenchError) else ""
    if not isinstance(found, Quantity):
        return ""
    if one.kind == "reading":
        return indicator.echo(found)
    if one.kind in ("length", "size"):
        return quantities.echo_length(found)
    return quantities.echo_mass(found) if one.kind == "mass" else ""


def minutes(value: float) -> str:
    """Minutes as they are said of a cut: to the tenth, small ones finer."""
    return fixed(value, 1) if value >= 10 else fixed(value, 2) if value >= 0.1 else significant(value, 2)


def no_more_than(number: float, most: int, words: str) -> None:
    """Stop a sum that would never end."""
    if number > most:
        raise Impossible(words)
