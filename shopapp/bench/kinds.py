"""The kinds of cuts and of parts of a body, with the sizes each one asks for, in the words of the bench.

The forms are built from these tables, and a body part is built from a filled-in form. Lengths run from the back face;
where no part is drawn, each side's cuts run from the face of that side.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from shopapp.bench.errors import Impossible, Refused
from shopapp.bench.holes import HoleCircle, Keyway, RadialHole, Slot, Void, checked
from shopapp.bench.outline import Cone, Corner, Hollow, HollowCone, Lump, Ring, section

Part = Ring | Cone | Hollow | HollowCone | Corner | Void | Lump


@dataclass(frozen=True)
class SizeSpec:
    """One size: its key, its label, must it be typed, what it is: diameter, length, count, percent or angle."""

    name: str
    label: str
    needed: bool = True
    kind: str = "length"
    note: str = ""  # what an empty field means


@dataclass(frozen=True)
class CutKind:
    """One kind of cut: its words and its sizes."""

    words: str
    sizes: tuple[SizeSpec, ...]


@dataclass(frozen=True)
class PartKind:
    """One kind of body part: its words, its sizes, and whether it is metal, air or a void."""

    words: str
    sizes: tuple[SizeSpec, ...]
    makes: str


def _wide(name: str, label: str, needed: bool = True, note: str = "") -> SizeSpec:
    return SizeSpec(name, label, needed, "diameter", note)


def _long(name: str, label: str, needed: bool = True, note: str = "") -> SizeSpec:
    return SizeSpec(name, label, needed, "length", note)


_OUTER = _wide("from", "outside Ø now", False, "empty: all the metal that is there")
_FIRST = SizeSpec("first", "first at", False, "angle", "empty: not said")
_COUNT = SizeSpec("count", "how many", True, "count")
_RUN = (_long("start", "from face"), _long("end", "to"))
_ALL = "empty: right through"
_THROUGH = (_long("start", "from face", False, _ALL), _long("end", "to", False, _ALL))

CUT_KINDS: dict[str, CutKind] = {
    "turn": CutKind("turn outside", (
        _OUTER,
        _wide("to", "outside Ø wanted"),
        _long("start", "from face", False, "empty: from the end on this side"),
        _long("end", "to", False, "empty: to the end on this side"),
    )),
    "face": CutKind("face", (
        _long("depth", "deep"),
        _OUTER,
        _wide("to", "in to Ø", False, "empty: to the middle"),
        _long("at", "face is at", False, "empty: the face of this side"),
    )),
    "bore": CutKind("bore", (
        _wide("from", "bore Ø now", False, "empty: all the metal that is there"),
        _wide("to", "bore Ø wanted"),
        _long("start", "from face", False, "empty: from the end"),
        _long("end", "to", False, "empty: to the end"),
    )),
    "groove": CutKind("groove", (
        _OUTER,
        _wide("to", "bottom Ø"),
        *_RUN,
        _long("bottom_start", "bottom from", False, "empty: straight sides"),
        _long("bottom_end", "bottom to", False, "empty: straight sides"),
    )),
    "taper": CutKind("taper", (
        _OUTER,
        _wide("start_diameter", "Ø at its start"),
        _wide("end_diameter", "Ø at its end"),
        *_RUN,
    )),
    "bevel": CutKind("bevel, 45°", (
        _long("corner", "size"),
        _wide("diameter", "on Ø"),
        _long("at", "corner is at", False, "empty: the finished face of this side"),
    )),
}

_RING = (_wide("outside", "outside Ø"), _wide("inside", "inside Ø", False, "empty: solid"), *_RUN)
_CONE = (
    _wide("outside_start", "outside Ø at its start"),
    _wide("outside_end", "outside Ø at its end"),
    _wide("inside_start", "inside Ø at its start", False, "empty: solid"),
    _wide("inside_end", "inside Ø at its end", False, "empty: solid"),
    *_RUN,
)

PART_KINDS: dict[str, PartKind] = {
    "ring": PartKind("ring or disc", _RING, "metal"),
    "cone": PartKind("cone", _CONE, "metal"),
    "hollow": PartKind("groove, recess or bore there already", _RING, "air"),
    "hollow_cone": PartKind("conical hollow there already", _CONE, "air"),
    "corner": PartKind("bevel there already, 45°", (
        _long("size", "size"), _wide("diameter", "on Ø"), _long("at", "corner is at"),
    ), "air"),
    "holes": PartKind("holes on a circle", (
        _COUNT, _wide("diameter", "hole Ø"), _wide("circle", "on circle Ø"), *_THROUGH, _FIRST,
    ), "void"),
    "keyway": PartKind("keyway", (
        _long("width", "wide"), _long("depth", "deep, from the bore wall"), _wide("bore", "in bore Ø"), *_THROUGH,
        _FIRST,
    ), "void"),
    "pocket": PartKind("holes or pockets toward the axis", (
        _COUNT, _wide("diameter", "hole Ø"), _wide("outside", "from outside Ø"), _long("depth", "deep"),
        _long("at", "middle is at"), _FIRST,
    ), "void"),
    "slot": PartKind("slots toward the axis", (
        _COUNT, _long("width", "wide"), _long("depth", "deep"), _wide("outside", "from outside Ø"), *_THROUGH,
        _FIRST,
    ), "void"),
    "lump": PartKind("foot or lug, not turned", (
        _long("length", "long"), _long("width", "wide"), _long("height", "high"),
        SizeSpec("full", "how full, %", False, "percent", "empty: a full block"),
    ), "lump"),
}


def told(kind: CutKind | PartKind, sizes: Mapping[str, float]) -> dict[str, float]:
    """The sizes of one kind, once every needed one is there; common practice, no source.

    Formula: none; every needed size is there, none is strange, diameters are not under nothing

    kind: a row of CUT_KINDS or PART_KINDS [any]
    sizes: by name, those left empty left out [mm, count, percent or deg]

    Returns: the same sizes, as a fresh dictionary [mm, count, percent or deg].
    Limits: says nothing about whether the sizes fit each other.
    Raises: Refused for one that is missing, not known or no number.

    >>> told(CUT_KINDS["bevel"], {"corner": 1, "diameter": 50})
    {'corner': 1, 'diameter': 50}
    """
    known = {spec.name for spec in kind.sizes}
    if strange := sorted(set(sizes) - known):
        raise Refused(f"A {kind.words} has no size named {strange[0]}.")
    for spec in kind.sizes:
        if spec.needed and spec.name not in sizes:
            raise Refused(f"Type “{spec.label}” of the {kind.words}.")
        if not math.isfinite(sizes.get(spec.name, 0.0)):
            raise Refused(f"“{spec.label}” of the {kind.words} needs a plain number.")
        if spec.kind == "diameter" and sizes.get(spec.name, 0.0) < 0:
            raise Impossible(f"“{spec.label}” of the {kind.words} is under nothing.")
    return dict(sizes)


def _lump(sizes: dict[str, float], name: str) -> Lump:
    full = sizes.get("full", 100.0)
    sides = [sizes[key] for key in ("length", "width", "height")]
    if min(sides) <= 0 or not 0 < full <= 100:
        raise Impossible("A foot or lug needs three sides above nothing, and 1 to 100 % full.")
    return Lump(name, math.prod(sides) * full / 100)


def build(kind: str, sizes: Mapping[str, float], name: str = "foot") -> Part:
    """One part of a body from its filled-in sizes; common practice, no source.

    Formula: none; the sizes in the order that the part asks for, those left empty at their usual value

    kind: a key of PART_KINDS [text]
    sizes: by the names of that kind, those left empty left out [mm, count, percent or deg]
    name: what a lump is called [text]

    Returns: the part, its sizes looked at [mm].
    Limits: a void is looked at by `checked`, a ring or cone by `section`; where it lies in the body is not.
    Raises: Refused for a size that is missing, Impossible for sizes that cannot be.

    >>> build("ring", {"outside": 40, "inside": 20, "start": 0, "end": 10})
    Ring(outside=40, inside=20, start=0, end=10)
    """
    if kind not in PART_KINDS:
        raise Refused(f"There is no part of the kind {kind}. There are: {', '.join(PART_KINDS)}.")
    have = told(PART_KINDS[kind], sizes)
    if "count" in have and have["count"] != int(have["count"]):
        raise Refused("How many? A whole number.")
    if kind == "lump":
        return _lump(have, name)
    if kind == "corner":
        return Corner(have["size"], have["diameter"], have["at"])
    if kind in ("ring", "hollow"):
        shape = Ring if kind == "ring" else Hollow
        ring = shape(have["outside"], have.get("inside", 0.0), have["start"], have["end"])
        section(ring)
        return ring
    if kind in ("cone", "hollow_cone"):
        cone = (Cone if kind == "cone" else HollowCone)(**{"inside_start": 0.0, "inside_end": 0.0, **have})
        section(cone)
        return cone
    return checked(_void(kind, have))


def _void(kind: str, have: dict[str, float]) -> Void:
    start, end = have.get("start", -math.inf), have.get("end", math.inf)
    count, first = int(have.get("count", 1)), have.get("first")
    if kind == "holes":
        return HoleCircle(count, have["diameter"], have["circle"], start, end, first)
    if kind == "keyway":
        return Keyway(have["width"], have["depth"], have["bore"], start, end, first)
    if kind == "pocket":
        return RadialHole(count, have["diameter"], have["outside"], have["depth"], have["at"], first)
    return Slot(count, have["width"], have["depth"], have["outside"], start, end, first)
