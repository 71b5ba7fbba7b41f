"""How sure a prediction is, from the material's range and what sizes are good to."""

from dataclasses import replace

import pytest
from sqlmodel import Session

from shopapp.bench.cuts import Body, Cut
from shopapp.bench.outline import Ring
from shopapp.office import parts, predicting
from shopapp.office.drawing import Drawn
from shopapp.office.parts import VariantFacts
from tests.makers import Shop, make_variant

DISC = Drawn(Body((Ring(200, 50, 0, 25),)))
FACE = [Cut("A", "face", {"depth": 5, "from": 200, "to": 50})]


@pytest.fixture
def steel(db: Session, shop: Shop) -> VariantFacts:
    return parts.variant(db, make_variant(db, shop))


def test_a_density_of_the_shops_own_widens_the_range_to_hold_it(steel: VariantFacts) -> None:
    assert predicting.density_range(steel) == (7.85, 7.82, 7.88)
    assert predicting.density_range(replace(steel, density="7.7")) == (7.7, 7.7, 7.88)


def test_the_sizes_to_be_turned_are_known_better_than_a_raw_castings(steel: VariantFacts) -> None:
    iron = replace(steel, made="cast", material="grey_iron", density="7.15")
    assert predicting.half_widths(iron, FACE) == {("cut", 0, "depth"): 0.4, ("cut", 0, "to"): 0.4}
    assert predicting.predict(iron, DISC, FACE).expanded > predicting.predict(steel, DISC, FACE).expanded


def test_a_difference_is_explained_by_one_input_at_a_time(steel: VariantFacts) -> None:
    mass = predicting.predict(steel, DISC, FACE).mass
    said = predicting.explanations(
        steel, DISC, FACE, before_g=5700, after_g=5700 - 1.2 * mass, division_g=5, twins=(), unit="mm"
    )
    # A fifth more off a plain face is a face a fifth deeper: 6 mm for 5 (the volume of a disc goes with its depth).
    assert said[0].startswith("“deep” of cut 1, side A, face would have to be 6")
