"""The sizes a prediction rests on, each as one thing that was measured and may be a little off.

An edge that is typed in several places is one measurement: the rim's inside is the web's outside, and both move
together. So are sizes of the cuts of one side that name the same place. The back face is where lengths start, and how
many holes there are was counted: neither is uncertain.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from shopapp.bench.cuts import CUT_KINDS, Body, Cut
from shopapp.bench.errors import Refused
from shopapp.bench.holes import HoleCircle, RadialHole, Void, called
from shopapp.bench.outline import Corner, both

Where = tuple[str, int, str]  # cut, part or void; which, from 0; the name of its size

_PLACES = ("start", "end", "at", "bottom_start", "bottom_end")
_OWN = ("width", "depth", "size", "corner")
_EXACT = ("count", "name", "volume", "first")
_WORDS = {"width": "width", "depth": "depth", "diameter": "Ø", "circle": "circle Ø", "size": "size"}


@dataclass(frozen=True)
class Input:
    """One measured size: what it is called, its value and the half-width it may be off by [mm], where it is typed."""

    name: str
    value: float
    half_width: float
    where: tuple[Where, ...]


def _nature(owner: object, name: str) -> str:
    """A size is a Ø or a place that others may share, or something of its own."""
    if name in _OWN or (isinstance(owner, (HoleCircle, RadialHole)) and name in ("diameter", "circle")):
        return "own"
    return "place" if name in _PLACES else "Ø"


def _body_sizes(body: Body) -> Iterator[tuple[Where, object, str, float]]:
    for kind, owners in (("part", body.parts), ("void", body.voids)):
        for i, owner in enumerate(owners):
            for name, value in vars(owner).items():
                if name not in _EXACT:
                    yield (kind, i, name), owner, _nature(owner, name), float(value)


def _body_name(owner: object, name: str, nature: str, value: float) -> str:
    if nature == "Ø":
        return f"Ø {both(value)} of the part as drawn"
    if nature == "place":
        return f"place {both(value)} from the back face, of the part as drawn"
    owned = f"the bevel on Ø {both(owner.diameter)}" if isinstance(owner, Corner) else _called(owner)
    return f"{_WORDS[name]} of {owned}"


def _called(owner: object) -> str:
    return called(owner) if isinstance(owner, Void) else "the part as drawn"


def _cut_sizes(cuts: Sequence[Cut]) -> Iterator[tuple[Where, Cut, str, float]]:
    for i, cut in enumerate(cuts):
        for name, value in cut.sizes.items():
            yield ("cut", i, name), cut, _nature(cut, name), float(value)


def _cut_name(where: Where, cut: Cut) -> str:
    if cut.kind not in CUT_KINDS:
        raise Refused(f"There is no cut of the kind {cut.kind}. There are: {', '.join(CUT_KINDS)}.")
    kind = CUT_KINDS[cut.kind]
    label = next((spec.label for spec in kind.sizes if spec.name == where[2]), where[2])
    return f"“{label}” of cut {where[1] + 1}, side {cut.side}, {kind.words}"


def _sure(nature: str, value: float) -> bool:
    """Nothing, or the back face itself, or no end at all: there is nothing to be off by."""
    return not math.isfinite(value) or (value == 0 and nature != "own")


def inputs(
    body: Body | None, cuts: Sequence[Cut], half_width_mm: float, half_widths: Mapping[Where, float] | None = None
) -> list[Input]:
    """Every size that was measured, once each, with how far it may be off; common practice, no source.

    Formula: none; sizes of one nature that are equal to a millionth of a millimetre, on the body or on one side's cuts,
    are one

    body: the part as drawn, None for the cuts alone [mm]
    cuts: in order [mm]
    half_width_mm: by how much a size may be off to either side, where nothing better is told [mm]
    half_widths: the same for single sizes, by where they are typed; of an edge typed twice the better one counts [mm]

    Returns: the sizes, the body's first [mm].
    Limits: two sizes that only happen to be equal are taken for one edge.
    Raises: Refused for a half-width under nothing or a cut of no known kind.

    >>> turn = Cut("A", "turn", {"from": 200, "to": 190, "start": 0, "end": 10})
    >>> [round(one.value) for one in inputs(None, [turn], 0.05)]
    [200, 190, 10]
    """
    told = dict(half_widths or {})
    if min([half_width_mm, *told.values()]) < 0:
        raise Refused("An instrument is off by 0 or more: give the half-width without a sign.")
    groups: dict[tuple[object, ...], tuple[str, float, list[Where]]] = {}
    if body is not None:
        for where, owner, nature, value in _body_sizes(body):
            if not _sure(nature, value):
                key = where if nature == "own" else ("body", nature, round(value, 6))
                groups.setdefault(key, (_body_name(owner, where[2], nature, value), value, []))[2].append(where)
    for where, cut, nature, value in _cut_sizes(cuts):
        if not _sure(nature, value):
            shared = ("body", nature, round(value, 6))
            key = where if nature == "own" else (cut.side, nature, round(value, 6))
            key = shared if where[2] == "from" and shared in groups else key
            groups.setdefault(key, (_cut_name(where, cut), value, []))[2].append(where)
    return [
        Input(name, value, min([told[w] for w in places if w in told], default=half_width_mm), tuple(places))
        for name, value, places in groups.values()
    ]


def moved(body: Body | None, cuts: Sequence[Cut], one: Input, by: float) -> tuple[Body | None, list[Cut]]:
    """The same body and cuts with one size a little larger, wherever it is typed; common practice, no source.

    Formula: the size, and every size that was typed for the same edge, plus by

    body: the part as drawn, None for the cuts alone [mm]
    cuts: in order [mm]
    one: the size [mm]
    by: how much larger, under nothing for smaller [mm]

    Returns: body and cuts, not looked at [mm].
    Limits: sizes that are worked out elsewhere do not follow.

    >>> turn = Cut("A", "turn", {"from": 200, "to": 190, "start": 0, "end": 10})
    >>> moved(None, [turn], inputs(None, [turn], 0.05)[1], 0.5)[1][0].sizes["to"]
    190.5
    """
    again, parts = list(cuts), list(body.parts) if body else []
    voids = list(body.voids) if body else []
    for kind, i, name in one.where:
        if kind == "cut":
            again[i] = replace(again[i], sizes={**again[i].sizes, name: again[i].sizes[name] + by})
        elif kind == "void":
            voids[i] = _larger(voids[i], name, by)
        else:
            parts[i] = _larger(parts[i], name, by)
    return (replace(body, parts=tuple(parts), voids=tuple(voids)) if body else None), again


def _larger(owner: Any, name: str, by: float) -> Any:
    return replace(owner, **{name: getattr(owner, name) + by})
