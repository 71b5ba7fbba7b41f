"""Sizes measured on a piece."""

import pytest
from sqlmodel import Session

from shopapp.office import history, sizes
from shopapp.office.errors import NotHere, TryAgain
from tests.makers import Shop, make_job, pieces_of


def measure(db: Session, shop: Shop, **told: object) -> int:
    piece_id = told.pop("piece_id", None) or pieces_of(db, make_job(db, shop))[0].id
    facts = {"name": "web", "typed": "13 mm", "unit": "in", "instrument": "caliper", **told}
    sizes.measure(db, piece_id=piece_id, **facts, **shop.at())
    return piece_id


# NIST SP 811, B.8: 1 in = 25.4 mm exactly.
@pytest.mark.outside("verified: NIST SP 811, App. B.8")
def test_a_size_is_kept_as_typed_beside_its_millimetres(db: Session, shop: Shop) -> None:
    piece_id = measure(db, shop, name=" outside ", typed=" 7  3/8 ", note="at the rim")
    (size,) = sizes.of_piece(db, piece_id)
    assert (size.name, size.typed, size.unit, size.initials) == ("outside", "7 3/8", "in", "MB")
    assert size.mm == pytest.approx(187.325)
    assert size.echo.startswith("7.375 in · 187.325 mm")
    assert history.of_piece(db, piece_id)[0].act == "measured"


def test_two_statements_that_cannot_both_be_are_asked_about(db: Session, shop: Shop) -> None:
    with pytest.raises(TryAgain) as refusal:
        measure(db, shop, note="a quarter inch")
    assert "Which one is it?" in refusal.value.problems["size_note"]


def test_a_rule_may_be_off_where_a_caliper_may_not(db: Session, shop: Shop) -> None:
    with pytest.raises(TryAgain):
        measure(db, shop, note="1/2 in")
    measure(db, shop, note="1/2 in", instrument="rule")  # 13 mm and 12.7 mm are one thing on a rule


@pytest.mark.parametrize(
    ("told", "field"),
    [({"name": ""}, "size_name"), ({"instrument": "eye"}, "instrument"), ({"typed": "1,250 mm"}, "size")],
)
def test_what_is_missing_is_told_beside_its_field(db: Session, shop: Shop, told: dict[str, str], field: str) -> None:
    with pytest.raises(TryAgain) as refusal:
        measure(db, shop, **told)
    assert set(refusal.value.problems) == {field}


def test_every_problem_is_told_at_once(db: Session, shop: Shop) -> None:
    with pytest.raises(TryAgain) as refusal:
        measure(db, shop, name="", instrument="", typed="wide")
    assert set(refusal.value.problems) == {"size_name", "instrument", "size"}


def test_a_piece_that_is_not_in_the_book_has_no_sizes(db: Session, shop: Shop) -> None:
    with pytest.raises(NotHere):
        measure(db, shop, piece_id=99)


def test_a_half_typed_size_gives_a_hint_and_nothing_gives_nothing() -> None:
    assert sizes.echo(" ", "in") == sizes.echo_mass("", "lb") == ""
    assert sizes.echo("1/2", "in").startswith("0.500 in") or sizes.echo("1/2", "in").startswith("0.5 in")
    assert sizes.echo("1/2-13", "in").endswith(".")
    assert sizes.echo_mass("8 lb 8 oz", "lb").startswith("8.5")
    assert sizes.echo_mass("8 lb 8", "g") != ""


def test_a_half_typed_note_asks_by_itself_and_writes_nothing(db: Session, shop: Shop) -> None:
    told = {"typed": "22 mm", "unit": "in", "instrument": "caliper"}
    assert "differ by .116 in" in sizes.asks(db, **told, note="he said 3/4 in")
    assert sizes.asks(db, **told, note="22 mm, he says too") == ""
    assert sizes.asks(db, **{**told, "typed": "22 m m"}, note="3/4 in") == ""
    assert sizes.asks(db, **told, note="") == ""
