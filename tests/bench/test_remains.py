"""Webs, walls and clearances are measured on the half-section, and refused under their least."""

import pytest
from shapely import Polygon, box, union_all

from shopapp.bench.remains import KeepOut, Least, Thin, clearances, covered, thinnest, wall_refusals, web_refusals
from shopapp.bench.thickness import Cover

# A rim Ø 150 to 190 from 0 to 50, a web 13 thick flush with its back, a hub Ø 60.
RIM = union_all([box(0, 75, 50, 95), box(0, 30, 13, 75), box(0, 18, 42, 30)])
BACK = box(0, 40, 6.5, 95)


def test_a_half_of_a_web_is_half_of_it() -> None:
    assert thinnest("web", RIM, [("face", BACK)]) == Thin(13, 6.5, pytest.approx(0.5))


def test_the_web_is_looked_for_under_the_face_only() -> None:
    assert thinnest("web", RIM, [("turn", box(0, 85, 20, 95))]) is None
    assert thinnest("web", RIM, [("face", box(0, 18, 6.5, 29))]) == Thin(42, 35.5, pytest.approx(6.5 / 42))


def test_a_corner_taken_by_two_cuts_is_no_web() -> None:
    cuts = [("face", BACK), ("turn", box(6.5, 90, 20, 95))]
    assert thinnest("web", RIM, cuts) == Thin(13, 6.5, pytest.approx(0.5))


def test_faces_from_both_sides_thin_one_web() -> None:
    found = thinnest("web", RIM, [("face", box(0, 40, 3, 70)), ("face", box(10, 40, 13, 70))])
    assert found is not None
    assert found.after == 7


def test_a_web_at_a_named_diameter_sees_every_cut() -> None:
    cuts = [("face", BACK), ("groove", box(9, 30, 13, 50))]
    assert thinnest("web", RIM, cuts, at=90) == Thin(13, 2.5, pytest.approx(10.5 / 13))
    assert thinnest("web", RIM, cuts, at=70) == Thin(13, 9, pytest.approx(4 / 13))
    assert thinnest("web", RIM, cuts, at=40) is None


def test_a_wall_is_what_a_turn_leaves_beside_it() -> None:
    found = thinnest("wall", RIM, [("turn", box(0, 80, 20, 95)), ("face", BACK)])
    assert found == Thin(20, 5, pytest.approx(0.75))


def test_a_wall_between_a_recess_and_the_outside_is_seen() -> None:
    found = thinnest("wall", RIM, [("face", box(42, 75, 50, 88)), ("turn", box(40, 90, 50, 95))])
    assert found is not None
    assert found.after == 2


def test_a_wall_at_a_named_place() -> None:
    cuts = [("turn", box(0, 85, 20, 95)), ("turn", box(20, 80, 30, 95))]
    assert thinnest("wall", RIM, cuts, at=16) == Thin(20, 10, 0.5)
    assert thinnest("wall", RIM, cuts, at=25) == Thin(20, 5, pytest.approx(0.75))


def test_a_tapered_wall_is_thinnest_at_its_thin_end() -> None:
    taper = Polygon([(20, 95), (40, 95), (40, 80), (20, 90)])
    found = thinnest("wall", RIM, [("taper", taper)])
    assert found is not None
    assert found.after == pytest.approx(5, abs=1e-4)


def test_a_wall_that_goes_altogether_leaves_nothing() -> None:
    assert thinnest("wall", RIM, [("turn", box(30, 70, 50, 95))]) == Thin(20, 0, 1)


def test_ninety_percent_of_a_web_is_refused_and_a_little_less_is_not() -> None:
    assert "90 % of the metal" in web_refusals(Thin(10, 1, 0.9), None)[0]
    assert web_refusals(Thin(10, 1.01, 0.899), None) == []


def test_less_than_must_stay_is_refused_with_both_sizes() -> None:
    (said,) = web_refusals(Thin(16.51, 8.89, 0.4615), Least("web", 10.16))
    assert said == "Web: 0.350 in (8.89 mm) would be left and 0.400 in (10.16 mm) must stay. Take less."
    assert web_refusals(Thin(16.51, 8.89, 0.4615), Least("web", 8.89)) == []
    assert web_refusals(None, Least("web", 8.89)) == wall_refusals(Thin(9, 1, 0.9), None) == []


TEETH = KeepOut("teeth", 30, "from", 0.5)


def test_the_nearest_shoulder_counts() -> None:
    (found,), said = clearances([TEETH], [box(0, 90, 20, 95), box(0, 80, 29, 85)])
    assert (found.left_mm, found.ok, said) == (1, True, [])


def test_too_near_is_refused_with_where_to_end() -> None:
    (found,), (said,) = clearances([TEETH], [box(0, 90, 29.75, 95)])
    assert not found.ok
    assert said.startswith("Teeth: only 0.010 in (0.25 mm) would stay clear")
    assert "1.161 in (29.5 mm) from the back face" in said


@pytest.mark.parametrize("shape", [box(0, 90, 31, 95), box(40, 90, 50, 95), box(29, 90, 60, 95)])
def test_a_cut_into_the_kept_length_is_refused(shape: Polygon) -> None:
    (found,), (said,) = clearances([TEETH], [shape])
    assert found.left_mm < 0
    assert "into it" in said


def test_a_band_is_kept_between_two_edges_and_both_sides_may_be_cut() -> None:
    band = [KeepOut("pockets", 20, "from", 0.25), KeepOut("pockets", 30, "to", 0.25)]
    found, said = clearances(band, [box(0, 90, 19.7, 95), box(30.3, 90, 50, 95)])
    assert [round(one.left_mm, 6) for one in found] == [0.3, 0.3]
    assert said == []
    assert len(clearances(band, [box(0, 90, 22, 95)])[1]) == 2


def test_other_diameters_do_not_count() -> None:
    ledge = KeepOut("ledge", 10, "from", 0.5, inner=100, outer=140)
    assert clearances([ledge], [box(0, 75, 40, 95)]) == ([], [])
    assert len(clearances([ledge], [box(0, 65, 40, 95)])[1]) == 1


def test_an_edge_toward_the_back_is_kept_clear_from_the_front() -> None:
    (found,), _ = clearances([KeepOut("seat", 20, "to", 0.5)], [box(22, 40, 50, 95)])
    assert (found.left_mm, found.ok) == (2, True)


def test_a_hair_under_the_least_is_not_said_as_the_least_itself() -> None:
    (told,) = wall_refusals(Thin(25, 4.9995, 0.8), Least("web", 5))
    assert told.startswith("Web: a little less than 0.197 in (5 mm) would be left and 0.197 in (5 mm) must stay")


HOLES = "the holes"


def said(cover: Cover, least: Least | None = None, closed: bool = False, thin: Thin | None = None) -> tuple:
    return covered("web", [cover], lambda i: HOLES, lambda i: closed, thin, least)


def test_what_stays_over_a_hole_is_told_where_it_is_much_less_than_the_web() -> None:
    assert said(Cover(0, 20, 9, 30, 40), thin=Thin(40, 20, 0.5))[1] == [
        "Between a face and the holes 0.354 in (9 mm) would be left."
    ]
    assert said(Cover(0, 20, 11, 30, 40), thin=Thin(40, 20, 0.5)) == ([], [])


def test_what_stays_over_a_hole_is_refused_under_the_least_at_its_place() -> None:
    least = Least("web", 3)
    assert len(said(Cover(0, 20, 2, 30, 40), least)[0]) == 1
    assert said(Cover(0, 20, 2, 30, 40), Least("web", 3, at=70))[0] != []
    assert said(Cover(0, 20, 2, 30, 40), Least("web", 3, at=100))[0] == []
    opened = Cover(0, 20, 0, 30, 40)
    assert (len(said(opened, least)[0]), len(said(opened, least)[1])) == (0, 1)
    assert (len(said(opened, least, closed=True)[0]), len(said(opened, least, closed=True)[1])) == (1, 0)
