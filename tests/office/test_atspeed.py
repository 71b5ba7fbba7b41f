"""A drawn part at a speed that the customer states: information only."""

import math

import pytest
from sqlmodel import Session

from shopapp.office import atspeed
from shopapp.office.atspeed import AtSpeed
from tests.makers import Shop, make_variant

IRON = {"material": "grey_iron", "density": "7.15"}


def spun(db: Session, shop: Shop, turns: str, off: str = "", grade: str = "", **told: object) -> AtSpeed:
    if "name" in told:
        told["signs"] = [f"marked {told['name']}"]
    variant_id = make_variant(db, shop, **told)
    found = atspeed.of_variant(db, variant_id=variant_id, turns=turns, off=off, grade=grade)
    assert found
    return found


@pytest.mark.outside("computed: Mechanical Engineer's Data Handbook, p. 15")
def test_rim_speed_and_the_stress_of_a_thin_ring_are_those_of_the_drawn_outside(db: Session, shop: Shop) -> None:
    told = spun(db, shop, "1800", **IRON)
    # v = pi D n / 60, s = rho v2 (Mechanical Engineer's Data Handbook, p. 15) for the cast's 8 in outside.
    speed = math.pi * 0.2032 * 1800 / 60
    figures = {label: text for label, text, _ in told.figures}
    assert figures["rim speed"] == f"{speed:.1f}"
    assert figures["thin ring"] == f"{7150 * speed**2 / 1e6:.2f}"
    assert not told.over
    assert any("no speed rating given" in words for words in told.cautions)


@pytest.mark.outside("computed: ICS Shop Practice, 100 ft/s")
def test_over_a_hundred_feet_a_second_iron_is_told_so_loudly(db: Session, shop: Shop) -> None:
    # 100 ft/s, ICS Shop Practice; 8 in at n rpm reaches it at 60 x 30.48 / (pi x 0.2032) = 2865 rpm.
    under, over = (spun(db, shop, turns, name=turns, **IRON) for turns in ("2860", "2870"))
    assert (under.over, over.over) == (False, True)
    assert over.sentences[0].startswith("TOO FAST FOR THE CLASSICAL LIMIT")
    assert not spun(db, shop, "5000", name="steel").over


@pytest.mark.outside("computed: ISO 21940-11, its rounded factor")
def test_a_bore_off_its_centre_is_held_against_the_grade(db: Session, shop: Shop) -> None:
    told = spun(db, shop, "3000", ".002", "G 6.3")
    # U = m e; U_per = 9549 G m / n (ISO 21940-11, with the rounded factor of its tables).
    kilos = math.pi / 4 * (8**2 - 2**2) * 2 * 16.387064 * 7.85 / 1000
    figures = {label: float(text) for label, text, _ in told.figures}
    assert figures["the new bore leaves"] == pytest.approx(kilos * 1000 * 0.0508, rel=0.005)
    assert figures["may stay"] == pytest.approx(9549 * 6.3 * kilos / 3000, rel=0.005)
    assert "have the part balanced" in " ".join(told.sentences)
    assert all(sheet.source for sheet in told.workings)


def test_what_cannot_be_read_is_a_hint_and_nothing_typed_says_nothing(db: Session, shop: Shop) -> None:
    variant_id = make_variant(db, shop)
    assert atspeed.of_variant(db, variant_id=variant_id, turns=" ") is None
    assert spun(db, shop, "fast", name="twin").problems["turns"]
    assert spun(db, shop, "1800", "wide", name="third").problems["off"]
    undrawn = make_variant(db, shop, body=None, name="undrawn", signs=["none"])
    assert atspeed.of_variant(db, variant_id=undrawn, turns="1800") is None


@pytest.mark.parametrize("turns", ["9000 ft/min", "100 sfm", "100 m/min", "2.870"])
def test_a_speed_of_the_rim_is_not_taken_for_turns(db: Session, shop: Shop, turns: str) -> None:
    told = spun(db, shop, turns, **IRON)
    assert "turns a minute" in told.problems["turns"]
    assert (told.figures, told.over) == ((), False)


def test_the_working_says_each_unit_once(db: Session, shop: Shop) -> None:
    told = spun(db, shop, "2870 rpm", ".05 mm", **IRON)
    inputs = dict(line for sheet in told.workings for line in sheet.inputs)
    assert inputs["turns, as the customer states"] == "2870 rpm"
    assert inputs["bore off centre by"] == ".05 mm"


def test_the_grade_of_general_machinery_stands_first() -> None:
    assert atspeed.grades()[0][0] == "G 6.3"
    assert len(atspeed.grades()) == 11
