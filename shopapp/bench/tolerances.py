"""Tolerances to fill in where a drawing states none: ISO 2768-1 general tolerances and ISO 286-1 grades, by table."""

import math
from dataclasses import dataclass

from shopapp.bench.errors import Refused
from shopapp.bench.quantities import show_length

CLASSES = {"f": "fine", "m": "medium", "c": "coarse", "v": "very coarse"}
_EDGE = 1 + 1e-12  # a size typed in inches that is a boundary in millimetres counts as the boundary

_Row = tuple[float, float | None, float | None, float | None, float | None]

# Up to and including this size [mm]: f, m, c, v [+- mm]. ISO 2768-1:1989 Table 1. One copy misprints class c of the
# first two rows as 0.15 and 0.2; three others agree on 0.2 and 0.3, which stand here.
_LENGTHS: tuple[_Row, ...] = (
    (3, 0.05, 0.1, 0.2, None),
    (6, 0.05, 0.1, 0.3, 0.5),
    (30, 0.1, 0.2, 0.5, 1.0),
    (120, 0.15, 0.3, 0.8, 1.5),
    (400, 0.2, 0.5, 1.2, 2.5),
    (1000, 0.3, 0.8, 2.0, 4.0),
    (2000, 0.5, 1.2, 3.0, 6.0),
    (4000, None, 2.0, 4.0, 8.0),
)
# ISO 2768-1:1989 Table 2: outside radii and heights of bevels.
_CORNERS: tuple[_Row, ...] = (
    (3, 0.2, 0.2, 0.4, 0.4),
    (6, 0.5, 0.5, 1.0, 1.0),
    (math.inf, 1.0, 1.0, 2.0, 2.0),
)
# ISO 2768-1:1989 Table 3: angles, by their shorter leg [+- minutes of arc], from memory. One page prints a single
# column for c and v; they are two columns, as here.
_ANGLES: tuple[_Row, ...] = (
    (10, 60, 60, 90, 180),
    (50, 30, 30, 60, 120),
    (120, 20, 20, 30, 60),
    (400, 10, 10, 15, 30),
    (math.inf, 5, 5, 10, 20),
)
_RUNOUT = {"H": 0.1, "K": 0.2, "L": 0.5}  # ISO 2768-2:1989, circular run-out [mm]; H and L from memory

# ISO 286-1 Table 1: up to and including [mm]: IT5 to IT11 [thousandths of a millimetre].
_GRADES: tuple[tuple[float, tuple[int, ...]], ...] = (
    (3, (4, 6, 10, 14, 25, 40, 60)),
    (6, (5, 8, 12, 18, 30, 48, 75)),
    (10, (6, 9, 15, 22, 36, 58, 90)),
    (18, (8, 11, 18, 27, 43, 70, 110)),
    (30, (9, 13, 21, 33, 52, 84, 130)),
    (50, (11, 16, 25, 39, 62, 100, 160)),
    (80, (13, 19, 30, 46, 74, 120, 190)),
    (120, (15, 22, 35, 54, 87, 140, 220)),
    (180, (18, 25, 40, 63, 100, 160, 250)),
    (250, (20, 29, 46, 72, 115, 185, 290)),
    (315, (23, 32, 52, 81, 130, 210, 320)),
    (400, (25, 36, 57, 89, 140, 230, 360)),
    (500, (27, 40, 63, 97, 155, 250, 400)),
)
_STEPS = {5: 7, 6: 10, 7: 16, 8: 25, 9: 40, 10: 64}  # multiples of i; from IT 11 on they repeat, ten times as large


@dataclass(frozen=True)
class Limits:
    """The least and the most that a size may measure [mm], and where that comes from."""

    low: float
    high: float
    words: str


def _two(mm: float) -> str:
    """Fine enough for a tolerance: four decimals of an inch, three of a millimetre."""
    return f"{show_length(mm, 'in', 4)} ({show_length(mm, 'mm', 3)})"


def _row(rows: tuple[_Row, ...], size: float, least: float, name: str) -> float | None:
    if name not in CLASSES:
        raise Refused(f"There is no tolerance class {name}. There are: {', '.join(CLASSES)}.")
    if not size >= least / _EDGE:
        raise Refused(f"Under {_two(least)} there is no general tolerance: write one beside the size.")
    for upto, *values in rows:
        if size <= upto * _EDGE:
            return values[list(CLASSES).index(name)]
    raise Refused(f"Over {_two(rows[-1][0])} there is no general tolerance: write one beside the size.")


def _given(found: float | None, name: str, what: str) -> float:
    if found is None:
        raise Refused(f"Class {name} has no tolerance for {what}: write one beside the size, or take another class.")
    return found


def general_length(size: float, name: str = "m") -> float:
    """The general tolerance of a length or diameter (ISO 2768-1:1989, Table 1).

    Formula: by table; each row is over its lower size up to and including its upper one.

    size: nominal [mm]
    name: class f, m, c or v [text]

    Returns: the permissible deviation, plus and minus [mm].
    Limits: 0.5 to 4000 mm; v from over 3 mm, f up to 2000 mm.
    Raises: Refused outside these limits.

    >>> general_length(30), general_length(30.001)
    (0.2, 0.3)
    """
    return _given(_row(_LENGTHS, size, 0.5, name), name, _two(size))


def general_corner(size: float, name: str = "m") -> float:
    """The general tolerance of an outside radius or the height of a bevel (ISO 2768-1:1989, Table 2).

    Formula: by table; each row is over its lower size up to and including its upper one.

    size: nominal radius, or height of the bevel [mm]
    name: class f, m, c or v [text]

    Returns: the permissible deviation, plus and minus [mm].
    Limits: from 0.5 mm.
    Raises: Refused under it.

    >>> general_corner(2), general_corner(2, "c")
    (0.2, 0.4)
    """
    return _given(_row(_CORNERS, size, 0.5, name), name, _two(size))


def general_angle(leg: float, name: str = "m") -> float:
    """The general tolerance of an angle (ISO 2768-1:1989, Table 3, from memory).

    Classes c and v have columns of their own; a page that gives them one column is not followed.

    Formula: by table, by the length of the shorter leg; up to and including the upper length of a row.

    leg: the shorter leg of the angle [mm]
    name: class f, m, c or v [text]

    Returns: the permissible deviation, plus and minus [deg].
    Limits: a leg above nothing.
    Raises: Refused for a leg of nothing.

    >>> general_angle(10), general_angle(11), general_angle(11, "v")
    (1.0, 0.5, 2.0)
    """
    if not leg > 0:
        raise Refused("Type the shorter leg of the angle: it is a length above nothing.")
    return _given(_row(_ANGLES, leg, 0.0, name), name, "angles") / 60


def general_runout(name: str) -> float:
    """The general tolerance of circular run-out (ISO 2768-2:1989; replaced by ISO 22081:2021, from memory).

    Formula: by table; H and L from memory.

    name: class H, K or L [text]

    Returns: the run-out over a full turn [mm].
    Limits: for drawings that name ISO 2768-2; it is withdrawn.
    Raises: Refused for another class.

    >>> general_runout("K")
    0.2
    """
    if name not in _RUNOUT:
        raise Refused(f"There is no run-out class {name}. There are: {', '.join(_RUNOUT)}.")
    return _RUNOUT[name]


def _step(size: float) -> int:
    if not size > 0:
        raise Refused("A tolerance grade needs a size above nothing.")
    for place, (upto, _) in enumerate(_GRADES):
        if size <= upto * _EDGE:
            return place
    raise Refused("The table of grades ends at 500 mm (19.685 in): write a tolerance beside the size.")


def grade_table(size: float, grade: int) -> float:
    """The standard tolerance of a grade (ISO 286-1, Table 1). The table is what counts, not the formula behind it.

    Formula: by table; each row is over its lower size up to and including its upper one.

    size: nominal [mm]
    grade: 5 for IT5 to 11 for IT11 [1]

    Returns: the whole width of the tolerance [mm].
    Limits: up to 500 mm, IT5 to IT11.
    Raises: Refused outside these limits.

    >>> grade_table(25, 7), grade_table(30, 7), grade_table(30.1, 7)
    (0.021, 0.021, 0.025)
    """
    if grade not in range(5, 12):
        raise Refused(f"The table has IT5 to IT11, not IT{grade}: write a tolerance beside the size.")
    return _GRADES[_step(size)][1][grade - 5] / 1000


def grade_formula(size: float, grade: int) -> float:
    """The formula behind the grades, as a check of the table (ISO 286-1; not what a part is held to).

    It agrees with the table within 3 % above 18 mm and 5.5 % from 6 to 18 mm; under that it comes out
    up to 9 % (over 3 mm) and 14 % (up to 3 mm) below the table. The table is taken everywhere.

    Formula: i = 0.45 D^(1/3) + 0.001 D [um], D the geometric mean of the row; 7, 10, 16, 25, 40, 64, 100 i ...

    size: nominal [mm]
    grade: 5 for IT5 to 18 for IT18 [1]

    Returns: the whole width of the tolerance, not rounded [mm].
    Limits: up to 500 mm; the first row's mean is that of 1 and 3 mm (from memory).
    Raises: Refused outside these limits.

    >>> round(grade_formula(25, 7), 5)
    0.02092
    """
    if grade not in range(5, 19):
        raise Refused(f"The formula has IT5 to IT18, not IT{grade}.")
    place = _step(size)
    low, high = (_GRADES[place - 1][0] if place else 1.0), _GRADES[place][0]
    mean = math.sqrt(low * high)
    tens, first = divmod(grade - 6, 5) if grade > 5 else (0, -1)
    unit = 0.45 * math.cbrt(mean) + 0.001 * mean
    return _STEPS[first + 6] * 10.0**tens * unit / 1000


def unstated(size: float, name: str = "m") -> Limits:
    """The limits of a size with no tolerance beside it (ISO 2768-1:1989, Table 1).

    Formula: size - t, size + t

    size: nominal [mm]
    name: class f, m, c or v [text]

    Returns: least, most, and where they are from [mm, text].
    Limits: those of general_length.
    Raises: Refused outside these limits.

    >>> unstated(25.0).words
    '0.9843 in (25.000 mm) ± 0.0079 in (0.200 mm), not stated: ISO 2768-1 medium'
    """
    deviation = general_length(size, name)
    words = f"{_two(size)} ± {_two(deviation)}, not stated: ISO 2768-1 {CLASSES[name]}"
    return Limits(size - deviation, size + deviation, words)


def graded(size: float, grade: int, lies: str) -> Limits:
    """The limits of a size in a grade that starts at the size itself (ISO 286-1, Table 1; H, h, JS, js).

    Formula: H: size to size + IT; h: size - IT to size; JS, js: size -+ IT/2

    size: nominal [mm]
    grade: 5 for IT5 to 11 for IT11 [1]
    lies: H for a hole, h for a shaft, JS or js for half to each side [text]

    Returns: least, most, and where they are from [mm, text].
    Limits: no other letters: their deviations are not in this table.
    Raises: Refused outside these limits.

    >>> limits = graded(25, 7, "H")
    >>> limits.low, round(limits.high, 6)
    (25.0, 25.021)
    """
    width = grade_table(size, grade)
    part = {"H": 0.0, "h": 1.0, "JS": 0.5, "js": 0.5}.get(lies)
    if part is None:
        raise Refused(f"Only H, h, JS and js start from the size itself: write the limits of {lies}{grade} out.")
    low, high = size - width * part, size + width * (1 - part)
    return Limits(low, high, f"{_two(low)} to {_two(high)}, {lies}{grade}: ISO 286-1")
