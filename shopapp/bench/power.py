"""Cutting force and power by group of material, and whether the motor has it.

Two ways that do not share a table: specific cutting force over chip thickness (Kienzle), and unit power by hardness.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from shopapp.bench.errors import Impossible, Refused
from shopapp.bench.rounding import fixed

HORSEPOWER = 0.745699872  # kW; 550 ft·lbf/s, NIST SP 811, App. B

_NEARLY = 1 + 1e-9


@dataclass(frozen=True)
class Group:
    """A VDI 3323 group: force on a chip of 1 mm by 1 mm [N/mm2], exponent, and what another edition gives."""

    number: int
    words: str
    kc1: float
    mc: float
    other: tuple[float, float] | None = None


@dataclass(frozen=True)
class Load:
    """What a cut asks of the machine [N/mm2, N, kW], whether the motor has it, what is left [kW], the sentence."""

    specific: float
    force: float
    cutting: float
    motor: float
    enough: bool | None
    spare: float | None
    words: str


# An edge maker's catalogue of boring systems, 2022, p. 111; names of the groups in short, partly from memory.
# The maker's turning catalogue of 2017 gives other values for 36 and 37, kept beside them, and exchanges the names of
# 15-16 and 17-18.
_ROWS: tuple[tuple[int, str, float, float], ...] = (
    (1, "unalloyed steel under .25 % C, annealed", 1350, 0.21),
    (2, "unalloyed steel from .25 % C, annealed", 1500, 0.22),
    (3, "unalloyed steel under .55 % C, quenched and tempered", 1675, 0.24),
    (4, "unalloyed steel from .55 % C, annealed", 1700, 0.24),
    (5, "unalloyed steel from .55 % C, quenched and tempered", 1900, 0.24),
    (6, "low-alloy steel, annealed", 1775, 0.24), (7, "low-alloy steel, quenched and tempered", 1675, 0.24),
    (8, "low-alloy steel, quenched and tempered, harder", 1725, 0.24),
    (9, "low-alloy steel, quenched and tempered, hardest", 1800, 0.24),
    (10, "high-alloy or tool steel, annealed", 2450, 0.23),
    (11, "high-alloy or tool steel, quenched and tempered", 2500, 0.23),
    (12, "stainless steel, ferritic or martensitic", 1875, 0.21), (13, "stainless steel, martensitic", 1875, 0.21),
    (14, "stainless steel, austenitic", 2150, 0.20), (15, "grey iron, ferritic or pearlitic", 1150, 0.20),
    (16, "grey iron, pearlitic", 1350, 0.28), (17, "ductile iron, ferritic", 1225, 0.25),
    (18, "ductile iron, pearlitic", 1350, 0.28), (19, "malleable iron, ferritic", 1225, 0.25),
    (20, "malleable iron, pearlitic", 1420, 0.30), (21, "aluminium, wrought", 700, 0.25),
    (22, "aluminium, wrought and aged", 800, 0.25), (23, "aluminium, cast", 700, 0.25),
    (24, "aluminium, cast and aged", 700, 0.25), (25, "aluminium, cast, over 12 % Si", 750, 0.25),
    (26, "copper alloy, free-cutting", 700, 0.27), (27, "brass", 700, 0.27), (28, "bronze", 700, 0.27),
    (31, "heat-resistant alloy, iron base, annealed", 2600, 0.24),
    (32, "heat-resistant alloy, iron base, aged", 3100, 0.24),
    (33, "heat-resistant alloy, nickel or cobalt base, annealed", 3300, 0.24),
    (34, "heat-resistant alloy, nickel or cobalt base, aged", 3300, 0.24),
    (35, "heat-resistant alloy, nickel or cobalt base, cast", 3300, 0.24),
    (36, "titanium, pure", 1160, 0.24), (37, "titanium, alpha and beta", 1245, 0.24),
)  # fmt: skip
_OTHER = {36: (1700.0, 0.23), 37: (2110.0, 0.22)}

GROUPS: dict[int, Group] = {
    number: Group(number, words, kc1, mc, _OTHER.get(number)) for number, words, kc1, mc in _ROWS
}

# The group that a material of the shop's table is taken for; common practice, no source.
GROUP_OF = {
    "grey_iron": 15, "ductile_iron": 17, "cast_steel": 2, "carbon_steel": 2, "alloy_steel": 6, "stainless_304": 14,
    "aluminium_6061": 22, "aluminium_cast": 24, "brass_360": 26, "bronze_660": 28, "titanium": 37,
}  # fmt: skip

# Machinery's Handbook 31, p. 1147: plain carbon steels, hardness from and to, hp/(in3/min), kW/(cm3/s).
UNIT_POWER: tuple[tuple[int, int, float, float], ...] = (
    (80, 100, 0.63, 1.72), (100, 120, 0.66, 1.80), (120, 140, 0.69, 1.88), (140, 160, 0.74, 2.02),
    (160, 180, 0.78, 2.13), (180, 200, 0.82, 2.24), (200, 220, 0.85, 2.32),
)  # fmt: skip


def _above(**sizes: float) -> None:
    for name, size in sizes.items():
        if not (size > 0 and math.isfinite(size)):
            raise Impossible(f"The {name.replace('_', ' ')} has to be above 0.")


def group(key: int | str) -> Group:
    """A group of materials by its number or by a material of the shop's table (groups of VDI 3323, catalogue p. 111).

    Formula: none; a row of the table of groups

    key: number of the group, or key of the material [1]

    Returns: the group [N/mm2].
    Limits: groups 29, 30 and 38 to 41 are not in the table.
    Raises: Refused for one that is not in the table.

    >>> group("grey_iron").kc1
    1150
    """
    number = GROUP_OF.get(key) if isinstance(key, str) else key
    if number not in GROUPS:
        raise Refused(f"No cutting force is on record for {key}. Pick a group: 1 to 28 or 31 to 37.")
    return GROUPS[number]


def chip_thickness(feed: float, approach: float = 90.0) -> float:
    """Thickness of the chip across the edge (elementary geometry; from memory).

    Formula: h = f sin(approach angle)

    feed: per revolution [mm]
    approach: angle between edge and feed, 90 for a square shoulder [deg]

    Returns: the thickness [mm].
    Limits: nose radius left aside.
    Raises: Impossible for a feed that is not above 0 or an angle that is none.

    >>> round(chip_thickness(0.25, 75), 5)
    0.24148
    """
    _above(feed=feed)
    if not 0 < approach <= 90:
        raise Impossible("The approach angle lies above 0 and up to 90 degrees.")
    return feed * math.sin(math.radians(approach))


def specific_force(kc1: float, mc: float, thickness: float) -> float:
    """Specific cutting force of a chip of some thickness (Kienzle; from memory).

    Formula: kc = kc1 · h^-mc

    kc1: on a chip of 1 mm by 1 mm [N/mm2]
    mc: exponent of the material [1]
    thickness: of the chip [mm]

    Returns: kc [N/mm2].
    Limits: chips of about 0.05 to 1 mm; sharp tool, rake as in the table.
    Raises: Impossible for a size that is not above 0.

    >>> round(specific_force(1150, 0.20, 0.25), 2)
    1517.43
    """
    _above(specific_force=kc1, chip_thickness=thickness)
    return float(kc1 * thickness**-mc)


def cutting_power(depth: float, feed: float, speed: float, specific: float) -> float:
    """Power at the edge (force times speed; from memory).

    Formula: P = ap f V kc / 60 000

    depth: of cut [mm]
    feed: per revolution [mm]
    speed: cutting speed [m/min]
    specific: cutting force [N/mm2]

    Returns: the power [kW].
    Limits: main force alone; the feed takes little beside it.
    Raises: Impossible for a size that is not above 0.

    >>> round(cutting_power(3, 0.2, 120, 3100), 3)
    3.72
    """
    _above(depth=depth, feed=feed, cutting_speed=speed, specific_force=specific)
    return depth * feed * speed * specific / 60_000


def motor_power(cutting: float, efficiency: float = 0.8) -> float:
    """Power asked of the motor for a power at the edge (Machinery's Handbook 31, on machining power: Pm = Pc / E).

    Formula: P = Pc / efficiency

    cutting: power at the edge [kW]
    efficiency: of the drive from motor to spindle [share]

    Returns: the power [kW].
    Limits: a gear or belt drive; 0.8 is the usual guess.
    Raises: Impossible for an efficiency that is not above 0 and up to 1.

    >>> round(motor_power(3.72), 3)
    4.65
    """
    if not 0 < efficiency <= 1:
        raise Impossible("The efficiency of the drive lies above 0 and up to 1, such as 0.8.")
    return cutting / efficiency


def _kilowatts(power: float) -> str:
    return f"{fixed(power, 2)} kW ({fixed(power / HORSEPOWER, 1)} hp)"


def against(motor: float, rating: float | None) -> tuple[bool | None, float | None, str]:
    """Whether the motor has the power, and by how much (common practice, no source).

    Formula: spare = rating - asked

    motor: power asked of the motor [kW]
    rating: of the motor; None if it was not said [kW]

    Returns: whether it is enough, what is left, a sentence [kW].
    Limits: the rating is for running on, a motor gives more for a moment.
    Raises: Impossible for a rating that is not above 0.

    >>> against(1.58, 1.5)[2]
    'Asks 1.58 kW (2.1 hp) of the motor: 0.08 kW (0.1 hp) too much for it. Take less depth, feed or speed.'
    """
    asks = f"Asks {_kilowatts(motor)} of the motor"
    if rating is None:
        return None, None, f"{asks}."
    _above(rating_of_the_motor=rating)
    spare = rating - motor
    if motor <= rating * _NEARLY:
        return True, spare, f"{asks}: it has that, {_kilowatts(max(spare, 0.0))} to spare."
    return False, spare, f"{asks}: {_kilowatts(-spare)} too much for it. Take less depth, feed or speed."


def load(
    key: int | str,
    depth: float,
    feed: float,
    speed: float,
    approach: float = 90.0,
    efficiency: float = 0.8,
    rating: float | None = None,
) -> Load:
    """What a cut asks of the machine, by its group of material (Kienzle, from memory; table as named beside it).

    Formula: h = f sin(approach), kc = kc1 h^-mc, F = kc ap f, P = F V / 60 000, motor = P / efficiency

    key: number of the group, or key of the material [1]
    depth: of cut [mm]
    feed: per revolution [mm]
    speed: cutting speed [m/min]
    approach: angle between edge and feed [deg]
    efficiency: of the drive [share]
    rating: of the motor, if known [kW]

    Returns: specific force, force, power at the edge, power of the motor, whether enough, spare, words [N/mm2, N, kW].
    Limits: to about a fifth; a worn tool asks for more.
    Raises: Refused for a group without a row, Impossible for a size that is not above 0.

    >>> found = load("grey_iron", 2, 0.25, 100)
    >>> round(found.specific, 2), round(found.force, 2), round(found.cutting, 4), round(found.motor, 4)
    (1517.43, 758.72, 1.2645, 1.5807)
    """
    row = group(key)
    kc = specific_force(row.kc1, row.mc, chip_thickness(feed, approach))
    cutting = cutting_power(depth, feed, speed, kc)
    motor = motor_power(cutting, efficiency)
    enough, spare, words = against(motor, rating)
    return Load(kc, kc * depth * feed, cutting, motor, enough, spare, words)


def unit_power(hardness: float) -> float:
    """Unit power of plain carbon steels by their hardness (Machinery's Handbook 31, p. 1147).

    Formula: the table's row; on the edge between two rows the higher

    hardness: Brinell [1]

    Returns: power for each cm3 in a second [kW/(cm3/s)].
    Limits: 80 to 220 Brinell; feed and wear factors are not in it.
    Raises: Refused outside the table.

    >>> unit_power(190), unit_power(200)
    (2.24, 2.32)
    """
    found = [per for low, high, _, per in UNIT_POWER if low <= hardness <= high]
    if not found:
        raise Refused("Unit power is on record for 80 to 220 Brinell. Go by the group of the material instead.")
    return found[-1]


def power_by_hardness(rate: float, hardness: float, feed_factor: float = 1.0, wear_factor: float = 1.0) -> float:
    """Power at the edge by hardness and removal rate (Machinery's Handbook 31, p. 1147: Pc = Kp C Q W).

    Formula: P = Kp · C · Q · W

    rate: metal removed in a minute [mm3/min]
    hardness: Brinell [1]
    feed_factor: C, 1 at the table's feed [1]
    wear_factor: W, 1 for a sharp tool [1]

    Returns: the power [kW].
    Limits: plain carbon steels.
    Raises: Refused for a hardness outside the table, Impossible for a size that is not above 0.

    >>> round(power_by_hardness(29497, 190), 3)
    1.101
    """
    _above(removal_rate=rate, feed_factor=feed_factor, wear_factor=wear_factor)
    return unit_power(hardness) * feed_factor * wear_factor * rate / 60_000
