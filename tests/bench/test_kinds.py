"""Every kind of cut and part says its sizes, and a filled-in form becomes the part."""

import math

import pytest

from shopapp.bench.errors import Impossible, Refused
from shopapp.bench.holes import HoleCircle, Keyway, RadialHole, Slot
from shopapp.bench.kinds import CUT_KINDS, PART_KINDS, build, told
from shopapp.bench.outline import Cone, Corner, Hollow, HollowCone, Lump, Ring

RING = {"outside": 40.0, "inside": 20.0, "start": 0.0, "end": 10.0}
CONE = {"outside_start": 40.0, "outside_end": 30.0, "start": 0.0, "end": 10.0}
BUILT = {
    "ring": (RING, Ring(40, 20, 0, 10)),
    "hollow": (RING, Hollow(40, 20, 0, 10)),
    "cone": (CONE, Cone(40, 30, 0, 0, 0, 10)),
    "hollow_cone": ({**CONE, "inside_end": 5.0}, HollowCone(40, 30, 0, 5, 0, 10)),
    "corner": ({"size": 1, "diameter": 40, "at": 10}, Corner(1, 40, 10)),
    "holes": ({"count": 4, "diameter": 8, "circle": 60}, HoleCircle(4, 8, 60, -math.inf, math.inf)),
    "keyway": ({"width": 8, "depth": 3, "bore": 30, "start": 1, "end": 9}, Keyway(8, 3, 30, 1, 9)),
    "pocket": ({"count": 6, "diameter": 8, "outside": 90, "depth": 7, "at": 12}, RadialHole(6, 8, 90, 7, 12)),
    "slot": ({"count": 3, "width": 8, "depth": 7, "outside": 90}, Slot(3, 8, 7, 90)),
    "lump": ({"length": 100, "width": 40, "height": 20, "full": 50}, Lump("foot", 40_000)),
}


@pytest.mark.parametrize("kind", PART_KINDS)
def test_a_filled_in_form_becomes_the_part(kind: str) -> None:
    sizes, part = BUILT[kind]
    assert build(kind, sizes) == part


@pytest.mark.parametrize("kind", PART_KINDS)
def test_a_needed_size_left_empty_is_asked_for_by_its_label(kind: str) -> None:
    sizes = BUILT[kind][0]
    for spec in PART_KINDS[kind].sizes:
        if spec.needed:
            with pytest.raises(Refused, match=f"Type “{spec.label}”"):
                build(kind, {name: x for name, x in sizes.items() if name != spec.name})


def test_each_kind_has_words_and_no_size_twice() -> None:
    assert set(CUT_KINDS) == {"turn", "face", "bore", "groove", "taper", "bevel"}
    for kind in (*CUT_KINDS.values(), *PART_KINDS.values()):
        names = [spec.name for spec in kind.sizes]
        assert kind.words
        assert len(names) == len(set(names))
        assert {spec.kind for spec in kind.sizes} <= {"diameter", "length", "count", "percent", "angle"}
        assert all(spec.note.startswith("empty: ") for spec in kind.sizes if not spec.needed and spec.note)


def test_an_inside_left_empty_is_solid() -> None:
    assert build("ring", {"outside": 40, "start": 0, "end": 10}) == Ring(40, 0, 0, 10)


def test_a_lump_keeps_its_name_and_is_full_unless_told() -> None:
    assert build("lump", {"length": 10, "width": 10, "height": 10}, name="lug") == Lump("lug", 1000)


@pytest.mark.parametrize(
    ("kind", "sizes", "says"),
    [
        ("ring", {**RING, "colour": 1.0}, "no size named colour"),
        ("ring", {**RING, "end": math.nan}, "plain number"),
        ("wedge", {}, "no part of the kind wedge"),
        ("holes", {"count": 2.5, "diameter": 8, "circle": 60}, "whole number"),
    ],
)
def test_what_cannot_be_read_is_refused(kind: str, sizes: dict[str, float], says: str) -> None:
    with pytest.raises(Refused, match=says):
        build(kind, sizes)


@pytest.mark.parametrize(
    ("kind", "sizes", "says"),
    [
        ("ring", {**RING, "inside": -2.0}, "under nothing"),
        ("ring", {**RING, "inside": 50.0}, "swapped"),
        ("lump", {"length": 1, "width": 1, "height": 1, "full": 120}, "1 to 100 %"),
        ("keyway", {"width": 50, "depth": 3, "bore": 30}, "does not fit"),
    ],
)
def test_what_cannot_be_is_refused(kind: str, sizes: dict[str, float], says: str) -> None:
    with pytest.raises(Impossible, match=says):
        build(kind, sizes)


def test_the_sizes_of_a_cut_are_looked_at_the_same_way() -> None:
    assert told(CUT_KINDS["face"], {"depth": 1}) == {"depth": 1}
    with pytest.raises(Refused, match="Type “bore Ø wanted” of the bore"):
        told(CUT_KINDS["bore"], {})


@pytest.mark.parametrize("kind", [key for key, kind in PART_KINDS.items() if kind.makes == "void"])
def test_every_void_may_say_where_its_first_one_stands(kind: str) -> None:
    spec = next(size for size in PART_KINDS[kind].sizes if size.name == "first")
    assert (spec.needed, spec.kind) == (False, "angle")
    sizes = {size.name: 4.0 for size in PART_KINDS[kind].sizes if size.needed} | {"outside": 100.0, "circle": 60.0}
    given = {name: value for name, value in sizes.items() if name in {size.name for size in PART_KINDS[kind].sizes}}
    assert build(kind, given).first is None
    assert build(kind, {**given, "first": 15.0}).first == 15.0
