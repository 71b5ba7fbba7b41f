"""What spins: rim speed and the stress that turning puts into a plain ring or disc, as information only.

These sums are for a ring or a flat disc with nothing in it. They know no webs, holes, keyways, bolts or flaws of a
casting, so no speed rating follows from them; every sheet that comes out of here says so.
"""

import math
from dataclasses import dataclass

from shopapp.bench.errors import Impossible
from shopapp.bench.outline import both
from shopapp.bench.rounding import fixed, significant

CLASSICAL = 30.48  # m/s, 100 ft/s: ICS Shop Practice, pulley rims of cast iron
_FOOT = 0.3048

RATING = "Information only: no speed rating given. Ask the maker of the part or a licensed engineer."
UNKNOWN = (
    "These sums are for a plain ring or disc. They know no webs, keyways, bolts or flaws of a casting, "
    "and a drilled hole alone makes the stress beside it two or three times as high."
)


@dataclass(frozen=True)
class Peaks:
    """The highest stresses of a flat disc or annulus [MPa], where they are [mm, diameter], hoop at the rim and mean."""

    hoop: float
    hoop_at: float
    radial: float
    radial_at: float
    rim: float
    mean: float


@dataclass(frozen=True)
class Spin:
    """A part at a stated speed [rpm, m/s, MPa], whether over the classical limit for cast iron, and its sentences.

    `classical_turns` is where the rim reaches that limit [rpm], None where the part is not of cast iron.
    """

    turns: float
    rim_speed: float
    ring: float
    peaks: Peaks
    over: bool
    classical_turns: float | None
    sentences: tuple[str, ...]


def _above(**told: float) -> None:
    for name, value in told.items():
        if not (value > 0 and math.isfinite(value)):
            raise Impossible(f"Type the {name}: it is a number above nothing.")


def _checked(outside: float, bore: float, turns: float, density: float, poisson: float) -> None:
    _above(diameter=outside, revolutions=turns, density=density)
    if not 0 <= bore < outside:
        raise Impossible(f"A bore of Ø {both(bore)} does not fit into Ø {both(outside)}. Are they swapped?")
    if not 0 <= poisson <= 0.5:
        raise Impossible("Poisson's ratio is from 0 to 0.5: about 0.26 for cast iron, 0.29 for steel.")


def rim_speed(diameter: float, turns: float) -> float:
    """How fast a rim runs (Machinery's Handbook, cutting speed formula; elementary).

    Formula: v = pi D n / 60 000

    diameter: over the rim, outside [mm]
    turns: revolutions a minute [rpm]

    Returns: the speed at the outside [m/s].
    Limits: a diameter, never a radius.
    Raises: Impossible for nothing or less.

    >>> round(rim_speed(225.425, 1800), 2)
    21.25
    """
    _above(diameter=diameter, revolutions=turns)
    return math.pi * diameter * turns / 60_000


def turns_at(diameter: float, speed: float) -> float:
    """At what revolutions a rim reaches a speed: rim speed turned round (Machinery's Handbook; elementary).

    Formula: n = 60 000 v / (pi D)

    diameter: over the rim, outside [mm]
    speed: of the rim [m/s]

    Returns: revolutions a minute [rpm].
    Limits: the rim itself; information only, not a speed that the part is good for.
    Raises: Impossible for nothing or less.

    >>> round(turns_at(225.425, 30.48))
    2582
    """
    _above(diameter=diameter, speed=speed)
    return 60_000 * speed / (math.pi * diameter)


def ring_stress(density: float, speed: float) -> float:
    """Hoop stress in a thin ring that turns (Mechanical Engineer's Data Handbook, p. 15).

    Formula: s = rho v^2, whatever its section

    density: of the material [g/cm3]
    speed: of the ring at its middle; the outside gives a bound for any annulus [m/s]

    Returns: the stress [MPa].
    Limits: thin against its diameter, no spokes or web that hold it.
    Raises: Impossible for nothing or less.

    >>> round(ring_stress(7.2, 30.48), 3)
    6.689
    """
    _above(density=density, speed=speed)
    return density * speed * speed / 1000


def ring_speed(density: float, stress: float) -> float:
    """The speed at which a thin ring has a stress: ring stress the other way round (Data Handbook, p. 15).

    Formula: v = sqrt(s / rho)

    density: of the material [g/cm3]
    stress: hoop stress [MPa]

    Returns: the speed of the ring [m/s].
    Limits: a sum about a stress, no speed to run at.
    Raises: Impossible for nothing or less.

    >>> round(ring_speed(7.85, 150), 2)
    138.23
    """
    _above(density=density, stress=stress)
    return math.sqrt(1000 * stress / density)


def _load(turns: float, density: float, poisson: float) -> float:
    """rho w^2 (3 + nu) / 8, in MPa for each mm2 of radius squared."""
    omega = math.tau * turns / 60
    return density * omega * omega * (3 + poisson) / 8 * 1e-9


def hoop(outside: float, bore: float, at: float, turns: float, density: float, poisson: float) -> float:
    """Hoop stress in a flat disc or annulus that turns.

    Shigley and Mischke, 5th ed. (annulus); Mechanical Engineer's Data Handbook, p. 15 (solid disc).

    Formula: rho w^2 (3+nu)/8 [ri^2 + ro^2 + ri^2 ro^2/r^2 - (1+3nu)/(3+nu) r^2]

    outside: outside diameter [mm]
    bore: its diameter, 0 if solid [mm]
    at: the diameter where it is wanted [mm]
    turns: revolutions a minute [rpm]
    density: of the material [g/cm3]
    poisson: Poisson's ratio [1]

    Returns: the stress [MPa].
    Limits: even thickness, thin against the diameter, nothing in it but the bore.
    Raises: Impossible for sizes that cannot be.

    >>> round(hoop(300, 40, 40, 3000, 7.2, 0.26), 4)
    13.0834
    """
    _checked(outside, bore, turns, density, poisson)
    if not bore <= at <= outside:
        raise Impossible(f"There is no metal at Ø {both(at)}: take one from the bore to the outside.")
    ri, ro, r = bore / 2, outside / 2, at / 2
    through = (ri * ro / r) ** 2 if bore else 0.0
    shape = ri**2 + ro**2 + through - (1 + 3 * poisson) / (3 + poisson) * r**2
    return _load(turns, density, poisson) * shape


def radial(outside: float, bore: float, at: float, turns: float, density: float, poisson: float) -> float:
    """Radial stress in a flat disc or annulus that turns.

    Shigley and Mischke, 5th ed. (annulus); Mechanical Engineer's Data Handbook, p. 15 (solid disc).

    Formula: rho w^2 (3+nu)/8 [ri^2 + ro^2 - ri^2 ro^2/r^2 - r^2]

    outside: outside diameter [mm]
    bore: its diameter, 0 if solid [mm]
    at: the diameter where it is wanted [mm]
    turns: revolutions a minute [rpm]
    density: of the material [g/cm3]
    poisson: Poisson's ratio [1]

    Returns: the stress, nothing at the bore and at the outside [MPa].
    Limits: even thickness, thin against the diameter, nothing pressed into the bore.
    Raises: Impossible for sizes that cannot be.

    >>> round(radial(300, 40, 109.5445, 3000, 7.2, 0.26), 4)
    4.8938
    """
    _checked(outside, bore, turns, density, poisson)
    if not bore <= at <= outside:
        raise Impossible(f"There is no metal at Ø {both(at)}: take one from the bore to the outside.")
    ri, ro, r = bore / 2, outside / 2, at / 2
    through = (ri * ro / r) ** 2 if bore else 0.0
    return _load(turns, density, poisson) * (ri**2 + ro**2 - through - r**2)


def mean_hoop(outside: float, bore: float, turns: float, density: float) -> float:
    """Mean hoop stress across a disc or annulus that turns; equilibrium of one half (elementary, from memory).

    Some tables print this as the stress of a rotating disc. It is the mean: the peak is 1.2 times as much in a solid
    disc and more than twice as much at a bore, so the peak is what this bench shows and the mean stands beside it.

    Formula: rho w^2 (ro^2 + ro ri + ri^2) / 3

    outside: outside diameter [mm]
    bore: its diameter, 0 if solid [mm]
    turns: revolutions a minute [rpm]
    density: of the material [g/cm3]

    Returns: the mean of the hoop stress from bore to outside [MPa].
    Limits: even thickness; not a peak.
    Raises: Impossible for sizes that cannot be.

    >>> round(mean_hoop(300, 40, 3000, 7.2), 4)
    6.1349
    """
    _checked(outside, bore, turns, density, 0.0)
    ri, ro, omega = bore / 2, outside / 2, math.tau * turns / 60
    return density * omega * omega * (ro * ro + ro * ri + ri * ri) / 3 * 1e-9


def peaks(outside: float, bore: float, turns: float, density: float, poisson: float = 0.3) -> Peaks:
    """The highest stresses of a flat disc or annulus that turns.

    Shigley and Mischke, 5th ed. (annulus); Mechanical Engineer's Data Handbook, p. 15 (solid disc).
    One web page sets the brackets of the bored maximum wrongly; this one is the stress at the bore itself.

    Formula: hoop at the bore rho w^2/4 [(3+nu) ro^2 + (1-nu) ri^2]; radial rho w^2 (3+nu)/8 (ro-ri)^2 at
    r = sqrt(ri ro); solid: both rho w^2 (3+nu)/8 ro^2 at the middle

    outside: outside diameter [mm]
    bore: its diameter, 0 if solid [mm]
    turns: revolutions a minute [rpm]
    density: of the material [g/cm3]
    poisson: Poisson's ratio [1]

    Returns: hoop and radial with their diameters, hoop at the rim, mean hoop [MPa, mm].
    Limits: even thickness, nothing in it but the bore; the smallest bore doubles the peak.
    Raises: Impossible for sizes that cannot be.

    >>> round(peaks(250, 0, 14000, 7.85).hoop, 3)
    108.749
    """
    where = math.sqrt(bore * outside)
    return Peaks(
        hoop=hoop(outside, bore, bore, turns, density, poisson), hoop_at=bore,
        radial=radial(outside, bore, where, turns, density, poisson), radial_at=where,
        rim=hoop(outside, bore, outside, turns, density, poisson), mean=mean_hoop(outside, bore, turns, density),
    )


def peak_turns(stress: float, outside: float, bore: float, density: float, poisson: float = 0.3) -> float:
    """At what revolutions the peak of a plain disc reaches a stress.

    Shigley and Mischke, 5th ed. (annulus); Mechanical Engineer's Data Handbook, p. 15 (solid disc).

    Formula: n = n1 sqrt(s / s1), the stress grows with the square of the revolutions

    stress: hoop stress at the bore, or at the middle of a solid disc [MPa]
    outside: outside diameter [mm]
    bore: its diameter, 0 if solid [mm]
    density: of the material [g/cm3]
    poisson: Poisson's ratio [1]

    Returns: revolutions a minute [rpm].
    Limits: a sum about a stress, no speed to run at; even thickness, nothing in it but the bore.
    Raises: Impossible for sizes that cannot be.

    >>> round(peak_turns(108.749, 250, 0, 7.85))
    14000
    """
    _above(stress=stress)
    return 1000 * math.sqrt(stress / peaks(outside, bore, 1000, density, poisson).hoop)


def _speed(speed: float) -> str:
    return f"{significant(speed, 3)} m/s ({fixed(speed * 60 / _FOOT, -1)} ft/min)"


def _loud(speed: float, turns: float) -> str:
    if speed > CLASSICAL:
        return (
            f"TOO FAST FOR THE CLASSICAL LIMIT: {_speed(speed)} is over 100 ft/s (30.48 m/s), the old limit for rims "
            f"of cast iron (ICS Shop Practice). A casting that bursts kills. It is reached at {turns:.0f} rpm."
        )
    return (
        f"The old limit for rims of cast iron, 100 ft/s (30.48 m/s, ICS Shop Practice), is reached at {turns:.0f} rpm. "
        "To be under it is no promise: rims with joints hold a quarter as much."
    )


def spin(
    outside: float, bore: float, turns: float, density: float, cast_iron: bool = True, poisson: float = 0.26
) -> Spin:
    """What can be said of a part at the speed a customer states; limit for cast iron rims common practice, no source.

    Formula: those of rim_speed, ring_stress and peaks; over the classical limit where v > 30.48 m/s

    outside: the largest diameter that turns [mm]
    bore: its diameter, 0 if solid [mm]
    turns: the highest revolutions the customer states [rpm]
    density: of the material [g/cm3]
    cast_iron: whether it is cast iron of any kind [yes/no]
    poisson: Poisson's ratio [1]

    Returns: speed, stresses, whether over the limit, the sentences to print [m/s, MPa, text].
    Limits: information only; the limit is for cast iron and comes from a text book of pulleys, not from a test.
    Raises: Impossible for sizes that cannot be.

    >>> spin(225.425, 44.45, 1800, 7.1).sentences[-1]
    'Information only: no speed rating given. Ask the maker of the part or a licensed engineer.'
    """
    found = peaks(outside, bore, turns, density, poisson)
    speed = rim_speed(outside, turns)
    ring, limit = ring_stress(density, speed), turns_at(outside, CLASSICAL) if cast_iron else None
    where = f"at the bore, Ø {both(bore)}" if bore else "at the middle"
    said = (
        f"At {turns:.0f} rpm the outside, Ø {both(outside)}, runs {_speed(speed)}.",
        f"A thin ring there would have {significant(ring, 3)} MPa; a plain flat disc has its highest stress {where}: "
        f"about {significant(found.hoop, 3)} MPa.",
        *([_loud(speed, limit)] if limit is not None else []),
        UNKNOWN,
        RATING,
    )
    return Spin(turns, speed, ring, found, limit is not None and speed > CLASSICAL, limit, said)
