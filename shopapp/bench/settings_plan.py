"""Which side of which piece in which order, so that the jaws are set anew as seldom as may be; and the minutes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from shopapp.bench.errors import Impossible

_MOST_STATES = 20_000


@dataclass(frozen=True)
class Side:
    """One side of a piece, and how the piece is held for it: the same words are the same setting of the jaws."""

    name: str
    hold: str


@dataclass(frozen=True)
class Piece:
    """A piece with its sides in the order they have to be done."""

    name: str
    sides: tuple[Side, ...]


@dataclass(frozen=True)
class Stop:
    """One setting of the jaws: how it holds, and what is done in it, as pairs of piece and side."""

    hold: str
    work: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Plan:
    """The settings in order, how often the jaws are set anew, how often piece by piece, and the sentences."""

    stops: tuple[Stop, ...]
    resets: int
    piece_by_piece: int
    words: tuple[str, ...]


@dataclass(frozen=True)
class Effort:
    """Minutes of one piece in one setting: truing, touching off, measuring, cutting."""

    truing: float = 0.0
    touching: float = 0.0
    measuring: float = 0.0
    cutting: float = 0.0

    @property
    def minutes(self) -> float:
        """All four together [min]."""
        return self.truing + self.touching + self.measuring + self.cutting


@dataclass(frozen=True)
class Times:
    """Minutes for the first piece after the jaws were set, and for each further one in the same setting."""

    first: Effort
    further: Effort


@dataclass(frozen=True)
class PlanTime:
    """Minutes of each setting, of all, of the same work piece by piece, and what the plan saves [min]."""

    stops: tuple[float, ...]
    minutes: float
    piece_by_piece: float
    saved: float


def _proved(pieces: Sequence[Piece]) -> None:
    if not pieces or not all(piece.sides for piece in pieces):
        raise Impossible("A plan needs one piece or more, each with a side to do.")
    if len({piece.name for piece in pieces}) < len(pieces):
        raise Impossible("Two pieces have the same name. Give each its own.")
    if not all(side.hold.strip() for piece in pieces for side in piece.sides):
        raise Impossible("Say for each side how the piece is held.")


def _holds(piece: Piece) -> tuple[str, ...]:
    return tuple(" ".join(side.hold.split()).casefold() for side in piece.sides)


def _after(holds: tuple[str, ...], at: int, hold: str) -> int:
    while at < len(holds) and holds[at] == hold:
        at += 1
    return at


def _fewest(ways: Sequence[tuple[str, ...]]) -> list[str]:
    """The shortest row of settings in which every way of holding finds its own in order, breadth first."""
    start, end = (0,) * len(ways), tuple(len(way) for way in ways)
    come: dict[tuple[int, ...], tuple[tuple[int, ...], str] | None] = {start: None}
    edge = [start]
    while end not in come:
        further = []
        for state in edge:
            waiting = dict.fromkeys(way[at] for way, at in zip(ways, state, strict=True) if at < len(way))
            for hold in waiting:
                then = tuple(_after(way, at, hold) for way, at in zip(ways, state, strict=True))
                if then not in come:
                    come[then] = (state, hold)
                    further.append(then)
        edge = further
        if len(come) > _MOST_STATES:
            raise Impossible("There are too many different ways of holding in one plan. Plan fewer pieces at once.")
    row: list[str] = []
    back = come[end]
    while back is not None:
        row.append(back[1])
        back = come[back[0]]
    return row[::-1]


def _in_order(pieces: Sequence[Piece], row: Sequence[str]) -> tuple[Stop, ...]:
    done = [0] * len(pieces)
    stops = []
    for hold in row:
        work: list[tuple[str, str]] = []
        words = hold
        for i, piece in enumerate(pieces):
            upto = _after(_holds(piece), done[i], hold)
            for side in piece.sides[done[i] : upto]:
                words = side.hold if not work else words
                work.append((piece.name, side.name))
            done[i] = upto
        stops.append(Stop(words, tuple(work)))
    return tuple(stops)


def piece_by_piece(pieces: Sequence[Piece]) -> tuple[Stop, ...]:
    """The settings when each piece is finished before the next is begun (common practice, no source).

    Formula: a new setting wherever the hold is another than for the side before

    pieces: in the order they are done [text]

    Returns: the settings in order [text].
    Limits: settings are counted, not timed.
    Raises: Impossible for a piece without a side, or names that are the same.

    >>> both = (Side("A", "outside"), Side("B", "turned Ø"))
    >>> len(piece_by_piece([Piece("1", both), Piece("2", both)]))
    4
    """
    _proved(pieces)
    stops: list[Stop] = []
    before = None
    for piece in pieces:
        for side, hold in zip(piece.sides, _holds(piece), strict=True):
            if hold == before:
                stops[-1] = Stop(stops[-1].hold, (*stops[-1].work, (piece.name, side.name)))
            else:
                stops.append(Stop(side.hold, ((piece.name, side.name),)))
            before = hold
    return tuple(stops)


def _listed(stop: Stop) -> str:
    sides: dict[str, list[str]] = {}
    for piece, side in stop.work:
        sides.setdefault(side, []).append(piece)
    return "; ".join(f"side {side} of {', '.join(names)}" for side, names in sides.items())


def by_setting(pieces: Sequence[Piece]) -> Plan:
    """The order by setting of the jaws, with the fewest settings there can be (common practice, no source).

    Formula: the shortest row of holds in which every piece finds its own in the order of its sides

    pieces: each with its sides in the order they have to be done, the weak side while it is thick [text]

    Returns: the settings, re-settings of both orders, sentences [count].
    Limits: each piece is still trued by itself in every setting.
    Raises: Impossible for a piece without a side, names that are the same, or too many ways of holding.

    >>> both = (Side("A", "outside"), Side("B", "turned Ø"))
    >>> plan = by_setting([Piece("1", both), Piece("2", both)])
    >>> plan.resets, plan.piece_by_piece
    (1, 3)
    """
    _proved(pieces)
    stops = _in_order(pieces, _fewest(tuple(dict.fromkeys(_holds(piece) for piece in pieces))))
    resets, apart = len(stops) - 1, len(piece_by_piece(pieces)) - 1
    words = [f"Setting {i}: hold {stop.hold}: {_listed(stop)}." for i, stop in enumerate(stops, 1)]
    said = "one re-set" if resets == 1 else f"{resets} re-sets" if resets else "no re-set"
    words.append(f"{said.capitalize()} of the jaws; piece by piece {apart}.")
    return Plan(stops, resets, apart, tuple(words))


def stop_minutes(times: Times, pieces: int) -> float:
    """Minutes of one setting of the jaws (common practice, no source).

    Formula: first + (pieces - 1)·further, each the sum of truing, touching off, measuring and cutting

    times: of the first and of each further piece [min]
    pieces: that go through the setting [count]

    Returns: the minutes [min].
    Limits: one piece or more.
    Raises: Impossible for no piece or for minutes under nothing.

    >>> stop_minutes(Times(Effort(20, 3, 2, 8), Effort(6, 2, 2, 8)), 2)
    51.0
    """
    if pieces < 1:
        raise Impossible("A setting is for one piece or more.")
    every = (times.first, times.further)
    if any(part < 0 for e in every for part in (e.truing, e.touching, e.measuring, e.cutting)):
        raise Impossible("Minutes are 0 or more.")
    return float(times.first.minutes + (pieces - 1) * times.further.minutes)


def plan_minutes(pieces: Sequence[Piece], times: Mapping[str, Times]) -> PlanTime:
    """Minutes of the plan by setting, beside those of the same work piece by piece (common practice, no source).

    Formula: the sum over settings of first + (sides in it - 1)·further

    pieces: each with its sides in order [text]
    times: minutes by hold, in the words of the sides [min]

    Returns: minutes of each setting, of all, of piece by piece, saved [min].
    Limits: every side in a setting costs the same.
    Raises: Impossible as for the plan, or when a hold has no minutes.

    >>> both = (Side("A", "outside"), Side("B", "turned Ø"))
    >>> each = Times(Effort(20, 3, 2, 8), Effort(6, 2, 2, 8))
    >>> plan_minutes([Piece("1", both), Piece("2", both)], {"outside": each, "turned Ø": each}).saved
    30.0
    """
    known = {" ".join(hold.split()).casefold(): each for hold, each in times.items()}

    def of(stop: Stop) -> float:
        hold = " ".join(stop.hold.split()).casefold()
        if hold not in known:
            raise Impossible(f"There are no minutes yet for: hold {stop.hold}.")
        return stop_minutes(known[hold], len(stop.work))

    stops = tuple(of(stop) for stop in by_setting(pieces).stops)
    apart = sum(of(stop) for stop in piece_by_piece(pieces))
    return PlanTime(stops, sum(stops), apart, apart - sum(stops))
