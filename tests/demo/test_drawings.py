"""The story's own reverse wheel against shells integrated by scipy: its sides, holes, corner ring and inertia."""

import math

import pytest
from scipy.integrate import quad
from sqlmodel import Session

from shopapp.bench.cuts import Body, Removal, removal
from shopapp.bench.holes import HoleCircle
from shopapp.demo.drawings import BODIES, CUTS
from shopapp.office import cutting, drawing, jobs

pytestmark = pytest.mark.outside("verified: scipy.integrate, shells of the wheel's own sizes written in the test")

INCH, POUND, DENSITY = 25.4, 453.59237, 7.10
#: Within what the shells and the tool have to meet, and a figure of the story its last digit.
NEAR = 1e-3
#: Radii in inches: boss end, web's holes, turned outside, outside as cast; how long each outside turn is, and the face.
BOSS, CIRCLE, HOLE, TURNED, CAST, LAND, FACE, CORNER = 2.125, 2.75, 0.265, 4.4375, 4.75, 1.0505, 0.3, 1 / 32


def wheel(holes: bool = True) -> Removal:
    body = drawing.read_body(BODIES["RW-6"])[0].body
    assert body is not None
    voids = tuple(one for one in body.voids if holes or not isinstance(one, HoleCircle))
    assert len(voids) == len(body.voids) - (not holes)
    cuts = drawing.read_cuts(CUTS["RW-6"])[0]
    return removal(Body(body.parts, voids, body.lumps), cuts, DENSITY)


def missed(r: float) -> float:
    """Angle that the four holes leave out at a radius, by the cosine rule."""
    x = (r * r + CIRCLE**2 - HOLE**2) / (2 * r * CIRCLE)
    return 8 * math.acos(min(1.0, max(-1.0, x)))


def integral(low: float, high: float, deep: float, power: int, holes: bool = False) -> float:
    """Cylinders one inside the other, so deep each; in inches, power 1 for the volume and 3 for the moment."""
    stops = [low, *(r for r in (CIRCLE - HOLE, CIRCLE, CIRCLE + HOLE) if low < r < high), high]

    def shell(r: float) -> float:
        return float((math.tau - (missed(r) if holes else 0)) * deep * r**power)

    return sum(float(quad(shell, a, b, epsabs=0, epsrel=1e-11)[0]) for a, b in zip(stops, stops[1:], strict=False))


def bevel(power: int) -> float:
    return float(quad(lambda r: math.tau * (r - TURNED + CORNER) * r**power, TURNED - CORNER, TURNED)[0])


def side_a(power: int = 1, holes: bool = True) -> float:
    turned = integral(TURNED, CAST, LAND, power) + bevel(power)
    return turned + integral(BOSS, TURNED, FACE, power, holes)


def side_b(power: int = 1) -> float:
    return integral(TURNED, CAST, LAND, power) + bevel(power)


def pounds(cubic_inches: float) -> float:
    return cubic_inches * INCH**3 * DENSITY / 1000 / POUND


def inertia(holes: bool) -> float:
    """Inertia that comes off [g·m²]."""
    return (side_a(3, holes) + side_b(3)) * INCH**5 * DENSITY / 1000 / 1e6


def test_what_comes_off_by_side() -> None:
    found = wheel()
    for side, exact, told in (("A", pounds(side_a()), 6.035), ("B", pounds(side_b()), 2.434)):
        assert found.sides[side] / POUND == pytest.approx(exact, rel=NEAR)
        assert exact == pytest.approx(told, rel=NEAR)
    assert sum(found.sides.values()) == pytest.approx(found.mass, rel=1e-9)


def test_what_comes_off_in_all_is_what_the_job_was_told(db: Session) -> None:
    piece = jobs.piece(db, 1161, 1)
    plan = cutting.plan(db, piece.job_id, piece.variant_id or 0)
    assert plan is not None
    exact = pounds(side_a() + side_b())
    assert exact == pytest.approx(8.469, rel=NEAR)
    for grams in (plan.grams, wheel().mass):
        assert grams / POUND == pytest.approx(exact, rel=NEAR)


def test_the_four_holes_take_their_share_off_the_face_cut() -> None:
    exact = pounds(integral(BOSS, TURNED, FACE, 1) - integral(BOSS, TURNED, FACE, 1, holes=True))
    assert (wheel(holes=False).mass - wheel().mass) / POUND == pytest.approx(exact, rel=NEAR)
    assert exact == pytest.approx(0.068, abs=0.0005)


def test_the_corner_ring_is_counted_once() -> None:
    takes = {(one.side, one.kind): one for one in wheel().takes}
    turn, face = takes["A", "turn"], takes["A", "face"]
    exact = pounds(integral(TURNED, CAST, FACE, 1))
    assert (turn.alone_mass - turn.mass + face.alone_mass - face.mass) / POUND == pytest.approx(exact, rel=NEAR)
    assert exact == pytest.approx(0.694, abs=0.0005)


@pytest.mark.parametrize(("holes", "told"), [(True, 42.94), (False, 43.09)])
def test_the_inertia_taken_off(holes: bool, told: float) -> None:
    exact = inertia(holes)
    assert wheel(holes).inertia / 1e6 == pytest.approx(exact, rel=NEAR)
    assert exact == pytest.approx(told, rel=NEAR)
