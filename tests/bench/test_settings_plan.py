"""The jaws are set anew as seldom as may be, and every piece still goes through its sides in order.

All common practice, no source.
"""

from itertools import pairwise, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopapp.bench.errors import Impossible
from shopapp.bench.pricing import Setting, setting_minutes
from shopapp.bench.settings_plan import (
    Effort,
    Piece,
    Side,
    Times,
    by_setting,
    piece_by_piece,
    plan_minutes,
    stop_minutes,
)

WEAK_FIRST = (Side("A", "by the outside, cast"), Side("B", "by the turned Ø, on the fresh face"))
TWO = [Piece("1", WEAK_FIRST), Piece("2", WEAK_FIRST)]
EACH = Times(Effort(20, 3, 2, 8), Effort(6, 2, 2, 8))


def test_two_alike_need_one_re_set_against_three() -> None:
    plan = by_setting(TWO)
    assert (plan.resets, plan.piece_by_piece) == (1, 3)
    assert [stop.work for stop in plan.stops] == [(("1", "A"), ("2", "A")), (("1", "B"), ("2", "B"))]
    assert plan.words == (
        "Setting 1: hold by the outside, cast: side A of 1, 2.",
        "Setting 2: hold by the turned Ø, on the fresh face: side B of 1, 2.",
        "One re-set of the jaws; piece by piece 3.",
    )


def test_one_piece_gains_nothing() -> None:
    plan = by_setting(TWO[:1])
    assert plan.resets == plan.piece_by_piece == 1
    both = by_setting([Piece("1", (Side("A", "outside"), Side("B", "Outside ")))])
    assert both.resets == 0
    assert both.stops[0].work == (("1", "A"), ("1", "B"))
    assert both.words[-1] == "No re-set of the jaws; piece by piece 0."


def test_sides_in_the_other_order_cost_a_setting_more() -> None:
    there, back = Piece("1", (Side("A", "x"), Side("B", "y"))), Piece("2", (Side("B", "y"), Side("A", "x")))
    plan = by_setting([there, back])
    assert plan.resets == 2
    assert plan.piece_by_piece == 2
    assert {work for stop in plan.stops for work in stop.work} == {("1", "A"), ("1", "B"), ("2", "B"), ("2", "A")}


def fewest(ways: list[str]) -> int:
    """Every row of settings tried, shortest first."""
    holds = sorted(set("".join(ways)))

    def serves(row: tuple[str, ...], way: str) -> bool:
        at = 0
        for hold in row:
            while at < len(way) and way[at] == hold:
                at += 1
        return at == len(way)

    return next(
        size for size in range(1, 10) for row in product(holds, repeat=size) if all(serves(row, way) for way in ways)
    )


ways = st.lists(st.text("xyz", min_size=1, max_size=3), min_size=1, max_size=4)


def pieces_of(held: list[str]) -> list[Piece]:
    return [
        Piece(str(i), tuple(Side(f"{n}", hold) for n, hold in enumerate(way))) for i, way in enumerate(held, 1)
    ]  # fmt: skip


@settings(deadline=None, max_examples=60)
@given(ways)
def test_no_order_needs_fewer_settings(held: list[str]) -> None:
    plan = by_setting(pieces_of(held))
    assert len(plan.stops) == plan.resets + 1 == fewest(held)
    assert plan.resets <= plan.piece_by_piece


@given(ways)
def test_every_side_is_done_once_in_its_order_and_its_own_hold(held: list[str]) -> None:
    pieces = pieces_of(held)
    for stops in (by_setting(pieces).stops, piece_by_piece(pieces)):
        done = [(piece, side, stop.hold) for stop in stops for piece, side in stop.work]
        for piece in pieces:
            mine = [(side, hold) for name, side, hold in done if name == piece.name]
            assert mine == [(side.name, side.hold) for side in piece.sides]
        assert all(one.hold != other.hold for one, other in pairwise(stops))


def test_minutes_of_a_setting_are_those_of_the_price() -> None:
    # the same sum as the price makes of it: first, each further, cutting per piece
    priced = Setting("side A", first_min=25, each_min=10, cut_min=8)
    assert [stop_minutes(EACH, n) for n in (1, 2, 5)] == [setting_minutes(n, priced) for n in (1, 2, 5)]


def test_a_plan_saves_the_truing_of_the_re_sets() -> None:
    told = plan_minutes(TWO, {side.hold: EACH for side in WEAK_FIRST})
    assert told.stops == (51.0, 51.0)
    assert told.minutes == 102.0
    assert told.piece_by_piece == 4 * 33
    assert told.saved == 30.0


@given(ways, st.integers(0, 60), st.integers(0, 60))
def test_a_plan_never_costs_more_while_a_further_piece_is_no_dearer(held, first: int, further: int) -> None:
    low, high = sorted((first, further))
    each = Times(Effort(truing=high, cutting=5), Effort(truing=low, cutting=5))
    told = plan_minutes(pieces_of(held), dict.fromkeys("xyz", each))
    assert told.saved >= 0
    assert told.minutes == sum(told.stops)


@pytest.mark.parametrize(
    ("pieces", "says"),
    [
        ([], "one piece or more"),
        ([Piece("1", ())], "one piece or more"),
        ([TWO[0], TWO[0]], "same name"),
        ([Piece("1", (Side("A", " "),))], "how the piece is held"),
    ],
)
def test_what_cannot_be_planned_says_what_to_change(pieces, says: str) -> None:
    with pytest.raises(Impossible, match=says):
        by_setting(pieces)


def test_minutes_that_are_not_there_are_asked_for() -> None:
    with pytest.raises(Impossible, match="no minutes yet for: hold by the turned"):
        plan_minutes(TWO, {"by the outside, cast": EACH})
    with pytest.raises(Impossible, match="one piece"):
        stop_minutes(EACH, 0)
    with pytest.raises(Impossible, match="0 or more"):
        stop_minutes(Times(Effort(-1), Effort()), 1)
    many = [Piece(str(i), tuple(Side(str(n), f"{i}-{n}") for n in range(3))) for i in range(9)]
    with pytest.raises(Impossible, match="too many different ways"):
        by_setting(many)
