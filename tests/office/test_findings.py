"""What is said below the weights of a piece."""

from sqlmodel import Session

from shopapp.office import findings, weighing
from shopapp.office.findings import Finding
from tests.cast import face
from tests.makers import Shop, keep_cuts, make_job, pieces_of, take_everything_in, weigh

DISC_LB = "26.5"
"""What the cast's disc of 8 in, 2 in long, of steel, weighs to the half pound."""


def found(db: Session, shop: Shop, before: str, after: str, scale: str = "spring", depth: str = ".250") -> Finding:
    job = make_job(db, shop, pieces=1)
    keep_cuts(db, shop, job, face(depth))
    (piece,) = take_everything_in(db, shop, job)
    weigh(db, shop, piece, "before", before, scale)
    weigh(db, shop, piece, "after", after, scale)
    pieces = pieces_of(db, job)
    return findings.of_pieces(db, pieces, weighing.of_pieces(db, pieces))[piece.id]


def test_scale_and_drawing_that_agree_bring_nothing_up_but_their_working(db: Session, shop: Shop) -> None:
    told = found(db, shop, DISC_LB, "23")
    assert (told.material, told.explained, told.sharper, told.between) == ("", (), "", ())
    figures = [sheet.figure for sheet in told.workings]
    assert figures == ["came off", "verdict", "normalised error", "density", "volume", "does it fit"]
    assert all(sheet.source for sheet in told.workings)


def test_where_they_do_not_add_up_it_is_said_what_would_explain_it(db: Session, shop: Shop) -> None:
    told = found(db, shop, DISC_LB, "20")
    assert told.explained
    assert all("times its own uncertainty" in words for words in told.explained)
    assert "what would explain it" in [sheet.figure for sheet in told.workings]


def test_a_scale_that_is_too_coarse_brings_up_a_sharper_way(db: Session, shop: Shop) -> None:
    told = found(db, shop, DISC_LB, "26", depth=".025")
    assert told.sharper.startswith("Sharper: one by one on counter")


def test_another_material_is_said_only_where_it_does_not_fit(db: Session, shop: Shop) -> None:
    assert found(db, shop, "9", "5.5").material.endswith("not carbon steel 7.85.")
    assert findings.of_explanations(()) == ()
