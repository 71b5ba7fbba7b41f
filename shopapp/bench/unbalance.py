"""Unbalance: how much may be left in a part that turns, and how much a bore off its centre leaves (ISO 21940-11)."""

import math
from dataclasses import dataclass

from shopapp.bench.errors import Impossible, Refused
from shopapp.bench.quantities import show_length, show_mass
from shopapp.bench.rounding import significant

CLOSING = "Information only: no speed rating given. Which grade applies is for the maker or a licensed engineer to say."


@dataclass(frozen=True)
class Grade:
    """One balance quality grade: its G [mm/s] and what commonly turns at it."""

    g: float
    words: str


# ISO 21940-11:2016 Table 1 (before: ISO 1940-1); the words are our own short ones.
_ALL = (
    Grade(4000, "large slow ship diesels, not balanced in themselves"),
    Grade(1600, "large slow ship diesels, balanced in themselves"),
    Grade(630, "engines on springs, not balanced in themselves"),
    Grade(250, "engines on fixed mounts, not balanced in themselves"),
    Grade(100, "whole engines of cars, trucks and locomotives"),
    Grade(40, "car wheels, rims and drive shafts; engines balanced in themselves"),
    Grade(16, "farm and crushing machinery, cardan shafts"),
    Grade(6.3, "general machinery, machine tools, fans, pumps, gears; flywheels in the older ISO 1940"),
    Grade(2.5, "drives of machine tools, turbines, compressors"),
    Grade(1, "drives of grinding machines"),
    Grade(0.4, "gyroscopes, spindles of high precision"),
)
GRADES: dict[str, Grade] = {f"G {grade.g:g}": grade for grade in _ALL}


@dataclass(frozen=True)
class OffCentre:
    """The unbalance of a bore off its centre against what a grade allows [g mm], their ratio, and the sentences."""

    made: float
    allowed: float
    ratio: float
    over: bool
    sentences: tuple[str, ...]


def grade(name: str) -> Grade:
    """A balance quality grade by its name (ISO 21940-11:2016, Table 1).

    Formula: none; a row of the table of grades, G is e times the angular speed in mm/s

    name: such as "G 6.3" or "6.3" [text]

    Returns: the grade [any].
    Limits: the eleven grades of the table, G 0.4 to G 4000.
    Raises: Refused for one that is not in the table.

    >>> grade("G6.3").g
    6.3
    """
    key = f"G {name.strip().upper().removeprefix('G').strip()}"
    if key not in GRADES:
        raise Refused(f"There is no balance grade {name}. There are: {', '.join(GRADES)}.")
    return GRADES[key]


def _above(**told: float) -> None:
    for name, value in told.items():
        if not (value > 0 and math.isfinite(value)):
            raise Impossible(f"Type the {name}: it is a number above nothing.")


def eccentricity_allowed(g: float, turns: float) -> float:
    """How far the centre of mass may lie off the axis (ISO 21940-11:2016: e_per times Omega is the grade).

    Formula: e_per = 1000 G / Omega, Omega = 2 pi n / 60

    g: the grade, G in mm/s: 6.3 for G 6.3 [any]
    turns: highest revolutions in use [rpm]

    Returns: the permissible eccentricity, in thousandths of a millimetre [um].
    Limits: rotors that keep their shape; says nothing about strength.
    Raises: Impossible for nothing or less.

    >>> round(eccentricity_allowed(6.3, 3000), 4)
    20.0535
    """
    _above(grade=g, revolutions=turns)
    return 1000 * g / (math.tau * turns / 60)


def unbalance_allowed(g: float, turns: float, mass: float) -> float:
    """The permissible residual unbalance of a whole part (ISO 21940-11:2016; the rounded factor of tables is 9549).

    Formula: U_per = e_per m = 60 000 / (2 pi) G m / n, m in kg

    g: the grade, G in mm/s: 6.3 for G 6.3 [any]
    turns: highest revolutions in use [rpm]
    mass: of the part [g]

    Returns: the unbalance that may stay [g·mm].
    Limits: rotors that keep their shape.
    Raises: Impossible for nothing or less.

    >>> round(unbalance_allowed(6.3, 3000, 10_000), 3)
    200.535
    """
    _above(mass=mass)
    return eccentricity_allowed(g, turns) * mass / 1000


def planes(unbalance: float, to_a: float, to_b: float) -> tuple[float, float]:
    """A permissible unbalance shared out to two planes by the lever (ISO 21940-11:2016, allocation to two planes).

    Formula: U_A = U b / (a + b), U_B = U a / (a + b); half each where a = b

    unbalance: of the whole part [g·mm]
    to_a: from the centre of mass to plane A [mm]
    to_b: from the centre of mass to plane B, on the other side [mm]

    Returns: what may stay in plane A and in plane B; together the whole [g·mm].
    Limits: the centre of mass between the planes; the standard keeps a share from 0.3 to 0.7 (from memory), here it is
    the bare lever. A flat disc needs one plane only.
    Raises: Impossible for a distance of nothing or less.

    >>> planes(200.0, 30, 10)
    (50.0, 150.0)
    """
    _above(unbalance=unbalance, distance=min(to_a, to_b))
    return unbalance * to_b / (to_a + to_b), unbalance * to_a / (to_a + to_b)


def rebore_unbalance(mass: float, off: float) -> float:
    """The unbalance that a new bore off the old axis makes: all of the part turns about it (elementary, from memory).

    Formula: U = m e, e half of what an indicator shows over a turn

    mass: of the part [g]
    off: distance of the new axis from the centre of mass, not the indicator's full swing [mm]

    Returns: the unbalance [g·mm].
    Limits: a part that ran true before; what it had before is not in it.
    Raises: Impossible for a mass of nothing or a distance under nothing.

    >>> rebore_unbalance(10_000, 0.05)
    500.0
    """
    _above(mass=mass)
    if not (off >= 0 and math.isfinite(off)):
        raise Impossible("How far off centre is a size from 0 up: half of what the indicator swings.")
    return mass * off


def unbalance_force(unbalance: float, turns: float) -> float:
    """The force that an unbalance turns round with the part (elementary mechanics; from memory).

    Formula: F = U Omega^2

    unbalance: left in the part [g·mm]
    turns: revolutions a minute [rpm]

    Returns: the force on the bearings together [N].
    Limits: far from any resonance.
    Raises: Impossible for nothing or less.

    >>> round(unbalance_force(200.53, 3000), 2)
    19.79
    """
    _above(unbalance=unbalance, revolutions=turns)
    return unbalance * 1e-6 * (math.tau * turns / 60) ** 2


def off_centre(mass: float, off: float, name: str, turns: float) -> OffCentre:
    """A bore off its centre against what a balance grade allows (ISO 21940-11:2016).

    Formula: m e against U_per

    mass: of the part [g]
    off: distance of the new axis from the centre of mass, not the indicator's full swing [mm]
    name: the grade, such as "G 6.3" [text]
    turns: highest revolutions in use [rpm]

    Returns: both unbalances, their ratio, whether it is over, the sentences to print [g·mm, 1, text].
    Limits: a part that ran true before; one plane.
    Raises: Refused for a grade that is not in the table, Impossible for sizes that cannot be.

    >>> off_centre(10_000, 0.05, "G 6.3", 3000).over
    True
    """
    limit = grade(name)
    made, allowed = rebore_unbalance(mass, off), unbalance_allowed(limit.g, turns, mass)
    ratio, called = made / allowed, f"G {limit.g:g}"
    first = (
        f"A bore {show_length(off, 'in', 4)} ({show_length(off, 'mm', 3)}) off centre leaves "
        f"{significant(made, 3)} g·mm in {show_mass(mass, 'kg')}; {called} leaves room for {significant(allowed, 3)} "
        f"g·mm at {turns:.0f} rpm."
    )
    if ratio > 1:
        second = f"That is {significant(ratio, 2)} times what {called} allows: have the part balanced after the cut."
    else:
        second = f"That is {significant(100 * ratio, 2)} % of it; what the part had before comes on top."
    return OffCentre(made, allowed, ratio, ratio > 1, (first, second, CLOSING))
