"""Stock is parted into passes that sum to it exactly, with the number to dial and the voids they go over."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench.errors import Impossible
from shopapp.bench.holes import HoleCircle, Keyway, extent
from shopapp.bench.passplan import LEAST, bands, depths, dial, interrupted, plan

F = Fraction

INCH = F("25.4")
SIXTEENTH = INCH / 16


def inches(*sizes: str) -> list[F]:
    return [F(size) * INCH for size in sizes]


@pytest.mark.outside("computed: a tool maker's catalogue of 2021-2022, p. 1069")
def test_eight_inches_to_seven_and_three_quarters() -> None:
    # passes = stock over depth, rounded up: a tool maker's catalogue of 2021-2022, p. 1069 (formula read); computed
    stock, most, finish = inches(".125", ".060", ".010")
    assert depths(stock, most, finish) == tuple(inches(".0575", ".0575", ".010"))


@pytest.mark.outside("computed: a tool maker's catalogue of 2021-2022, p. 1069")
def test_a_stock_that_parts_evenly_takes_no_pass_more() -> None:
    # the same catalogue; .120 by .060 is 2, not 3, for numbers that come from floats as well
    assert len(depths(*inches(".120", ".060"))) == 2
    assert len(depths(F(0.12 * 25.4), F(0.06 * 25.4))) == 2
    assert len(depths(F(0.1 + 0.2), F(0.1))) == 3


# Equal depths, a dial that reads radius or diameter: common practice, no source.
def test_five_sixteenths_by_seventy_thou_is_five_sixteenth_passes() -> None:
    stock, most = inches(".3125", ".070")
    by_radius, by_diameter = (plan(stock, most, reads=reads) for reads in ("radius", "diameter"))
    assert [each.depth for each in by_radius] == [SIXTEENTH] * 5
    assert {each.dial for each in by_radius} == {F(".0625") * INCH}
    assert {each.dial for each in by_diameter} == {F(".125") * INCH}
    assert by_radius[-1].so_far == stock
    assert by_diameter[-1].dial_so_far == 2 * stock
    assert not any(each.finish for each in by_radius)


sizes = st.fractions(F(1, 100), 50, max_denominator=10_000)


@given(sizes, sizes, st.fractions(0, 1, max_denominator=100), st.fractions(0, 1, max_denominator=100))
def test_the_sum_is_exact_and_no_pass_is_over_the_most(stock: F, most: F, part: F, least: F) -> None:
    finish = most * part
    each = depths(stock, most, finish, least)
    assert sum(each) == stock
    assert all(0 < depth <= most * (1 + F(1, 10**8)) for depth in each)
    assert len(set(each[:-1])) <= 1
    passes = plan(stock, most, finish, "diameter", least)
    assert sum(one.dial for one in passes) == 2 * stock
    assert [one.number for one in passes] == list(range(1, len(each) + 1))
    assert [one.finish for one in passes[:-1]] == [False] * (len(each) - 1)
    assert passes[-1].finish == (finish > 0)


@given(sizes, sizes)
def test_one_pass_fewer_would_be_too_deep(stock: F, most: F) -> None:
    count = len(depths(stock, most))
    assert count == 1 or stock / (count - 1) > most


def test_a_sliver_goes_with_the_finish_pass() -> None:
    stock, most, finish = inches(".0105", ".060", ".010")
    assert depths(stock, most, finish) == (stock,)
    assert depths(stock, most, finish, least=0) == (F(".0005") * INCH, finish)
    assert depths(finish + LEAST, most, finish) == (LEAST, finish)
    tight = F(".0605") * INCH
    assert depths(tight, most, most) == (tight / 2, tight / 2)


def test_a_stock_within_the_finish_pass_is_one_pass() -> None:
    stock, most, finish = inches(".010", ".060", ".010")
    assert depths(stock, most, finish) == (finish,)
    (only,) = plan(stock / 2, most, finish)
    assert only.finish
    assert only.depth == stock / 2


@pytest.mark.parametrize(
    ("told", "says"),
    [((0, 1), "no stock"), ((1, 0), "above 0"), ((1, 1, -1), "0 or more"), ((3, 1, 2), "finish pass is more")],
)
def test_what_cannot_be_planned_says_what_to_change(told, says: str) -> None:
    with pytest.raises(Impossible, match=says):
        depths(*told)


def test_a_dial_reads_radius_or_diameter() -> None:
    with pytest.raises(Impossible, match="radius or diameter"):
        dial(F(1), "tenths")


def test_each_kind_of_cut_goes_its_own_way() -> None:
    two = plan(4, 2)
    assert bands("turn", two, 50, (0, 10)) == ((0, 48, 10, 50), (0, 46, 10, 48))
    assert bands("bore", two, 20, (10, 0)) == ((0, 20, 10, 22), (0, 22, 10, 24))
    assert bands("face", two, 30, (20, 50)) == ((28, 20, 30, 50), (26, 20, 28, 50))
    assert bands("face", two, 0, (20, 50), towards=1) == ((0, 20, 2, 50), (2, 20, 4, 50))
    with pytest.raises(Impossible, match="past the centre"):
        bands("turn", two, 3, (0, 10))
    with pytest.raises(Impossible, match="none of them"):
        bands("drill", two, 3, (0, 10))


def test_a_pass_over_holes_is_interrupted_and_the_others_are_not() -> None:
    holes = ("holes", extent(HoleCircle(count=6, diameter=8, circle=86, start=0, end=10)))
    cuts = bands("turn", plan(8, 2), 50, (0, 10))
    told = interrupted(cuts, [holes])
    assert told.meetings[0].passes == (2, 3, 4)
    assert told.words == ("Passes 2 to 4 go over the holes: interrupted, go light.",)
    assert interrupted(cuts[:1], [holes]).words == ()
    assert interrupted(cuts[1:2], [holes]).words == ("The pass goes over the holes: interrupted, go light.",)


def test_a_keyway_interrupts_every_pass_of_its_bore() -> None:
    key = ("keyway", extent(Keyway(width=6, depth=3, bore=40, start=0, end=30)))
    told = interrupted(bands("bore", plan(2, 1), 20, (0, 30)), [key])
    assert told.words == ("Every pass goes over the keyway: interrupted, go light.",)


def test_metal_that_only_touches_a_void_is_no_meeting() -> None:
    assert interrupted([(0, 40, 5, 42)], [("holes", (0, 35, 5, 40)), ("slot", (5, 40, 9, 42))]).meetings == ()


def test_numbers_that_stand_apart_are_listed() -> None:
    cuts = [(z, 10, z + 1, 20) for z in range(5)]
    told = interrupted(cuts, [("slots", (0, 10, 0.5, 20)), ("pockets", (4.5, 0, 5, 15))])
    assert told.words == (
        "Pass 1 goes over the slots: interrupted, go light.",
        "Pass 5 goes over the pockets: interrupted, go light.",
    )
    apart = [cuts[0], (0, 30, 1, 40), cuts[0]]
    words = interrupted([*apart, (0, 30, 1, 40)], [("slots", (0, 10, 1, 20))]).words
    assert words == ("Passes 1 and 3 go over the slots: interrupted, go light.",)
