"""Speeds, cutting minutes and removal rates, each held to a book, a catalogue or an integral of its own."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from shopapp.bench.errors import Impossible, Refused
from shopapp.bench.materials import MATERIALS
from shopapp.bench.speed_table import FOOT, GROUP_OF, GROUPS, SPEEDS, SpeedRow
from shopapp.bench.speeds import (
    CHUCK,
    LIST,
    SLOWEST,
    WANTED,
    choose,
    cutting_speed,
    facing_at_speed,
    facing_minutes,
    rate_between,
    recommended,
    removal_rate,
    revolutions,
    turning_minutes,
    turning_minutes_at_speed,
)

INCH = 25.4
IN3 = INCH**3
size = st.floats(0.1, 500)


def rpm(feet: float, inches: float) -> float:
    return revolutions(feet * FOOT, inches * INCH)


@pytest.mark.outside("verified: F. D. Jones, Turning and Boring: 46 rpm")
def test_a_worked_example_of_an_old_book_comes_out() -> None:
    # F. D. Jones, Turning and Boring: 60 ft/min at 5 in is 46 rpm (read there); 45.836624 computed
    assert round(rpm(60, 5)) == 46
    assert rpm(60, 5) == pytest.approx(45.836624, abs=1e-6)


@pytest.mark.outside("computed: War Department TM 1-420, change 1")
def test_the_army_formula_agrees() -> None:
    # War Department TM 1-420, change 1 (1942): rpm = ft/min over .2618 times the diameter (formula read there)
    assert rpm(60, 5) == pytest.approx(60 / (0.2618 * 5), abs=5e-4)
    assert round(60 / (0.2618 * 5), 4) == 45.8365


@pytest.mark.outside("verified: a lathe owner's manual, p. 29")
@pytest.mark.parametrize(("feet", "inches", "rule", "exact"), [(300, 0.5, 2400, 2291.83), (120, 1, 480, 458.37)])
def test_four_times_speed_over_diameter_is_always_a_little_fast(feet, inches, rule, exact) -> None:
    # a lathe owner's manual, p. 29: rpm = 4 CS/D, both results read there; the exact ones computed from 12/pi
    assert 4 * feet / inches == rule
    assert rpm(feet, inches) == pytest.approx(exact, abs=5e-3)
    assert rule / rpm(feet, inches) - 1 == pytest.approx(0.0472, abs=5e-5)
    assert 3.82 * feet / inches / rpm(feet, inches) - 1 == pytest.approx(0.00007, abs=1e-5)


@pytest.mark.outside("computed: 12 V / (pi D)")
@pytest.mark.parametrize(("inches", "turns"), [(6.5, 587.65), (6.0, 636.62), (5.5, 694.49), (5.0, 763.94)])
def test_constant_surface_speed_of_1000_feet(inches: float, turns: float) -> None:
    # the question stood in a machinists' forum (read there), the answers are computed
    assert rpm(1000, inches) == pytest.approx(turns, abs=5e-3)


@given(size, size)
def test_speed_to_revolutions_and_back(speed: float, diameter: float) -> None:
    assert cutting_speed(revolutions(speed, diameter), diameter) == pytest.approx(speed)
    assert revolutions(speed, 2 * diameter) == pytest.approx(revolutions(speed, diameter) / 2)


# Ranges in ft/min. F. D. Jones, Turning and Boring, general practice (read). A university's shop sheet, middle column
# of three (read; that it is the lathe's is an inference). A lathe owner's manual, high-speed steel (read). TC 9-524,
# from memory. T.O. 1-1A-9, section 11: magnesium below 700 (read).
TABLE = [
    ("iron_soft", "Jones", 40, 50), ("iron_soft", "sheet", 100, 250), ("iron_soft", "owner", 80, 80),
    ("iron_soft", "TC 9-524", 50, 80), ("iron_hard", "sheet", 50, 150), ("iron_hard", "owner", 50, 50),
    ("steel_low", "Jones", 45, 65), ("steel_low", "sheet", 100, 250), ("steel_low", "owner", 90, 90),
    ("steel_low", "TC 9-524", 80, 100), ("steel_medium", "TC 9-524", 60, 80), ("steel_alloy", "sheet", 50, 150),
    ("steel_alloy", "owner", 40, 40), ("steel_tool", "Jones", 25, 35), ("steel_tool", "sheet", 50, 150),
    ("steel_tool", "owner", 50, 50), ("steel_tool", "TC 9-524", 35, 40), ("stainless", "sheet", 60, 180),
    ("stainless", "owner", 60, 60), ("stainless", "TC 9-524", 40, 50), ("aluminium", "sheet", 350, 700),
    ("aluminium", "owner", 300, 300), ("aluminium", "TC 9-524", 200, 300), ("brass", "Jones", 150, 200),
    ("brass", "sheet", 250, 500), ("brass", "owner", 150, 150), ("brass", "TC 9-524", 100, 200),
    ("bronze", "Jones", 35, 80), ("bronze", "TC 9-524", 40, 60), ("titanium", "sheet", 90, 200),
    ("titanium", "owner", 50, 50), ("magnesium", "sheet", 400, 800), ("magnesium", "T.O. 1-1A-9", 0, 700),
]  # fmt: skip


@pytest.mark.outside("verified: the source that stands in each row")
@pytest.mark.parametrize(("group", "source", "low", "high"), [row for row in TABLE if row[1] != "TC 9-524"])
def test_a_recommended_speed_stands_in_its_source(group: str, source: str, low: float, high: float) -> None:
    (row,) = (row for row in SPEEDS if row.group == group and source in row.source)
    assert (row.low_ft, row.high_ft) == (low, high)


@pytest.mark.outside("from memory: TC 9-524, straight turning")
@pytest.mark.parametrize(("group", "source", "low", "high"), [row for row in TABLE if row[1] == "TC 9-524"])
def test_a_recommended_speed_is_that_remembered(group: str, source: str, low: float, high: float) -> None:
    (row,) = (row for row in SPEEDS if row.group == group and source in row.source)
    assert (row.low_ft, row.high_ft) == (low, high)


def test_what_is_from_memory_says_so() -> None:
    assert {row.note for row in SPEEDS if "TC 9-524" in row.source} == {"from memory, not seen"}


@pytest.mark.outside("computed: US Navy course 14076")
def test_feed_up_and_speed_down_takes_more_in_less_time() -> None:
    # US Navy course 14076: 1/4 in deep, .020 in, 80 ft/min becomes 60 ft/min at .040 in (read); rest computed
    before, after = (removal_rate(v * FOOT, f * INCH, 0.25 * INCH) / IN3 for v, f in ((80, 0.020), (60, 0.040)))
    assert (before, after) == pytest.approx((4.8, 7.2))
    old, new = (turning_minutes_at_speed(10, f, v, 100) for v, f in ((80, 0.020), (60, 0.040)))
    assert new / old == pytest.approx(0.667, abs=5e-4)


# Times: formulas read in a tool maker's catalogue of 2021-2022, p. 1069; numbers computed from them.
@pytest.mark.outside("computed: a tool maker's catalogue of 2021-2022, p. 1069")
def test_turning_at_constant_revolutions_and_at_constant_surface_speed() -> None:
    assert turning_minutes(100, 0.2, 500) == pytest.approx(1.0)
    assert turning_minutes_at_speed(100, 0.2, 150, 100) * 60 == pytest.approx(62.831853, abs=5e-7)


@pytest.mark.outside("computed: a tool maker's catalogue of 2021-2022, p. 1069")
def test_facing_at_constant_surface_speed_and_at_constant_revolutions() -> None:
    assert facing_at_speed(200, 40, 0.2, 100).minutes * 60 == pytest.approx(90.477868, abs=5e-7)
    turns = revolutions(100, 200)
    assert turns == pytest.approx(159.154943, abs=5e-7)
    assert facing_minutes(200, 40, 0.2, turns) * 60 == pytest.approx(150.796447, abs=5e-7)


@pytest.mark.outside("computed: integral of dr / (f n)")
def test_a_cap_bites_near_the_centre_and_costs_four_percent() -> None:
    # computed, and by an integral of dr / (f n)
    capped, free = facing_at_speed(200, 0, 0.2, 100, 800), facing_at_speed(200, 0, 0.2, 100)
    assert capped.cap_from == pytest.approx(39.788736, abs=5e-7)
    assert capped.minutes * 60 == pytest.approx(97.977974, abs=5e-7)
    assert free.minutes * 60 == pytest.approx(94.247780, abs=5e-7)
    assert free.cap_from is None
    assert 1 - free.minutes / capped.minutes == pytest.approx(0.04, abs=0.005)


@pytest.mark.outside("verified: scipy.integrate.quad")
@given(st.floats(10, 500), st.floats(0, 0.95), st.floats(0.05, 1), st.floats(10, 300), st.floats(50, 3000))
def test_facing_is_the_integral_of_its_way(outer, part, feed, speed, cap) -> None:
    # scipy.integrate.quad as the independent library
    inner = outer * part
    bend = 1000 * speed / (math.pi * cap) / 2
    turns = lambda r: min(cap, 1000 * speed / (2 * math.pi * r)) if r else cap  # noqa: E731
    points = [bend] if inner / 2 < bend < outer / 2 else None
    wanted, _ = quad(lambda r: 1 / (feed * turns(r)), inner / 2, outer / 2, points=points, epsabs=0, epsrel=1e-12)
    assert facing_at_speed(outer, inner, feed, speed, cap).minutes == pytest.approx(wanted, rel=1e-9)


def test_a_cap_that_never_bites_or_always_bites() -> None:
    assert facing_at_speed(200, 100, 0.2, 100, 10_000) == facing_at_speed(200, 100, 0.2, 100)
    always = facing_at_speed(200, 100, 0.2, 100, 10)
    assert always.minutes == pytest.approx(facing_minutes(200, 100, 0.2, 10))
    assert always.cap_from == 200


@pytest.mark.outside("computed: a textbook problem read on a teaching page")
def test_a_textbook_problem_of_turning_stainless() -> None:
    # text read on a teaching page (the metric form of a textbook problem); 12.5 to 12.0 mm, 400 rpm, 200 mm/min, 150 mm
    feed = 200 / 400
    assert cutting_speed(400, 12.5) == pytest.approx(15.708, abs=5e-4)
    assert rate_between(12.5, 12.0, feed, 400) == pytest.approx(1924.226, abs=5e-4)
    assert removal_rate(cutting_speed(400, 12.25), feed, 0.25) == pytest.approx(1924.226, abs=5e-4)
    assert turning_minutes(150, feed, 400) == pytest.approx(0.75)
    assert 3 * rate_between(12.5, 12.0, feed, 400) / 60 == pytest.approx(96.21, abs=5e-3)


@pytest.mark.outside("from memory: the textbook's original in inches")
def test_the_same_problem_in_inches() -> None:
    # the textbook's original, from memory: .500 to .480 in, 400 rpm, 8 in/min, 6 in
    assert cutting_speed(400, 0.5 * INCH) / FOOT == pytest.approx(52.36, abs=5e-3)
    assert cutting_speed(400, 0.5 * INCH) / FOOT * 12 == pytest.approx(628, abs=0.5)
    assert rate_between(0.5 * INCH, 0.48 * INCH, 8 / 400 * INCH, 400) / IN3 == pytest.approx(0.1231, abs=6e-5)
    assert turning_minutes(6 * INCH, 8 / 400 * INCH, 400) == pytest.approx(0.75)


@pytest.mark.outside("computed: a supplier's catalogue, technical pages, p. 68")
def test_removal_rate_in_inches_is_twelve_times_speed_feed_depth() -> None:
    # a supplier's catalogue, technical pages, p. 68: Q = 12 V f d (formula read); 1.8 in3/min computed
    assert removal_rate(100 * FOOT, 0.015 * INCH, 0.1 * INCH) / IN3 == pytest.approx(1.8)
    assert removal_rate(80 * FOOT, 0.02 * INCH, 0.25 * INCH) / IN3 == pytest.approx(12 * 80 * 0.02 * 0.25)


@given(st.floats(10, 500), st.floats(0.01, 0.4), st.floats(0.01, 1), st.floats(10, 3000))
def test_the_mean_diameter_makes_the_rate_exact_and_the_outer_makes_it_high(outer, part, feed, turns) -> None:
    depth = outer * part
    ring = rate_between(outer, outer - 2 * depth, feed, turns)
    assert removal_rate(cutting_speed(turns, outer - depth), feed, depth) == pytest.approx(ring)
    high = removal_rate(cutting_speed(turns, outer), feed, depth)
    assert high / ring - 1 == pytest.approx(depth / (outer - depth))


# The machine's list, the limit of the chuck: common practice, no source.
MACHINE = [70, 115, 190, 300, 460, 755, 1255]


@pytest.mark.parametrize(
    ("wanted", "speeds", "limit", "rpm", "held"),
    [
        (764, MACHINE, None, 755, LIST),
        (755, MACHINE, None, 755, WANTED),
        (754.9, MACHINE, None, 460, LIST),
        (2000, MACHINE, 800, 755, CHUCK),
        (764, MACHINE, 700, 460, CHUCK),
        (764, [70, 200, 460, 800], 700, 460, LIST),
        (30, MACHINE, None, 70, SLOWEST),
        (764, (), None, 764, WANTED),
        (764, (), 600, 600, CHUCK),
    ],
)
def test_the_speed_to_set(wanted, speeds, limit, rpm, held: str) -> None:
    picked = choose(wanted, speeds, limit)
    assert (picked.rpm, picked.held_by, picked.wanted) == (rpm, held, wanted)
    assert picked.words.startswith(f"{rpm} rpm for ")


@given(st.floats(1, 5000), st.lists(st.floats(1, 3000), min_size=1, max_size=20), st.floats(1, 3000))
def test_the_chuck_is_never_turned_over_its_limit(wanted: float, speeds: list[float], limit: float) -> None:
    if min(speeds) > limit * (1 + 1e-9):
        with pytest.raises(Impossible, match="another chuck"):
            choose(wanted, speeds, limit)
        return
    picked = choose(wanted, speeds, limit)
    assert picked.rpm in speeds
    assert picked.rpm <= limit * (1 + 1e-9)
    assert picked.rpm <= wanted * (1 + 1e-9) or picked.held_by == SLOWEST


def test_sources_that_differ_are_shown_side_by_side() -> None:
    found = recommended("grey_iron")
    assert found.words == "Grey cast iron, soft: 40 to 250 ft/min by 4 sources. They differ: start low."
    assert (found.low, found.high) == pytest.approx((40 * FOOT, 250 * FOOT))
    assert all(row.source for row in found.rows)
    assert len(TABLE) == len(SPEEDS)
    one = recommended("steel_medium").words
    assert one.endswith("60 to 80 ft/min by TC 9-524, high-speed steel, straight turning.")


def test_the_shop_s_own_row_goes_before_all_others() -> None:
    own = SpeedRow("iron_soft", "our iron", 60, 70, "our shop", 2024)
    found = recommended("grey_iron", [own])
    assert found.rows[0] == own
    assert len(found.rows) == 5
    assert (found.low, found.high) == pytest.approx((60 * FOOT, 70 * FOOT))
    assert found.words == "Grey cast iron, soft: 60 to 70 ft/min by the shop's own row."
    new = SpeedRow("peek", "PEEK", 300, 300, "our shop")
    assert recommended("peek", [new]).words == "PEEK: 300 ft/min by the shop's own row."


def test_a_ceiling_holds_a_range_down() -> None:
    found = recommended("magnesium")
    assert (found.low, found.high) == pytest.approx((400 * FOOT, 700 * FOOT))
    assert found.words.endswith("Keep below 700 ft/min: T.O. 1-1A-9, section 11.")
    assert recommended("magnesium", [SpeedRow("magnesium", "", 900, 900, "us")]).high == pytest.approx(700 * FOOT)


def test_every_group_that_a_material_is_in_has_a_row() -> None:
    assert set(GROUP_OF) <= set(MATERIALS)
    assert {row.group for row in SPEEDS} == set(GROUPS) >= set(GROUP_OF.values())
    with pytest.raises(Refused, match="Add the shop's own"):
        recommended("nylon_6")


@pytest.mark.parametrize(
    ("figure", "says"),
    [
        (lambda: revolutions(0, 10), "cutting speed"),
        (lambda: revolutions(10, 0), "diameter"),
        (lambda: cutting_speed(-1, 10), "spindle speed"),
        (lambda: choose(0), "wanted speed"),
        (lambda: choose(100, [0]), "machine speed"),
        (lambda: choose(100, [], 0), "limit of the chuck"),
        (lambda: turning_minutes(10, 0, 100), "feed"),
        (lambda: turning_minutes(10, 1, 100, 0), "passes"),
        (lambda: facing_minutes(10, 10, 1, 100), "smaller one"),
        (lambda: facing_at_speed(10, -1, 1, 100), "smaller one"),
        (lambda: facing_at_speed(10, 0, 1, 100, 0), "most revolutions"),
        (lambda: removal_rate(10, 1, 0), "depth"),
        (lambda: rate_between(10, 12, 1, 100), "smaller one"),
        (lambda: recommended("brass", [SpeedRow("brass", "", 0, 9, "us")]), "low end"),
    ],
)
def test_what_cannot_be_cut_says_what_to_change(figure, says: str) -> None:
    with pytest.raises(Impossible, match=says):
        figure()
