"""Voids against integrals written another way, across the void instead of round the axis, and against solid models."""

import math

import manifold3d
import pytest
from scipy.integrate import dblquad, quad
from shapely import Polygon, box
from shapely.geometry.polygon import orient

from shopapp.bench.holes import HoleCircle, Keyway, RadialHole, Slot, missing
from shopapp.bench.solids import volume
from tests.bench.bodies import facet_volume

pytestmark = pytest.mark.outside("verified: scipy.integrate, trimesh and manifold3d, each in its test")
TIGHT = {"epsabs": 1e-9, "epsrel": 1e-11}


@pytest.mark.parametrize("power", [1, 3])
def test_a_hole_through_a_cone(power: int) -> None:
    # Over the hole's own disc: the cone is 30 - r/4 long at radius r.
    cone = Polygon([(0, 0), (30, 0), (5, 100), (0, 100)])
    a, far = 9.0, 55.0

    def over(s: float, t: float) -> float:
        r = math.hypot(far + s * math.cos(t), s * math.sin(t))
        return s * (30 - r / 4) * r ** (power - 1)

    exact = 3 * dblquad(over, 0, math.tau, 0, a, **TIGHT)[0]
    assert missing(cone, HoleCircle(3, 2 * a, 2 * far), power) == pytest.approx(exact, rel=1e-10)


@pytest.mark.parametrize("r", [47.0, 51.0, 55.0, 60.0, 62.9])
@pytest.mark.outside("from memory: area common to two circles")
def test_a_hole_half_in_a_disc_loses_the_lens_of_two_circles(r: float) -> None:
    # Area common to two circles, from memory.
    a, d = 8.0, 55.0
    lens = (
        a * a * math.acos((d * d + a * a - r * r) / (2 * d * a))
        + r * r * math.acos((d * d + r * r - a * a) / (2 * d * r))
        - math.sqrt((a + r - d) * (d + a - r) * (d - a + r) * (d + a + r)) / 2
    )
    assert missing(box(0, 0, 10, r), HoleCircle(2, 16, 110)) == pytest.approx(20 * lens, rel=1e-10)


@pytest.mark.parametrize("power", [1, 3])
def test_a_pocket_from_a_round_rim_to_a_flat_floor(power: int) -> None:
    # Over the pocket's mouth (u across, v along the axis): from the floor out to the rim of radius 50.
    a, floor, rim = 7.0, 38.0, 50.0

    def over(v: float, u: float) -> float:
        top = math.sqrt(rim * rim - u * u)
        return (top - floor) if power == 1 else u * u * (top - floor) + (top**3 - floor**3) / 3

    half = dblquad(over, -a, a, lambda u: -math.sqrt(a * a - u * u), lambda u: math.sqrt(a * a - u * u), **TIGHT)[0]
    assert missing(box(-20, 0, 20, 60), RadialHole(5, 14, 100, 12, 0), power) == pytest.approx(5 * half, rel=1e-9)


def test_a_pocket_into_a_conical_rim() -> None:
    # The rim runs from radius 46 at z = 0 to 42 at z = 40, so some of the pocket is in air.
    a, floor, at = 9.0, 41.0, 22.0
    rim = Polygon([(0, 20), (40, 20), (40, 42), (0, 46)])

    def over(v: float, u: float) -> float:
        r = 46 - (at + v) / 10
        return max(0.0, math.sqrt(r * r - u * u) - floor)

    exact = dblquad(over, -a, a, lambda u: -math.sqrt(a * a - u * u), lambda u: math.sqrt(a * a - u * u), **TIGHT)[0]
    assert missing(rim, RadialHole(1, 18, 100, 9, at)) == pytest.approx(exact, rel=1e-7)


@pytest.mark.parametrize("power", [1, 3])
def test_a_slot_from_the_rim(power: int) -> None:
    half, floor, rim = 6.0, 30.0, 50.0

    def across(u: float) -> float:
        top = math.sqrt(rim * rim - u * u)
        return (top - floor) if power == 1 else u * u * (top - floor) + (top**3 - floor**3) / 3

    exact = 4 * 15 * quad(across, -half, half, **TIGHT)[0]
    assert missing(box(0, 0, 15, 80), Slot(4, 12, 20, 100), power) == pytest.approx(exact, rel=1e-10)


def test_the_moment_of_a_keyway() -> None:
    half, wall, floor = 6.0, 20.0, 23.3

    def across(u: float) -> float:
        low = math.sqrt(wall * wall - u * u)
        return u * u * (floor - low) + (floor**3 - low**3) / 3

    exact = 60 * quad(across, -half, half, **TIGHT)[0]
    assert missing(box(0, 20, 60, 80), Keyway(12, 3.3, 40), 3) == pytest.approx(exact, rel=1e-11)


def solid(section: Polygon, n: int) -> manifold3d.Manifold:
    return manifold3d.CrossSection([[(r, z) for z, r in orient(section, -1.0).exterior.coords]]).revolve(n)


def test_holes_drilled_in_a_solid_model() -> None:
    # Holes of m sides wholly inside the metal: the model is the round one times the facet factors of each.
    n, m, section = 512, 64, box(0, 20, 25, 100)
    drill = manifold3d.Manifold.cylinder(60, 5, circular_segments=m).translate([75, 0, -10])
    model = solid(section, n)
    for k in range(6):
        model -= drill.rotate([0, 0, 60 * k])
    exact = volume(section) * facet_volume(n) - missing(section, HoleCircle(6, 10, 150)) * facet_volume(m)
    assert model.volume() == pytest.approx(exact, rel=1e-6)


def block(length: float, at: float) -> manifold3d.Manifold:
    return manifold3d.Manifold.cube([length, 12, 80]).translate([at, -6, -10])


def end_mill() -> manifold3d.Manifold:
    return manifold3d.Manifold.cylinder(40, 8, circular_segments=2048).rotate([0, 90, 0]).translate([80, 0, 12])


CUTTERS = {
    "keyway": (Keyway(12, 5, 40), lambda: block(25, 0)),
    "slot": (Slot(1, 12, 20, 200), lambda: block(40, 80)),
    "pocket": (RadialHole(1, 16, 200, 20, 12), end_mill),
}


@pytest.mark.parametrize("name", CUTTERS)
def test_a_void_milled_in_a_solid_model(name: str) -> None:
    void, cutter = CUTTERS[name]
    section = Polygon([(0, 20), (40, 20), (40, 60), (25, 100), (0, 100)])
    whole = solid(section, 4096)
    lost = whole.volume() - (whole - cutter()).volume()
    assert missing(section, void) == pytest.approx(lost, rel=3e-4)
