"""What can be, of a weight that is to be written down."""

from datetime import timedelta

import pytest
from sqlmodel import Session

from shopapp.office import jobs, mishaps, plausible, weighing
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.jobs import PieceFacts
from tests.cast import NOON
from tests.makers import Shop, fetch, make_job, pieces_of, ready_job, take_everything_in, weigh

NEXT_DAY = NOON + timedelta(days=1)


def a_piece(db: Session, shop: Shop) -> PieceFacts:
    return take_everything_in(db, shop, make_job(db, shop, pieces=1))[0]


# A cut takes metal off and puts none on: common practice, no source.
@pytest.mark.parametrize(
    ("written", "phase", "typed", "asked"),
    [
        ((("before", "26.5"),), "after", "30", "It weighed 26.5 lb before. Heavier by 3.5 lb"),
        ((("before", "26.5"),), "between", "27", "It weighed 26.5 lb before. Heavier by 0.5 lb"),
        ((("before", "26.5"), ("between", "25")), "between", "26", "It weighed 25 lb between the cuts. Heavier by 1.0"),
        ((("before", "26.5"), ("between", "25")), "after", "26", "It weighed 25 lb between the cuts. Heavier by 1.0"),
        ((("before", "26.5"), ("after", "23")), "between", "22", "It weighed 23 lb after. It would have grown by 1.0"),
    ],
)
def test_a_piece_that_grew_is_asked_about(
    db: Session, shop: Shop, written: tuple[tuple[str, str], ...], phase: str, typed: str, asked: str
) -> None:
    piece = a_piece(db, shop)
    for known, weight in written:
        weigh(db, shop, piece, known, weight)
    with pytest.raises(TryAgain) as refusal:
        weigh(db, shop, piece, phase, typed)
    assert refusal.value.problems["heavier"].startswith(asked)
    weigh(db, shop, piece, phase, typed, heavier="it was packed in grease")
    assert weighing.readings(db, piece.id)[-1].note == "heavier all the same: it was packed in grease"


def test_a_weight_before_that_is_put_right_is_held_against_the_one_after(db: Session, shop: Shop) -> None:
    piece = a_piece(db, shop)
    wrong = weigh(db, shop, piece, "before", "26.5")
    weigh(db, shop, piece, "after", "23")
    weighing.strike(db, reading_id=wrong, reason="the other plate", **shop.at())
    with pytest.raises(TryAgain, match=r"It weighed 23 lb after\. It would have grown by 1\.0 lb"):
        weigh(db, shop, piece, "before", "22")


@pytest.mark.parametrize(("phase", "typed"), [("after", "26.5"), ("after", "23"), ("between", "26.5")])
def test_what_stayed_the_same_or_got_lighter_asks_nothing(db: Session, shop: Shop, phase: str, typed: str) -> None:
    piece = a_piece(db, shop)
    weigh(db, shop, piece, "before", "26.5")
    weigh(db, shop, piece, phase, typed)
    assert weighing.readings(db, piece.id)[-1].note == ""


@pytest.mark.parametrize("phase", ["between", "after", "before"])
def test_what_went_home_is_weighed_no_more(db: Session, shop: Shop, phase: str) -> None:
    job = ready_job(db, shop, pieces=1)
    (piece,) = pieces_of(db, job)
    for row in weighing.readings(db, piece.id):
        if row.phase == phase:
            weighing.strike(db, reading_id=row.id, reason="smudged", **shop.at())
    fetch(db, shop, piece, now=NEXT_DAY)
    late = NEXT_DAY + timedelta(hours=2)
    told = {"heavier": "as it was told"}
    with pytest.raises(TryAgain) as refusal:
        weigh(db, shop, piece, phase, "23", note="from the pad", now=late, **told)
    assert refusal.value.problems["at"].startswith("This piece is not here: gone home. Was it weighed")
    for note in ("", mishaps.late_note(db, told=NOON, now=late)):
        with pytest.raises(TryAgain) as refusal:
            weigh(db, shop, piece, phase, "23", note=note, **told)
        assert set(refusal.value.problems) == {"note"}
    weigh(db, shop, piece, phase, "23", note=mishaps.late_note(db, told=NOON, now=late, note="from the pad"), **told)
    assert "from the pad" in weighing.readings(db, piece.id)[-1].note


def test_what_never_came_was_never_weighed(db: Session, shop: Shop) -> None:
    (piece,) = pieces_of(db, make_job(db, shop, pieces=1))
    row = jobs.piece_row(db, piece.id)
    for note in ("", "from the pad", f"{plausible.LATE}yesterday; from the pad"):
        with pytest.raises(InTheWay, match="not here yet"):
            plausible.was_here(row, note=note, read_at=NOON - timedelta(days=1))
    mishaps.does_not_come(db, piece_id=piece.id, reason="sold", **shop.at())
    with pytest.raises(InTheWay, match="not here: did not come"):
        plausible.was_here(row, note="from the pad", read_at=NOON - timedelta(days=1))


def test_a_reading_comes_in_its_order(db: Session, shop: Shop) -> None:
    piece = a_piece(db, shop)
    with pytest.raises(TryAgain, match="before, between or after"):
        weigh(db, shop, piece, "later", "23")
    with pytest.raises(TryAgain, match="Weigh in first"):
        weigh(db, shop, piece, "after", "23")
