"""A weight tells iron from nylon; mixtures of elements stand near the alloys of the table."""

import math

import periodictable
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench.cuts import Body, mass_of
from shopapp.bench.densities import Implied, drawn_volume, fits, implied, material_told, mixture
from shopapp.bench.errors import Impossible
from shopapp.bench.materials import MATERIALS, own
from shopapp.bench.outline import Lump, Ring
from tests.bench.bodies import WHEEL

IRON = MATERIALS["ductile_iron"]

# Nominal compositions in per cent by weight, from memory; what is small is left out.
ALLOYS = {
    "carbon_steel": {"Fe": 98.7, "Mn": 0.8, "C": 0.45},
    "alloy_steel": {"Fe": 97.0, "Cr": 1.0, "Mn": 0.85, "C": 0.4, "Si": 0.25, "Mo": 0.2},
    "cast_steel": {"Fe": 98.5, "Mn": 0.8, "Si": 0.45, "C": 0.25},
    "grey_iron": {"Fe": 94.0, "C": 3.3, "Si": 2.0, "Mn": 0.7},
    "ductile_iron": {"Fe": 93.8, "C": 3.6, "Si": 2.4, "Mn": 0.2},
    "stainless_304": {"Fe": 70.5, "Cr": 18.5, "Ni": 9.0, "Mn": 1.5, "Si": 0.5},
    "stainless_316": {"Fe": 67.5, "Cr": 17.0, "Ni": 11.0, "Mo": 2.2, "Mn": 1.6, "Si": 0.5},
    "aluminium_6061": {"Al": 97.9, "Mg": 1.0, "Si": 0.6, "Cu": 0.28, "Cr": 0.2},
    "aluminium_7075": {"Al": 90.0, "Zn": 5.6, "Mg": 2.5, "Cu": 1.6, "Cr": 0.23},
    "aluminium_cast": {"Al": 92.5, "Si": 7.0, "Mg": 0.35},
    "brass_360": {"Cu": 61.5, "Zn": 35.5, "Pb": 3.0},
    "brass_464": {"Cu": 60.0, "Zn": 39.25, "Sn": 0.75},
    "bronze_660": {"Cu": 83.0, "Sn": 7.0, "Pb": 7.0, "Zn": 3.0},
    "zinc_cast": {"Zn": 95.9, "Al": 4.0, "Mg": 0.04},
    "titanium": {"Ti": 90.0, "Al": 6.0, "V": 4.0},
    "magnesium": {"Mg": 90.0, "Al": 9.0, "Zn": 0.7},
    "copper": {"Cu": 100.0},
}


@pytest.mark.outside("verified: periodictable's elements, by the mixture rule")
@pytest.mark.parametrize("key", ALLOYS)
def test_an_alloy_is_near_the_mixture_of_its_elements(key: str) -> None:
    # periodictable (CRC Handbook, 80th ed.): element densities; the mixture rule holds to 4 %, copper and zinc worst.
    shares = [(w, getattr(periodictable, element).density) for element, w in ALLOYS[key].items()]
    assert MATERIALS[key].nominal == pytest.approx(mixture(shares), rel=0.04)


@pytest.mark.outside("from memory: 4.506 for pure titanium; 4.54 by periodictable")
def test_which_titanium_is_taken_matters_less_than_what_an_alloy_does_to_it() -> None:
    # Pure titanium is 4.54 in the CRC Handbook, 80th ed. (periodictable), 4.506 in newer tables (from memory): 0.75 %.
    # Neither is used for a piece: the alloy has its own density, inside the 4 % that the mixture rule is good to.
    assert periodictable.Ti.density == 4.54
    rest = [(6.0, periodictable.Al.density), (4.0, periodictable.V.density)]
    old, new = (mixture([(90.0, rho), *rest]) for rho in (4.54, 4.506))
    assert 0 < (old - new) / old < 0.0075
    for rho in (old, new):
        assert MATERIALS["titanium"].nominal == pytest.approx(rho, rel=0.02)


@pytest.mark.outside("computed: mixture rule over periodictable's elements")
@pytest.mark.parametrize(("carbon", "exact"), [(2.6, 7.379), (3.3, 7.256), (3.6, 7.205)])
def test_iron_and_graphite(carbon: float, exact: float) -> None:
    # Iron 7.874 and graphite 2.2 by periodictable, mixture rule, computed.
    iron, graphite = periodictable.Fe.density, periodictable.C.density
    assert mixture([(100 - carbon, iron), (carbon, graphite)]) == pytest.approx(exact, abs=6e-4)


@given(st.lists(st.tuples(st.floats(0.01, 100), st.floats(0.5, 22)), min_size=1, max_size=6))
def test_a_mixture_is_between_its_parts(shares: list[tuple[float, float]]) -> None:
    densities = [rho for _, rho in shares]
    assert min(densities) * (1 - 1e-12) <= mixture(shares) <= max(densities) * (1 + 1e-12)


def test_a_mixture_of_nothing_is_refused() -> None:
    for shares in ([], [(0.0, 7.0)], [(1.0, 0.0)], [(-1.0, 7.0), (2.0, 7.0)]):
        with pytest.raises(Impossible, match="mixture"):
            mixture(shares)


@pytest.mark.outside("computed: GUM 5.1.2")
def test_the_density_of_a_weighed_block() -> None:
    # GUM 5.1.2, relative uncertainties add as squares: 0.1 % and 0.4 %.
    found = implied(1000, 1, 125_000, 500)
    assert found.density == pytest.approx(8.0)
    assert found.u / 8.0 == pytest.approx(math.hypot(0.001, 0.004))
    assert found.expanded == 2 * found.u


def test_a_density_needs_a_weight_and_a_volume() -> None:
    with pytest.raises(Impossible, match="weighs something"):
        implied(0, 1, 100, 1)


@pytest.mark.outside("computed: volume of a cylinder, GUM 5.1.2")
def test_a_drawn_discs_volume_is_as_sure_as_its_two_sizes() -> None:
    # V = pi/4 D^2 L: u_V/V squared is (2 u/D)^2 + (u/L)^2, elementary.
    volume, u = drawn_volume(Body((Ring(100, 0, 0, 20),)), 0.5)
    own_u = 0.5 / math.sqrt(3)
    assert volume == pytest.approx(math.pi / 4 * 100**2 * 20)
    assert u / volume == pytest.approx(math.hypot(2 * own_u / 100, own_u / 20), rel=1e-9)


def test_a_lump_counts_in_the_volume() -> None:
    foot = Body((Ring(100, 0, 0, 20),), (), (Lump("foot", 5000),))
    assert drawn_volume(foot, 0.1)[0] == pytest.approx(math.pi / 4 * 100**2 * 20 + 5000)


@pytest.mark.parametrize("key", MATERIALS)
def test_a_piece_weighed_as_drawn_fits_its_own_material(key: str) -> None:
    row = MATERIALS[key]
    volume, u = drawn_volume(WHEEL, 0.3)
    found = implied(mass_of(WHEEL, row.nominal), 10, volume, u)
    assert next(fit for fit in fits(found) if fit.material == row).fits
    assert material_told(found, row).endswith(f"fits {row.words} {row.nominal:.2f}")


def test_nylon_is_not_iron() -> None:
    said = material_told(Implied(1.16, 0.01), IRON)
    assert said == "1.16 g/cm³: near nylon 6, not ductile iron 7.10"


def test_near_nothing_is_said_to_be_near_nothing() -> None:
    assert material_told(Implied(5.5, 0.02)) == "5.50 g/cm³: near no material of the table"
    assert material_told(Implied(5.5, 0.02), IRON).endswith("near no material of the table, not ductile iron 7.10")


def test_the_shops_own_material_is_looked_for_too() -> None:
    ours = own("Meehanite GC 40", 7.33, 7.32, 7.35, "cast", "foundry certificate")
    assert material_told(Implied(7.34, 0.005), ours) == "7.34 g/cm³: fits Meehanite GC 40 7.33"


@given(st.floats(0.5, 12), st.floats(0, 0.5))
def test_the_nearest_fit_comes_first(density: float, u: float) -> None:
    rows = fits(Implied(density, u))
    assert [fit.outside for fit in rows] == sorted(fit.outside for fit in rows)
    assert len(rows) == len(MATERIALS)
    assert all(fit.fits == (fit.outside <= 2 * u) for fit in rows)
