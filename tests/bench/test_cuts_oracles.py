"""The invented wheel by integrals written another way and by solid models."""

import math

import manifold3d
import pytest
from scipy.integrate import quad

from shopapp.bench.cuts import removal
from tests.bench.bodies import INCH, WHEEL, WHEEL_CUTS, facet_volume

pytestmark = pytest.mark.outside
DENSITY = 7.10


def hole_angle(r: float) -> float:
    """Angle that four .530 holes on 5.500 miss at radius r, by the cosine rule."""
    x = (r * r + 2.75**2 - 0.265**2) / (2 * r * 2.75)
    return 4 * 2 * math.acos(min(1.0, max(-1.0, x)))


def shells(power: int) -> float:
    """What comes off the wheel by cylinders one inside the other, in inches; 1 for volume, 3 for the moment."""
    def face(r: float) -> float:
        return (math.tau - hole_angle(r)) * 0.3 * r**power

    def rim(r: float) -> float:
        return math.tau * (1.0505 + 2.5 - 1.4495) * r**power

    def bevels(r: float) -> float:
        return 2 * math.tau * (r - (4.4375 - 1 / 32)) * r**power

    stops = [2.125, 2.485, 2.75, 3.015, 4.4375]
    total = sum(quad(face, a, b, epsabs=0, epsrel=1e-12)[0] for a, b in zip(stops, stops[1:], strict=False))
    return total + quad(rim, 4.4375, 4.75)[0] + quad(bevels, 4.4375 - 1 / 32, 4.4375)[0]


def test_the_wheels_removal_is_what_shells_integrated_by_scipy_give() -> None:
    found = removal(WHEEL, WHEEL_CUTS, DENSITY)
    assert found.volume == pytest.approx(shells(1) * INCH**3, rel=1e-10)


def test_the_wheels_inertia_is_what_shells_integrated_by_scipy_give() -> None:
    found = removal(WHEEL, WHEEL_CUTS, DENSITY)
    assert found.inertia == pytest.approx(shells(3) * INCH**5 * DENSITY / 1000, rel=1e-10)


def washer(outer: float, inner: float, low: float, high: float, n: int) -> manifold3d.Manifold:
    points = [(inner, low), (outer, low), (outer, high), (inner, high)]
    return manifold3d.CrossSection([points]).revolve(n)


def test_the_wheels_removal_is_what_a_solid_model_gives_within_the_facet_factors() -> None:
    n, m = 512, 96
    model = washer(4.75, 3.75, 0, 2.5, n) + washer(3.75, 1.625, 0, 0.65, n) + washer(1.625, 0.875, 0, 2.1, n)
    drill = manifold3d.Manifold.cylinder(4, 0.265, circular_segments=m).translate([2.75, 0, -1])
    for k in range(4):
        model -= drill.rotate([0, 0, 90 * k])
    cuts = (
        washer(6, 4.4375, -1, 1.0505, n) + washer(6, 2.125, -1, 0.3, n) + washer(6, 4.4375, 1.4495, 4, n)
    )
    lost = (model.volume() - (model - cuts).volume()) * INCH**3
    found = removal(WHEEL, [cut for cut in WHEEL_CUTS if cut.kind != "bevel"], DENSITY).volume
    holes = 4 * math.pi * 0.265**2 * 0.3 * INCH**3
    assert lost == pytest.approx((found + holes) * facet_volume(n) - holes * facet_volume(m), rel=1e-6)
