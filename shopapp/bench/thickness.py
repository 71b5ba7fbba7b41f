"""How thick metal is beside cuts: a web along the axis, a wall across it, straight from the edges of the half-section.

Lines across the section are laid at every corner. Between two of them every edge is straight and none crosses another,
so a thickness is thinnest at one of the two ends. What lies there is told by the order of the edges half way.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from shopapp.bench.solids import Edge

ALMOST = 1e-6  # mm: nearer than any shop can measure, farther than floats err
LEAN = 1.0  # an edge that runs more along the measured direction than across it is a side and no face

ALONG = {"web": ("face",), "wall": ("turn", "bore", "groove", "taper")}
SKIN = 0.5  # mm: a hole drawn to end nearer than this to a surface is taken as open there; common practice, no source

Line = tuple[float, float, float, float]  # from and to across, from and to along [mm]
Extent = tuple[float, float, float, float]  # from z, from r, to z, to r
Span = tuple[float, float]


def lines(sides: Sequence[Edge], axis: str) -> list[Line]:
    """The edges of a region that a line along an axis can cross; geometry, from memory.

    Formula: none; edges that lie along the measured direction are left out

    sides: edges of the region [mm]
    axis: "z" for lines along the axis, "r" for lines across it [text]

    Returns: from and to across the measured direction, and what lies there along it [mm].
    Limits: lines and points without area have no edges here.

    >>> lines([(0, 0, 9, 0), (9, 0, 9, 5)], "z")
    [(0, 5, 9, 9)]
    """
    turned = [(r1, r2, z1, z2) if axis == "z" else (z1, z2, r1, r2) for z1, r1, z2, r2 in sides]
    return [(a, b, c, d) if a < b else (b, a, d, c) for a, b, c, d in turned if a != b]


def _at(line: Line, x: float) -> float:
    x1, x2, y1, y2 = line
    return y1 if y1 == y2 else y1 + (y2 - y1) * (x - x1) / (x2 - x1)


def _slope(line: Line) -> float:
    return (line[3] - line[2]) / (line[1] - line[0])


@dataclass
class Chord:
    """Metal between two edges of one strip: what the cuts looked at leave of it, and whether they meet it.

    `parts` are its stretches with whether they are taken, `met` whether any is; it is `whole` where no other cut has
    shortened it. A lip runs out to the end of the metal along a side: thin as every corner is, and no web or wall.
    """

    low: Line
    high: Line
    whole: bool = True
    met: bool = False
    parts: list[tuple[Line, Line, bool]] = field(default_factory=list)
    lips: set[int] = field(default_factory=set)  # towards its end 1, towards its start -1

    def span(self, x: float) -> Span:
        """From where to where it reaches [mm]."""
        return _at(self.low, x), _at(self.high, x)

    def left(self, x: float, low: float, high: float) -> list[float]:
        """What stays between two places: the length of each stretch that is not taken [mm]."""
        found: list[float] = []
        end = None
        for a, b, taken in self.parts:
            near, far = max(low, _at(a, x)), min(high, _at(b, x))
            if taken or far - near <= ALMOST:
                continue
            if end is not None and near - end <= ALMOST:
                found[-1] += far - near
            else:
                found.append(far - near)
            end = far
        return found

    def straight(self) -> bool:
        """Whether it is the same all along its strip."""
        return all(a[2] == a[3] and b[2] == b[3] for a, b, _ in self.parts)

    def leans(self) -> bool:
        """Whether one of its two ends is a side and no face."""
        return max(abs(_slope(self.low)), abs(_slope(self.high))) > LEAN + ALMOST


@dataclass
class Strip:
    """The chords between two neighbouring corners."""

    start: float
    end: float
    chords: list[Chord]


def _stops(groups: Sequence[Sequence[Line]], sloped: bool) -> list[float]:
    """Where corners lie, and where edges that are not straight cross others."""
    every = [line for group in groups for line in group]
    found = {x for line in every for x in line[:2]}
    if sloped:
        for one in every:
            if one[2] != one[3]:
                a, b, low, high = one[0], one[1], min(one[2:]), max(one[2:])
                near = [o for o in every if o[0] < b and o[1] > a and (o[2] < high or o[3] < high)]
                found.update(x for o in near if (o[2] > low or o[3] > low) and (x := _cross(one, o)) is not None)
    tidy: list[float] = []
    for x in sorted(found):
        if not tidy or x - tidy[-1] > ALMOST:
            tidy.append(x)
    return tidy


def _cross(one: Line, other: Line) -> float | None:
    low, high = max(one[0], other[0]), min(one[1], other[1])
    if high <= low:
        return None
    first, last = _at(one, low) - _at(other, low), _at(one, high) - _at(other, high)
    return low + (high - low) * first / (first - last) if first * last < 0 else None


def _sorted(groups: Sequence[Sequence[Line]], x: float) -> list[tuple[float, int, Line]]:
    """The edges that a line meets, in order, each with the place of its group."""
    met = [
        (y1 if y1 == y2 else y1 + (y2 - y1) * (x - x1) / (x2 - x1), i, (x1, x2, y1, y2))
        for i, group in enumerate(groups)
        for x1, x2, y1, y2 in group
        if x1 < x < x2
    ]
    met.sort(key=_height)
    return met


def _height(met: tuple[float, int, Line]) -> float:
    return met[0]


def _chords(met: Sequence[tuple[float, int, Line]], mine: int, count: int) -> list[Chord]:
    """The chords along one line. Group 0 is the metal, from 1 the cuts looked at, from `mine` on the others."""
    inside = [False] * count
    found: list[Chord] = []
    before = "air"
    for (y, group, line), (above, _, upper) in pairwise(met):
        inside[group] = not inside[group]
        if above - y <= ALMOST:
            continue
        here = "air" if not inside[0] else "gone" if True in inside[mine:] else "metal"
        if here == "metal":
            if before != "metal":
                found.append(Chord(line, upper, before == "air"))
            taken = True in inside[1:mine]
            found[-1].parts.append((line, upper, taken))
            found[-1].high, found[-1].met = upper, found[-1].met or taken
        elif here == "gone" and before == "metal":
            found[-1].whole = False
        before = here
    return found


def strips(metal: Sequence[Line], mine: Sequence[Sequence[Line]], others: Sequence[Sequence[Line]]) -> list[Strip]:
    """The section in strips between its corners, as far as the cuts looked at reach; geometry, from memory.

    Formula: cut at every corner and crossing; between them every edge is a straight line

    metal: edges of the half-section before the cuts, by `lines` [mm]
    mine: edges of each cut that is looked at [mm]
    others: edges of each other cut; what they take is gone already [mm]

    Returns: strips in order, each with its chords [mm].
    Limits: cuts may overlap each other and reach beyond the metal; the edges of one region do not cross each other.

    >>> section, cut = [(0, 9, 0, 0), (0, 9, 5, 5)], [(0, 4, 3, 3), (0, 4, 6, 6)]
    >>> [(one.start, one.end, one.chords[0].left(2, 0, 5)) for one in strips(section, [cut], [])]
    [(0, 4, [3])]
    """
    groups = [metal, *mine, *others]
    lean = any(line[2] != line[3] for group in (metal, *others) for line in group)
    stops = _stops(groups, lean or any(line[2] != line[3] for group in mine for line in group))
    ends = [x for group in mine for line in group for x in line[:2]]
    low, high = min(ends, default=0.0), max(ends, default=0.0)
    found = []
    for start, end in pairwise(stops):
        if lean or (end > low and start < high):
            met = _sorted(groups, (start + end) / 2)
            found.append(Strip(start, end, _chords(met, 1 + len(mine), len(groups))))
    return found


@dataclass(frozen=True)
class Thin:
    """The thinnest place of a web or wall: before, after, and the largest part taken anywhere of it [mm, mm, 1]."""

    before: float
    after: float
    part: float


@dataclass(frozen=True)
class Cover:
    """The metal between a void and the surface that is cut: which void, before and after [mm], from where to where.

    The places are radii for a web, distances from the back face for a wall [mm].
    """

    void: int
    before: float
    after: float
    start: float
    end: float


class Survey:
    """A half-section looked through in one direction: webs along the axis, walls across it."""

    def __init__(
        self, what: str, metal: Sequence[Edge], cuts: Sequence[tuple[str, Sequence[Edge]]], at: float | None = None
    ) -> None:
        self.what, self.at = what, at if at is None or what == "wall" else at / 2
        axis = "z" if what == "web" else "r"
        big = [(kind, lines(sides, axis)) for kind, sides in cuts if kind != "bevel"]
        mine = [edges for kind, edges in big if at is not None or kind in ALONG[what]]
        others = [edges for kind, edges in big if at is None and kind not in ALONG[what]]
        section = lines(metal, axis)
        self.strips = strips(section, mine, others) if mine else []
        if any(line[2] != line[3] for group in (section, *others) for line in group):
            _mark(self.strips, 1, what)
            _mark(self.strips, -1, what)

    def thinnest(self) -> Thin | None:
        """The thinnest place that the cuts meet, None where they meet no metal."""
        found = [thin for strip, chord, x in self._places() if (thin := _thin(strip, chord, x)) is not None]
        if not found:
            return None
        least = min(found, key=lambda thin: (round(thin.after, 5), -thin.part))
        return Thin(round(least.before, 5), round(least.after, 5), max(thin.part for thin in found))

    def _places(self) -> Iterator[tuple[Strip, Chord, float]]:
        for k, strip in enumerate(self.strips):
            for chord in strip.chords:
                if not chord.met:
                    continue
                if self.at is not None:
                    if strip.start - ALMOST <= self.at <= strip.end + ALMOST:
                        yield strip, chord, min(max(self.at, strip.start), strip.end)
                    continue
                ends = (strip.start,) if chord.straight() else (strip.start, strip.end)
                yield from ((strip, chord, x) for x in ends if self._counts(k, chord, x == strip.end))

    def _counts(self, k: int, chord: Chord, last: bool) -> bool:
        """Whether a chord is web or wall at one end: a lip only where it begins, if nothing else is measured there."""
        if not chord.lips:
            return True
        away = 1 if last else -1
        if away in chord.lips:
            return False
        return all(other.lips == {away} for other in _linked(self.strips, k, chord, away))

    def covers(self, voids: Sequence[Extent]) -> list[Cover]:
        """Where cuts come nearer to a void: the metal between the two, at its thinnest, for each void and each side.

        A void that goes altogether is none any more, and one that is open there already has nothing to lose.
        """
        found: dict[tuple[int, bool], Cover] = {}
        turned = [((r1, r2), (z1, z2)) if self.what == "web" else ((z1, z2), (r1, r2)) for z1, r1, z2, r2 in voids]
        places = [(i, across, along) for i, (across, along) in enumerate(turned) if not math.isnan(sum(along))]
        met = [(strip, chord, chord.straight()) for strip in self.strips for chord in strip.chords if chord.met]
        for strip, chord, straight in met:
            for i, across, along in places:
                start, end = max(strip.start, across[0]), min(strip.end, across[1])
                if end - start <= ALMOST:
                    continue
                for x in (start,) if straight else (start, end):
                    for beyond, before, after in _beside(chord, x, along):
                        old = found.get((i, beyond))
                        if old is None or after < old.after - ALMOST:
                            found[i, beyond] = Cover(i, before, after, start, end)
        return list(found.values())


def _thin(strip: Strip, chord: Chord, x: float) -> Thin | None:
    low, high = chord.span(x)
    if high - low <= ALMOST:
        return None
    rest = chord.left(x, low, high)
    # A scrap that two cuts take between them, as at a corner, is no web.
    if not rest and not chord.whole:
        return None
    return Thin(high - low, min(rest, default=0.0), 1 - sum(rest) / (high - low))


def _beside(chord: Chord, x: float, along: Span) -> Iterator[tuple[bool, float, float]]:
    """What lies before and beyond a void, on one line: whether beyond, before and after the cuts [mm]."""
    low, high = chord.span(x)
    if high - along[0] <= ALMOST or along[1] - low <= ALMOST:
        return
    taken = [(_at(a, x), _at(b, x)) for a, b, gone in chord.parts if gone]
    for beyond, near, far in ((False, low, along[0]), (True, along[1], high)):
        if far - near <= SKIN or not any(b - near > ALMOST and far - a > ALMOST for a, b in taken):
            continue
        if sum(chord.left(x, max(low, along[0]), min(high, along[1]))) > ALMOST:
            yield beyond, far - near, min(chord.left(x, near, far), default=0.0)


def _linked(found: Sequence[Strip], k: int, chord: Chord, way: int) -> list[Chord]:
    """The chords of the next strip that a chord goes on into."""
    if not 0 <= k + way < len(found):
        return []
    x = found[k].end if way > 0 else found[k].start
    low, high = chord.span(x)
    beside = found[k + way].chords
    return [one for one in beside if min(high, one.span(x)[1]) - max(low, one.span(x)[0]) > ALMOST]


def _mark(found: Sequence[Strip], way: int, what: str) -> None:
    """Mark the lips that run out one way: thin ends that a side leads to, beyond which there is no metal."""
    for k in range(len(found) - 1, -1, -1) if way > 0 else range(len(found)):
        strip = found[k]
        x = strip.end if way > 0 else strip.start
        if what == "web" and way < 0 and x <= ALMOST:
            continue  # the axis: beyond it the metal goes on
        lips_on = 0 <= k + way < len(found) and any(way in one.lips for one in found[k + way].chords)
        for chord in strip.chords:
            low, high = chord.span(x)
            if not lips_on and high - low > ALMOST and not chord.leans():
                continue
            linked = _linked(found, k, chord, way)
            sharp = high - low <= ALMOST or (len(linked) == 1 and way in linked[0].lips and _alike(chord, linked[0]))
            if (sharp or chord.leans()) and all(way in one.lips for one in linked):
                chord.lips.add(way)


def _alike(one: Chord, other: Chord) -> bool:
    """Whether two chords lie between the same two edges, however many corners there are between them."""
    pairs = ((one.low, other.low), (one.high, other.high))
    return all(abs(_slope(a) - _slope(b)) <= ALMOST for a, b in pairs)
