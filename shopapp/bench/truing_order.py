"""The order of truing: outside, face, outside again, bore; what was found and what was left; which surface counts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shopapp.bench.errors import Impossible
from shopapp.bench.quantities import show_length
from shopapp.bench.truing import SLACK, USUAL_LIMIT

SURFACES = ("outside", "face", "bore")
DONE = "done"

_NOTHING = 1e-9


@dataclass(frozen=True)
class Check:
    """One surface read [mm]: run-out as found, as left if it was moved, for a face the diameter it was read at, and
    the limit of run-out where it has one of its own."""

    surface: str
    found: float
    left: float | None = None
    diameter: float | None = None
    limit: float | None = None

    @property
    def now(self) -> float:
        """The run-out that stands after this check [mm]."""
        return self.found if self.left is None else self.left

    @property
    def moved(self) -> bool:
        """Whether the piece was moved between found and left."""
        return self.left is not None and abs(self.left - self.found) > _NOTHING


@dataclass(frozen=True)
class Next:
    """What to read or to true next, or `done`, and the sentence."""

    surface: str
    words: str


@dataclass(frozen=True)
class Datum:
    """Whether bore and outside both run true, whether it has to be asked which one counts, and the sentence."""

    true: bool
    ask: bool
    words: str


def _size(mm: float, unit: str) -> str:
    return show_length(round(mm, 9), unit, 4 if unit == "in" else 3)


def _proved(checks: Sequence[Check]) -> None:
    for check in checks:
        if check.surface not in SURFACES:
            raise Impossible(f"Surfaces to true are {', '.join(SURFACES)}; “{check.surface}” is none of them.")
        if check.found < 0 or (check.left or 0.0) < 0:
            raise Impossible("A run-out is 0 or more: the greatest reading less the least.")
        if check.surface == "face" and not (check.diameter or 0.0) > 0:
            raise Impossible("Say at which diameter the face was read.")


def _last(checks: Sequence[Check], surface: str, moved: bool = False) -> int:
    """The place of the last check of a surface, or of the last that moved the piece; -1 if there is none."""
    return max((i for i, c in enumerate(checks) if c.surface == surface and (c.moved or not moved)), default=-1)


def next_to_read(checks: Sequence[Check], limit: float = USUAL_LIMIT, bore: bool = True, unit: str = "in") -> Next:
    """What to read next: outside, face, outside again, bore (common practice, no source).

    Formula: the outside has to be read after the first face and after every face that was moved, the face after every
    outside that was moved

    checks: what was read so far, in order [mm]
    limit: of run-out, for surfaces without one of their own [mm]
    bore: whether there is a bore to read [yes/no]
    unit: in or mm, for the words [word]

    Returns: the surface and a sentence [text].
    Limits: the bore is read, not trued: which one counts is asked when it is out.
    Raises: Impossible for a surface that is none, a run-out under nothing, a face without its diameter.

    >>> next_to_read([Check("outside", 0.05, 0.01), Check("face", 0.01, diameter=127)]).surface
    'outside'
    """
    _proved(checks)
    outside, face = _last(checks, "outside"), _last(checks, "face")
    for surface, at in (("outside", outside), ("face", face)):
        if at < 0:
            return Next(surface, f"Read the {surface}.")
        own = checks[at].limit
        if checks[at].now > (limit if own is None else own) + SLACK:
            return Next(surface, f"The {surface} is out {_size(checks[at].now, unit)}: true it and read it again.")
    first_face = next(i for i, check in enumerate(checks) if check.surface == "face")
    if outside < max(first_face, _last(checks, "face", moved=True)):
        return Next("outside", "The face was set after the outside: read the outside again.")
    if face < _last(checks, "outside", moved=True):
        return Next("face", "The outside was moved after the face: read the face again.")
    if bore and _last(checks, "bore") < max(0, *(_last(checks, s, moved=True) for s in ("outside", "face"))):
        return Next("bore", "Read the bore.")
    return Next(DONE, f"All read. {set_up_line(checks, unit)}.")


def set_up_line(checks: Sequence[Check], unit: str = "in") -> str:
    """The set-up as it stands, for the job record (common practice, no source).

    Formula: none; the last run-out of each surface, a face with the diameter it was read at.

    checks: what was read, in order; the last of each surface counts [mm]
    unit: in or mm, for the words [word]

    Returns: such as "outside 0.0004 in, face 0.0003 in at 5.000 in, bore 0.0003 in" [text].
    Limits: says what was read last, not whether the piece was moved since.
    Raises: Impossible as for the order.

    >>> set_up_line([Check("outside", 0.0508, 0.01016), Check("face", 0.00762, diameter=127)])
    'outside 0.0004 in, face 0.0003 in at 5.000 in'
    """
    _proved(checks)
    said = []
    for surface in SURFACES:
        if (at := _last(checks, surface)) >= 0:
            where = f" at {show_length(checks[at].diameter or 0.0, unit)}" if surface == "face" else ""
            said.append(f"{surface} {_size(checks[at].now, unit)}{where}")
    return ", ".join(said)


def datum(
    outside: float,
    bore: float,
    limit: float = USUAL_LIMIT,
    of_record: str | None = None,
    unit: str = "in",
    bore_limit: float | None = None,
) -> Datum:
    """Bore against outside: both true, or which one counts (common practice, no source).

    Formula: a surface is true when its run-out is within its limit.

    outside: run-out of the outside [mm]
    bore: run-out of the bore [mm]
    limit: of run-out [mm]
    of_record: outside or bore, whichever the work is measured from; None if it was not said [word]
    unit: in or mm, for the words [word]
    bore_limit: of the bore's run-out, where it has one of its own [mm]

    Returns: whether both are true, whether to ask, and a sentence [text].
    Limits: truing one moves the other: both are true only if they are round one another.
    Raises: Impossible for a run-out under nothing or a datum that is neither.

    >>> datum(0.00762, 0.0762).words
    'Outside true, bore out 0.0030 in: which one counts?'
    """
    if outside < 0 or bore < 0:
        raise Impossible("A run-out is 0 or more: the greatest reading less the least.")
    if of_record not in (None, "outside", "bore"):
        raise Impossible("The datum of record is the outside or the bore.")
    read = (("outside", outside, limit), ("bore", bore, limit if bore_limit is None else bore_limit))
    out = {name: _size(size, unit) for name, size, most in read if size > most + SLACK}
    if not out:
        return Datum(True, False, "Outside and bore both run true.")
    if len(out) == 2:
        first = f"True the {of_record} first." if of_record else "True the one that counts."
        return Datum(False, of_record is None, f"Outside out {out['outside']}, bore out {out['bore']}. {first}")
    ((bad, size),) = out.items()
    good = "bore" if bad == "outside" else "outside"
    start = f"{good.capitalize()} true, {bad} out {size}"
    if of_record is None:
        return Datum(False, True, f"{start}: which one counts?")
    if of_record == bad:
        return Datum(False, False, f"{start}, and the {bad} counts: true the {bad}.")
    return Datum(False, True, f"{start}: the {good} counts by the record. Is that right?")
