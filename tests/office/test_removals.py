"""What the bench found, as it stands on sheets."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import MultiPolygon, Point, Polygon, box

from shopapp.office import removals
from shopapp.office.drawing import CutsTyped, KeepTyped, Typed, read_body, read_cuts
from shopapp.office.parts import VariantFacts
from shopapp.office.sheets.removal import RemovalSheet
from tests.cast import DISC, GUARDED, SKIM, face

PLATE = VariantFacts(1, 1, "press plate", "plain", "carbon_steel", "wrought", "7.85", "in", "")
# NIST SP 811, B.8: 1 in = 25.4 mm exactly.
EIGHTH = math.pi / 4 * (8**2 - 2**2) * 0.25 * 2.54**3 * 7.85


def sheet(cuts: CutsTyped, body: object = DISC, **told: object) -> RemovalSheet:
    drawn, problems = read_body(body)
    read, rows, more = read_cuts(cuts)
    assert problems | more == {}
    return removals.sheets(PLATE, drawn, read, rows, unit="in", **told)[0]


# The ring's volume is pi/4 (D^2 - d^2) L: Machinery's Handbook 31, p. 90, from memory.
@pytest.mark.outside("computed: Machinery's Handbook 31, pp. 89-93")
def test_a_skim_of_a_disc_weighs_what_its_ring_weighs() -> None:
    found = sheet(SKIM)
    assert found.grams == pytest.approx(EIGHTH, rel=1e-12)
    assert found.before_text == "26.73 lb"
    assert found.after_text == "23.39 lb"


def test_the_whole_part_is_weighed_no_finer_than_its_density_is_known() -> None:
    drawn, (cuts, rows, _) = read_body(DISC)[0], read_cuts(SKIM)
    iron = replace(PLATE, material="grey_iron", density="7.15")  # 24.35 lb, by its range 23.2 to 25.2 lb
    found = removals.sheets(iron, drawn, cuts, rows, unit="in")[0]
    assert (found.before_text, found.after_text) == ("24.3 lb", "21.3 lb")


def test_about_is_no_finer_than_the_spread() -> None:
    found = sheet(SKIM)
    # u of the mass by hand: depth .25, outside 8 and inside 2 in, each good to 0.13 mm, and steel 7.82 to 7.88
    # (GUM 4.3.7 and 5.1.2: rectangular, slopes of pi/4 (D² - d²) t).
    own = 0.13 / math.sqrt(3) / 25.4
    sizes = [own / 0.25, own * 2 * 8 / (8**2 - 2**2), own * 2 * 2 / (8**2 - 2**2)]
    expanded = 2 * EIGHTH * math.hypot(*sizes, 0.06 / math.sqrt(12) / 7.85)
    assert (found.low_g, found.high_g) == pytest.approx((EIGHTH - expanded, EIGHTH + expanded), rel=1e-5)
    assert (found.about, found.range_text) == ("3.34 lb", "3.26 to 3.43 lb")


def test_the_set_is_said_only_where_there_is_one() -> None:
    assert sheet(SKIM).set_text == ""
    assert sheet(SKIM, pieces=3).set_text == "10.02 lb"


def test_the_mass_is_shown_in_the_unit_asked_for() -> None:
    assert sheet(SKIM, mass_unit="g").about.endswith(" g")


@given(
    st.lists(
        st.tuples(st.sampled_from("AB"), st.sampled_from(["face", "turn"]), st.integers(1, 40)), min_size=1, max_size=6
    )
)
@settings(max_examples=40, deadline=None)
def test_removal_by_side_and_by_cut_sums_to_the_removal(drawn: list[tuple[str, str, int]]) -> None:
    sizes = {"face": lambda n: {"depth": f"{n / 100}"}, "turn": lambda n: {"to": f"{8 - n / 20}"}}
    cuts = tuple(Typed(kind, sizes[kind](n), side) for side, kind, n in drawn)
    read, rows, _ = read_cuts(CutsTyped("in", cuts))
    found = removals.removal(read_body(DISC)[0].body, read, 7.85)
    assert math.fsum(found.sides.values()) == pytest.approx(found.mass, rel=1e-9)
    rows_of = removals.sheets(PLATE, read_body(DISC)[0], read, rows, unit="in")[0].rows
    assert math.fsum(row.grams for row in rows_of) == pytest.approx(found.mass, rel=1e-9)


def test_metal_that_two_cuts_share_counts_once_and_the_working_says_so() -> None:
    both = CutsTyped("in", (*SKIM.cuts, Typed("turn", {"to": "7"}, "A")))
    found = sheet(both)
    ring = math.pi / 4 * (8**2 - 7**2) * 1.75 * 2.54**3 * 7.85
    assert found.grams == pytest.approx(EIGHTH + ring, rel=1e-12)
    assert any("counts once" in line for line in found.working)


def test_what_is_left_of_a_guarded_body_is_said() -> None:
    found = sheet(SKIM, GUARDED)
    assert found.clearances == ("drain groove: 0.150 in clear, least is 0.100 in",)
    assert found.web_text == "1.750 in"
    assert found.refusals == ()


def test_a_cut_into_an_edge_to_keep_is_refused_and_says_by_how_much() -> None:
    found = sheet(face(".500"), GUARDED)
    assert found.clearances == ("drain groove: cut into by 0.100 in",)
    assert any("Drain groove: a cut goes 0.100 in" in words for words in found.refusals)


def test_the_drawing_shows_what_stays_and_what_goes() -> None:
    drawn, (cuts, rows, _) = read_body(GUARDED)[0], read_cuts(SKIM)
    section = removals.sheets(PLATE, drawn, cuts, rows, unit="in")[1]
    assert section.title == "press plate, plain"
    assert [len(group) for group in (section.stays, section.removed, section.keep_outs)] == [1, 1, 1]
    assert section.keep_outs[0].left_text == "0.150 in clear"
    assert {size.text for size in section.sizes} == {"8.000", "1.750", "2.000"}


def test_an_edge_to_keep_says_its_least_clearance_while_no_cut_comes_near() -> None:
    edges = (KeepTyped("drain groove", z=".800", least=".100"), KeepTyped("pocket edge, back", z="1.2"))
    section = removals.sheets(PLATE, read_body(replace(GUARDED, keeps=edges))[0], [], [], unit="in")[1]
    assert [mark.left_text for mark in section.keep_outs] == ["stay 0.100 in clear", "do not touch"]


def test_a_region_in_two_pieces_has_two_patches_and_a_hole_its_loop() -> None:
    ring = Polygon(box(0, 0, 9, 9).exterior, [box(3, 3, 6, 6).exterior])
    assert [len(removals.patches(r)) for r in (Polygon(), ring, MultiPolygon([ring, box(20, 0, 21, 1)]))] == [0, 1, 2]
    assert len(removals.patches(ring)[0].holes) == 1
    assert removals.patches(Point(1, 1)) == ()
