"""What was typed, read into what the bench works with; what is not finished is left out and said."""

import pytest

from shopapp.office.drawing import BodyTyped, CutsTyped, KeepTyped, Typed, read_body, read_cuts
from tests.cast import DISC, GUARDED, face

RING = {"outside": "8", "inside": "2", "start": "0", "end": "2"}


def test_a_ring_is_read_in_the_unit_of_its_fields() -> None:
    for unit, mm in (("in", 203.2), ("mm", 8.0)):
        drawn, problems = read_body(BodyTyped(unit, parts=(Typed("ring", RING),)))
        assert problems == {}
        assert drawn.body.parts[0].outside == pytest.approx(mm)


def test_metal_holes_and_lugs_are_told_apart() -> None:
    holes = Typed("holes", {"count": "4", "diameter": "1/2", "circle": "5"})
    lug = Typed("lump", {"length": "1", "width": "1", "height": "1"})
    drawn, problems = read_body(BodyTyped("in", parts=(*DISC.parts, holes, lug)))
    assert problems == {}
    assert [len(group) for group in (drawn.body.parts, drawn.body.voids, drawn.body.lumps)] == [1, 1, 1]
    assert drawn.body.voids[0].count == 4


@pytest.mark.parametrize(
    ("text", "degrees"), [("", None), ("30", 30), ("22.5", 22.5), ("22,5°", 22.5), ("7-1/2 deg", 7.5), ("0 degrees", 0)]
)
def test_where_the_first_hole_stands_is_read_in_degrees(text: str, degrees: float | None) -> None:
    holes = Typed("holes", {"count": "4", "diameter": "1/2", "circle": "5", "first": text})
    drawn, problems = read_body(BodyTyped("in", parts=(*DISC.parts, holes)))
    assert problems == {}
    assert drawn.body.voids[0].first == degrees


@pytest.mark.parametrize("name", ["Q", "letter E", "#7", "No. 7 drill"])
def test_a_hole_is_typed_by_its_size_and_not_by_the_name_of_a_drill(name: str) -> None:
    # Tables differ: one page prints Q for 1/4 in; by ASME B94.11M, from memory, E is .250 and Q is .332.
    holes = Typed("holes", {"count": "4", "diameter": name, "circle": "5"})
    assert set(read_body(BodyTyped("in", parts=(*DISC.parts, holes)))[1]) == {"part_1_diameter"}


def test_an_angle_that_cannot_be_read_is_told_beside_its_field() -> None:
    holes = Typed("holes", {"count": "4", "diameter": "1/2", "circle": "5", "first": "noon"})
    assert set(read_body(BodyTyped("in", parts=(*DISC.parts, holes)))[1]) == {"part_1_first"}


def test_a_drawing_from_before_angles_could_be_said_reads_on() -> None:
    text = '{"kind": "holes", "side": "", "sizes": {"circle": "5", "count": "4", "diameter": "1/2"}}'
    old = BodyTyped.from_json(DISC.to_json().replace('"parts": [', f'"parts": [{text}, '))
    drawn, problems = read_body(old)
    assert (problems, drawn.body.voids[0].first) == ({}, None)


def test_a_row_that_is_half_typed_is_left_out_and_named() -> None:
    half = Typed("ring", {"outside": "9", "start": "0"})
    drawn, problems = read_body(BodyTyped("in", parts=(*DISC.parts, half)))
    assert len(drawn.body.parts) == 1
    assert set(problems) == {"part_1_end"}


def test_an_empty_row_is_no_problem() -> None:
    drawn, problems = read_body(BodyTyped("in", parts=(Typed("ring", {"outside": " "}), *DISC.parts, Typed("nut"))))
    assert (len(drawn.body.parts), problems) == (1, {})


def test_a_size_that_cannot_be_read_is_told_beside_its_field() -> None:
    drawn, problems = read_body(BodyTyped("in", parts=(Typed("ring", {**RING, "outside": "1/2-13"}),)))
    assert drawn.body is None
    assert set(problems) == {"part_0_outside"}


def test_a_ring_inside_out_is_told_beside_its_first_size() -> None:
    drawn, problems = read_body(BodyTyped("in", parts=(Typed("ring", {**RING, "inside": "9"}),)))
    assert drawn.body is None
    assert set(problems) == {"part_0_outside"}


def test_an_edge_to_keep_clear_of_is_read_with_its_least() -> None:
    drawn, problems = read_body(GUARDED)
    (keep,) = drawn.keeps
    assert problems == {}
    assert (keep.name, keep.side) == ("drain groove", "from")
    assert (keep.z, keep.least) == pytest.approx((10.16, 2.54))
    assert drawn.web.least == pytest.approx(38.1)
    assert drawn.wall is None


@pytest.mark.parametrize(
    ("keep", "field"),
    [
        (KeepTyped("", "1"), "keep_0_name"), (KeepTyped("groove", ""), "keep_0_z"),
        (KeepTyped("groove", "far"), "keep_0_z"), (KeepTyped("groove", "1", least="-"), "keep_0_least"),
    ],
)  # fmt: skip
def test_an_edge_half_typed_is_named(keep: KeepTyped, field: str) -> None:
    assert set(read_body(BodyTyped("in", parts=DISC.parts, keeps=(keep,)))[1]) == {field}


def test_a_cut_keeps_its_side_and_its_words() -> None:
    cuts, rows, problems = read_cuts(CutsTyped("in", (Typed("turn", {"to": "7-7/8", "start": "1"}, "B"),)))
    assert problems == {}
    assert (cuts[0].side, cuts[0].kind) == ("B", "turn")
    assert dict(cuts[0].sizes) == pytest.approx({"to": 200.025, "start": 25.4})
    assert rows[0].as_said() == "outside Ø wanted 7-7/8, from face 1"


@pytest.mark.parametrize(
    ("said", "mm"),
    [
        ("half", 25.4), ("half of it", 25.4), ("1/4 of it", 12.7), ("25 %", 12.7), ("leave 1.750", 6.35),
        (".250", 6.35),
        ("1/3", 50.8 / 3), ("⅓", 50.8 / 3), ("1/3 of web", 50.8 / 3), ("half an inch", 12.7), ("1/2 in", 12.7),
    ],
)  # fmt: skip
def test_a_depth_may_be_said_of_the_measured_web(said: str, mm: float) -> None:
    cuts, _, problems = read_cuts(face(said, web="2"))
    assert problems == {}
    assert cuts[0].sizes["depth"] == pytest.approx(mm)


def test_a_half_of_nothing_measured_asks_for_the_web() -> None:
    cuts, _, problems = read_cuts(face("half"))
    assert cuts == []
    assert "Measure the web" in problems["cut_0_depth"]


@pytest.mark.parametrize("said", ["1/2", "½", "leave 1/4"])
def test_a_fraction_that_may_be_inches_or_a_part_is_asked_about_where_a_web_is_measured(said: str) -> None:
    assert "of the web, or" in read_cuts(face(said, web="2"))[2]["cut_0_depth"]


def test_a_fraction_of_an_inch_is_a_depth_where_no_web_is_measured() -> None:
    assert read_cuts(face("½"))[0][0].sizes["depth"] == pytest.approx(12.7)
    assert "Measure the web" in read_cuts(face("1/3"))[2]["cut_0_depth"]


def test_more_than_the_web_is_refused_beside_the_cut() -> None:
    assert set(read_cuts(face("leave 3", web="2"))[2]) == {"cut_0_depth"}


def test_a_web_that_cannot_be_read_is_told() -> None:
    assert set(read_cuts(face(".1", web="thick"))[2]) == {"web"}


def test_a_cut_half_typed_is_left_out_and_its_row_with_it() -> None:
    typed = CutsTyped("in", (Typed("turn", {"start": "1"}, "A"), *face(".1").cuts, Typed("face", {}, "A")))
    cuts, rows, problems = read_cuts(typed)
    assert (len(cuts), [row.kind for row in rows], set(problems)) == (1, ["face"], {"cut_0_to"})


def test_a_document_is_read_back_as_it_was_typed() -> None:
    assert BodyTyped.from_json(GUARDED.to_json()) == GUARDED
    cuts = face("half of it", web="13 mm", note="Ø by the rule")
    assert CutsTyped.from_json(cuts.to_json()) == cuts
