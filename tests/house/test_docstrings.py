"""The docstring of a figure is its drawing: what, from where, by which formula, in which units, with an example."""

import ast
import re
from pathlib import Path

import pytest

from tests.house.tree import Function, Named, files, functions, parsed, said

HEADINGS = ("Formula", "Returns", "Yields", "Limits", "Raises")
LENGTHS = {"mm", "mm2", "mm3", "mm4", "mm5", "in", "um"}
MASSES = {"g", "kg", "lb", "oz", "g/cm3", "g/mm3", "g·mm2", "g·mm"}
OTHERS = {"min", "h", "cents", "cents/h", "rpm", "m/min", "ft/min", "m/s", "rad", "deg", "count", "share", "%"}
OTHERS |= {"percent"}
FORCES = {"N", "N/mm2", "MPa", "kW", "kW/(cm3/s)", "mm3/min"}
NO_MEASURE = {"1", "any", "text", "yes", "no", "yes/no", "word", "words", "place", "list", "unit as written"}
UNITS = LENGTHS | MASSES | OTHERS | FORCES | NO_MEASURE
SUFFIXES = {"mm": "mm", "mm2": "mm2", "mm3": "mm3", "g": "g", "min": "min", "cents": "cents", "hour": "cents/h"}
SOURCE = re.compile(r"\bpp?\. ?\d|Handbook|NIST|GUM|EN 16931|ISO \d|ASME|common practice, no source|from memory", re.I)
ENTRY = re.compile(r"^(\w+): (.*?)(?=^\w+: |^$|\Z)", re.MULTILINE | re.DOTALL)
GIVES = re.compile(r"^(?:Returns|Yields)\b(.*?)(?=^$|\Z)", re.MULTILINE | re.DOTALL)
BRACKET = re.compile(r"\[([^\[\]\n]+)\]")
NUMBERS = re.compile(r"\b(float|int|Fraction|Number)\b")


def public() -> list[Named]:
    """Functions that stand at the top of a bench module and are meant for others."""
    every = (named for file in files("shopapp/bench") for named in functions(file))
    return [named for named in every if named.node.col_offset == 0 and not named.node.name.startswith("_")]


PUBLIC = public()


def parameters(function: Function) -> dict[str, str]:
    """Each parameter with its type as written."""
    args = function.args
    named = [*args.posonlyargs, *args.args, args.vararg, *args.kwonlyargs, args.kwarg]
    return {arg.arg: ast.unparse(arg.annotation) if arg.annotation else "" for arg in named if arg}


def unit_faults(name: str, text: str, number: bool) -> list[str]:
    """A number says its unit, the unit is one of the house's, and a name that ends in a unit means that unit."""
    found = [unit for bracket in BRACKET.findall(text) for unit in re.split(", | or ", bracket)]
    suffix = SUFFIXES.get(name.rsplit("_", 1)[-1]) if "_" in name else None
    faults = [f"{name}: unknown unit [{unit}]" for unit in found if unit not in UNITS]
    faults += [f"{name}: no unit in brackets"] if number and not found else []
    return faults + ([f"{name}: in {found}"] if suffix and suffix not in found else [])


def faults(function: Function) -> list[str]:
    """What a reader of this docstring would miss."""
    drawing, *example = (ast.get_docstring(function) or "").split(">>>")
    told = {name: text for name, text in ENTRY.findall(drawing) if name not in HEADINGS}
    wanted = parameters(function)
    missing = [] if example else ["no example"]
    missing += [] if SOURCE.search(drawing) else ["no source"]
    missing += [f"no {word}" for word in ("Formula", "Limits") if not re.search(rf"^{word}: \S", drawing, re.MULTILINE)]
    missing += [] if list(told) == list(wanted) else [f"parameters {list(wanted)}, docstring {list(told)}"]
    for name, kind in wanted.items():
        missing += unit_faults(name, told.get(name, ""), bool(NUMBERS.search(kind)))
    gives = GIVES.search(drawing)
    returned = ast.unparse(function.returns) if function.returns else ""
    return missing + (unit_faults("Returns", gives[1], bool(NUMBERS.search(returned))) if gives else ["no Returns"])


def test_the_bench_has_figures() -> None:
    assert len({named.file for named in PUBLIC}) >= 5


@pytest.mark.parametrize("named", PUBLIC, ids=str)
def test_a_public_figure_of_the_bench_says_all_that_a_reader_needs(named: Named) -> None:
    assert not faults(named.node)


@pytest.mark.parametrize("file", files("shopapp"), ids=said)
def test_every_module_opens_with_a_docstring(file: Path) -> None:
    assert ast.get_docstring(parsed(file))


DRAWING = '''
def area(width: float, depth_mm: float) -> float:
    """The area of a rectangle (from memory).

    Formula: width times depth

    width: across [mm]
    depth_mm: along [mm]

    Returns the area [mm2].
    Limits: right angles.

    >>> area(2, 3)
    6
    """
    return width * depth_mm
'''


def drawn(source: str) -> list[str]:
    (function,) = ast.parse(source).body
    assert isinstance(function, ast.FunctionDef)
    return faults(function)


def test_a_whole_docstring_passes() -> None:
    assert drawn(DRAWING) == []


@pytest.mark.parametrize(
    ("was", "becomes", "fault"),
    [
        ("across [mm]", "across", "width: no unit in brackets"),
        ("across [mm]", "across [furlong]", "width: unknown unit [furlong]"),
        ("along [mm]", "along [g]", "depth_mm: in ['g']"),
        ("area [mm2]", "area", "Returns: no unit in brackets"),
        ("Formula: width times depth", "width times depth", "no Formula"),
        ("Limits: right angles.", "Limits:", "no Limits"),
        ("Returns the area", "The area", "no Returns"),
        (" (from memory)", "", "no source"),
        ("area(width", "area(height", "parameters ['height', 'depth_mm']"),
        (">>> area(2, 3)", "", "no example"),
    ],
)
def test_a_docstring_with_a_gap_is_seen(was: str, becomes: str, fault: str) -> None:
    assert was in DRAWING
    assert any(one.startswith(fault) for one in drawn(DRAWING.replace(was, becomes)))
