"""The shop's machines and measuring instruments."""

import pytest
from sqlmodel import Session

from shopapp.office import equipment, shopbook, sizes
from shopapp.office.errors import NotHere, TryAgain
from tests.makers import Shop, make_job, pieces_of

LATHE = {
    "name": "big lathe", "dial": "radius", "chuck_limit": "1200", "speeds": "450, 90; 60  1200 90", "motor_kw": "2.2",
    "screw": "1/8 in",
}  # fmt: skip
CALIPER = {"name": "dial caliper", "unit": "in", "resolution": ".001", "good_to": ".0015"}


# NIST SP 811, B.8: 1 in = 25.4 mm exactly.
@pytest.mark.outside("verified: NIST SP 811, App. B.8")
def test_a_machine_says_what_its_dial_reads_and_which_speeds_it_has(db: Session, shop: Shop) -> None:
    row = equipment.add_machine(db, **LATHE, **shop.at())
    (lathe,) = equipment.machines(db)
    assert (lathe.id, lathe.dial, lathe.chuck_limit, lathe.speeds) == (row, "radius", 1200, (60, 90, 450, 1200))
    assert (lathe.kilowatts, lathe.pitch_mm) == (2.2, pytest.approx(3.175))


def test_what_is_not_known_of_a_machine_stays_open(db: Session, shop: Shop) -> None:
    equipment.add_machine(db, name="small lathe", dial="diameter", chuck_limit="2000", **shop.at())
    (lathe,) = equipment.machines(db)
    assert (lathe.speeds, lathe.kilowatts, lathe.pitch_mm) == ((), None, None)


@pytest.mark.parametrize(
    ("told", "field"),
    [
        ({"name": " "}, "machine"), ({"dial": "depth"}, "dial"), ({"chuck_limit": ""}, "chuck_limit"),
        ({"chuck_limit": "0"}, "chuck_limit"), ({"chuck_limit": "99999"}, "chuck_limit"),
        ({"speeds": "60 fast"}, "speeds"), ({"speeds": "60, 1,200"}, "speeds"), ({"speeds": "60 1 200"}, "speeds"),
        ({"motor_kw": "0"}, "motor_kw"), ({"motor_kw": "strong"}, "motor_kw"), ({"screw": "5"}, "screw"),
    ],
)  # fmt: skip
def test_a_machine_that_cannot_be_is_refused(db: Session, shop: Shop, told: dict[str, str], field: str) -> None:
    with pytest.raises(TryAgain) as refusal:
        equipment.add_machine(db, **{**LATHE, **told}, **shop.at())
    assert set(refusal.value.problems) == {field}


def test_an_instrument_knows_its_step_and_what_it_is_good_to(db: Session, shop: Shop) -> None:
    equipment.add_instrument(db, **CALIPER, **shop.at())
    (caliper,) = equipment.instruments(db)
    assert (caliper.resolution_mm, caliper.good_to_mm) == (pytest.approx(0.0254), pytest.approx(0.0381))
    assert caliper.words == "dial caliper, shows .001 in, good to .0015 in"


@pytest.mark.parametrize(
    ("told", "field"),
    [
        ({"name": ""}, "instrument"), ({"unit": "ft"}, "unit"), ({"resolution": ""}, "resolution"),
        ({"resolution": "fine"}, "resolution"), ({"good_to": "0"}, "good_to"),
    ],
)  # fmt: skip
def test_an_instrument_that_cannot_be_is_refused(db: Session, shop: Shop, told: dict[str, str], field: str) -> None:
    with pytest.raises(TryAgain) as refusal:
        equipment.add_instrument(db, **{**CALIPER, **told}, **shop.at())
    assert set(refusal.value.problems) == {field}


def test_two_of_a_name_are_refused(db: Session, shop: Shop) -> None:
    equipment.add_machine(db, **LATHE, **shop.at())
    equipment.add_instrument(db, **CALIPER, **shop.at())
    with pytest.raises(TryAgain, match="another one"):
        equipment.add_machine(db, **LATHE, **shop.at())
    with pytest.raises(TryAgain, match="another one"):
        equipment.add_instrument(db, **CALIPER, **shop.at())


def test_a_size_may_be_measured_with_the_shops_own_instrument(db: Session, shop: Shop) -> None:
    equipment.add_instrument(db, **CALIPER, **shop.at())
    piece = pieces_of(db, make_job(db, shop, pieces=1))[0]
    told = {"piece_id": piece.id, "name": "web", "typed": "1.000", "unit": "in", "instrument": "dial caliper"}
    sizes.measure(db, **told, note="it says 25.42 mm", **shop.at())  # 0.02 apart, good to 0.0381
    with pytest.raises(TryAgain, match="Which one"):
        sizes.measure(db, **told, note="it says 25.5 mm", **shop.at())
    assert next(iter(sizes.instruments(db))) == "dial caliper"


def test_what_goes_out_of_use_is_offered_no_more(db: Session, shop: Shop) -> None:
    lathe = equipment.add_machine(db, **LATHE, **shop.at())
    caliper = equipment.add_instrument(db, **CALIPER, **shop.at())
    for what, row in (("machine", lathe), ("instrument", caliper), ("scale", shop.scales["counter"])):
        equipment.retire(db, what=what, row_id=row, **shop.at())
    assert (equipment.machines(db), equipment.instruments(db)) == ([], [])
    assert "counter" not in [scale.name for scale in shopbook.scales(db)]
    for what, row in (("machine", 99), ("person", 1)):
        with pytest.raises(NotHere):
            equipment.retire(db, what=what, row_id=row, **shop.at())
