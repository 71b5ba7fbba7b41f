"""Parts, their look-alike variants and the signs that tell them apart."""

import pytest
from sqlmodel import Session

from shopapp.office import intake, jobs, parts
from shopapp.office.errors import NotHere, TryAgain
from tests.cast import LIPPED, PLAIN, STEEL
from tests.makers import Shop, make_job, make_part, make_variant


def test_a_part_and_its_variants_are_found_by_name(db: Session, shop: Shop) -> None:
    make_variant(db, shop, **LIPPED)
    make_variant(db, shop, **PLAIN)
    ((part, count),) = parts.parts(db)
    assert (part.name, count) == ("press plate", 2)
    assert [variant.name for variant in parts.variants(db, part.id)] == ["lipped", "plain"]
    assert parts.all_variants(db) == parts.variants(db, part.id)


def test_one_sign_decides_and_stands_first(db: Session, shop: Shop) -> None:
    variant = parts.variant(db, make_variant(db, shop, signs=["one drain hole", " lip on  one face"], deciding=1))
    assert variant.deciding == "lip on one face"
    assert [(sign.words, sign.deciding) for sign in variant.signs] == [
        ("lip on one face", True),
        ("one drain hole", False),
    ]


def test_a_part_is_entered_once_and_has_a_name(db: Session, shop: Shop) -> None:
    part_id = make_part(db, shop)
    with pytest.raises(TryAgain, match="in the book"):
        make_part(db, shop, name="Press  Plate")
    with pytest.raises(TryAgain, match="Name the part"):
        make_part(db, shop, name=" ")
    assert make_part(db, shop, part_id=part_id, note="from the mill") == part_id
    assert parts.part(db, part_id).note == "from the mill"


def test_two_variants_with_equal_signs_are_refused_and_both_named(db: Session, shop: Shop) -> None:
    make_variant(db, shop, **PLAIN)
    with pytest.raises(TryAgain) as refusal:
        make_variant(db, shop, name="thick", signs=["ONE drain hole", "flat on both  faces"])
    said = refusal.value.problems["sign_0"]
    assert "thick" in said
    assert "plain" in said


def test_a_sign_that_its_twin_shows_too_cannot_decide(db: Session, shop: Shop) -> None:
    make_variant(db, shop, **PLAIN)
    with pytest.raises(TryAgain, match="one drain hole"):
        make_variant(db, shop, **{**LIPPED, "deciding": 1})


def test_a_twins_deciding_sign_cannot_be_shown_here_too(db: Session, shop: Shop) -> None:
    make_variant(db, shop, **PLAIN)
    with pytest.raises(TryAgain, match="flat on both faces"):
        make_variant(db, shop, name="lipped", signs=["lip on one face", "flat on both faces"])


def test_the_same_sign_may_tell_variants_of_other_parts(db: Session, shop: Shop) -> None:
    make_variant(db, shop, **PLAIN)
    other = make_part(db, shop, name="sieve ring")
    assert parts.variant(db, make_variant(db, shop, part_id=other, **PLAIN)).part == "sieve ring"


def test_a_sign_keeps_its_row_when_it_is_written_again_and_one_left_out_goes(db: Session, shop: Shop) -> None:
    row = make_variant(db, shop, **PLAIN)
    before = {sign.words: sign.id for sign in parts.variant(db, row).signs}
    make_variant(db, shop, body=None, variant_id=row, name="plain", signs=["one drain hole", "blue paint"])
    after = {sign.words: sign.id for sign in parts.variant(db, row).signs}
    assert after["one drain hole"] == before["one drain hole"]
    assert set(after) == {"one drain hole", "blue paint"}
    assert parts.variant(db, row).deciding == "one drain hole"


def test_a_sign_that_a_piece_was_told_by_stays_but_no_longer_decides(db: Session, shop: Shop) -> None:
    row = make_variant(db, shop, **PLAIN)
    told = parts.variant(db, row).signs[0]
    job = make_job(db, shop, variant_id=row)
    intake.take_in(db, piece_id=jobs.pieces(db, job.id)[0].id, sign_id=told.id, **shop.at())
    make_variant(db, shop, body=None, variant_id=row, name="plain", signs=["blue paint"])
    signs = {sign.words: sign.deciding for sign in parts.variant(db, row).signs}
    assert signs[told.words] is False
    assert signs["blue paint"] is True


@pytest.mark.parametrize(
    ("told", "field"),
    [
        ({"name": " "}, "name"), ({"material": "cheese"}, "material"), ({"signs": ["", "x"]}, "sign_0"),
        ({"signs": ["x"], "deciding": 3}, "sign_0"), ({"density": "heavy"}, "density"), ({"density": "99"}, "density"),
    ],
)  # fmt: skip
def test_a_variant_that_cannot_be_is_refused(db: Session, shop: Shop, told: dict[str, object], field: str) -> None:
    make_variant(db, shop, **LIPPED)
    with pytest.raises(TryAgain) as refusal:
        make_variant(db, shop, **told)
    assert set(refusal.value.problems) == {field}


def test_a_name_is_given_once_in_a_part(db: Session, shop: Shop) -> None:
    make_variant(db, shop, **PLAIN)
    with pytest.raises(TryAgain, match="has a variant plain already"):
        make_variant(db, shop, name="Plain", signs=["a notch"])


def test_without_a_density_the_materials_own_is_taken(db: Session, shop: Shop) -> None:
    variant = parts.variant(db, make_variant(db, shop, material="brass_360", density=""))
    assert variant.material_words.endswith(variant.density)
    assert variant.density in parts.materials()["brass_360"]
    assert variant.made == "wrought"


def test_a_casting_is_known_as_one(db: Session, shop: Shop) -> None:
    assert parts.variant(db, make_variant(db, shop, **{**STEEL, "material": "grey_iron"})).made == "cast"


def test_what_was_never_entered_is_not_here(db: Session, shop: Shop) -> None:
    for ask in (parts.part, parts.variant):
        with pytest.raises(NotHere):
            ask(db, 99)
    with pytest.raises(NotHere):
        make_part(db, shop, part_id=99)
    with pytest.raises(NotHere):
        make_variant(db, shop, variant_id=99)
