"""The invented wheel, and three hundred bodies by chance, by integrals written another way and by solid models."""

import math
import warnings
from collections.abc import Callable
from itertools import islice

import manifold3d
import numpy as np
import pytest
import trimesh
from scipy.integrate import IntegrationWarning, fixed_quad, quad
from shapely import Geometry

from shopapp.bench.cuts import Body, Cut, removal, taken_volume
from shopapp.bench.holes import HoleCircle, Keyway, RadialHole, Slot, Void
from shopapp.bench.outline import Hollow, HollowCone, outline
from shopapp.bench.overlap import overlaps
from tests.bench.bodies import INCH, WHEEL, WHEEL_CUTS, facet_moment, facet_volume
from tests.bench.chance import Section, Shape, angle, cut_shape, drawn, kinks, part_shape

pytestmark = pytest.mark.outside("verified: scipy.integrate, trimesh and manifold3d, each in its test")
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


# Three hundred bodies by chance; the seed alone says which.
CHANCES = range(300)
TENS = [range(ten, ten + 10) for ten in range(0, 300, 10)]


def ring_sums(section: Section, power: int) -> float:
    """Volume (2) or moment (4) of what the cuts meet, by discs along the axis, in scipy; exact for straight edges."""
    def disc(z: float) -> float:
        return math.tau / power * math.fsum(b**power - a**power for a, b in section.at(0, z))

    stops = section.stops(0)
    pairs = zip(stops, stops[1:], strict=False)
    return math.fsum(fixed_quad(lambda zs: np.array([disc(z) for z in zs]), a, b, n=4)[0] for a, b in pairs)


@pytest.mark.parametrize("seeds", TENS, ids=str)
def test_what_cuts_take_of_a_body_by_chance_is_what_discs_in_scipy_give(seeds: range) -> None:
    for seed in seeds:
        body, cuts = drawn(seed, 0)
        section, found = Section(body, cuts), removal(body, cuts, 1000.0)
        assert found.volume == pytest.approx(ring_sums(section, 2), rel=1e-9), seed
        assert found.inertia == pytest.approx(ring_sums(section, 4), rel=1e-9), seed
        assert taken_volume(body, cuts) == pytest.approx(found.volume, rel=1e-12), seed


def turned(region: Geometry, n: int) -> tuple[float, float]:
    """Volume and moment of a turned mesh of n sides; a hole in the section is a mesh taken away."""
    sums = [0.0, 0.0]
    for piece in getattr(region, "geoms", [region]):
        for k, ring in enumerate((piece.exterior, *piece.interiors)):
            mesh = trimesh.creation.revolve(np.array([(r, z) for z, r in ring.coords]), sections=n)
            sign = math.copysign(1, mesh.volume) * (-1 if k else 1)
            sums[0] += sign * mesh.volume
            sums[1] += sign * mesh.moment_inertia[2, 2]
    return sums[0], sums[1]


@pytest.mark.parametrize("seeds", TENS, ids=str)
def test_a_body_by_chance_less_what_stays_is_the_removal_in_turned_meshes(seeds: range) -> None:
    n = 24
    for seed in seeds:
        body, cuts = drawn(seed, 0)
        found, whole = removal(body, cuts, 1000.0), outline(body.parts)
        before, after = turned(whole, n), turned(found.stays, n)
        assert before[0] - after[0] == pytest.approx(found.volume * facet_volume(n), rel=1e-9), seed
        assert before[1] - after[1] == pytest.approx(found.inertia * facet_moment(n), rel=1e-9), seed


def summed(ask: Callable[[float], float], stops: list[float]) -> float:
    """By scipy, from stop to stop, with x = m - h cos t so that no root's end is steep."""
    total = []
    for a, b in zip(stops, stops[1:], strict=False):
        m, h = (a + b) / 2, (b - a) / 2
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", IntegrationWarning)  # at the floor of floats it doubts its own error
            found = quad(lambda t, m=m, h=h: ask(m - h * math.cos(t)) * h * math.sin(t), 0, math.pi, epsrel=1e-11)
        total.append(found[0])
    return math.fsum(total)


def lost_along(section: Section, void: HoleCircle | Keyway | Slot, power: int) -> float:
    """The angle at each radius times the length of metal there; between stops the length changes evenly."""
    stops = sorted({*section.stops(1), *kinks(void), *level_crossings(section, void)})
    total = []
    for a, b in zip(stops, stops[1:], strict=False):
        if b - a < 1e-10 or angle(void, (a + b) / 2) == 0:
            continue
        near, far = (long(section, void, a + part * (b - a)) for part in (0.25, 0.75))
        total.append(summed(
            lambda r, a=a, b=b, near=near, far=far: angle(void, r) * r**power
            * (near + (far - near) * ((r - a) / (b - a) - 0.25) * 2),
            [a, b],
        ) if near or far else 0.0)
    return math.fsum(total)


def long(section: Section, void: HoleCircle | Keyway | Slot, r: float) -> float:
    pieces = section.at(1, r)
    return math.fsum(max(0.0, min(high, void.end) - max(low, void.start)) for low, high in pieces)


def level_crossings(section: Section, void: HoleCircle | Keyway | Slot) -> list[float]:
    """Radii where an edge of the section passes the void's own start or end."""
    ends = [z for z in (void.start, void.end) if math.isfinite(z)]
    return [r for z in ends for d in (-1e-12, 1e-12) for pair in section.at(0, z + d) for r in pair]


def lost_across(section: Section, void: RadialHole, power: int) -> float:
    """Across the pocket's mouth: u sideways, from its floor out, in straight strips and not round the axis."""
    a, floor, rim = void.diameter / 2, void.outside / 2 - void.depth, void.outside / 2

    def strip(u: float, low: float, high: float) -> float:
        bottom = max(floor, math.sqrt(max(0.0, low * low - u * u)))
        top = math.sqrt(max(0.0, high * high - u * u))
        if top <= bottom:
            return 0.0
        return (top - bottom) if power == 1 else u * u * (top - bottom) + (top**3 - bottom**3) / 3

    def at(z: float) -> float:
        w = math.sqrt(max(0.0, a * a - (z - void.at) ** 2))
        total = 0.0
        for low, high in section.at(0, z):
            if (high := min(high, rim)) > floor:
                roots = [math.sqrt(x * x - floor * floor) for x in (low, high) if x > floor]
                total += 2 * summed(lambda u, low=low, high=high: strip(u, low, high), [0, *sorted(
                    x for x in roots if x < w), w])
        return total

    edge = {void.at - a, void.at + a, *(z for z in section.stops(0) if abs(z - void.at) < a)}
    return void.count * summed(at, sorted(edge | set(mouth_kinks(section, void, floor, rim, a))))


def mouth_kinks(section: Section, void: RadialHole, floor: float, rim: float, a: float) -> list[float]:
    """Places along the mouth where an edge of the section meets the pocket's floor, its rim or its floor's corner."""
    found = []
    for shape in (*section.metal, *section.air, *section.cuts):
        for (z1, r1), (z2, r2) in zip(shape, shape[1:] + shape[:1], strict=True):
            if z1 == z2:
                continue
            k = (r2 - r1) / (z2 - z1)
            c = r1 + k * (void.at - z1)
            for level in (floor, rim):
                found += np.roots([k, c - level]).tolist() if k else []
            found += np.roots([k * k + 1, 2 * k * c, c * c - floor * floor - a * a]).tolist()
    found += [x for level in (rim,) for x in np.roots([1, 0, level * level - floor * floor - a * a]).tolist()]
    return [void.at + x.real for x in map(complex, found) if abs(x.imag) < 1e-12 and abs(x.real) < a]


def lost(section: Section, void: Void, power: int) -> float:
    by = lost_across if isinstance(void, RadialHole) else lost_along
    return by(section, void, power)  # type: ignore[arg-type]


@pytest.mark.parametrize("seeds", TENS, ids=str)
def test_voids_take_of_a_body_by_chance_what_angles_in_scipy_give(seeds: range) -> None:
    for seed in seeds:
        body, cuts = drawn(seed, 1 + seed % 3)
        section, found = Section(body, cuts), removal(body, cuts, 1000.0)
        volume = ring_sums(section, 2) - math.fsum(lost(section, void, 1) for void in body.voids)
        moment = ring_sums(section, 4) - math.fsum(lost(section, void, 3) for void in body.voids)
        assert found.volume == pytest.approx(volume, rel=1e-8), seed
        assert found.inertia == pytest.approx(moment, rel=1e-8), seed


def lathe(shape: Shape, n: int) -> manifold3d.Manifold:
    rim = [(r, z) for z, r in shape]
    twice = math.fsum(p[0] * q[1] - q[0] * p[1] for p, q in zip(rim, rim[1:] + rim[:1], strict=True))
    return manifold3d.CrossSection([rim if twice > 0 else rim[::-1]]).revolve(n)


def bar(a: float, start: float, end: float, n: int) -> manifold3d.Manifold:
    low, high = max(start, -500), min(end, 500)
    return manifold3d.Manifold.cylinder(high - low, a, circular_segments=n).translate([0, 0, low])


def cutter(void: Void, n: int) -> list[manifold3d.Manifold]:
    """What the drill or the mill takes, once for each of them."""
    if isinstance(void, HoleCircle):
        one = bar(void.diameter / 2, void.start, void.end, n).translate([void.circle / 2, 0, 0])
    elif isinstance(void, RadialHole):
        floor, rim = void.outside / 2 - void.depth, void.outside / 2
        drill = bar(void.diameter / 2, 0, void.depth, n).rotate([0, 90, 0]).translate([floor, 0, void.at])
        one = drill ^ bar(rim, -500, 500, n)
    else:
        inner, outer = (0.0, void.bore / 2 + void.depth) if isinstance(void, Keyway) else (
            void.outside / 2 - void.depth, void.outside / 2)
        low, high = max(void.start, -500), min(void.end, 500)
        one = manifold3d.Manifold.cube([outer - inner, void.width, high - low]).translate([inner, -void.width / 2, low])
        one = one ^ bar(outer, -500, 500, n) if isinstance(void, Slot) else one
    count = 1 if isinstance(void, Keyway) else void.count
    return [one.rotate([0, 0, 360 * k / count]) for k in range(count)]


def united(shapes: list[manifold3d.Manifold]) -> manifold3d.Manifold:
    return manifold3d.Manifold.batch_boolean(shapes, manifold3d.OpType.Add)


def turned_part(body: Body, n: int) -> manifold3d.Manifold:
    """A mesh library's model of a body before its voids, all round things in n sides."""
    air = [lathe(part_shape(part), n) for part in body.parts if isinstance(part, (Hollow, HollowCone))]
    solid = united([lathe(part_shape(part), n) for part in body.parts if not isinstance(part, (Hollow, HollowCone))])
    return solid - united(air) if air else solid


def modelled(body: Body, cuts: list[Cut], n: int, drill: int | None = None) -> float:
    """The volume that a mesh library's cuts take off its model of the body, all round things in n sides."""
    air = [tool for void in body.voids for tool in cutter(void, drill or n)]
    model = turned_part(body, n) - united(air) if air else turned_part(body, n)
    return float((model ^ united([lathe(cut_shape(one), n) for one in cuts])).volume())


def apart(seed: int) -> bool:
    body = drawn(seed, 1 + seed % 3)[0]
    met = overlaps(body.voids, outline(body.parts))
    return not met.certain and not met.asked


@pytest.mark.parametrize("seed", list(islice(filter(apart, CHANCES), 30)))
def test_a_body_by_chance_is_cut_in_a_solid_model_at_two_facet_counts(seed: int) -> None:
    # The error of facets falls with their number squared: Richardson's extrapolation, from memory.
    body, cuts = drawn(seed, 1 + seed % 3)
    coarse, fine = modelled(body, cuts, 300), modelled(body, cuts, 600)
    assert removal(body, cuts, 1000.0).volume == pytest.approx((4 * fine - coarse) / 3, rel=1e-5)


def test_voids_that_run_into_each_other_in_a_solid_model_are_asked_about() -> None:
    met = 0
    for seed in CHANCES[:90]:
        body, cuts = drawn(seed, 1 + seed % 3)
        part, tools = turned_part(body, 48), [united(cutter(void, 48)) for void in body.voids]
        shared = sum((part ^ a ^ b).volume() for i, a in enumerate(tools) for b in tools[i + 1 :])
        if shared > 1:
            met += 1
            found, told = overlaps(body.voids, outline(body.parts)), removal(body, cuts, 7.1)
            assert found.certain or found.asked, seed
            assert {*found.certain} <= {*told.refusals}
            assert {*found.asked} <= {*told.hints}
    assert met >= 5
