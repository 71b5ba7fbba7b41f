"""Truing in a four-jaw with independent jaws: readings round a surface, and which jaw to move by how much.

Jaw n stands at (n - 1)·90 degrees; a place is named by the angle that stands under the indicator. A reading rises when
the surface comes nearer to the indicator: outside, the surface sticks out there; inside, the wall comes in there.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shopapp.bench.errors import Impossible, Refused
from shopapp.bench.quantities import show_length
from shopapp.bench.rounding import fixed

USUAL_LIMIT = 0.0127  # .0005 in of run-out
TENTH = 0.00254  # a tenth is .0001 in
NOTHING = "nothing"
TOO_FINE = "Out by less than a jaw can be asked to move."
SLACK = 1e-9  # mm; a run-out on the very limit counts as within it

_LEAST = {"in": 0.05 * TENTH, "mm": 0.0005}
_NOTHING = 1e-9
_WIDEST_GAP = 240.0
_CLOSEST = 1.0
_NUMBERS = {3: "Three", 4: "Four", 5: "Five", 6: "Six", 7: "Seven", 8: "Eight"}
_LOBES = {2: "an oval", 3: "three lobes", 4: "four lobes", 5: "five lobes"}


@dataclass(frozen=True)
class Circle:
    """The least-squares circle through the readings [mm, degrees]; offsets say where the piece's centre lies.

    `run_out` is twice the eccentricity, `read` the span of the readings; `out_of_round` is None when three readings
    make the circle exact. A skipped place has no residual.
    """

    mean: float
    towards_1: float
    towards_2: float
    eccentricity: float
    direction: float
    run_out: float
    read: float
    residuals: tuple[float | None, ...]
    out_of_round: float | None
    places: tuple[float, ...]
    inside: bool = False


@dataclass(frozen=True)
class Move:
    """One pair of jaws: which to loosen, which to tighten, until the reading at `watch` drops by `by` [mm]."""

    loosen: int
    tighten: int
    watch: int
    by: float


@dataclass(frozen=True)
class Blind:
    """Numbers of lobes from 2 to 5 that these places never see, and those they miss when they lie just so."""

    never: tuple[int, ...]
    sometimes: tuple[int, ...]


@dataclass(frozen=True)
class Truing:
    """What the readings say: the circle, the moves, whether the jaws have done their part, and the sentences."""

    circle: Circle
    moves: tuple[Move, ...]
    centred: bool
    within: bool
    words: tuple[str, ...]


def thin(size: float, unit: str = "in") -> str:
    """A run-out or a move as it is said at the indicator; common practice, no source.

    Formula: a tenth is .0001 in

    size: the run-out or move [mm]
    unit: in or mm, as the indicator reads [word]

    Returns: such as "18 tenths (.0018 in)" or "0.046 mm" [text].
    Limits: from .010 in up tenths are no longer counted.

    >>> thin(0.04572), thin(0.015875), thin(0.04572, "mm"), thin(0.3048)
    ('18 tenths (.0018 in)', '6.3 tenths (.00063 in)', '0.046 mm', '.0120 in')
    """
    if abs(size) < _LEAST[unit]:
        return NOTHING
    if unit == "mm":
        return show_length(round(size, 9), "mm", 3)
    tenths = round(size / TENTH, 9)
    whole = abs(tenths - round(tenths)) < 0.05
    inches = show_length(round(size, 9), "in", 4 if whole else 5).lstrip("0")
    count = fixed(tenths, 1, strip=True)
    word = "tenth" if count == "1" else "tenths"
    return inches if abs(tenths) >= 100 else f"{count} {word} ({inches})"


def _places(count: int, angles: Sequence[float] | None) -> tuple[float, ...]:
    if angles is None:
        return tuple(360 * i / count for i in range(count))
    if len(angles) != count:
        raise Refused(f"There are {count} readings and {len(angles)} places. Give each reading its place.")
    return tuple(float(angle) for angle in angles)


def _enough(places: Sequence[float]) -> None:
    round_it = sorted(angle % 360 for angle in places)
    if len(round_it) < 3:
        raise Refused("A circle needs three readings or more. Read at least three places round the piece.")
    gaps = [after - before for before, after in zip(round_it, [*round_it[1:], round_it[0] + 360], strict=True)]
    if min(gaps) < _CLOSEST:
        raise Refused("Two readings are at the same place. Read places that are at least a degree apart.")
    if max(gaps) > _WIDEST_GAP + SLACK:
        raise Refused("The readings are all on one side. Read places that go at least a third of the way round.")


def _fit(places: Sequence[float], values: Sequence[float]) -> tuple[float, float, float]:
    """Least squares of mean + a cos + b sin, for places that are spaced anyhow."""
    n = len(values)
    cosines, sines = ([f(math.radians(angle)) for angle in places] for f in (math.cos, math.sin))
    c, s, v = (math.fsum(each) / n for each in (cosines, sines, values))
    x, y, w = [each - c for each in cosines], [each - s for each in sines], [each - v for each in values]
    xx, yy, xy, xw, yw = (
        math.fsum(p * q for p, q in zip(one, other, strict=True))
        for one, other in ((x, x), (y, y), (x, y), (x, w), (y, w))
    )
    det = xx * yy - xy * xy
    a, b = (xw * yy - yw * xy) / det, (yw * xx - xw * xy) / det
    return v - a * c - b * s, a, b


def _left_over(places: Sequence[float], values: Sequence[float]) -> list[float]:
    mean, a, b = _fit(places, values)
    turned = (math.radians(angle) for angle in places)
    return [v - mean - a * math.cos(t) - b * math.sin(t) for v, t in zip(values, turned, strict=True)]


def _direction(a: float, b: float) -> float:
    return math.degrees(math.atan2(b, a)) % 360 if math.hypot(a, b) > _NOTHING else 0.0


def circle(readings: Sequence[float | None], angles: Sequence[float] | None = None, inside: bool = False) -> Circle:
    """The least-squares reference circle of readings round a surface (ISO 12181, limaçon; from memory).

    Formula: evenly spaced, a = 2/N ΣR cos t, b = 2/N ΣR sin t, e = sqrt(a² + b²), residual = R - mean - a cos t -
    b sin t; otherwise the same by least squares. Inside, the centre lies the other way.

    readings: in order round the piece, None where one is skipped [mm]
    angles: where each was read, evenly spaced from jaw 1 if not given [deg]
    inside: whether the indicator is in a bore [yes/no]

    Returns: the circle [mm, deg].
    Limits: eccentricity small beside the radius. Three readings fit exactly and leave no residual.
    Raises: Refused for fewer than three readings, two at one place, or all on one side.

    >>> found = circle([0.008, 0.003, -0.004, 0.001])
    >>> round(found.eccentricity, 7), round(found.direction, 3)
    (0.0060828, 9.462)
    """
    if len(readings) < 3:
        raise Refused("A circle needs three readings or more. Read at least three places round the piece.")
    every = _places(len(readings), angles)
    met = [(angle, value) for angle, value in zip(every, readings, strict=True) if value is not None]
    places, values = tuple(angle for angle, _ in met), [value for _, value in met]
    if not all(math.isfinite(each) for each in (*places, *values)):
        raise Impossible("A reading came out without end. Read that place again.")
    _enough(places)
    mean, a, b = _fit(places, values)
    rest = iter(_left_over(places, values))
    residuals = tuple(None if value is None else next(rest) for value in readings)
    known = [each for each in residuals if each is not None]
    if inside:
        a, b = -a, -b
    e = math.hypot(a, b)
    oval = max(known) - min(known) if len(known) > 3 else None
    span = max(values) - min(values)
    return Circle(mean, a, b, e, _direction(a, b), 2 * e, span, residuals, oval, places, inside)


def moves(offset: Circle) -> tuple[Move, ...]:
    """Which jaw to loosen, which to tighten: half the difference along each pair of jaws (common practice, no source).

    Formula: the piece is pushed back by its offset along jaws 1-3 and along jaws 2-4, the greater first. Some teach a
    move of 30 % of the full reading instead, because the high place seldom lies at a jaw; two offsets allow for that.

    offset: the circle that was found; in a bore the high reading is at the jaw to loosen [mm]

    Returns: no, one or two moves [mm].
    Limits: four independent jaws at 90 degrees, jaw 1 at 0.

    >>> moves(circle([20, 4, -16, 0]))[0]
    Move(loosen=3, tighten=1, watch=1, by=18.0)
    """
    found = []
    for first, along in ((1, offset.towards_1), (2, offset.towards_2)):
        if abs(along) > _NOTHING:
            near, far = (first, first + 2) if along > 0 else (first + 2, first)
            found.append(Move(far, near, far if offset.inside else near, abs(along)))
    return tuple(sorted(found, key=lambda move: -move.by))


def screw_turn(move: float, pitch: float) -> float:
    """How far the key of a jaw screw is turned for a move (common practice, no source).

    Formula: turns = move / pitch

    move: of the jaw [mm]
    pitch: of the jaw screw [mm]

    Returns: in degrees of the key [deg].
    Limits: backlash taken up first; near the end the jaws squeeze and move less than this.
    Raises: Impossible for a pitch that is not above nothing.

    >>> round(screw_turn(0.1016, 1.27), 6)
    28.8
    """
    if not pitch > 0:
        raise Impossible("Give the pitch of the jaw screw: how far the jaw goes in one turn.")
    return 360 * move / pitch


def blind(places: Sequence[float]) -> Blind:
    """Which lobes readings at these places cannot tell from off-centre or from round (ISO 12181, from memory).

    Formula: a pattern cos k t, sin k t of k lobes is unseen where nothing of it is left beside mean, cos t and sin t

    places: where the readings are [deg]

    Returns: lobes from 2 to 5 never seen, and lobes missed when they lie just so [count].
    Limits: three places or more.

    >>> blind([0, 90, 180, 270])
    Blind(never=(3, 4, 5), sometimes=(2,))
    """
    never, sometimes = [], []
    for lobes in _LOBES:
        one, two = (_left_over(places, [f(lobes * math.radians(t)) for t in places]) for f in (math.cos, math.sin))
        p, q = math.fsum(x * x for x in one), math.fsum(y * y for y in two)
        r = math.fsum(x * y for x, y in zip(one, two, strict=True))
        if p + q < _NOTHING:
            never.append(lobes)
        elif p * q - r * r < _NOTHING:
            sometimes.append(lobes)
    return Blind(tuple(never), tuple(sometimes))


def _unseen(places: Sequence[float], skipped: int) -> list[str]:
    count = len(places)
    said = _NUMBERS.get(count, str(count))
    if count == 3:
        left = " left" if skipped else ""
        return [f"{said} readings{left} make an exact circle: out-of-round cannot be told from off-centre."]
    dark = blind(places)
    words = [f"{said} readings cannot see {_LOBES[n]}: they may pass for off-centre." for n in dark.never[:1]]
    if 2 in dark.sometimes:
        words.append("An oval that lies midway between the places stays unseen.")
    if words:
        words.append("Read eight places to be sure.")
    return words


def _move_words(asked: tuple[Move, ...], pitch: float | None, unit: str) -> list[str]:
    words: list[str] = []
    for move in asked:
        if thin(move.by, unit) == NOTHING:
            continue
        key = f" ({fixed(screw_turn(move.by, pitch), 0)}° of the key)" if pitch else ""
        start = "Then loosen" if words else "Loosen"
        drop = f"until {move.watch} drops by {thin(move.by, unit)}"
        words.append(f"{start} {move.loosen}, tighten {move.tighten}, {drop}{key}.")
    return words


def true_up(
    readings: Sequence[float | None],
    angles: Sequence[float] | None = None,
    inside: bool = False,
    limit: float = USUAL_LIMIT,
    pitch: float | None = None,
    unit: str = "in",
) -> Truing:
    """What to do at the four jaws after readings round a surface (ISO 12181 circle, from memory; jaws common practice).

    Formula: centred when 2e is within the limit; true when the span of the readings is as well

    readings: in order round the piece, None at a keyway [mm]
    angles: where each was read, evenly spaced from jaw 1 if not given [deg]
    inside: whether the indicator is in a bore [yes/no]
    limit: of run-out [mm]
    pitch: of the jaw screws, if known [mm]
    unit: in or mm, for the words [word]

    Returns: circle, moves, centred, within the limit, sentences [mm].
    Limits: jaws move a piece; they do not make it round.
    Raises: Refused for readings that make no circle, Impossible for a limit under nothing.

    >>> true_up([0.01016, -0.01016, 0.01016, -0.01016]).words[:2]
    ('Centred.', '8 tenths (.0008 in) out-of-round: the jaws cannot help that.')
    """
    if limit < 0:
        raise Impossible("A limit of run-out is 0 or more.")
    found = circle(readings, angles, inside)
    centred = found.run_out <= limit + SLACK
    within = centred and found.read <= limit + SLACK
    asked = () if centred else moves(found)
    words = ["Centred."] if centred else _move_words(asked, pitch, unit) or [TOO_FINE]
    if not centred:
        words.append(f"Run-out {thin(found.run_out, unit)} by the offset, {thin(found.read, unit)} as read.")
    if found.out_of_round is not None and thin(found.out_of_round, unit) != NOTHING:
        words.append(f"{thin(found.out_of_round, unit)} out-of-round: the jaws cannot help that.")
    return Truing(found, asked, centred, within, (*words, *_unseen(found.places, len(readings) - len(found.places))))
