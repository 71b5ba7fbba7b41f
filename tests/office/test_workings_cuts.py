"""The working behind what cuts take off."""

from sqlmodel import Session

from shopapp.office import cutting, workings_cuts
from shopapp.office.drawing import CutsTyped
from shopapp.office.sheets.removal import RemovalSheet
from tests.cast import GUARDED, SKIM
from tests.makers import Shop, make_variant


def removal(db: Session, shop: Shop, typed: CutsTyped, pieces: int = 2) -> RemovalSheet:
    told = cutting.try_cuts(db, variant_id=make_variant(db, shop, body=GUARDED), typed=typed, pieces=pieces).removal
    assert told
    return told


def test_every_figure_of_a_removal_has_its_working_with_a_source(db: Session, shop: Shop) -> None:
    sheets = workings_cuts.of_removal(removal(db, shop, SKIM))
    assert [sheet.figure for sheet in sheets] == [
        "comes off each", "what each cut takes", "volume of what is turned", "holes, keyways, pockets and slots",
        "left", "off all 2", "inertia off", "web left", "clear of the edges",
    ]  # fmt: skip
    assert all(sheet.source for sheet in sheets)


def test_the_cuts_stand_there_as_typed(db: Session, shop: Shop) -> None:
    first, takes = workings_cuts.of_removal(removal(db, shop, SKIM))[:2]
    assert first.inputs[0] == ("cut 1, side A", "face, deep .250")
    assert dict(takes.inputs)["side A"].endswith(" lb")


def test_a_part_without_cuts_shows_how_its_mass_was_found(db: Session, shop: Shop) -> None:
    told = removal(db, shop, CutsTyped("in"))
    assert workings_cuts.of_removal(told)[0].figure == "weighs about"
    assert workings_cuts.of_body(RemovalSheet((), (), 0.0, 0.0, 0.0, "", "")) == ()
