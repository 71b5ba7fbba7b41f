"""How sure a predicted removal is: its uncertainty by the GUM, from the density's range and from every size.

Density and sizes are each taken as rectangular over their half-width (GUM 4.3.7), how far each one moves the mass is
found by moving it by its own standard uncertainty both ways (GUM 5.1.3, note 2), and the parts add as squares.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from shapely import union_all

from shopapp.bench.cuts import Body, Cut, metal, taken_volume
from shopapp.bench.errors import BenchError, Impossible
from shopapp.bench.inputs import Input, Where, inputs, moved
from shopapp.bench.outline import outline
from shopapp.bench.regions import swept

ROOT_THREE = math.sqrt(3)
_NOTHING = 1e-12  # of the mass: a size that moves it less has no part in it


@dataclass(frozen=True)
class Contribution:
    """What one input adds: its value, its own standard uncertainty [mm or g/cm3], u of the mass by it [g], its share.

    `slope` is how much the mass grows with it [g per mm or per g/cm3]; shares are of u squared and add to 1.
    """

    name: str
    value: float
    own_u: float
    slope: float
    u: float
    share: float


@dataclass(frozen=True)
class Prediction:
    """A predicted mass, its standard and expanded uncertainty, its two ends [g], and what it is uncertain from."""

    mass: float
    u: float
    expanded: float
    low: float
    high: float
    contributions: tuple[Contribution, ...]


def rectangular(half_width: float) -> float:
    """Standard uncertainty of what lies anywhere within a half-width alike (GUM 4.3.7).

    Formula: u = a / sqrt(3)

    half_width: a, to either side [any]

    Returns: u [any].
    Limits: nothing beyond the half-width; where the middle is likelier this says more than there is.

    >>> round(rectangular(0.1), 5)
    0.05774
    """
    return half_width / ROOT_THREE


def product(volume: float, volume_u: float, density: float, density_u: float) -> tuple[float, float]:
    """Mass of a volume and its uncertainty, the two factors independent (GUM 5.1.2).

    Formula: m = rho V; u^2 = (rho u_V)^2 + (V u_rho)^2

    volume: V [mm3]
    volume_u: its standard uncertainty [mm3]
    density: rho [g/cm3]
    density_u: its standard uncertainty [g/cm3]

    Returns: m and its standard uncertainty [g].
    Limits: the two know nothing of each other, and both are small beside their values.

    >>> [round(x, 3) for x in product(250_000, 1000, 7.15, rectangular(0.1))]
    [1787.5, 16.108]
    """
    return density * volume / 1000, math.hypot(density * volume_u, volume * density_u) / 1000


def slope(body: Body | None, cuts: Sequence[Cut], one: Input, by: float) -> float:
    """How much volume the cuts take more for a size that is larger: central difference (GUM 5.1.3, note 2).

    Formula: (V(x + h) - V(x - h)) / 2 h; at the end of what can be, from one side

    body: the part as drawn, None for the cuts alone [mm]
    cuts: in order [mm]
    one: the size [mm]
    by: the step h [mm]

    Returns: the growth of the volume with the size [mm2].
    Limits: a straight line through the two steps.
    Raises: Impossible or Refused where the size can be neither larger nor smaller.

    >>> turn = Cut("A", "turn", {"from": 20, "to": 10, "start": 0, "end": 4})
    >>> round(slope(None, [turn], inputs(None, [turn], 0.1)[0], 0.01) / (math.pi * 20 / 2 * 4), 9)
    1.0
    """
    if body is not None and all(kind == "void" for kind, _, _ in one.where):
        drawn = outline(body.parts)
        region = union_all(swept([(cut.side, cut.kind, cut.sizes) for cut in cuts], drawn)).intersection(drawn)
        touched = sorted({i for _, i, _ in one.where})

        def volume(h: float) -> float:
            again, _ = moved(body, cuts, one, h)
            return metal(region, [again.voids[i] for i in touched]) if again else 0.0
    else:

        def volume(h: float) -> float:
            return taken_volume(*moved(body, cuts, one, h))

    ends: list[tuple[float, float]] = []
    last: BenchError | None = None
    for h in (by, -by):
        try:
            ends.append((h, volume(h)))
        except BenchError as error:
            last = error
    if len(ends) == 1:
        ends.append((0.0, volume(0.0)))
    if last is not None and not ends:
        raise last
    (h1, v1), (h2, v2) = ends
    return (v1 - v2) / (h1 - h2)


def predict(
    body: Body | None,
    cuts: Sequence[Cut],
    nominal: float,
    low: float,
    high: float,
    half_width_mm: float,
    half_widths: Mapping[Where, float] | None = None,
) -> Prediction:
    """A removal with its uncertainty, from the density's honest range and what each size was measured with (GUM 5.1.2).

    Formula: m = rho V; u^2 = SUM (slope_i u_i)^2, u_i = half-width / sqrt(3), of the density (high - low) / sqrt(12)
    (GUM 4.3.8); U = 2 u, the mass lies from m - U to m + U.

    body: the part as drawn, None for the cuts alone [mm]
    cuts: in order [mm]
    nominal: density of the material [g/cm3]
    low: the least it honestly is [g/cm3]
    high: the most it honestly is [g/cm3]
    half_width_mm: how far a size may be off to either side, where nothing better is told [mm]
    half_widths: the same for single sizes, by where they are typed [mm]

    Returns: mass, u, U, both ends, and the contributions, largest first [g].
    Limits: sizes independent of each other, each moving the mass in proportion to how far it is off.
    Raises: Impossible for a density outside its own range; Refused or Impossible for the cuts' own sizes.

    >>> turn = Cut("A", "turn", {"from": 200, "to": 190, "start": 0, "end": 10})
    >>> found = predict(None, [turn], 7.85, 7.82, 7.88, 0.05)
    >>> round(found.mass, 2), round(found.expanded, 2), found.contributions[0].name
    (240.45, 2.63, '“outside Ø now” of cut 1, side A, turn outside')
    """
    if not (0 < low <= nominal <= high and math.isfinite(high)):
        raise Impossible("A density lies within its own range: give the least, the usual and the most, in g/cm³.")
    volume = taken_volume(body, cuts)
    density_u = (high - low) / math.sqrt(12)
    rows = [("density of the material", nominal, density_u, volume / 1000)]
    for one in inputs(body, cuts, half_width_mm, half_widths):
        own = rectangular(one.half_width)
        if own > 0:
            rows.append((one.name, one.value, own, nominal / 1000 * slope(body, cuts, one, own)))
    return _combined(nominal * volume / 1000, rows)


def _combined(mass: float, rows: Sequence[tuple[str, float, float, float]]) -> Prediction:
    u = math.hypot(*(own * per for _, _, own, per in rows))
    parts = [
        Contribution(name, value, own, per, abs(own * per), (own * per / u) ** 2 if u else 0.0)
        for name, value, own, per in rows
        if abs(own * per) > _NOTHING * abs(mass)
    ]
    parts.sort(key=lambda part: -part.u)
    return Prediction(mass, u, 2 * u, max(0.0, mass - 2 * u), mass + 2 * u, tuple(parts))
