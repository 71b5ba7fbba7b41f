"""Bodies by chance with voids, cut in a CAD kernel: true cylinders, cones and planes, no facets.

Not run unless asked for: `pytest -m kernel`, with the kernel installed beside the tests (DEVELOPERS.md says how).
"""

import math
from collections.abc import Sequence
from itertools import islice
from typing import Any

import pytest

from shopapp.bench.cuts import Body, Cut, removal
from shopapp.bench.holes import HoleCircle, Keyway, RadialHole, Void
from shopapp.bench.outline import Hollow, HollowCone, outline
from shopapp.bench.overlap import overlaps
from tests.bench.chance import Shape, cut_shape, drawn, part_shape

pytestmark = [pytest.mark.kernel, pytest.mark.outside("verified: a CAD kernel, run in the test")]
FAR = 500.0
EPS = 1e-9
"""The relative error that the kernel is asked for on each face; left to itself it integrates in one fixed order."""


def apart(seed: int) -> bool:
    body = drawn(seed, 1 + seed % 3)[0]
    met = overlaps(body.voids, outline(body.parts))
    return not (met.certain or met.asked)


SEEDS = list(islice(filter(apart, range(300)), 40))


def turned(shape: Shape) -> Any:
    """A solid of revolution about z, of a polygon in (z, r)."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakePolygon
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeRevol
    from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt

    rim = BRepBuilderAPI_MakePolygon()
    for z, r in shape:
        rim.Add(gp_Pnt(r, 0, z))
    rim.Close()
    axis = gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1))
    return BRepPrimAPI_MakeRevol(BRepBuilderAPI_MakeFace(rim.Wire()).Face(), axis).Shape()


def bar(a: float, at: tuple[float, float, float], along: tuple[float, float, float], long: float) -> Any:
    """A round bar from a point along a direction."""
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt

    return BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(*at), gp_Dir(*along)), a, long).Shape()


def block(low: tuple[float, float, float], high: tuple[float, float, float]) -> Any:
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox
    from OCP.gp import gp_Pnt

    return BRepPrimAPI_MakeBox(gp_Pnt(*low), gp_Pnt(*high)).Shape()


def about_z(shape: Any, angle: float) -> Any:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
    from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt, gp_Trsf

    turn = gp_Trsf()
    turn.SetRotation(gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)), angle)
    return BRepBuilderAPI_Transform(shape, turn, True).Shape()


def joined(kind: str, one: Any, others: Sequence[Any]) -> Any:
    """A shape with others added to it, taken off it, or what it has in common with them all together."""
    from OCP import BRepAlgoAPI
    from OCP.collections import List_TopoDS_Shape

    mine, tools = List_TopoDS_Shape(), List_TopoDS_Shape()
    mine.Append(one)
    for other in others:
        tools.Append(other)
    act = getattr(BRepAlgoAPI, f"BRepAlgoAPI_{kind}")()
    act.SetArguments(mine)
    act.SetTools(tools)
    act.Build()
    assert act.IsDone(), kind
    return act.Shape()


def cutter(void: Void) -> list[Any]:
    """What the drill or the mill takes, once for each of them."""
    if isinstance(void, HoleCircle):
        low, high = max(void.start, -FAR), min(void.end, FAR)
        one = bar(void.diameter / 2, (void.circle / 2, 0, low), (0, 0, 1), high - low)
    elif isinstance(void, RadialHole):
        rim = void.outside / 2
        drill = bar(void.diameter / 2, (rim - void.depth, 0, void.at), (1, 0, 0), void.depth)
        one = joined("Common", drill, [bar(rim, (0, 0, -FAR), (0, 0, 1), 2 * FAR)])
    else:
        keyed = isinstance(void, Keyway)
        outer = void.bore / 2 + void.depth if keyed else void.outside / 2
        inner = 0.0 if keyed else outer - void.depth
        low, high = max(void.start, -FAR), min(void.end, FAR)
        one = block((inner, -void.width / 2, low), (outer, void.width / 2, high))
        one = one if keyed else joined("Common", one, [bar(outer, (0, 0, -FAR), (0, 0, 1), 2 * FAR)])
    count = 1 if isinstance(void, Keyway) else void.count
    return [about_z(one, math.tau * k / count) for k in range(count)]


def cut_away(body: Body, cuts: list[Cut]) -> tuple[float, float]:
    """Volume [mm3] and moment about the axis [mm5] of what the kernel's cuts take off its model of the body."""
    from OCP.BRepGProp import BRepGProp
    from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt
    from OCP.GProp import GProp_GProps

    hollow = (Hollow, HollowCone)
    solids = [turned(part_shape(part)) for part in body.parts if not isinstance(part, hollow)]
    air = [turned(part_shape(part)) for part in body.parts if isinstance(part, hollow)]
    air += [tool for void in body.voids for tool in cutter(void)]
    model = joined("Fuse", solids[0], solids[1:])
    model = joined("Cut", model, air) if air else model
    gone = [turned(cut_shape(one)) for one in cuts]
    swept = joined("Fuse", gone[0], gone[1:]) if gone[1:] else gone[0]
    props = GProp_GProps(gp_Pnt(0, 0, 0))
    BRepGProp.VolumeProperties_s(joined("Common", model, [swept]), props, EPS)
    return props.Mass(), props.MomentOfInertia(gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_body_by_chance_with_voids_is_cut_in_a_cad_kernel(seed: int) -> None:
    body, cuts = drawn(seed, 1 + seed % 3)
    found = removal(body, cuts, 1000.0)
    volume, moment = cut_away(body, cuts)
    assert found.volume == pytest.approx(volume, rel=1e-9)
    assert found.inertia == pytest.approx(moment, rel=1e-9)
