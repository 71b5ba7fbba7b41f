"""Aim: one size of one cut for a wanted mass or inertia."""

import math

import pytest
from sqlmodel import Session

from shopapp.office import aiming
from shopapp.office.aiming import AimFacts
from shopapp.office.drawing import BodyTyped, CutsTyped, Typed
from tests.cast import GUARDED
from tests.makers import Shop, make_variant

POUND_G, INCH_CM = 453.59237, 2.54  # NIST SP 811, B.8
#: The cast's disc of 8 in with a 2 in bore, 2 in long, of steel at 7.85.
AREA_CM2 = math.pi / 4 * (8**2 - 2**2) * INCH_CM**2
PER_INCH_LB = AREA_CM2 * INCH_CM * 7.85 / POUND_G
FACE = CutsTyped("in", (Typed("face", {"depth": ".1"}, "A"),))


def find(db: Session, shop: Shop, wanted: str, what: str = "mass", typed: CutsTyped = FACE, **told: object) -> AimFacts:
    size = str(told.pop("size", "0.depth"))
    if "name" in told:
        told["signs"] = [f"marked {told['name']}"]
    found = aiming.find(
        db, variant_id=make_variant(db, shop, **told), typed=typed, size=size, what=what, wanted=wanted
    )  # fmt: skip
    assert found
    return found


@pytest.mark.outside("computed: mass over area and density")
def test_a_face_is_found_for_a_finished_mass_and_for_what_comes_off(db: Session, shop: Shop) -> None:
    # A plane ring from first principles: depth = mass off / (area x density).
    deep = 2 - 20 / PER_INCH_LB
    for told in (find(db, shop, "20"), find(db, shop, f"{2 * PER_INCH_LB - 20:.6f} lb", "removed", name="twin")):
        assert told.reached
        assert told.fields == {"cut_0_depth": f"{deep:.4f} in"}
        assert f"{deep:.3f} in" in told.words


@pytest.mark.outside("computed: Machinery's Handbook 31, p. 237")
def test_an_inertia_is_wanted_in_its_own_unit(db: Session, shop: Shop) -> None:
    # J = m (ro2 + ri2) / 2 of a plain ring, Machinery's Handbook 31, p. 237; from memory as to the page.
    grams = 1.5 * PER_INCH_LB * POUND_G
    wanted = grams * ((4 * INCH_CM / 100) ** 2 + (1 * INCH_CM / 100) ** 2) / 2
    told = find(db, shop, f"{wanted:.6f}", "inertia")
    assert told.fields == {"cut_0_depth": "0.5000 in"}
    assert aiming.unit_of("inertia", "in") == "g·m²"
    assert (aiming.unit_of("mass", "in"), aiming.unit_of("removed", "mm")) == ("lb", "g")


def test_what_stops_it_is_said_with_what_is_possible(db: Session, shop: Shop) -> None:
    told = find(db, shop, "10", body=GUARDED)
    assert not told.reached
    assert "Drain groove" in told.words
    assert "is possible" in told.words
    assert "stopped by" in dict(told.workings[0].inputs)


def test_the_free_size_may_be_empty_and_a_bevel_on_its_diameter_goes_along(db: Session, shop: Shop) -> None:
    turn = Typed("turn", {"to": "7.5"}, "A")
    bevel = Typed("bevel", {"corner": ".1", "diameter": "7.5"}, "A")
    told = find(db, shop, "22", typed=CutsTyped("in", (turn, bevel)), size="0.to")
    assert set(told.fields) == {"cut_0_to", "cut_1_diameter"}
    empty = CutsTyped("in", (Typed("turn", {"from": "8"}, "A"),))
    assert set(find(db, shop, "22", typed=empty, size="0.to", name="twin").fields) == {"cut_0_to"}


def test_an_aim_that_is_not_typed_to_its_end_says_nothing(db: Session, shop: Shop) -> None:
    variant_id = make_variant(db, shop)
    nothing = (("", "mass", "20"), ("0.depth", "", "20"), ("0.depth", "mass", " "), ("7.depth", "mass", "9"))
    for size, what, wanted in nothing:
        assert aiming.find(db, variant_id=variant_id, typed=FACE, size=size, what=what, wanted=wanted) is None


def test_what_cannot_be_read_is_said_in_its_place(db: Session, shop: Shop) -> None:
    for wanted in ("heavy", "20 in", "-3"):
        told = find(db, shop, wanted, name=f"for {wanted}")
        assert not told.reached
        assert told.words
    assert "does not make the cut larger" in find(db, shop, "20", size="0.at", name="other").words


def test_the_sizes_that_can_be_aimed_with_are_those_of_the_typed_rows() -> None:
    typed = CutsTyped(
        "in", (Typed("turn", {}, "A"), Typed("face", {"depth": ".1"}, "A"), Typed("tilt", {"x": "1"}, "A"))
    )
    assert [key for key, _ in aiming.choices(typed)] == ["1.depth", "1.from", "1.to"]
    assert aiming.choices(typed)[0][1].startswith("cut 2, face: ")


def test_without_a_drawing_only_what_comes_off_can_be_aimed_for(db: Session, shop: Shop) -> None:
    cuts = CutsTyped("mm", (Typed("face", {"depth": "1", "from": "100", "to": "20"}, "A"),))
    told = find(db, shop, "100 g", "removed", typed=cuts, body=None)
    assert told.reached
    undrawn: BodyTyped | None = None
    assert not find(db, shop, "100 g", "mass", typed=cuts, body=undrawn, name="twin").reached
