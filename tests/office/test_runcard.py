"""The sums of a setting card: stop, passes and dial, speed, what interrupts the cut."""

import math
from fractions import Fraction

import pytest
from sqlmodel import Session

from shopapp.office import cutting, drawing, equipment, parts, runcard
from shopapp.office.drawing import BodyTyped, CutsTyped, Typed
from shopapp.office.equipment import MachineFacts
from shopapp.office.runcard import CardTyped, CutLines
from tests import makers
from tests.makers import Shop

#: A wheel 9-1/2 in across with four holes, to be turned to 8-7/8 and faced.
WHEEL = BodyTyped("in", parts=(
    Typed("ring", {"outside": "9.500", "inside": "1.75", "start": "0", "end": "2.5"}),
    Typed("holes", {"count": "4", "diameter": ".530", "circle": "5.5"}),
))  # fmt: skip
CUTS = CutsTyped("in", (
    Typed("turn", {"to": "8-7/8", "end": "1.0505"}, "A"), Typed("face", {"depth": ".300", "to": "4.25"}, "A"),
    Typed("bevel", {"corner": "1/32", "diameter": "8.875"}, "A"), Typed("turn", {"to": "8.875", "start": "1.4"}, "B"),
))  # fmt: skip
LATHE = MachineFacts(1, "lathe", "diameter", 1200, "70 115 200 300 460", "1.5", "")
RADIUS = MachineFacts(2, "old lathe", "radius", 150, "", "", "")


def lines(
    db: Session, shop: Shop, machine: MachineFacts | None = LATHE, side: str = "A", cuts: CutsTyped = CUTS,
    **typed: str,
) -> tuple[CutLines, ...]:  # fmt: skip
    variant = parts.variant(db, makers.the_plain_plate(db, shop))
    drawn, _ = drawing.read_body(WHEEL)
    read, rows, problems = drawing.read_cuts(cuts)
    told, unread = runcard.read(CardTyped(**typed), "in")
    assert not problems
    assert not unread
    return runcard.cut_lines(variant, drawn, read, rows, side, told, "in", machine)


def dials(line: CutLines) -> list[str]:
    return [one.dial for one in line.passes]


# Stock .3125 with at most .070 is five passes of .0625: .125 on a dial that reads the diameter.
def test_the_stock_of_the_drawing_becomes_equal_passes_with_their_dial_numbers(db: Session, shop: Shop) -> None:
    turn, face, bevel = lines(db, shop, most_per_pass=".070")
    assert dials(turn) == [".125"] * 5
    assert [one.depth for one in turn.passes] == [".0625"] * 5
    assert turn.passes[-1].dial_so_far == ".625"
    assert turn.stock.startswith("stock .3125 in on the radius; the dial reads what comes off the diameter: .625")
    assert dials(face) == [".060"] * 5  # along the axis the dial reads the depth
    assert (bevel.words, bevel.passes) == ("bevel, 45°", ())


def test_a_dial_that_reads_the_radius_shows_half_of_it(db: Session, shop: Shop) -> None:
    turn, *_ = lines(db, shop, RADIUS, most_per_pass=".070")
    assert dials(turn) == [".0625"] * 5
    bare, *_ = lines(db, shop, None, most_per_pass=".070")
    assert dials(bare) == [""] * 5
    assert "choose the machine" in bare.stock


# .3125 less the last .010 is .3025, in passes of at most .100: four of .0756; the tool maker's catalogue, p. 1069.
def test_a_last_pass_stands_by_itself(db: Session, shop: Shop) -> None:
    turn, *_ = lines(db, shop, RADIUS, most_per_pass=".100", finish=".010")
    assert [one.depth for one in turn.passes] == [".0756"] * 4 + [".010"]
    assert [one.finish for one in turn.passes] == [False] * 4 + [True]
    assert turn.passes[-1].dial_so_far == ".3125"


@pytest.mark.parametrize("kind", ["bore", "taper", "groove"])
def test_every_kind_of_cut_has_its_passes(db: Session, shop: Shop, kind: str) -> None:
    sizes = {
        "bore": {"to": "2"}, "groove": {"to": "9", "start": "1", "end": "1.2"},
        "taper": {"start_diameter": "9", "end_diameter": "9.25", "start": "0", "end": "1"},
    }[kind]  # fmt: skip
    cut = CutsTyped("in", (Typed(kind, sizes, "A"),))
    (line,) = lines(db, shop, cuts=cut, most_per_pass=".125", speed="60", feed=".010")
    total = {"bore": ".250", "groove": ".500", "taper": ".500"}[kind]
    assert line.passes[-1].dial_so_far == total
    assert bool(line.minutes) is (kind != "groove")


# F. D. Jones, Turning and Boring: 12 V / (pi D); 60 ft/min on 9-1/2 in is 24 rpm.
def test_the_speed_comes_from_the_list_and_never_over_the_chuck(db: Session, shop: Shop) -> None:
    turn, *_ = lines(db, shop, speed="300", most_per_pass=".070")
    assert (turn.rpm, turn.speed) == ("115", "115 rpm for 121 wanted, the nearest not above.")
    held, *_ = lines(db, shop, RADIUS, speed="600", most_per_pass=".070")
    assert (held.rpm, held.speed) == ("150", "150 rpm for 241 wanted, held back by the chuck.")
    said, *_ = lines(db, shop, RADIUS, speed="90 rpm")
    assert said.rpm == "90"
    slow, *_ = lines(db, shop, MachineFacts(3, "mill", "radius", 50, "80", "", ""), speed="60")
    assert slow.speed == "The slowest speed is 80 rpm, the chuck allows 50: use another chuck."
    assert not slow.rpm


def test_without_a_speed_the_sources_are_told(db: Session, shop: Shop) -> None:
    turn, *_ = lines(db, shop)
    assert turn.speed.startswith("Low-carbon or machine steel:")
    assert turn.passes == ()


# t = L N / (f n): 1.0505 in, five passes, .010 in a turn, 115 rpm; a tool maker's catalogue of 2021, p. 1069.
def test_minutes_in_the_cut(db: Session, shop: Shop) -> None:
    turn, face, _ = lines(db, shop, speed="300", most_per_pass=".070", feed=".010")
    assert turn.minutes == pytest.approx(1.0505 * 5 / (0.010 * 115))
    assert turn.minutes_text == "about 4.6 min in the cut"
    assert face.minutes > turn.minutes
    (slow, *_) = lines(db, shop, speed="80 rpm", most_per_pass=".020", feed=".002 in/rev")
    assert slow.minutes_text == f"about {slow.minutes:.0f} min in the cut"


def turned(db: Session, shop: Shop, body: BodyTyped, cut: Typed, **typed: str) -> CutLines:
    variant = parts.variant(db, makers.the_plain_plate(db, shop))
    read, rows, problems = drawing.read_cuts(CutsTyped("mm", (cut,)))
    told, unread = runcard.read(CardTyped(**typed), "mm")
    assert not problems
    assert not unread
    (line,) = runcard.cut_lines(variant, drawing.read_body(body)[0], read, rows, cut.side, told, "mm", None)
    return line


STEPPED = BodyTyped("mm", parts=(
    Typed("ring", {"outside": "200", "inside": "60", "start": "0", "end": "25"}),
    Typed("ring", {"outside": "100", "inside": "60", "start": "25", "end": "60"}),
))  # fmt: skip


# A pass goes as far as there is metal at its depth: 25 over the flange, 60 where the hub is met too. t = L / (f n).
def test_a_stepped_part_takes_no_time_where_there_is_no_metal(db: Session, shop: Shop) -> None:
    sizes = {"most_per_pass": "1.5", "finish": ".25", "speed": "30 m/min", "feed": ".2"}
    line = turned(db, shop, STEPPED, Typed("turn", {"to": "90"}, "A"), **sizes)
    each = (55 - 0.25) / 37
    long = [60 if 100 - each * (i + 1) < 50 else 25 for i in range(37)] + [60]
    assert len(line.passes) == 38
    rpm = 30_000 / (math.pi * 200)
    assert line.minutes == pytest.approx(sum(long) / (0.2 * rpm), rel=1e-9)
    assert line.minutes == pytest.approx(117.8, abs=0.05)


def test_a_face_takes_no_time_over_a_gap(db: Session, shop: Shop) -> None:
    # A rim Ø 160 to 200 and a hub Ø 60 to 100 in one plane: 20 mm across each, twice. t = L / (f n).
    rings = [("200", "160", "0", "30"), ("160", "100", "10", "20"), ("100", "60", "0", "30")]
    body = BodyTyped("mm", parts=tuple(
        Typed("ring", dict(zip(("outside", "inside", "start", "end"), ring, strict=True))) for ring in rings
    ))  # fmt: skip
    line = turned(db, shop, body, Typed("face", {"depth": "2"}, "A"), most_per_pass="1", speed="60 rpm", feed=".2")
    assert line.minutes == pytest.approx(2 * (20 + 20) / (0.2 * 60), rel=1e-9)


def test_a_bored_taper_is_cut_from_within(db: Session, shop: Shop) -> None:
    # 1.39 a pass from 30 on: the seventh ends at 39.75, and the holes lie from 37.5 to 41.5.
    body = BodyTyped("mm", parts=(
        Typed("ring", {"outside": "200", "inside": "60", "start": "0", "end": "50"}),
        Typed("holes", {"count": "6", "diameter": "4", "circle": "79"}),
    ))  # fmt: skip
    taper = {"from": "60", "start_diameter": "80", "end_diameter": "79", "start": "0", "end": "50"}
    line = turned(db, shop, body, Typed("taper", taper, "A"), most_per_pass="1.5", finish=".25")
    assert line.notes[0].startswith("Passes 6 to 8 go over the holes")
    outer = {**taper, "from": "200", "start_diameter": "190", "end_diameter": "180"}
    assert not turned(db, shop, body, Typed("taper", outer, "A"), most_per_pass="1.5").notes


def test_a_motor_without_the_power_is_told(db: Session, shop: Shop) -> None:
    turn, *_ = lines(db, shop, speed="300", most_per_pass=".320", feed=".030")
    assert any("too much for it" in note for note in turn.notes)
    light, *_ = lines(db, shop, speed="300", most_per_pass=".010", feed=".002")
    assert not any("too much" in note for note in light.notes)


def test_passes_over_holes_are_interrupted(db: Session, shop: Shop) -> None:
    turn, face, _ = lines(db, shop, most_per_pass=".070")
    assert not turn.notes
    assert face.notes[0].startswith("Every pass goes over the holes Ø 0.530 in")
    assert face.notes[0].endswith("interrupted, go light.")


def test_a_cut_that_others_have_taken_says_so(db: Session, shop: Shop) -> None:
    twice = CutsTyped("in", (*CUTS.cuts[:1], Typed("turn", {"to": "9", "end": "1"}, "A")))
    _, second = lines(db, shop, cuts=twice, most_per_pass=".070")
    assert second.notes == ("Takes nothing: the cuts before it have it all.",)


def test_hundreds_of_passes_are_not_listed(db: Session, shop: Shop) -> None:
    turn, *_ = lines(db, shop, most_per_pass=".0001")
    assert turn.passes == ()
    assert "over 60 passes" in turn.notes[0]


# The stop sum: .020 - .008 = .012 is enough, .020 - .011 with a least of .010 is not.
@pytest.mark.parametrize(
    ("extra", "ok", "words"),
    [
        (".008", True, ".020 − .008 = .012 in clear; least is .010."),
        (".010", True, ".020 − .010 = .010 in clear; least is .010."),
        (".011", False, ".020 − .011 = .009 in: under the least of .010. Back off more, or feed less."),
        (".021", False, ".020 − .021 = −.001 in: under the least of .010. Back off more, or feed less."),
        ("", True, ".020 − 0 = .020 in clear; least is .010."),
    ],
)
def test_the_stop_sum(extra: str, ok: bool, words: str) -> None:
    told, _ = runcard.read(CardTyped(back_off=".020", extra_feed=extra, least=".010"), "in")
    stop = runcard.stop_sum(told, "in")
    assert stop is not None
    assert (stop.ok, stop.words) == (ok, words)


def test_the_least_comes_from_the_drawing_where_none_is_typed() -> None:
    told, _ = runcard.read(CardTyped(back_off="0.5", extra_feed="0.3"), "mm")
    assert runcard.stop_sum({}, "mm") is None
    found = [runcard.stop_sum(told, "mm", least) for least in (0.25, 0.2, 0.0)]
    assert [stop and stop.ok for stop in found] == [False, True, True]
    assert found[1]
    assert found[1].words == "0.50 − 0.30 = 0.20 mm clear; least is 0.20 by the drawing."
    assert found[2]
    assert found[2].words.endswith("no least is named.")
    into, _ = runcard.read(CardTyped(back_off=".1", extra_feed=".2"), "in")
    assert "goes into the edge" in str(runcard.stop_sum(into, "in"))


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"back_off": "heavy"}, "back_off"),
        ({"most_per_pass": "0"}, "most_per_pass"),
        ({"most_per_pass": ".010", "finish": ".020"}, "finish"),
        ({"speed": "0"}, "speed"),
        ({"feed": "-1"}, "feed"),
    ],
)
def test_what_cannot_be_read_is_told_beside_its_field(typed: dict[str, str], field: str) -> None:
    told, problems = runcard.read(CardTyped(**typed), "in")
    assert list(problems) == [field]
    assert field not in told


def test_a_card_comes_back_as_it_was_typed() -> None:
    card = CardTyped((4, 7), back_off=".020", feed=".010 in/rev")
    assert CardTyped.from_json(card.to_json()) == card
    assert card.as_said() == "back-off .020, feed .010 in/rev"


@pytest.mark.parametrize(
    ("mm", "unit", "text"),
    [("1.5875", "in", ".0625"), ("25.4", "in", "1.000"), ("0.3", "mm", "0.30"), ("7.9375", "mm", "7.938")],
)
def test_figures_are_those_of_a_dial(mm: str, unit: str, text: str) -> None:
    assert runcard.figures(Fraction(mm), unit) == text


def test_a_machine_of_the_book_is_understood(db: Session, shop: Shop) -> None:
    told = {"name": "lathe", "dial": "radius", "chuck_limit": "100", "speeds": "70 115"}
    equipment.add_machine(db, **told, **shop.at())
    job = makers.make_job(db, shop)
    makers.keep_cuts(db, shop, job)
    plan = cutting.plan(db, job.id, makers.pieces_of(db, job)[0].variant_id)
    variant, drawn, cuts = cutting.as_cut(db, plan)
    rows = drawing.read_cuts(plan.typed)[1]
    sizes, _ = runcard.read(CardTyped(most_per_pass=".100", speed="1000"), "in")
    (line,) = runcard.cut_lines(variant, drawn, cuts, rows, "A", sizes, "in", equipment.machines(db)[0])
    assert (line.rpm, [one.dial for one in line.passes]) == ("70", [".0833"] * 3)
