"""The stepped flange by four independent libraries."""

import math

import manifold3d
import numpy as np
import pytest
import sympy
import trimesh
from scipy.integrate import quad

from shopapp.bench.solids import gyration, moment, volume
from tests.bench.bodies import FLANGE, FLANGE_MOMENT, FLANGE_RZ, FLANGE_VOLUME, facet_moment, facet_volume

pytestmark = pytest.mark.outside("verified: scipy, sympy, trimesh and manifold3d, each in its test")


def span(z: float) -> tuple[float, float]:
    """Inner and outer radius of the flange at z, by interpolation along its two sides."""
    outer = np.interp(z, [0, 2, 23, 25 - 1e-12, 25, 58.5, 60], [98, 100, 100, 98, 45, 45, 43.5])
    inner = np.interp(z, [0, 1, 59, 60], [21, 20, 20, 21])
    return float(inner), float(outer)


def test_the_flange_is_what_discs_integrated_by_scipy_give() -> None:
    stops = [0, 1, 2, 23, 25, 58.5, 59, 60]
    pairs = list(zip(stops, stops[1:], strict=False))

    def discs(power: int) -> float:
        def disc(z: float) -> float:
            return math.tau / power * (span(z)[1] ** power - span(z)[0] ** power)

        return math.fsum(quad(disc, a, b)[0] for a, b in pairs)

    assert volume(FLANGE) == pytest.approx(discs(2), rel=1e-12)
    assert moment(FLANGE) == pytest.approx(discs(4), rel=1e-12)


def test_the_flange_is_what_sympy_gives_in_exact_fractions() -> None:
    r, z = sympy.symbols("r z")
    exact = [(sympy.Rational(str(a)), sympy.Rational(str(b))) for a, b in FLANGE_RZ]
    total = {1: sympy.Integer(0), 3: sympy.Integer(0)}
    for (r1, z1), (r2, z2) in zip(exact, exact[1:] + exact[:1], strict=True):
        if z1 != z2:
            edge = r1 + (r2 - r1) * (z - z1) / (z2 - z1)
            for power in total:
                total[power] += sympy.integrate(sympy.integrate(r**power, (r, 0, edge)), (z, z1, z2))
    assert 2 * total[1] == sympy.Rational(7102549, 24)
    assert 2 * total[3] == sympy.Rational(418849348377, 320)
    assert volume(FLANGE) == pytest.approx(FLANGE_VOLUME, rel=1e-13)
    assert moment(FLANGE) == pytest.approx(FLANGE_MOMENT, rel=1e-13)
    assert gyration(FLANGE) == pytest.approx(66.504714664, rel=1e-11)


def test_the_flange_is_what_trimesh_gives_within_the_facet_factor() -> None:
    n = 256
    mesh = trimesh.creation.revolve(np.array([*FLANGE_RZ, FLANGE_RZ[0]]), sections=n)
    assert abs(mesh.volume) == pytest.approx(volume(FLANGE) * facet_volume(n), rel=1e-12)
    assert abs(mesh.moment_inertia[2, 2]) == pytest.approx(moment(FLANGE) * facet_moment(n), rel=1e-10)


def test_the_flange_is_what_manifold_gives_within_the_facet_factor() -> None:
    n = 256
    solid = manifold3d.CrossSection([FLANGE_RZ]).revolve(n)
    assert solid.volume() == pytest.approx(volume(FLANGE) * facet_volume(n), rel=1e-7)  # its corners are single floats
