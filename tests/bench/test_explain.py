"""What would explain it: every explanation, put in place, does reconcile."""

import math
from dataclasses import replace

import pytest

from shopapp.bench.cuts import Body, Cut, removal
from shopapp.bench.errors import Impossible
from shopapp.bench.explain import Reading, explain, reconciling
from shopapp.bench.inputs import inputs, moved
from shopapp.bench.outline import Ring
from shopapp.bench.together import Weighed, less, read
from tests.bench.bodies import POUND, WHEEL, WHEEL_CUTS

IRON = (7.10, 7.0, 7.3)
FIFTH = POUND / 5
TURN = Cut("A", "turn", {"from": 200, "to": 190, "start": 0, "end": 10})


def weighed(before: float, after: float) -> Reading:
    return Reading(less(read(before * POUND, FIFTH), read(after * POUND, FIFTH)), FIFTH)


def test_each_size_put_in_place_gives_what_was_weighed() -> None:
    reading = weighed(26.6, 17.6)
    known = {one.name: one for one in inputs(WHEEL, WHEEL_CUTS, 0.5)}
    found = [one for one in explain(WHEEL, WHEEL_CUTS, IRON, 0.5, reading) if one.name in known]
    assert len(found) >= 5
    for one in found:
        body, cuts = moved(WHEEL, WHEEL_CUTS, known[one.name], one.needed - one.value)
        assert removal(body, cuts, IRON[0]).mass == pytest.approx(reading.removed.grams, rel=1e-8)


@pytest.mark.outside("computed: closed form of a ring")
def test_the_needed_diameter_is_the_one_a_ring_works_out_to() -> None:
    # m = rho pi/4 (D^2 - d^2) L turned round for D: elementary.
    (outer, *_) = explain(None, [TURN], (7.85, 7.84, 7.86), 0.5, Reading(Weighed(300, 0.2), 0.5), "mm")
    exact = math.sqrt(190**2 + 300 / (7.85e-3 * math.pi / 4 * 10))
    assert outer.name == "“outside Ø now” of cut 1, side A, turn outside"
    assert outer.needed == pytest.approx(exact, rel=1e-9)
    assert outer.sigmas == pytest.approx((exact - 200) / (0.5 / math.sqrt(3)), rel=1e-8)
    assert outer.words == (
        "“outside Ø now” of cut 1, side A, turn outside would have to be 202.4 mm, 2.4 mm more than planned: "
        "8.3 times its own uncertainty."
    )


def test_the_needed_density_is_in_proportion() -> None:
    found = {one.name: one for one in explain(WHEEL, WHEEL_CUTS, IRON, 0.1, weighed(26.6, 17.4))}
    exact = 7.10 * 9.2 * POUND / removal(WHEEL, WHEEL_CUTS, 7.10).mass
    assert found["density of the material"].needed == pytest.approx(exact)
    assert "outside the 7.00 to 7.30" in found["density of the material"].words


def test_the_most_plausible_comes_first() -> None:
    sigmas = [one.sigmas for one in explain(WHEEL, WHEEL_CUTS, IRON, 0.3, weighed(26.6, 17.4))]
    assert sigmas == sorted(sigmas)


def test_swapped_tags_come_before_everything_else() -> None:
    # 26.6 and 25.8 before, 17.4 and 18.2 after: exchanged, 8.4 came off each.
    first = explain(WHEEL, WHEEL_CUTS, IRON, 0.127, swapped((25.8, 18.2)))[0]
    assert (first.name, first.sigmas < 1) == ("the tags", True)
    assert "swapped" in first.words


def swapped(*twins: tuple[float, float]) -> Reading:
    pairs = tuple((before * POUND, after * POUND) for before, after in twins)
    return replace(weighed(26.6, 17.4), before_g=26.6 * POUND, after_g=17.4 * POUND, twins=pairs)


def test_every_twin_is_tried() -> None:
    assert explain(WHEEL, WHEEL_CUTS, IRON, 0.127, swapped((26.0, 17.6), (25.8, 18.2)))[0].name == "the tags"


def test_a_twin_that_was_cut_right_is_not_swapped() -> None:
    # With equal weights before, an exchange only moves the fault to the other piece.
    found = explain(WHEEL, WHEEL_CUTS, IRON, 0.127, swapped((26.6, 18.2)))
    assert "the tags" not in [one.name for one in found]
    disc, turn = Body((Ring(230, 40, 0, 25),)), [Cut("A", "turn", {"to": 225})]
    mass = removal(disc, turn, 7.85).mass
    off = less(read(5000, 1), read(5000 - 1.15 * mass, 1))
    reading = Reading(off, 1, 5000, 5000 - 1.15 * mass, ((5000, 5000 - mass),))
    assert explain(disc, turn, (7.85, 7.82, 7.88), 0.13, reading)[0].name != "the tags"


def test_a_twin_that_would_not_agree_either_is_not_blamed() -> None:
    found = explain(WHEEL, WHEEL_CUTS, IRON, 0.127, swapped((26.6, 17.0)))
    assert "the tags" not in [one.name for one in found]


def test_a_scale_off_by_one_division_says_so() -> None:
    mass = removal(None, [TURN], 7.85).mass
    found = explain(None, [TURN], (7.85, 7.82, 7.88), 0.05, Reading(Weighed(mass - 5, 2.04), 5))
    (scale,) = [one for one in found if one.name == "the scale"]
    assert scale.words.startswith("The scale would have to show 1 division too little:")
    assert scale.needed == pytest.approx(mass)


def test_what_cannot_be_is_no_explanation() -> None:
    # Ten times as much cannot come off between these two diameters by a smaller bore of a solid.
    bore = Cut("A", "bore", {"from": 10, "to": 40, "start": 0, "end": 10})
    inner = inputs(None, [bore], 5)[0]
    assert reconciling(None, [bore], inner, 10 * math.pi / 4 * 1500 * 10, -157.0) is None
    assert reconciling(None, [bore], inner, 100.0, 0.0) is None


def test_a_reading_that_says_nothing_explains_nothing() -> None:
    for reading in (Reading(Weighed(0, 1), 5), Reading(Weighed(10, 1), 0), Reading(Weighed(10, 0), 5)):
        with pytest.raises(Impossible, match="before and after"):
            explain(None, [TURN], (7.85, 7.82, 7.88), 0.05, reading)
