"""The working behind what stands at the machine."""

from sqlmodel import Session

from shopapp.office import truing, workings_floor
from shopapp.office.runcard import CardTyped, StopSum
from shopapp.office.sheets.working import WorkingSheet
from shopapp.office.truing import TruingTyped
from tests.makers import Shop
from tests.office.test_runcard import LATHE, lines

TYPED = {"most_per_pass": ".070", "speed": "280", "feed": ".010"}


def card(db: Session, shop: Shop, **typed: str) -> tuple[WorkingSheet, ...]:
    cut = lines(db, shop, **typed)[:2]
    return workings_floor.of_card(CardTyped(**typed), "in", None, cut, LATHE)


def read(surface: str, *readings: str, **told: str) -> tuple[WorkingSheet, ...]:
    typed = TruingTyped("tenth", readings, **told)
    return workings_floor.of_truing(surface, typed, truing.judge(surface, typed).judged)


def test_every_figure_of_a_cut_has_its_working_with_a_source(db: Session, shop: Shop) -> None:
    sheets = card(db, shop, **TYPED)
    assert [sheet.figure.split(",")[0] for sheet in sheets] == 2 * [
        "passes", "on the dial in all", "revolutions wanted", "revolutions to set", "minutes", "asked of the motor",
    ]  # fmt: skip
    assert all(sheet.source and sheet.formula for sheet in sheets)
    assert not [sheet for sheet in sheets if "wanted" not in sheet.figure and not sheet.value]


def test_the_sizes_stand_there_as_typed_with_the_unit_of_their_field(db: Session, shop: Shop) -> None:
    turned, dial, wanted, *_ = card(db, shop, **TYPED)
    assert turned.inputs == (("stock", ".3125 in on the radius"), ("most per pass", ".070 in"))
    assert (turned.value, dial.value) == (".0625, .0625, .0625, .0625, .0625 in", ".625 in")
    assert wanted.inputs == (("cutting speed", "280 ft/min"), ("outermost", "Ø 9.500 in"))
    metric = card(db, shop, most_per_pass="2 mm", speed="200 rpm")
    assert dict(metric[0].inputs)["most per pass"] == "2 mm"
    assert not [sheet for sheet in metric if sheet.figure.startswith("revolutions wanted")]
    assert dict(metric[2].inputs)["cutting speed"] == "200 rpm"


def test_a_face_is_timed_across_and_a_turned_length_along(db: Session, shop: Shop) -> None:
    along, across = (sheet for sheet in card(db, shop, **TYPED) if sheet.figure.startswith("minutes"))
    assert along.formula == "t = L N / (f n)"
    assert across.formula == "t = (D1 - D2) / (2 f n)"


def test_the_stop_shows_what_was_typed() -> None:
    typed = CardTyped(back_off=".020", extra_feed=".008")
    (stop,) = workings_floor.of_card(typed, "in", StopSum(".012", "", True), (), None)
    assert (stop.value, stop.inputs) == (".012 in", (("back-off", ".020 in"), ("extra feed", ".008 in")))
    assert stop.source == "Common practice, no source"


def test_readings_round_a_surface_show_eccentricity_move_and_out_of_round() -> None:
    off, move, oval = read("outside", "36", "20", "00", "16")
    assert (off.figure, move.figure, oval.figure) == ("eccentricity", "the move", "out-of-round")
    assert off.inputs == (("outside, round from jaw 1", "36 20 00 16 tenths"),)
    assert off.source.startswith("ISO 12181")
    assert dict(move.inputs)["jaw 3"] == "loosen"
    assert dict(move.inputs)["run-out allowed"] == ".0005 in (0.013 mm), the usual"


def test_a_face_shows_its_tilt_and_where_it_was_read() -> None:
    tilt, move, flat = read("face", "30", "0", "-30", "0", diameter="8", limit="5")
    assert (tilt.figure, flat.figure) == ("face tilt", "not flat")
    assert tilt.value == "60 tenths (.0060 in) at Ø 8 in"
    assert dict(tilt.inputs)["read at Ø"] == "8 in"
    assert dict(move.inputs)["run-out allowed"] == "5 tenths"


def test_nothing_is_worked_out_before_all_is_read() -> None:
    assert read("outside", "36", "", "", "") == ()
