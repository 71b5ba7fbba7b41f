"""What a piece is made of, told by its weight: the density it implies, the materials that fit, and mixtures."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from shopapp.bench.cuts import Body, mass_of
from shopapp.bench.errors import Impossible
from shopapp.bench.inputs import Where, inputs, moved
from shopapp.bench.materials import MATERIALS, Material
from shopapp.bench.rounding import fixed
from shopapp.bench.uncertainty import rectangular

NEAR = 0.03  # of a density: what porosity, graphite and paint explain


@dataclass(frozen=True)
class Implied:
    """A density that a weighed piece implies, with its standard uncertainty [g/cm3]."""

    density: float
    u: float

    @property
    def expanded(self) -> float:
        """Twice the standard uncertainty [g/cm3]."""
        return 2 * self.u


@dataclass(frozen=True)
class Fit:
    """How a material stands to a density: how far outside its honest range [g/cm3], and whether U explains that."""

    material: Material
    outside: float
    fits: bool


def mixture(shares: Iterable[tuple[float, float]]) -> float:
    """Density of a mixture whose parts keep their own volume: the rule of specific volumes, from memory.

    Formula: 1/rho = SUM w_i / rho_i

    shares: weight share and density of each part; the shares need not add to 1 [1, g/cm3]

    Returns: the density [g/cm3].
    Limits: alloys shrink or swell by up to 4 % of it, copper with zinc by 3 %.
    Raises: Impossible for a share or density that cannot be.

    >>> round(mixture([(96.7, 7.874), (3.3, 2.2)]), 3)
    7.256
    """
    told = list(shares)
    if not told or any(w < 0 or not rho > 0 for w, rho in told) or not sum(w for w, _ in told) > 0:
        raise Impossible("A mixture needs parts with a share and a density above nothing.")
    return math.fsum(w for w, _ in told) / math.fsum(w / rho for w, rho in told)


def implied(mass: float, mass_u: float, volume: float, volume_u: float) -> Implied:
    """Density of what was weighed, from its mass and its drawn volume (GUM 5.1.2).

    Formula: rho = m / V; (u/rho)^2 = (u_m/m)^2 + (u_V/V)^2

    mass: weighed [g]
    mass_u: its standard uncertainty [g]
    volume: as drawn [mm3]
    volume_u: its standard uncertainty [mm3]

    Returns: the density with its u [g/cm3].
    Limits: the drawing is of the piece as it was weighed, nothing on it and nothing missing.
    Raises: Impossible for nothing weighed or nothing drawn.

    >>> found = implied(1787.5, 1.443, 250_000, 1000)
    >>> round(found.density, 3), round(found.u, 4)
    (7.15, 0.0292)
    """
    if not (mass > 0 and volume > 0):
        raise Impossible("A density needs a piece that weighs something and a part as drawn that is something.")
    density = 1000 * mass / volume
    return Implied(density, density * math.hypot(mass_u / mass, volume_u / volume))


def drawn_volume(
    body: Body, half_width_mm: float, half_widths: Mapping[Where, float] | None = None
) -> tuple[float, float]:
    """Volume of a part as drawn and how sure it is, from what each size was measured with (GUM 5.1.2, 5.1.3 note 2).

    Formula: u_V^2 = SUM ((V(x + u) - V(x - u)) / 2)^2

    body: the part as drawn [mm]
    half_width_mm: how far a size may be off to either side, where nothing better is told [mm]
    half_widths: the same for single sizes, by where they are typed [mm]

    Returns: the volume and its standard uncertainty [mm3].
    Limits: sizes independent of each other.
    Raises: Impossible for a body that cannot be, also when a size is off by its u.

    >>> from shopapp.bench.outline import Ring
    >>> [round(x, 1) for x in drawn_volume(Body((Ring(20, 0, 0, 10),)), 0.1)]
    [3141.6, 25.7]
    """
    shifts = []
    for one in inputs(body, (), half_width_mm, half_widths):
        own = rectangular(one.half_width)
        ends = [moved(body, (), one, by)[0] for by in (own, -own)]
        larger, smaller = (mass_of(end, 1000.0) for end in ends if end is not None)
        shifts.append((larger - smaller) / 2)
    return mass_of(body, 1000.0), math.hypot(*shifts)


def fits(found: Implied, materials: Sequence[Material] = tuple(MATERIALS.values())) -> tuple[Fit, ...]:
    """How each material stands to a density, the nearest first; common practice, no source.

    Formula: fits where the density's range rho - U to rho + U meets the material's own

    found: the density with its u [g/cm3]
    materials: the rows to look through [g/cm3]

    Returns: every row with how far the density is outside its range [g/cm3].
    Limits: a weight tells no two materials apart whose ranges overlap.

    >>> fits(Implied(1.16, 0.01))[0].material.words
    'nylon 6'
    """
    rows = []
    for row in materials:
        outside = max(0.0, row.low - found.density, found.density - row.high)
        rows.append(Fit(row, outside, outside <= found.expanded))
    return tuple(sorted(rows, key=lambda fit: (fit.outside, abs(found.density - fit.material.nominal))))


def material_told(
    found: Implied, claimed: Material | None = None, materials: Sequence[Material] = tuple(MATERIALS.values())
) -> str:
    """What a piece seems to be made of, in one sentence; common practice, no source.

    Formula: the material nearest to the density by `fits`, then the one claimed, said to fit or not

    found: the density with its u [g/cm3]
    claimed: what it is said to be, None if nobody says [g/cm3]
    materials: the rows to look through [g/cm3]

    Returns: such as "1.16 g/cm³: near nylon 6, not ductile iron 7.10" [text].
    Limits: a weight tells no two irons apart; what it fits it need not be.

    >>> material_told(Implied(1.16, 0.01), MATERIALS["ductile_iron"])
    '1.16 g/cm³: near nylon 6, not ductile iron 7.10'
    """
    said = f"{fixed(found.density, 2)} g/cm³"
    rows = fits(found, [*materials, *([claimed] if claimed and claimed not in materials else [])])
    near = [fit for fit in rows if fit.fits or fit.outside <= NEAR * found.density]
    called = f"{claimed.words} {fixed(claimed.nominal, 2)}" if claimed else ""
    if claimed and any(fit.material == claimed and fit.fits for fit in near):
        return f"{said}: fits {called}"
    names = " or ".join(fit.material.words for fit in near[:3])
    seems = f"near {names}" if names else "near no material of the table"
    return f"{said}: {seems}, not {called}" if claimed else f"{said}: {seems}"
