"""Aiming: one free size of one cut, solved for a wanted finished mass, mass removed or finished inertia.

The removal itself is the model: it only grows as the size goes one way, so the size is closed in on between two ends.
Walls, webs and keep-outs stop it as they stop a typed size; then the answer says which, and what is possible there.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from shapely import Geometry, box

from shopapp.bench.cuts import CUT_KINDS, Body, Cut, KeepOut, Least, Removal, metal, removal
from shopapp.bench.errors import Impossible, Refused
from shopapp.bench.outline import ALMOST, both, outline
from shopapp.bench.quantities import show_mass
from shopapp.bench.regions import crossings
from shopapp.bench.rounding import significant
from shopapp.bench.solids import edges

AIMS = {"mass": "finished mass", "removed": "mass removed", "inertia": "finished inertia"}
# The sizes that make a cut larger or smaller; the others only move it.
FREE = {
    "turn": ("to", "from", "start", "end"),
    "face": ("depth", "from", "to"),
    "bore": ("to", "from", "start", "end"),
    "groove": ("to", "start", "end", "bottom_start", "bottom_end"),
    "taper": ("start_diameter", "end_diameter"),
    "bevel": ("corner",),
}
_FAR = 10_000.0  # mm: with no part drawn no size is looked for beyond it
_EXACT = 1e-9  # relative: nearer than this is reached
_FIRST = 1e-5  # mm: the least cut that is looked at


@dataclass(frozen=True)
class Aimed:
    """The size that reaches the aim [mm], or the last one that may be cut, and what it gives [g or g mm2].

    `low` and `high` are the results that are possible with this size; `limit` says what stops it, empty if reached.
    """

    reached: bool
    size: float
    result: float
    wanted: float
    what: str
    low: float
    high: float
    limit: str
    words: str
    removal: Removal


def root_between(model: Callable[[float], float], low: float, high: float, near: float = 0.0) -> float:
    """Where a function crosses nothing, closed in on from both sides (regula falsi with halving; from memory).

    Formula: the straight line between the ends, the stale end's weight halved; a plain halving where that lags.

    model: continuous, of different signs at the two ends [any]
    low: one end [any]
    high: the other end [any]
    near: a value as small as this counts as nothing [any]

    Returns: the place, to the last figures of a float or to `near` [any].
    Limits: one crossing; with more of them it is one of these.
    Raises: Impossible if both ends are on the same side.

    >>> round(root_between(lambda x: x * x - 2, 0, 2), 12)
    1.414213562373
    """
    a, b, fa, fb = float(low), float(high), model(low), model(high)
    if fa * fb > 0:
        raise Impossible("Both ends lie on the same side of what is wanted.")
    if abs(fa) <= near:
        return a
    for turn in range(250):
        middle = (a + b) / 2
        if abs(fb) <= near or abs(b - a) <= 4e-16 * abs(middle):
            break
        place = b - fb * (b - a) / (fb - fa)
        if turn % 4 == 3 or not min(a, b) < place < max(a, b):
            place = middle
        value = model(place)
        if value * fb <= 0:
            a, fa = b, fb
        else:
            fa /= 2
        b, fb = place, value
    return b


class _Model:
    """The removal as a function of one size; sizes that go along with it are set to the same."""

    def __init__(
        self, cuts: Sequence[Cut], places: Sequence[tuple[int, str]], take: Callable[[Sequence[Cut]], Removal]
    ) -> None:
        self.cuts, self.places, self.take = list(cuts), places, take
        self.known: dict[float, Removal | Impossible] = {}

    def found(self, size: float) -> Removal | Impossible:
        if size not in self.known:
            cuts = list(self.cuts)
            for place, name in self.places:
                cuts[place] = replace(cuts[place], sizes={**cuts[place].sizes, name: size})
            try:
                self.known[size] = self.take(cuts)
            except Impossible as error:
                self.known[size] = error
        return self.known[size]

    def at(self, size: float) -> Removal:
        found = self.found(size)
        if isinstance(found, Impossible):
            raise found
        return found

    def stops(self, size: float) -> tuple[str, ...]:
        """What forbids a size; that a cut does not meet metal yet is no such thing."""
        found = self.found(size)
        if isinstance(found, Impossible):
            return (str(found),)
        mine = tuple(f"Cut {place + 1}," for place, _ in self.places)
        return tuple(said for said in found.refusals if not (said.startswith(mine) and "cuts air" in said))

    def first(self, little: float, most: float) -> float:
        """The first size that can be cut at all: a bevel may need the cut to have gone so far."""
        steps = (little + (most - little) * part / 64 for part in range(65))
        good = next((size for size in steps if not isinstance(self.found(size), Impossible)), little)
        if good == little:
            return little
        return self.last(good, little, lambda size: isinstance(self.found(size), Impossible))[0]

    def last(self, good: float, bad: float, stops: Callable[[float], bool]) -> tuple[float, float]:
        """The last size before something stops it, and the first one that is stopped."""
        while abs(bad - good) > ALMOST / 100:
            middle = (good + bad) / 2
            good, bad = (good, middle) if stops(middle) else (middle, bad)
        return good, bad


def followers(cuts: Sequence[Cut], which: int, name: str) -> tuple[tuple[int, str], ...]:
    """Diameters of other cuts on the same side that stand on the diameter looked for, and so go along with it.

    Common practice, no source: a bevel on the Ø just turned, a face that starts there.

    Formula: same side, both sizes diameters, and equal within the tolerance of the search

    cuts: in order [mm]
    which: place of the cut in the list, from 0 [count]
    name: its size, as in CUT_KINDS [text]

    Returns: place and name of each size that has the same value now [count, text].
    Limits: nothing goes along with a length, or with a diameter that has no value yet.

    >>> turn, bevel = Cut("A", "turn", {"to": 90}), Cut("A", "bevel", {"corner": 1, "diameter": 90})
    >>> followers([turn, bevel], 0, "to")
    ((1, 'diameter'),)
    """
    mine = cuts[which]
    kinds = {(kind, spec.name): spec.kind for kind, row in CUT_KINDS.items() for spec in row.sizes}
    now = mine.sizes.get(name)
    if now is None or kinds.get((mine.kind, name)) != "diameter":
        return ()
    return tuple(
        (place, other)
        for place, cut in enumerate(cuts)
        for other, size in cut.sizes.items()
        if place != which and cut.side == mine.side and kinds.get((cut.kind, other)) == "diameter"
        and abs(size - now) <= ALMOST
    )


def _internal(cut: Cut, name: str) -> bool:
    """Whether a taper is bored: it starts from inside its other end."""
    other = "end_diameter" if name == "start_diameter" else "start_diameter"
    return "from" in cut.sizes and cut.sizes["from"] < cut.sizes.get(other, 0.0)


def _outward(cut: Cut, drawn: Geometry | None) -> bool:
    """Whether a groove is cut outward, from a bore: there is metal outside the Ø it starts from and none within.

    Where the drawing does not tell, the Ø that its bottom has now does.
    """
    s = cut.sizes
    if cut.kind != "groove" or "from" not in s:
        return False
    if drawn is not None:
        sides = list(edges(drawn))
        start, end = s.get("start", drawn.bounds[0]), s.get("end", drawn.bounds[2])
        within, outside = (
            any(min(high, end) - max(low, start) > ALMOST for low, high in crossings(sides, "z", s["from"] / 2 + way))
            for way in (-2 * ALMOST, 2 * ALMOST)
        )
        if within is not outside:
            return outside
    return s["from"] < s.get("to", 0.0)


def _span(
    cut: Cut, name: str, room: tuple[float, float, float], drawn: Geometry | None = None
) -> tuple[float, float]:  # fmt: skip
    """From the size that takes nothing to the one that takes all there is."""
    start, end, wide = room
    s = cut.sizes
    if cut.kind == "taper":
        return (s["from"], wide) if _internal(cut, name) else (s.get("from", wide), 0.0)
    inward, outward = (s.get("from", wide), 0.0), (s.get("from", 0.0), wide)
    ends = {
        "start": (s.get("end", end), start), "end": (s.get("start", start), end),
        "bottom_start": (s.get("bottom_end", s.get("end", end)), s.get("start", start)),
        "bottom_end": (s.get("bottom_start", s.get("start", start)), s.get("end", end)),
        "depth": (0.0, end - start), "corner": (0.0, s.get("diameter", wide) / 2),
    }
    if name in ends:
        return ends[name]
    if cut.kind == "bore" or (name == "to" and _outward(cut, drawn)):
        return outward if name == "to" else (s.get("to", wide), 0.0)
    return inward if name == "to" else (s.get("to", 0.0), wide)


def _level(cut: Cut, name: str, drawn: Geometry | None) -> Cut:
    """A face that is widened needs one place to start from: on a stepped part that has to be typed."""
    if drawn is None or cut.kind != "face" or name == "depth" or "at" in cut.sizes:
        return cut
    low, _, high, wide = drawn.bounds
    inner, outer = cut.sizes.get("to", 0.0) / 2, cut.sizes.get("from", 2 * wide) / 2
    fixed = (outer - 3 * ALMOST, outer) if name == "to" else (inner, inner + 3 * ALMOST)
    ends = [(0.0, outer) if name == "to" else (inner, wide), fixed]
    metal = [drawn.intersection(box(low - 1, a + ALMOST, high + 1, b - ALMOST)) for a, b in ends]
    levels = [0.0 if one.is_empty else one.bounds[0 if cut.side == "A" else 2] for one in metal]
    if metal[1].is_empty or abs(levels[0] - levels[1]) > ALMOST:
        raise Refused("The part is stepped there: type where the face is, or the cut moves as it gets wider.")
    return replace(cut, sizes={**cut.sizes, "at": levels[0]})


def _shown(what: str, value: float) -> str:
    if what == "inertia":
        return f"{significant(value / 1e5, 5)} kg·cm²"
    return f"{show_mass(value, 'lb')} ({show_mass(value, 'g')})"


def _size(cut: Cut, name: str, size: float) -> str:
    spec = next(spec for spec in CUT_KINDS[cut.kind].sizes if spec.name == name)
    return f"{CUT_KINDS[cut.kind].words}, {spec.label}: {'Ø ' if spec.kind == 'diameter' else ''}{both(size)}"


def _result(what: str, body: Body | None, density: float) -> Callable[[Removal], float]:
    """What a removal comes to, in the aim's own measure."""
    if what == "removed":
        return lambda found: found.mass
    if body is None:
        raise Refused("Draw the part first: without it only a mass removed can be aimed at.")
    if what == "mass":
        return lambda found: found.after if found.after is not None else math.nan
    whole = metal(outline(body.parts), body.voids, 3) * density / 1000
    return lambda found: whole - found.inertia


def _looked_at(cuts: Sequence[Cut], which: int, name: str, what: str, wanted: float) -> Cut:
    if what not in AIMS:
        raise Refused(f"Aim for one of these: {', '.join(AIMS.values())}.")
    if not 0 <= which < len(cuts):
        raise Refused("Say which cut has the free size: there is none of that number.")
    cut = cuts[which]
    if cut.kind not in FREE:
        raise Refused(f"There is no cut of the kind {cut.kind}. There are: {', '.join(FREE)}.")
    if name not in FREE[cut.kind]:
        free = [spec.label for spec in CUT_KINDS[cut.kind].sizes if spec.name in FREE[cut.kind]]
        raise Refused(f"That size does not make the cut larger. Leave one of these free: {', '.join(free)}.")
    if not (wanted > 0 and math.isfinite(wanted)):
        raise Refused(f"Type the {AIMS[what]} wanted: it is above nothing.")
    return cut


def _answer(
    model: _Model, told: tuple[Cut, str, str, float], ends: tuple[float, float], limit: str,
    result: Callable[[Removal], float],
) -> Aimed:
    """What comes out at the second of two ends, and in words."""
    cut, name, what, wanted = told
    found = model.at(ends[1])
    got = result(found)
    low, high = sorted((result(model.at(ends[0])), got))
    if not limit:
        words = f"Cut: {_size(cut, name, ends[1])}. {AIMS[what].capitalize()}: {_shown(what, got)}."
        along = sorted({place + 1 for place, _ in model.places[1:]})
        words += f" The same Ø in cut {', '.join(map(str, along))} goes along." if along else ""
    elif ends[0] == ends[1]:
        words = f"A {AIMS[what]} of {_shown(what, wanted)} is not reached, whatever the size of this cut. {limit}"
    else:
        words = (
            f"A {AIMS[what]} of {_shown(what, wanted)} is not reached. {limit} With this size from "
            f"{_shown(what, low)} to {_shown(what, high)} is possible; at its end: {_size(cut, name, ends[1])}."
        )
    return Aimed(not limit, ends[1], got, wanted, what, low, high, limit, words, found)


def aim(
    body: Body | None,
    cuts: Sequence[Cut],
    which: int,
    name: str,
    wanted: float,
    what: str,
    density: float,
    keep_outs: Sequence[KeepOut] = (),
    web: Least | None = None,
    wall: Least | None = None,
    follow: Sequence[tuple[int, str]] | None = None,
) -> Aimed:
    """The size of one cut that reaches a wanted mass, mass removed or inertia; common practice, no source.

    Formula: removal(size) = wanted, by root_between, where walls, webs and keep-outs let it

    body: the part as drawn; None for the cuts alone, for a mass removed only [mm]
    cuts: in order, the free one among them; a value it has now is only used to see what goes along [mm]
    which: place of that cut in the list, from 0 [count]
    name: its free size, as in CUT_KINDS [text]
    wanted: finished mass, mass removed or finished inertia [g or g·mm2]
    what: "mass", "removed" or "inertia" [text]
    density: of the material [g/cm3]
    keep_outs: edges that no cut may reach [mm]
    web: the least web that must stay [mm]
    wall: the least wall that must stay [mm]
    follow: sizes that are set to the same; None takes those of followers [count, text]

    Returns: whether it is reached, size, result, what is possible, the limit in words [mm, g or g·mm2, text].
    Limits: to 1e-9 of what is wanted; lumps have no part in the inertia; spread of density is not in it.
    Raises: Refused for a size that only moves a cut or one that is missing, Impossible for a part that cannot be.

    >>> from shopapp.bench.outline import Ring
    >>> weight = Body((Ring(120, 20, 0, 45),))
    >>> found = aim(weight, [Cut("B", "face")], 0, "depth", 3500, "mass", 8.49)
    >>> found.reached, round(found.size, 2), round(found.result, 6)
    (True, 7.51, 3500.0)
    """
    drawn = outline(body.parts) if body else None
    cut = _level(_looked_at(cuts, which, name, what, wanted), name, drawn)
    told = (cut, name, what, wanted)
    places = ((which, name), *(followers(cuts, which, name) if follow is None else follow))
    mine = [*cuts[:which], cut, *cuts[which + 1 :]]
    model = _Model(mine, places, lambda given: removal(body, given, density, keep_outs, web, wall))
    result = _result(what, body, density)
    bounds = drawn.bounds if drawn is not None else (0.0, 0.0, _FAR, _FAR / 2)
    little, most = _span(cut, name, (bounds[0], bounds[2], 2 * bounds[3]), drawn)
    little += math.copysign(min(_FIRST, abs(most - little) / 1000), most - little)
    return _solved(model, told, (little, most), result)


def _solved(
    model: _Model, told: tuple[Cut, str, str, float], ends: tuple[float, float], result: Callable[[Removal], float]
) -> Aimed:
    little, most = model.first(*ends), ends[1]
    wanted, way = told[3], 1 if told[2] == "removed" else -1
    def short(size: float) -> float:
        return way * (result(model.at(size)) - wanted)

    to_take, noise = -short(little), 1e-15 * max(abs(wanted), abs(result(model.at(little))))
    if to_take < 0:
        done = _shown(told[2], result(model.at(little)))
        return _answer(model, told, (little, little), f"The other cuts and the part make it {done} already.", result)
    if stopped := model.stops(little):
        return _answer(model, told, (little, little), " ".join(stopped), result)
    limit = "There is no more metal for this cut." if abs(most) < _FAR else f"Nothing over {both(_FAR)} is looked at."
    if isinstance(model.found(most), Impossible):
        most, beyond = model.last(little, most, lambda size: isinstance(model.found(size), Impossible))
        limit = str(model.found(beyond))
    reached = short(most) >= 0
    target = root_between(short, little, most, max(to_take * 1e-12, noise)) if reached else most
    if model.stops(target):
        target, beyond = model.last(little, target, lambda size: bool(model.stops(size)))
        return _answer(model, told, (little, target), " ".join(model.stops(beyond)), result)
    if reached and abs(short(target)) > max(to_take * _EXACT, 10 * noise):
        limit = "The cut jumps there, as if it started from another place: type where it starts."
        reached = False
    return _answer(model, told, (little, target), "" if reached else limit, result)
