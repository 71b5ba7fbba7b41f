"""Half-sections are built from rings, cones, hollows and bevels, and refused where no metal can be."""

import pytest

from shopapp.bench.errors import Impossible
from shopapp.bench.outline import Cone, Corner, Hollow, HollowCone, Ring, both, corner, outline, section
from shopapp.bench.solids import volume
from tests.bench.bodies import FLANGE, FLANGE_VOLUME


def test_rings_and_bevels_make_the_stepped_flange() -> None:
    rings = [Ring(200, 40, 0, 25), Ring(90, 40, 0, 60)]
    bevels = [Corner(2, 200, 0), Corner(2, 200, 25), Corner(1.5, 90, 60), Corner(1, 40, 0), Corner(1, 40, 60)]
    drawn = outline([*rings, *bevels])
    assert drawn.symmetric_difference(FLANGE).area == pytest.approx(0, abs=1e-9)
    assert volume(drawn) == pytest.approx(FLANGE_VOLUME, rel=1e-12)


def test_metal_typed_twice_is_metal_once() -> None:
    assert outline([Ring(40, 0, 0, 10), Ring(30, 0, 2, 8)]).area == 200


def test_a_hollow_is_taken_out_and_stays_a_hole_in_the_section() -> None:
    drawn = outline([Ring(100, 0, 0, 50), Hollow(80, 60, 10, 20)])
    assert drawn.area == 50 * 50 - 10 * 10
    assert len(drawn.interiors) == 1


def test_a_cone_changes_evenly() -> None:
    assert section(Cone(40, 20, 0, 0, 0, 10)).area == 150


def test_a_cone_may_end_in_a_point() -> None:
    assert section(Cone(40, 0, 0, 0, 0, 10)).area == 100


def test_a_conical_hollow_is_taken_out() -> None:
    assert outline([Ring(40, 0, 0, 10), HollowCone(20, 10, 0, 0, 0, 10)]).area == 200 - 75


def test_a_bevel_finds_its_corner_on_every_side() -> None:
    tube = outline([Ring(40, 20, 0, 10)])
    assert corner(tube, 1, 40, 0).bounds == (0, 19, 1, 20)
    assert corner(tube, 1, 40, 10).bounds == (9, 19, 10, 20)
    assert corner(tube, 1, 20, 0).bounds == (0, 10, 1, 11)
    assert corner(tube, 1, 20, 10).bounds == (9, 10, 10, 11)


@pytest.mark.parametrize(("diameter", "at"), [(30, 5), (40, 5), (60, 0)], ids=["inside", "on a side", "in air"])
def test_a_bevel_where_no_corner_is_is_refused(diameter: float, at: float) -> None:
    with pytest.raises(Impossible, match="no corner"):
        outline([Ring(40, 20, 0, 10), Corner(1, diameter, at)])


def test_a_bevel_of_nothing_is_refused() -> None:
    with pytest.raises(Impossible, match="above nothing"):
        outline([Ring(40, 20, 0, 10), Corner(0, 40, 0)])


@pytest.mark.parametrize(
    ("part", "says"),
    [
        (Ring(20, 40, 0, 10), "swapped"),
        (Ring(40, 40, 0, 10), "swapped"),
        (Ring(40, -1, 0, 10), "under nothing"),
        (Ring(40, 20, 10, 10), "end beyond"),
        (Ring(40, 20, 10, 5), "end beyond"),
        (Ring(float("nan"), 20, 0, 5), "plain number"),
        (Cone(40, 20, 30, 30, 0, 10), "swapped"),
    ],
)
def test_a_ring_that_cannot_be_is_refused(part: Ring | Cone, says: str) -> None:
    with pytest.raises(Impossible, match=says):
        outline([part])


def test_no_ring_at_all_is_refused() -> None:
    with pytest.raises(Impossible, match="no metal yet"):
        outline([Hollow(40, 20, 0, 10)])


def test_a_hollow_that_takes_everything_is_refused() -> None:
    with pytest.raises(Impossible, match="all the metal away"):
        outline([Ring(40, 20, 0, 10), Hollow(60, 0, -5, 20)])


def test_a_length_is_said_in_inches_and_millimetres() -> None:
    assert both(8.89) == "0.350 in (8.89 mm)"
