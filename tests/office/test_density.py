"""What a weight says of the material, before the cuts."""

import math

import pytest
from sqlmodel import Session

from shopapp.office import density, jobs, weighing
from shopapp.office.density import DensityFacts
from shopapp.office.drawing import BodyTyped, Typed
from shopapp.office.jobs import PieceAsk, PieceFacts
from tests.makers import Shop, make_job, make_variant, pieces_of, take_everything_in, weigh

SHEAVE = BodyTyped(
    "in",
    parts=(
        Typed("ring", {"outside": "6", "inside": "1", "start": "0", "end": "1.5"}),
        Typed("hollow", {"outside": "6", "inside": "4.5", "start": ".5", "end": "1"}),
    ),
)
#: The volume of that ring less its groove [cm3]: V = pi/4 (D2 - d2) h, Machinery's Handbook 31, p. 89.
SHEAVE_CM3 = math.pi / 4 * ((6**2 - 1) * 1.5 - (6**2 - 4.5**2) * 0.5) * 2.54**3


def sheave(db: Session, shop: Shop, material: str, density_text: str, **told: object) -> PieceFacts:
    variant_id = make_variant(
        db,
        shop,
        name="sheave",
        signs=["one groove"],
        material=material,
        density=density_text,
        **{"body": SHEAVE, **told},
    )
    job = make_job(db, shop, pieces=(PieceAsk(variant_id, "machine", "mill"),))
    return take_everything_in(db, shop, job)[0]


def said(db: Session, piece: PieceFacts, grams: int) -> DensityFacts:
    found = density.of_weight(db, piece, grams, 5.0, f"{grams} g on counter")
    assert found
    return found


@pytest.mark.outside("from memory: EN 1563, iron of 7.10")
def test_nylon_on_the_scale_is_told_from_the_iron_in_the_book(db: Session, shop: Shop) -> None:
    piece = sheave(db, shop, "ductile_iron", "7.10")
    # Nylon 6 at 1.16 g/cm3 weighs what its volume says; iron of 7.10 (EN 1563, from memory) weighs six times that.
    nylon = said(db, piece, 5 * round(SHEAVE_CM3 * 1.16 / 5))
    assert not nylon.fits
    assert nylon.words == "1.16 g/cm³: near nylon 6, not ductile iron 7.10."
    iron = said(db, piece, 5 * round(SHEAVE_CM3 * 7.10 / 5))
    assert iron.fits
    assert iron.words == "7.10 g/cm³: fits ductile iron 7.10."


def test_the_variants_own_density_counts_and_not_the_tables(db: Session, shop: Shop) -> None:
    piece = sheave(db, shop, "ductile_iron", "6.2")
    assert said(db, piece, round(SHEAVE_CM3 * 6.2)).words.endswith("fits ductile iron 6.20.")


def test_a_reading_in_the_book_says_the_same_as_a_typed_one(db: Session, shop: Shop) -> None:
    piece = sheave(db, shop, "ductile_iron", "7.10")
    weigh(db, shop, piece, "before", "710", "counter")
    told = weighing.of_pieces(db, [piece])
    written = density.of_pieces(db, [piece], told)[piece.id]
    typed = density.of_typed(db, piece, shop.scales["counter"], "710")
    assert typed
    assert (written.fits, written.words) == (typed.fits, typed.words) == (False, typed.words)
    assert written.workings[0].inputs[0] == ("weighed", "710 g on counter, shows 5 g")


def test_every_figure_of_it_has_a_source(db: Session, shop: Shop) -> None:
    facts = said(db, sheave(db, shop, "ductile_iron", "7.10"), 900)
    assert [sheet.figure for sheet in facts.workings] == ["density", "volume", "does it fit"]
    assert all(sheet.source for sheet in facts.workings)


def test_a_piece_that_is_not_drawn_or_not_told_apart_says_nothing(db: Session, shop: Shop) -> None:
    undrawn = sheave(db, shop, "ductile_iron", "7.10", body=None)
    assert density.of_weight(db, undrawn, 910.0, 5.0, "") is None
    unknown = pieces_of(db, make_job(db, shop, pieces=(PieceAsk(None, "machine", ""),)))[0]
    assert density.of_weight(db, unknown, 910.0, 5.0, "") is None
    assert density.of_reading(db, unknown, None) is None
    assert jobs.piece(db, unknown.job_no, unknown.n).variant_id is None


@pytest.mark.parametrize("typed", ["", "abc", "0"])
def test_what_is_half_typed_says_nothing_yet(db: Session, shop: Shop, typed: str) -> None:
    piece = sheave(db, shop, "ductile_iron", "7.10")
    assert density.of_typed(db, piece, shop.scales["counter"], typed) is None
    assert density.of_typed(db, piece, 99, "910") is None
