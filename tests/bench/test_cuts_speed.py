"""How long a removal takes: a wheel with all that is looked at, and a large body beside a mesh library's boolean."""

from itertools import count
from typing import Any

import pytest

from shopapp.bench.cuts import Body, Cut, KeepOut, Least, removal, taken_volume
from shopapp.bench.holes import HoleCircle, Keyway, RadialHole, Slot
from shopapp.bench.outline import Ring
from shopapp.bench.uncertainty import predict
from tests.bench.bodies import INCH, WHEEL, WHEEL_CUTS
from tests.bench.test_cuts_oracles import modelled

LARGE_CUTS = [
    Cut("A", "turn", {"from": 320, "to": 232, "start": 0, "end": 60}),
    Cut("A", "face", {"depth": 4, "from": 320, "to": 90, "at": 0}),
    Cut("A", "bore", {"from": 40, "to": 52, "start": 0, "end": 30}),
    Cut("B", "groove", {"from": 320, "to": 180, "start": 96, "end": 110, "bottom_start": 98, "bottom_end": 108}),
    Cut("B", "taper", {"from": 320, "start_diameter": 170, "end_diameter": 120, "start": 130, "end": 150}),
    Cut("B", "face", {"depth": 3, "from": 320, "to": 60, "at": 156}),
]


def large(off: float = 0.0) -> Body:
    """Twelve rings and eight voids, every size of the voids a little off, so that no sum is remembered from before."""
    wide = [240, 250, 246, 238, 190, 184, 200, 206, 188, 170, 160, 140]
    rings = tuple(Ring(od, 40, 13 * i, 13 * (i + 1)) for i, od in enumerate(wide))
    return Body(rings, (
        HoleCircle(6, 14 + off, 205, 0, 85), HoleCircle(4, 9 + off, 120), HoleCircle(8, 6 + off, 232, 0, 25),
        Keyway(10 + off, 3.3, 40), RadialHole(4, 12 + off, 246, 12, 33), RadialHole(3, 8 + off, 206, 15, 96),
        Slot(2, 7 + off, 12, 190, 52, 65), Slot(5, 5 + off, 8, 160, 130, 143),
    ))


@pytest.mark.bench
def test_a_removal_is_worked_out(benchmark: Any) -> None:
    edges = [KeepOut("pockets", 1.0625 * INCH, "from", 0.254), KeepOut("pockets", 1.4375 * INCH, "to", 0.254)]
    found = benchmark(removal, WHEEL, WHEEL_CUTS, 7.1, edges, Least("web", 5), Least("wall", 5))
    assert found.refusals == ()
    assert found.mass > 0


@pytest.mark.bench
def test_a_prediction_with_its_uncertainty_is_worked_out(benchmark: Any) -> None:
    assert benchmark(predict, WHEEL, WHEEL_CUTS, 7.1, 7.0, 7.3, 0.25).u > 0


@pytest.mark.bench
@pytest.mark.benchmark(group="twelve rings, eight voids, six cuts")
def test_a_large_bodys_removal_is_worked_out_afresh(benchmark: Any) -> None:
    tries = count(1)
    found = benchmark(lambda: removal(large(next(tries) * 1e-7), LARGE_CUTS, 7.1))
    assert len(found.takes) == 6


@pytest.mark.bench
@pytest.mark.benchmark(group="twelve rings, eight voids, six cuts")
def test_a_large_bodys_volume_alone_is_worked_out_afresh(benchmark: Any) -> None:
    tries = count(1)
    assert benchmark(lambda: taken_volume(large(next(tries) * 1e-7), LARGE_CUTS)) > 0


@pytest.mark.bench
@pytest.mark.benchmark(group="twelve rings, eight voids, six cuts")
def test_a_large_bodys_removal_by_a_mesh_librarys_boolean(benchmark: Any) -> None:
    # manifold3d, turned things in 512 sides and drills in 64: off the exact volume by about 1 part in 10 000.
    meshed = benchmark.pedantic(modelled, (large(), LARGE_CUTS, 512, 64), rounds=3)
    exact = removal(large(), LARGE_CUTS, 7.1)
    assert not any("run into" in said for said in (*exact.hints, *exact.refusals))
    assert meshed == pytest.approx(exact.volume, rel=3e-4)
    assert meshed != pytest.approx(exact.volume, rel=1e-6)
