"""The scratch sheet: sums that need no job, in one table. Nothing here is kept; the address of a sum is the sum."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from shopapp.bench.errors import BenchError, Impossible
from shopapp.bench.power import HORSEPOWER
from shopapp.bench.rounding import fixed
from shopapp.office import scratch_cutting as cutting
from shopapp.office import scratch_form as form
from shopapp.office import scratch_money as money
from shopapp.office import scratch_sizes as sizes
from shopapp.office import scratch_speeds as speeds
from shopapp.office import scratch_spinning as spinning
from shopapp.office import scratch_truing as truing
from shopapp.office import scratch_weighing as weighing
from shopapp.office.equipment import MachineFacts
from shopapp.office.errors import NotHere
from shopapp.office.scratch_form import Answer, Field, Group, Sum, Told

GROUPS: tuple[tuple[str, tuple[Sum, ...]], ...] = (
    ("In the chuck", truing.SUMS), ("What comes off", cutting.SUMS), ("Speed, time, power", speeds.SUMS),
    ("On the scale", weighing.SUMS), ("Sizes", sizes.SUMS), ("What turns in use", spinning.SUMS),
    ("Money and minutes", money.SUMS),
)  # fmt: skip
SUMS: dict[str, Sum] = {one.key: one for _, group in GROUPS for one in group}
LONGEST = 200


@dataclass(frozen=True)
class Worked:
    """A sum as far as it goes: its answer, or what is still to type, what cannot be read, or why it cannot be."""

    groups: tuple[Group, ...]
    units: Mapping[str, str]
    typed: Mapping[str, str]
    answer: Answer | None = None
    waiting: tuple[str, ...] = ()
    problems: dict[str, str] = field(default_factory=dict)
    refusal: str = ""


def the_sum(key: str) -> Sum:
    """The sum of that name."""
    if key not in SUMS:
        raise NotHere("The scratch sheet has no such sum. Choose one from its list.")
    return SUMS[key]


def work(one: Sum, typed: Mapping[str, str], *, unit: str = "in", sign: str = "$") -> Worked:
    """Work a sum out from typed text; `unit` is the shop's own, `sign` its money. What is half typed is no error."""
    texts, groups, units = _settled(one, typed, unit)
    told = Told(units=units, sign=sign, texts=texts)
    waiting, problems = [], {}
    for asked in fields(groups, one.switches):
        told.fields[asked.name] = asked
        text = texts.get(asked.name, "").strip()
        if text or asked.kind == "choice":
            try:
                told.values[asked.name] = form.read(asked, text, form.unit_on(asked, units))
            except BenchError as hint:
                problems[asked.name] = str(hint)
        elif asked.needed:
            waiting.append(asked.label)
    answer, refusal = None, ""
    if not (waiting or problems):
        answer, refusal = _answered(one, told)
    return Worked(groups, units, texts, answer, tuple(waiting), problems, refusal)


def fields(groups: tuple[Group, ...], switches: tuple[Field, ...] = ()) -> Iterator[Field]:
    """Every field of a form, in order."""
    yield from switches
    for group in groups:
        yield from (*group.head, *group.fields)


def shared(worked: Worked, one: Sum) -> list[tuple[str, str]]:
    """Name and text of all that was typed or chosen: the part of an address that brings this sum back."""
    names = [asked.name for asked in fields(worked.groups, one.switches)]
    rows = [("rows", worked.typed["rows"])] if one.grows and worked.typed.get("rows") else []
    return [*((name, worked.typed[name]) for name in names if worked.typed.get(name)), *rows]


def fills(worked: Worked, one: Sum, machines: Iterable[MachineFacts]) -> list[tuple[str, list[tuple[str, str]]]]:
    """The shop's machines that know something this sum asks for: the name, and the sum with it filled in."""
    known = {asked.name for asked in fields(worked.groups)}
    found = []
    for machine in machines:
        kilowatts = machine.kilowatts
        motor = fixed(kilowatts / (1 if worked.units["unit"] == "mm" else HORSEPOWER), 2, True) if kilowatts else ""
        limit = str(machine.chuck_limit)
        told = {
            "list": machine.speeds_text, "chuck": limit, "cap": limit, "rating": motor, "dial": machine.dial,
            "pitch": machine.screw,
        }  # fmt: skip
        if mine := {name: text for name, text in told.items() if name in known and text}:
            found.append((machine.name, list((dict(shared(worked, one)) | mine).items())))
    return found


def echo(one: Sum, name: str, typed: Mapping[str, str], *, unit: str = "in") -> str:
    """What a half-typed field of a sum says."""
    texts, groups, units = _settled(one, typed, unit)
    asked = next((asked for asked in fields(groups) if asked.name == name), None)
    return form.echo(asked, texts.get(name, ""), units) if asked else ""


def _settled(one: Sum, typed: Mapping[str, str], unit: str) -> tuple[dict[str, str], tuple[Group, ...], dict[str, str]]:
    """Texts with every choice at something it offers, the fields that follow from them, and the units on these."""
    texts = {name: text[:LONGEST] for name, text in typed.items()}
    for switch in one.switches:
        texts[switch.name] = form.chosen(switch, typed, unit)
    groups = one.groups(texts)
    for asked in fields(groups):
        if asked.kind == "choice":
            texts[asked.name] = form.chosen(asked, texts)
    groups = one.groups(texts)
    reads = texts.get("reads", "thou")
    by_indicator = "mm" if reads == "mm" else "in"
    sizes_in = texts["unit"] if form.UNIT in one.switches else by_indicator if form.READS in one.switches else unit
    weigh = texts["weigh"] if form.WEIGH in one.switches else "kg" if sizes_in == "mm" else "lb"
    return texts, groups, {"unit": sizes_in, "weigh": weigh, "reads": reads}


def _answered(one: Sum, told: Told) -> tuple[Answer | None, str]:
    try:
        return one.work(told), ""
    except BenchError as refusal:
        return None, str(refusal)
    except ArithmeticError:
        return None, str(Impossible("Those figures are too far out for a sum. Look at the points and the units."))
