"""A free size is found, proved by cutting with it; where a limit stops it, the limit is named."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from shopapp.bench.aim import aim, followers, root_between
from shopapp.bench.cuts import Body, Cut, KeepOut, Least, metal, removal
from shopapp.bench.errors import Impossible, Refused
from shopapp.bench.holes import HoleCircle, Keyway
from shopapp.bench.outline import Cone, Lump, Ring, outline

BRASS, STEEL = 8.49, 7.85

# Invented counterweights of brass: 120 x 45, bore 20; the other one has a collar 60 x 8 on its front.
PLAIN = Body((Ring(120, 20, 0, 45),))
COLLAR = Body((Ring(120, 20, 0, 45), Ring(60, 20, 45, 53)))
DISC = math.pi / 4 * (120**2 - 20**2)  # mm2
# An invented stepped flange with holes and a keyway.
VOIDS = (HoleCircle(4, 16, 140), Keyway(10, 4, 40))
FLANGE = Body((Ring(200, 40, 0, 25), Ring(90, 40, 25, 60)), VOIDS)


@pytest.mark.outside("computed: closed form of a ring")
@pytest.mark.parametrize(
    ("body", "collar", "about"),
    # Closed form of a ring; the two rounded depths were computed by an independent script
    [(PLAIN, 0.0, 7.51), (COLLAR, math.pi / 4 * (60**2 - 20**2) * 8, 9.34)],
)
def test_a_counterweight_is_faced_to_three_and_a_half_kilograms(body: Body, collar: float, about: float) -> None:
    depth = 45 + collar / DISC - 3500 / (BRASS / 1000 * DISC)
    found = aim(body, [Cut("A", "face")], 0, "depth", 3500, "mass", BRASS)
    assert found.reached
    assert found.size == pytest.approx(depth, rel=1e-9)
    assert found.size == pytest.approx(about, abs=0.005)
    plugged = removal(body, [Cut("A", "face", {"depth": found.size})], BRASS)
    assert plugged.after == pytest.approx(3500, abs=1e-6)
    assert found.words.startswith("Cut: face, deep: ")
    assert found.words.endswith("Finished mass: 7.72 lb (3500 g).")


@pytest.mark.outside("verified: scipy.optimize.brentq")
def test_a_finished_inertia_is_that_of_scipys_root() -> None:
    # scipy.optimize.brentq on the closed form of a ring: J = pi/32 (D^4 - d^4) L rho
    def inertia(diameter: float) -> float:
        return math.pi / 32 * (diameter**4 - 20**4) * 45 * BRASS / 1000

    wanted = 5e6
    size = brentq(lambda d: inertia(d) - wanted, 20, 120, xtol=1e-13)
    found = aim(PLAIN, [Cut("A", "turn")], 0, "to", wanted, "inertia", BRASS)
    assert found.reached
    assert found.size == pytest.approx(size, rel=1e-9)
    assert "kg·cm²" in found.words


@pytest.mark.outside("verified: scipy.optimize.brentq")
@pytest.mark.parametrize("wanted", [1e-6, 0.5, 1.0, 9.999])
def test_a_crossing_is_that_of_scipy(wanted: float) -> None:
    # scipy.optimize.brentq
    def model(x: float) -> float:
        return x**3 + math.sinh(x) / 10 - wanted

    assert root_between(model, 2.2, 0) == pytest.approx(brentq(model, 0, 2.2, xtol=1e-15), rel=1e-11)
    assert root_between(model, 0, 2.2) == pytest.approx(root_between(model, 2.2, 0), rel=1e-11)


@given(st.floats(-100, 100), st.floats(0.01, 100), st.floats(0.01, 100), st.floats(0.2, 5))
def test_a_crossing_is_found_wherever_it_is(place: float, below: float, above: float, steep: float) -> None:
    def model(x: float) -> float:
        return math.copysign(abs(x - place) ** steep, x - place)

    found = root_between(model, place - below, place + above)
    assert abs(found - place) <= 1e-9 * max(1.0, abs(place)) or abs(model(found)) < 1e-30


def test_ends_on_one_side_hold_no_crossing() -> None:
    assert root_between(lambda x: x - 1, 1, 2) == 1
    with pytest.raises(Impossible, match="same side"):
        root_between(lambda x: x + 1, 0, 2)


# Every size that may be left free: the cut, its other sizes, a size that can be cut, on the stepped flange.
FREE = [
    (Cut("B", "turn", {"start": 20, "end": 60}), "to", 85.0),
    (Cut("B", "turn", {"to": 80, "start": 40, "end": 60}), "from", 84.0),
    (Cut("B", "turn", {"to": 80, "end": 60}), "start", 33.0),
    (Cut("A", "turn", {"to": 190, "start": 0}), "end", 11.0),
    (Cut("A", "face", {"to": 100}), "depth", 5.5),
    (Cut("A", "face", {"depth": 3, "to": 60}), "from", 155.0),
    (Cut("A", "face", {"depth": 3, "from": 200}), "to", 133.0),
    (Cut("B", "bore", {"start": 10}), "to", 49.5),
    (Cut("B", "bore", {"to": 60, "start": 10}), "from", 47.0),
    (Cut("B", "bore", {"to": 50, "end": 60}), "start", 22.0),
    (Cut("A", "bore", {"to": 50, "start": 0}), "end", 22.0),
    (Cut("A", "groove", {"start": 8, "end": 16}), "to", 165.0),
    (Cut("A", "groove", {"to": 170, "end": 16}), "start", 9.0),
    (Cut("A", "groove", {"to": 170, "start": 8}), "end", 14.0),
    (Cut("A", "groove", {"to": 170, "start": 6, "end": 18, "bottom_end": 14}), "bottom_start", 9.0),
    (Cut("A", "groove", {"to": 170, "start": 6, "end": 18, "bottom_start": 10}), "bottom_end", 13.0),
    (Cut("B", "taper", {"from": 90, "end_diameter": 80, "start": 30, "end": 60}), "start_diameter", 86.0),
    (Cut("B", "taper", {"from": 40, "start_diameter": 50, "start": 30, "end": 60}), "end_diameter", 55.0),
    (Cut("A", "bevel", {"diameter": 200}), "corner", 2.5),
]


@pytest.mark.parametrize(("cut", "name", "size"), FREE, ids=[f"{cut.kind} {name}" for cut, name, _ in FREE])
@pytest.mark.parametrize("what", ["mass", "removed", "inertia"])
def test_what_a_size_takes_leads_back_to_the_size(cut: Cut, name: str, size: float, what: str) -> None:
    took = removal(FLANGE, [Cut(cut.side, cut.kind, {**cut.sizes, name: size})], STEEL)
    whole = metal(outline(FLANGE.parts), VOIDS, 3) * STEEL / 1000
    wanted = {"mass": took.after, "removed": took.mass, "inertia": whole - took.inertia}[what]
    found = aim(FLANGE, [cut], 0, name, wanted, what, STEEL)
    assert found.reached, found.words
    assert found.size == pytest.approx(size, rel=1e-8)
    assert found.result == pytest.approx(wanted, rel=1e-9)
    assert found.limit == ""
    assert found.low <= found.result <= found.high


@settings(max_examples=25, deadline=None)
@given(st.floats(0.02, 0.6), st.sampled_from(["mass", "removed", "inertia"]))
def test_the_result_is_what_was_wanted_and_more_is_cut_for_less(part: float, what: str) -> None:
    before = removal(PLAIN, [], BRASS).before
    whole = metal(outline(PLAIN.parts), (), 3) * BRASS / 1000
    wanted = {"mass": before * (1 - part), "removed": before * part, "inertia": whole * (1 - part)}[what]
    found = aim(PLAIN, [Cut("A", "face")], 0, "depth", wanted, what, BRASS)
    assert found.reached
    assert found.size == pytest.approx(45 * part, rel=1e-8)
    plugged = removal(PLAIN, [Cut("A", "face", {"depth": found.size})], BRASS)
    assert {"mass": plugged.after, "removed": plugged.mass, "inertia": whole - plugged.inertia}[what] == found.result


def test_a_web_stops_a_face_and_is_named() -> None:
    least = Least("web", 40.0)
    found = aim(PLAIN, [Cut("A", "face")], 0, "depth", 3500, "mass", BRASS, web=least)
    assert not found.reached
    assert found.size == pytest.approx(5, abs=1e-5)
    assert found.result == pytest.approx(BRASS / 1000 * DISC * 40, rel=1e-6)
    assert "Web: " in found.limit
    assert "must stay" in found.limit
    assert "is not reached" in found.words
    assert found.low == found.result
    assert found.removal.refusals == ()


def test_a_wall_stops_a_bore_and_a_keep_out_a_turn() -> None:
    bored = aim(PLAIN, [Cut("A", "bore")], 0, "to", 500, "mass", BRASS, wall=Least("rim wall", 10))
    assert bored.size == pytest.approx(100, abs=1e-5)
    assert bored.limit.startswith("Rim wall: ")
    teeth = KeepOut("teeth", 30, "from", 0.5)
    turned = aim(PLAIN, [Cut("A", "turn", {"to": 110, "start": 0})], 0, "end", 500, "removed", BRASS, keep_outs=[teeth])
    assert turned.size == pytest.approx(29.5, abs=1e-5)
    assert turned.limit.startswith("Teeth: ")
    assert turned.result == pytest.approx(BRASS / 1000 * math.pi / 4 * (120**2 - 110**2) * 29.5, rel=1e-6)


def test_nine_tenths_of_a_web_stop_a_face_with_no_least_set() -> None:
    found = aim(PLAIN, [Cut("A", "face")], 0, "depth", 100, "mass", BRASS)
    assert found.size == pytest.approx(40.5, abs=1e-4)
    assert "90 % or more is refused" in found.limit


def test_the_body_itself_ends_a_turn() -> None:
    found = aim(PLAIN, [Cut("A", "turn", {"to": 110, "start": 0})], 0, "end", 2000, "removed", BRASS)
    assert not found.reached
    assert found.size == 45
    assert "no more metal" in found.limit
    assert found.high == found.result == pytest.approx(BRASS / 1000 * math.pi / 4 * (120**2 - 110**2) * 45, rel=1e-9)


@pytest.mark.outside("computed: closed form of a ring")
@pytest.mark.parametrize("drawn", [True, False])
def test_a_groove_in_a_bore_is_aimed_outward(drawn: bool) -> None:
    # pi/4 (D^2 - 20^2) 10 x 7.85e-3 = 100 turned round for D: elementary.
    exact = math.sqrt(20**2 + 100 / (math.pi / 4 * 10 * 7.85e-3))
    groove = Cut("A", "groove", {"from": 20, "start": 10, "end": 20} | ({} if drawn else {"to": 30}))
    found = aim(Body((Ring(100, 20, 0, 40),)) if drawn else None, [groove], 0, "to", 100, "removed", 7.85)
    assert found.reached
    assert found.size == pytest.approx(exact, rel=1e-8)
    assert found.size == pytest.approx(44.97, abs=0.005)


def test_a_groove_from_the_outside_is_aimed_inward_whatever_was_typed() -> None:
    groove = Cut("A", "groove", {"from": 100, "to": 120, "start": 10, "end": 20})
    found = aim(Body((Ring(100, 20, 0, 40),)), [groove], 0, "to", 100, "removed", 7.85)
    assert found.reached
    assert found.size == pytest.approx(math.sqrt(100**2 - 100 / (math.pi / 4 * 10 * 7.85e-3)), rel=1e-8)


def test_the_larger_end_of_a_taper_is_aimed_at() -> None:
    found = aim(Body((Cone(60, 80, 20, 20, 0, 50),)), [Cut("B", "face", {})], 0, "depth", 50, "removed", 7.85)
    assert (found.reached, found.result) == (True, pytest.approx(50))


def test_what_is_already_gone_is_told() -> None:
    face = Cut("B", "face", {"depth": 20})
    found = aim(PLAIN, [face, Cut("A", "face")], 1, "depth", 3500, "mass", BRASS)
    assert not found.reached
    assert found.limit.endswith(" already.")
    assert "whatever the size of this cut" in found.words
    assert found.size == pytest.approx(0, abs=1e-4)
    heavy = aim(PLAIN, [Cut("A", "face")], 0, "depth", 5000, "mass", BRASS)
    assert not heavy.reached


def test_a_limit_that_another_cut_breaks_is_told_at_once() -> None:
    deep = Cut("B", "face", {"depth": 10, "to": 60})
    found = aim(PLAIN, [deep, Cut("A", "face", {"to": 60})], 1, "depth", 2500, "mass", BRASS, web=Least("web", 40))
    assert not found.reached
    assert found.size == pytest.approx(0, abs=1e-4)
    assert "must stay" in found.limit


def test_a_bevel_on_the_diameter_goes_along() -> None:
    cuts = [Cut("A", "turn", {"to": 110, "end": 45}), Cut("A", "bevel", {"corner": 2, "diameter": 110})]
    assert followers(cuts, 0, "to") == ((1, "diameter"),)
    found = aim(PLAIN, cuts, 0, "to", 3000, "mass", BRASS)
    assert found.reached
    assert "The same Ø in cut 2 goes along." in found.words
    done = [Cut("A", "turn", {"to": found.size, "end": 45}), Cut("A", "bevel", {"corner": 2, "diameter": found.size})]
    assert removal(PLAIN, done, BRASS).after == pytest.approx(3000, abs=1e-6)
    alone = aim(PLAIN, cuts, 0, "to", 3000, "mass", BRASS, follow=())
    assert not alone.reached
    assert alone.limit.startswith("Cut 2, side A: There is no")


def test_a_bevel_that_needs_the_turn_is_no_hindrance() -> None:
    # The corner for the bevel is there only once the turn has gone past the face that is cut first.
    bevel = Cut("A", "bevel", {"corner": 2, "diameter": 110})
    cuts = [Cut("A", "turn", {"to": 110}), Cut("A", "face", {"depth": 6}), bevel]
    found = aim(PLAIN, cuts, 0, "end", 3500, "mass", BRASS)
    assert found.reached, found.words
    done = [Cut("A", "turn", {"to": 110, "end": found.size}), *cuts[1:]]
    assert removal(PLAIN, done, BRASS).after == pytest.approx(3500, abs=1e-6)
    assert found.high < removal(PLAIN, cuts[1:2], BRASS).after


def test_nothing_goes_along_with_a_length_or_on_the_other_side() -> None:
    cuts = [Cut("A", "face", {"depth": 5, "to": 50}), Cut("B", "turn", {"to": 50, "start": 5})]
    assert followers(cuts, 0, "depth") == ()
    assert followers(cuts, 0, "to") == ()
    assert followers([Cut("A", "turn"), *cuts], 0, "to") == ()


def test_a_face_that_would_move_as_it_gets_wider_is_asked_where_it_is() -> None:
    # The collar stands 8 mm in front of the disc: a face that reaches it would start from there.
    dished = Body((Ring(120, 100, 0, 45), Ring(100, 20, 5, 40)))
    for body, name, sizes in [(COLLAR, "to", {"depth": 4}), (dished, "from", {"depth": 4, "to": 30})]:
        with pytest.raises(Refused, match="type where the face is"):
            aim(body, [Cut("B", "face", sizes)], 0, name, 100, "removed", BRASS)
    placed = Cut("B", "face", {"depth": 4, "at": 45})
    found = aim(COLLAR, [placed], 0, "to", 100, "removed", BRASS)
    assert found.size == pytest.approx(math.sqrt(120**2 - 100 / (BRASS / 1000 * math.pi)), rel=1e-9)
    # The back is flat, so its face needs no place.
    assert aim(COLLAR, [Cut("A", "face", {"depth": 4})], 0, "to", 100, "removed", BRASS).size == found.size


def test_a_cut_that_jumps_is_not_called_reached(monkeypatch: pytest.MonkeyPatch) -> None:
    def stepped(body: Body, cuts: list[Cut], *told: object) -> object:
        return removal(body, [Cut("A", "face", {"depth": math.ceil(cuts[0].sizes["depth"])})], *told)  # type: ignore

    monkeypatch.setattr("shopapp.bench.aim.removal", stepped)
    found = aim(PLAIN, [Cut("A", "face")], 0, "depth", 3500, "mass", BRASS)
    assert not found.reached
    assert found.size == pytest.approx(7, abs=1e-9)
    assert "jumps" in found.limit


def test_with_no_part_drawn_a_mass_removed_is_aimed_at() -> None:
    cut = Cut("A", "face", {"from": 120, "to": 20})
    found = aim(None, [cut], 0, "depth", 700.86, "removed", BRASS)
    assert found.size == pytest.approx(700.86 / (BRASS / 1000 * DISC), rel=1e-9)
    far = aim(None, [cut], 0, "depth", 1e9, "removed", BRASS)
    assert "Nothing over" in far.limit
    with pytest.raises(Refused, match="Draw the part first"):
        aim(None, [cut], 0, "depth", 3500, "mass", BRASS)


def test_a_lump_weighs_and_a_hole_is_not_metal() -> None:
    foot = Body(PLAIN.parts, (HoleCircle(4, 10, 80),), (Lump("foot", 20_000),))
    found = aim(foot, [Cut("A", "face")], 0, "depth", 3500, "mass", BRASS)
    holes = 4 * math.pi / 4 * 10**2
    left = (3500 / (BRASS / 1000) - 20_000) / (DISC - holes)
    assert found.size == pytest.approx(45 - left, rel=1e-8)


@pytest.mark.parametrize(
    ("told", "says"),
    [
        ((PLAIN, [Cut("A", "face")], 0, "at", 100, "removed", BRASS), "Leave one of these free: deep"),
        ((PLAIN, [Cut("A", "mill")], 0, "to", 100, "removed", BRASS), "no cut of the kind mill"),
        ((PLAIN, [Cut("A", "face")], 1, "depth", 100, "removed", BRASS), "none of that number"),
        ((PLAIN, [Cut("A", "face")], 0, "depth", 0, "removed", BRASS), "above nothing"),
        ((PLAIN, [Cut("A", "face")], 0, "depth", 100, "weight", BRASS), "finished mass"),
        ((PLAIN, [Cut("A", "groove", {"start": 3})], 0, "end", 100, "removed", BRASS), "Type “bottom Ø”"),
    ],
)
def test_what_cannot_be_aimed_says_what_to_type(told: tuple, says: str) -> None:
    with pytest.raises(Refused, match=says):
        aim(*told)
