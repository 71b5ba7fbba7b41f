"""Bodies and cuts as typed: kept as one document each, read into what the bench works with.

A field's name says where it stands: part_2_outside, keep_0_z, cut_1_depth; a problem is told beside that field.
"""

import json
import re
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, field, replace

from shopapp.bench import passes, quantities
from shopapp.bench.cuts import CUT_KINDS, PART_KINDS, Body, Cut, CutKind, PartKind, build
from shopapp.bench.errors import BenchError
from shopapp.bench.holes import Void
from shopapp.bench.outline import Lump
from shopapp.bench.remains import KeepOut, Least

_DEGREES = re.compile(r"\s*(?:°|º|deg(?:rees?)?\.?)$", re.IGNORECASE)
SIDES = {"A": "A, the back", "B": "B, the front"}
KEEPS = {"from": "metal from here to the front", "to": "metal from here to the back"}


@dataclass(frozen=True)
class Typed:
    """One element of a body, or one cut (then with a side): its kind, and its sizes as typed."""

    kind: str
    sizes: dict[str, str] = field(default_factory=dict)
    side: str = ""

    def empty(self) -> bool:
        """Whether nothing was typed in this row."""
        return not any(text.strip() for text in self.sizes.values())

    def as_said(self) -> str:
        """The sizes as typed, in the order of the kind: "from 9.500, to 8-7/8"."""
        spec = (CUT_KINDS if self.side else PART_KINDS)[self.kind]
        told = [(size.label, self.sizes.get(size.name, "").strip()) for size in spec.sizes]
        return ", ".join(f"{label} {text}" for label, text in told if text)


@dataclass(frozen=True)
class KeepTyped:
    """A keep-out edge as typed."""

    name: str
    z: str
    side: str = "from"
    least: str = ""
    inner: str = ""
    outer: str = ""


@dataclass(frozen=True)
class BodyTyped:
    """A variant's drawing as typed, with the unit that stood on the fields."""

    unit: str
    parts: tuple[Typed, ...] = ()
    keeps: tuple[KeepTyped, ...] = ()
    web_least: str = ""
    web_at: str = ""
    wall_least: str = ""
    wall_at: str = ""

    def filled(self) -> "BodyTyped":
        """The same without rows in which nothing was typed."""
        keeps = tuple(edge for edge in self.keeps if any((edge.name, edge.z, edge.least, edge.inner, edge.outer)))
        return replace(self, parts=tuple(row for row in self.parts if not row.empty()), keeps=keeps)

    def to_json(self) -> str:
        """The document as kept."""
        return json.dumps(asdict(self), ensure_ascii=False, sort_keys=True)

    @classmethod
    def from_json(cls, text: str) -> "BodyTyped":
        """A kept document read back."""
        told = json.loads(text)
        parts = tuple(Typed(**row) for row in told.pop("parts"))
        return cls(parts=parts, keeps=tuple(KeepTyped(**row) for row in told.pop("keeps")), **told)


@dataclass(frozen=True)
class CutsTyped:
    """Cuts as typed, with the unit that stood on the fields and the web they are taken from, if it was measured."""

    unit: str
    cuts: tuple[Typed, ...] = ()
    web: str = ""
    web_note: str = ""

    def to_json(self) -> str:
        """The document as kept."""
        return json.dumps(asdict(self), ensure_ascii=False, sort_keys=True)

    @classmethod
    def from_json(cls, text: str) -> "CutsTyped":
        """A kept document read back."""
        told = json.loads(text)
        return cls(cuts=tuple(Typed(**row) for row in told.pop("cuts")), **told)


@dataclass(frozen=True)
class Drawn:
    """A body read for the bench."""

    body: Body | None
    keeps: tuple[KeepOut, ...] = ()
    web: Least | None = None
    wall: Least | None = None


def part_kinds() -> Mapping[str, PartKind]:
    """The kinds of parts of a body, for a form: each with its words and its sizes."""
    return PART_KINDS


class Reader:
    """Reads typed sizes in one unit and gathers the problems by field name."""

    def __init__(self, unit: str) -> None:
        self.unit = unit
        self.problems: dict[str, str] = {}

    def length(self, name: str, text: str) -> float | None:
        """A length [mm], or None with its problem told.

        A hole is typed by its size: a letter or number of a drill is refused, as tables of them differ. One page prints
        Q for 1/4 in, which is E (.250); Q is .332 (ASME B94.11M, from memory).
        """
        return self._read(name, lambda: quantities.length(text, self.unit).amount)

    def size(self, name: str, text: str, kind: str) -> float | None:
        """A size of a kind's row: a length [mm], a count, a percent or an angle [degrees]."""
        if kind == "count":
            return self._read(name, lambda: float(quantities.whole(text)))
        if kind == "percent":
            return self._read(name, lambda: float(quantities.percent(text) * 100))
        if kind == "angle":
            return self._read(name, lambda: float(quantities.number(_DEGREES.sub("", text))))
        return self.length(name, text)

    def _read(self, name: str, act: Callable[[], float]) -> float | None:
        try:
            return act()
        except BenchError as refusal:
            self.problems[name] = str(refusal)
            return None


def read_body(typed: BodyTyped) -> tuple[Drawn, dict[str, str]]:
    """The body as far as it can be read, and what wants mending by field; rows not finished are left out."""
    reader = Reader(typed.unit)
    parts: list[object] = []
    voids: list[Void] = []
    lumps: list[Lump] = []
    for i, row in enumerate(typed.parts):
        made = _part(reader, i, row)
        if made is not None:
            made_as = PART_KINDS[row.kind].makes
            (voids if made_as == "void" else lumps if isinstance(made, Lump) else parts).append(made)
    keeps = tuple(k for k in (_keep(reader, i, row) for i, row in enumerate(typed.keeps)) if k)
    leasts = [
        _least(reader, name, getattr(typed, f"{name}_least"), getattr(typed, f"{name}_at")) for name in ("web", "wall")
    ]
    body = Body(tuple(parts), tuple(voids), tuple(lumps)) if parts else None
    return Drawn(body, keeps, *leasts), reader.problems


def _sizes(reader: Reader, prefix: str, row: Typed, spec: PartKind | CutKind) -> dict[str, float] | None:
    sizes: dict[str, float] = {}
    for size in spec.sizes:
        text, name = row.sizes.get(size.name, "").strip(), f"{prefix}_{size.name}"
        if name in reader.problems:
            continue
        if text:
            value = reader.size(name, text, size.kind)
            if value is not None:
                sizes[size.name] = value
        elif size.needed:
            reader.problems[name] = f"Type “{size.label}”."
    return None if any(problem.startswith(f"{prefix}_") for problem in reader.problems) else sizes


def _part(reader: Reader, i: int, row: Typed) -> object | None:
    if row.empty() or row.kind not in PART_KINDS:
        return None
    sizes = _sizes(reader, f"part_{i}", row, PART_KINDS[row.kind])
    if sizes is None:
        return None
    try:
        return build(row.kind, sizes)
    except BenchError as refusal:
        reader.problems[f"part_{i}_{PART_KINDS[row.kind].sizes[0].name}"] = str(refusal)
        return None


def _keep(reader: Reader, i: int, row: KeepTyped) -> KeepOut | None:
    if not (row.name.strip() or row.z.strip()):
        return None
    if not row.name.strip():
        reader.problems[f"keep_{i}_name"] = "Name what the tool must not reach, such as pocket edge."
    if not row.z.strip():
        reader.problems[f"keep_{i}_z"] = "Type where it begins, from the back face."
        return None
    z = reader.length(f"keep_{i}_z", row.z)
    least = reader.length(f"keep_{i}_least", row.least) if row.least.strip() else 0.0
    ends = [
        reader.length(f"keep_{i}_{end}", getattr(row, end)) if getattr(row, end).strip() else None
        for end in ("inner", "outer")
    ]
    if z is None or least is None:
        return None
    return KeepOut(row.name.strip() or "keep-out", z, row.side if row.side in KEEPS else "from", least, *ends)


def _least(reader: Reader, name: str, least: str, at: str) -> Least | None:
    if not least.strip():
        return None
    size = reader.length(f"{name}_least", least)
    where = reader.length(f"{name}_at", at) if at.strip() else None
    return None if size is None else Least(name, size, where)


def cut_kinds() -> dict[str, CutKind]:
    """The kinds of cuts with the sizes that each asks for, to build a form from."""
    return dict(CUT_KINDS)


def read_cuts(typed: CutsTyped) -> tuple[list[Cut], list[Typed], dict[str, str]]:
    """The cuts as far as they can be read, the rows they come from, and what wants mending by field."""
    reader = Reader(typed.unit)
    web = _web(reader, typed)
    cuts, rows = [], []
    for i, row in enumerate(typed.cuts):
        if row.empty() or row.kind not in CUT_KINDS:
            continue
        taken = _taken(reader, i, row, web)
        sizes = _sizes(reader, f"cut_{i}", taken, CUT_KINDS[row.kind])
        if sizes is not None:
            cuts.append(Cut(row.side if row.side in SIDES else "A", row.kind, sizes))
            rows.append(row)
    return cuts, rows, reader.problems


def _web(reader: Reader, typed: CutsTyped) -> "quantities.Quantity | None":
    if not typed.web.strip():
        return None
    try:
        return quantities.length(typed.web, typed.unit)
    except BenchError as refusal:
        reader.problems["web"] = str(refusal)
        return None


def _taken(reader: Reader, i: int, row: Typed, web: "quantities.Quantity | None") -> Typed:
    """A depth may be said as a part of the web, or as what must stay: half, 1/3 of web, leave .350."""
    said = row.sizes.get("depth", "").strip()
    if row.kind != "face" or not passes.is_part(said, web is not None):
        return row
    if web is None:
        reader.problems[f"cut_{i}_depth"] = "A part of what? Measure the web and write it in its field first."
        return row
    try:
        taken = passes.take(said, web.amount, reader.unit).take
    except BenchError as refusal:
        reader.problems[f"cut_{i}_depth"] = str(refusal)
        return row
    return Typed(row.kind, {**row.sizes, "depth": f"{taken:.9f} mm"}, row.side)
