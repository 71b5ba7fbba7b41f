"""Volumes and radii of gyration equal the handbook's worked examples and the exact forms."""

import math

import pytest
from shapely import MultiPolygon, Polygon, box

from shopapp.bench.solids import gyration, moment, volume
from tests.bench.bodies import facet_volume

MANY = 4000


def arc(radius: float, start: float, end: float, middle: tuple[float, float] = (0.0, 0.0)) -> list[tuple[float, float]]:
    """Points (z, r) on a circle, from one angle to another, chords inside the curve."""
    steps = [start + (end - start) * k / MANY for k in range(MANY + 1)]
    return [(middle[0] + radius * math.cos(t), max(0.0, middle[1] + radius * math.sin(t))) for t in steps]


# Machinery's Handbook 31, pp. 89-93; its factors are rounded (3.1416, .7854), so 3e-5 against what is printed.
STRAIGHT = {
    "cylinder": (box(0, 0, 20, 1.25), 98.17, math.pi * 2.5**2 * 20 / 4),
    "hollow cylinder": (box(0, 14, 28, 18), 11259.5, math.pi * 28 * 4 * (36 - 4)),
    "cone": (Polygon([(0, 0), (4, 0), (0, 3)]), 37.7, math.pi * 36 * 4 / 12),
    "frustum": (Polygon([(0, 0), (4, 0), (4, 3), (0, 5)]), 205.250720, math.pi * 4 / 3 * (25 + 15 + 9)),
}


@pytest.mark.outside("verified: Machinery's Handbook 31, pp. 89-93")
@pytest.mark.parametrize("name", STRAIGHT)
def test_a_straight_sided_solid_has_the_handbooks_volume(name: str) -> None:
    section, printed, exact = STRAIGHT[name]
    assert volume(section) == pytest.approx(exact, rel=1e-13)
    assert volume(section) == pytest.approx(printed, rel=6e-5)


# Machinery's Handbook 31, pp. 89-93: radius of the spherical zone by its formula from both chords and the height.
ZONE = math.sqrt(2.0**2 + ((4**2 - 3**2 - 4 * 1.5**2) / (8 * 1.5)) ** 2)
ZONE_AT = (4**2 - 3**2 - 4 * 1.5**2) / (8 * 1.5)
CURVED = {
    "sphere": (Polygon(arc(3.25, 0, math.pi)), 143.79),
    "hollow sphere": (Polygon([*arc(4, 0, math.pi), *arc(2.5, math.pi, 0)]), 202.63),
    "spherical segment": (
        Polygon([(14.0625, 0), *arc(64.0625, 0, math.acos(14.0625 / 64.0625))]), 372246.004527,
    ),
    "spherical zone": (
        Polygon([(ZONE_AT, 0), (ZONE_AT + 1.5, 0), *arc(ZONE, *(math.acos((ZONE_AT + h) / ZONE) for h in (1.5, 0)))]),
        16.493,
    ),
    "spherical sector": (Polygon([(0, 0), *arc(3, 0, math.acos(0.5))]), 28.27),
}


@pytest.mark.outside("verified: Machinery's Handbook 31, pp. 89-93")
@pytest.mark.parametrize("name", CURVED)
def test_a_curved_solid_of_many_sides_has_the_handbooks_volume(name: str) -> None:
    section, printed = CURVED[name]
    # Four thousand chords lie inside the curve by less than (pi/n)^2 of the radius; the rest is the book's rounding.
    assert volume(section) == pytest.approx(printed, rel=2e-4)


@pytest.mark.outside("computed: Machinery's Handbook 31, pp. 89-93, 254")
def test_a_torus_of_n_sides_is_the_round_one_times_the_facet_factor() -> None:
    # Machinery's Handbook 31, pp. 89-93: V = pi^2 D d^2 / 4 = 27.76 for d = 1.5, D = 5; p. 254: k^2 = R^2 + 3/4 r^2.
    section = Polygon(arc(0.75, 0, math.tau, (0, 2.5)))
    assert volume(section) == pytest.approx(math.pi**2 * 5 * 1.5**2 / 4 * facet_volume(MANY), rel=1e-12)
    assert volume(section) == pytest.approx(27.76, rel=1e-4)
    assert moment(section) == pytest.approx(185.199656804, rel=1e-5)


@pytest.mark.outside("verified: a worked example of Pappus and Guldinus: 94.2 ft3")
def test_pappus_cone_has_its_volume() -> None:
    # Theorem of Pappus and Guldinus, worked example: radius 3 ft, height 10 ft: 2 pi (1)(15) = 94.2 ft3.
    assert volume(Polygon([(0, 0), (10, 0), (0, 3)])) == pytest.approx(math.tau * 1 * 15, rel=1e-14)


@pytest.mark.outside("computed: theorem of Pappus and Guldinus")
@pytest.mark.parametrize(
    ("triangle", "exact"),
    [
        # By Pappus: 2 pi (100 - 2/3) 2 for two millimetres on Ø 200; 2 pi (20 + 1/3) 0.5 for one in a bore of 40.
        (Polygon([(0, 98), (2, 100), (0, 100)]), 1248.259481026),
        (Polygon([(0, 20), (1, 20), (0, 21)]), 63.879050623),
    ],
    ids=["outside", "bore"],
)
def test_a_bevel_ring_keeps_its_centroid_term(triangle: Polygon, exact: float) -> None:
    assert volume(triangle) == pytest.approx(exact, rel=1e-11)


@pytest.mark.outside("computed: Machinery's Handbook 31, pp. 236-237")
@pytest.mark.parametrize(
    ("section", "k"),
    [
        # Machinery's Handbook 31, pp. 236-237: cylinder .7071 r, hollow cylinder k^2 = (R^2 + r^2)/2, cone .5477 r.
        (box(0, 0, 5, 1), math.sqrt(0.5)),
        (box(0, 14, 28, 18), 16.124515497),
        (Polygon([(0, 0), (4, 0), (0, 3)]), 1.643167673),
        # Ibid.: frustum k^2 = 3/10 (R^5 - r^5)/(R^3 - r^3), whatever its height.
        (Polygon([(0, 0), (4, 0), (4, 3), (0, 5)]), 2.970260760),
        (Polygon([(0, 0), (9, 0), (9, 3), (0, 5)]), 2.970260760),
    ],
    ids=["cylinder", "hollow cylinder", "cone", "frustum", "longer frustum"],
)
def test_a_radius_of_gyration_is_the_handbooks(section: Polygon, k: float) -> None:
    assert gyration(section) == pytest.approx(k, rel=1e-9)


def test_the_way_round_and_the_place_along_the_axis_do_not_matter() -> None:
    one = Polygon([(0, 2), (5, 2), (5, 4), (0, 7)])
    other = Polygon([(z + 1000, r) for z, r in reversed(one.exterior.coords)])
    assert volume(other) == pytest.approx(volume(one), rel=1e-12)
    assert moment(other) == pytest.approx(moment(one), rel=1e-12)


def test_a_hole_in_the_section_is_taken_off() -> None:
    holed = box(0, 10, 10, 20).difference(box(2, 12, 4, 14))
    assert volume(holed) == pytest.approx(volume(box(0, 10, 10, 20)) - volume(box(2, 12, 4, 14)), rel=1e-14)


def test_several_pieces_add_up_and_nothing_is_nothing() -> None:
    assert volume(MultiPolygon([box(0, 0, 1, 1), box(2, 0, 3, 1)])) == pytest.approx(2 * math.pi)
    assert volume(Polygon()) == moment(Polygon()) == 0


def test_an_empty_section_has_no_radius_of_gyration() -> None:
    with pytest.raises(ZeroDivisionError):
        gyration(Polygon())
