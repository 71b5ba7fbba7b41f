"""Figures that look like a slip of the unit or of a radius."""

import pytest
from sqlmodel import Session

from shopapp.office import cutting, sizes, slips
from shopapp.office.drawing import CutsTyped, Typed
from shopapp.office.errors import TryAgain
from tests.makers import Shop, keep_cuts, make_job, pieces_of


def measure(db: Session, shop: Shop, typed: str, **told: object) -> int:
    piece_id = pieces_of(db, make_job(db, shop))[0].id
    facts = {"name": "web", "typed": typed, "unit": "in", "instrument": "caliper", **told}
    sizes.measure(db, piece_id=piece_id, **facts, **shop.at())
    return piece_id


@pytest.mark.parametrize(
    ("now", "asks"),
    [
        ("16.51", "25.4 times last time's: millimetres?"), (".325", "alf of last time's: a radius"),
        ("1.3", "wice last time's: a diameter"), ("6.5", "10 times last time's: is the point one place off?"),
    ],
)  # fmt: skip
def test_a_multiple_of_the_last_size_is_asked_about(db: Session, shop: Shop, now: str, asks: str) -> None:
    measure(db, shop, ".650")
    with pytest.raises(TryAgain) as refusal:
        measure(db, shop, now, name=" Web ")
    question = refusal.value.problems["size_sure"]
    assert asks in question
    assert question.endswith("The last Web was .650 in, on 1001-1.")


def test_who_is_sure_writes_it_down_all_the_same(db: Session, shop: Shop) -> None:
    measure(db, shop, ".650")
    piece_id = measure(db, shop, ".325", sure=True)
    assert [size.typed for size in sizes.of_piece(db, piece_id)] == [".325"]


def test_another_name_and_an_ordinary_size_are_not_asked_about(db: Session, shop: Shop) -> None:
    measure(db, shop, ".650")
    for name, typed in (("web", ".648"), ("bore", "1.300")):
        measure(db, shop, typed, name=name)


def turned(to: str, **told: str) -> CutsTyped:
    return CutsTyped("in", (Typed("turn", {"to": to, **told}, "A"),))


def said(db: Session, shop: Shop, typed: CutsTyped, job_id: int = 0) -> tuple[str, ...]:
    job = make_job(db, shop, pieces=1)
    return slips.of_cuts(
        db, variant_id=pieces_of(db, job)[0].variant_id or 0, job_id=job_id or job.id, typed=typed
    )  # fmt: skip


def test_a_radius_where_the_drawing_has_a_diameter_is_seen(db: Session, shop: Shop) -> None:
    # The cast's disc is 8 in outside: 4 is half of it, 3.9 is what a skim to 7.8 would be as a radius.
    assert said(db, shop, turned("7.8", **{"from": "4"})) == (
        "Cut 1, outside Ø now: half of the drawing's: a radius where a diameter was?",
    )
    assert said(db, shop, turned("3.9")) == (
        "Cut 1, outside Ø wanted: twice of it is near the drawn 8.000 in outside: a radius?",
    )
    assert said(db, shop, turned("7.8", **{"from": "8"})) == ()


def test_cuts_are_held_against_those_of_last_time(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    keep_cuts(db, shop, job, CutsTyped("in", (Typed("face", {"depth": ".125"}, "A"),), ".650"))
    typed = CutsTyped("in", (Typed("face", {"depth": ".250"}, "A"),), "16.5")
    words = said(db, shop, typed)
    assert "twice last time's" in words[0]
    assert words[-1] == "Web: 25.4 times last time's: millimetres?"
    assert slips.working(words)[0].source == "Common practice, no source"
    assert cutting.last_plan(db, pieces_of(db, job)[0].variant_id or 0)


def test_a_cut_that_cannot_be_read_yet_says_nothing(db: Session, shop: Shop) -> None:
    assert (
        said(db, shop, CutsTyped("in", (Typed("face", {"depth": "half"}, "A"), Typed("turn", {"to": "x"}, "A")))) == ()
    )
    assert slips.working(()) == ()
