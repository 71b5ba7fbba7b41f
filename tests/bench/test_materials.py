"""Densities stand where published tables put them."""

import pytest

from shopapp.bench.errors import Impossible, Refused
from shopapp.bench.materials import MATERIALS, material, own

POUND_PER_CUBIC_INCH = 453.59237 / 16.387064


@pytest.mark.outside("verified: PNNL-15870, EN 10088-1, DIN 1729 and data sheets, row by row")
@pytest.mark.parametrize(
    ("key", "published"),
    [
        # PNNL-15870, Compendium of Material Composition Data.
        ("grey_iron", 7.15), ("aluminium_6061", 2.70), ("nylon_6", 1.14), ("titanium", 4.43),
        # EN 10088-1, 1.4301: 7900 kg/m3; PNNL-15870 has 8.00 and the range holds it.
        ("stainless_304", 7.90),
        # Data sheets: C36000 .307 lb/in3, C93200 .322 lb/in3.
        ("brass_360", 0.307 * POUND_PER_CUBIC_INCH), ("bronze_660", 0.322 * POUND_PER_CUBIC_INCH),
        # EN 10088-1, 1.4401: 8000 kg/m3; PNNL-15870: 7075 2.81, copper 8.96.
        ("stainless_316", 8.00), ("aluminium_7075", 2.81), ("copper", 8.96),
        # Data sheets: C46400 .304 lb/in3; zinc die castings .24 lb/in3, printed 6.6.
        ("brass_464", 0.304 * POUND_PER_CUBIC_INCH), ("zinc_cast", 6.6),
        # DIN 1729, 3.5912.
        ("magnesium", 1.81),
        # A foundry lexicon's cast steel; Gere's table; TU Delft's AISI 4340.
        ("cast_steel", 7.85), ("carbon_steel", 7.85), ("alloy_steel", 7.85),
    ],
)  # fmt: skip
def test_a_nominal_density_is_the_published_one(key: str, published: float) -> None:
    assert material(key).nominal == pytest.approx(published, rel=2e-3)


@pytest.mark.outside("from memory: EN 1563; A356 at .097 lb/in3; acetal copolymer by ISO 1183")
@pytest.mark.parametrize(
    ("key", "published"), [("ductile_iron", 7.10), ("aluminium_cast", 0.097 * POUND_PER_CUBIC_INCH), ("acetal", 1.41)]
)
def test_a_nominal_density_is_the_remembered_one(key: str, published: float) -> None:
    assert material(key).nominal == pytest.approx(published, rel=2e-3)


@pytest.mark.outside("verified: PNNL-15870")
@pytest.mark.parametrize(("key", "published"), [("carbon_steel", 7.82), ("stainless_304", 8.00)])
def test_a_range_holds_what_other_tables_say(key: str, published: float) -> None:
    assert material(key).low <= published <= material(key).high


# EN 1563 ferritic and pearlitic; EN 1561 grades 150 and 350.
@pytest.mark.outside("from memory: EN 1563 and EN 1561, informative annexes")
@pytest.mark.parametrize(
    ("key", "published"), [("ductile_iron", 7.1), ("ductile_iron", 7.2), ("grey_iron", 7.10), ("grey_iron", 7.30)]
)
def test_a_range_holds_what_is_remembered_of_the_standards(key: str, published: float) -> None:
    assert material(key).low <= published <= material(key).high


def test_each_row_is_whole() -> None:
    assert len(MATERIALS) >= 14
    for key, row in MATERIALS.items():
        assert row.key == key
        assert row.low <= row.nominal <= row.high
        assert row.made in ("cast", "wrought")
        assert row.words
        assert row.source


def test_nylon_is_no_iron() -> None:
    # Twins of one outline tell themselves apart by weight: common practice, no source.
    assert material("ductile_iron").low > 6 * material("nylon_6").high


def test_an_unknown_material_is_refused() -> None:
    with pytest.raises(Refused, match="no material named steel"):
        material("steel")


def test_where_tables_disagree_the_row_says_what_the_other_prints() -> None:
    assert "8.00" in material("stainless_304").source
    assert "7.24 to 7.39" in material("grey_iron").source
    assert "7.82" in material("carbon_steel").source
    assert "4.54, newer tables 4.506" in material("titanium").source


def test_a_shop_adds_its_own() -> None:
    row = own("  Zamak 12 ", 6.03, 6.0, 6.05, "cast", "data sheet")
    assert (row.key, row.words, row.nominal, row.made) == ("zamak_12", "Zamak 12", 6.03, "cast")


@pytest.mark.parametrize(
    ("words", "density", "made", "source", "says"),
    [
        ("", (7, 7, 7), "cast", "a sheet", "needs a name"),
        ("iron", (7, 7, 7), "cast", " ", "who says"),
        ("iron", (7, 7, 7), "forged", "a sheet", "cast or wrought"),
        ("iron", (7, 7.1, 7.2), "cast", "a sheet", "between the least and the most"),
        ("iron", (7100, 7000, 7300), "cast", "a sheet", "g/cm³"),
        ("air", (0.0012, 0.0012, 0.0012), "cast", "a sheet", "under 0.1"),
    ],
)
def test_a_row_that_cannot_be_is_refused(
    words: str, density: tuple[float, float, float], made: str, source: str, says: str
) -> None:
    with pytest.raises((Refused, Impossible), match=says):
        own(words, *density, made, source)
