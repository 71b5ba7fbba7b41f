"""Every figure's working is read out of the docstring of the bench function that found it."""

import importlib
import re
from collections.abc import Callable
from dataclasses import FrozenInstanceError
from types import ModuleType

import pytest

from shopapp.bench import holes, learning, passplan, solids, speeds, spinning, tolerances, truing, unbalance
from shopapp.office import workings
from tests.house.tree import PACKAGE, files, functions

SOURCE = re.compile(r"\d|Handbook|no source|from memory|elementary|theorem", re.I)


def public() -> list[Callable[..., object]]:
    """Every function at the top of a bench module that is meant for others."""
    found = []
    for file in files("shopapp/bench"):
        module: ModuleType = importlib.import_module(f"shopapp.bench.{file.stem}")
        names = [named.node.name for named in functions(file) if named.node.col_offset == 0]
        found += [getattr(module, name) for name in names if not name.startswith("_")]
    return found


PUBLIC = public()


def called(function: Callable[..., object]) -> str:
    return f"{function.__module__.rsplit('.', 1)[-1]}.{function.__name__}"


def test_the_whole_bench_is_looked_at() -> None:
    assert {function.__module__.rsplit(".", 1)[-1] for function in PUBLIC} <= {
        file.stem for file in (PACKAGE / "bench").glob("*.py")
    }
    assert len(PUBLIC) > 150


@pytest.mark.parametrize("function", PUBLIC, ids=called)
def test_a_public_function_of_the_bench_gives_a_working(function: Callable[..., object]) -> None:
    sheet = workings.of(function)
    assert len(sheet.sentence) > 7
    assert sheet.sentence.endswith(".")
    assert SOURCE.search(sheet.source), sheet.source
    assert len(sheet.source) < 160
    doc = function.__doc__ or ""
    assert bool(sheet.formula) == ("Formula:" in doc)
    assert bool(sheet.limits) == ("Limits:" in doc)
    everything = " ".join((sheet.sentence, sheet.formula, sheet.limits, sheet.source, sheet.notes))
    for stranger in (">>>", "Returns:", "Raises:", "Limits:"):
        assert stranger not in everything


def test_a_source_in_brackets_leaves_the_sentence() -> None:
    sheet = workings.of(speeds.revolutions, figure="set", value="46 rpm", inputs=[("Cutting speed", "60 ft/min")])
    assert sheet.sentence == "Spindle speed from cutting speed and diameter."
    assert sheet.source == "F. D. Jones, Turning and Boring; Handbook from memory"
    assert sheet.formula.startswith("n = 1000 V / (π D)")
    assert sheet.limits == "at one diameter; V is lower nearer to the centre."
    assert (sheet.figure, sheet.value, sheet.inputs) == ("set", "46 rpm", (("Cutting speed", "60 ft/min"),))


def test_a_source_after_a_semicolon_leaves_the_sentence() -> None:
    sheet = workings.of(truing.thin)
    assert sheet.sentence == "A run-out or a move as it is said at the indicator."
    assert sheet.source == "Common practice, no source"


def test_a_source_in_a_paragraph_of_its_own_is_found() -> None:
    sheet = workings.of(spinning.peaks)
    assert sheet.source.startswith("Shigley and Mischke, 5th ed.")
    assert sheet.notes.startswith("One web page sets the brackets")
    assert "Shigley" not in sheet.notes


def test_a_source_inside_a_formula_is_found() -> None:
    assert "Machinery's Handbook 31, pp. 236-237" in workings.of(solids.moment).source


def test_where_other_sources_differ_stands_beside_the_formula() -> None:
    assert "5202.988" in workings.of(learning.run_time_about).notes
    assert workings.of(tolerances.grade_table).notes == "The table is what counts, not the formula behind it."
    assert workings.of(holes.missing).notes == ""


def test_formulas_are_written_in_the_signs_of_a_book() -> None:
    assert workings.signs("V = 2 pi INT r^2 dA, sqrt(rho) <= 1 +- SUM") == "V = 2 π ∫ r² dA, √(ρ) ≤ 1 ± Σ"
    assert (
        workings.signs("the pitch of a spiral, sum of piece and rhombus")
        == "the pitch of a spiral, sum of piece and rhombus"
    )
    assert workings.of(unbalance.eccentricity_allowed).formula == "e_per = 1000 G / Ω, Ω = 2 π n / 60"


def test_other_functions_are_named_as_they_are_said() -> None:
    assert workings.of(tolerances.unstated).limits == "those of general length."
    assert workings.of(passplan.plan).formula == "depths as in depths, dial as in dial"
    assert workings.of(unbalance.unbalance_allowed).formula.startswith("U_per = e_per m")


def test_a_working_is_frozen_like_every_sheet() -> None:
    with pytest.raises(FrozenInstanceError):
        workings.of(truing.thin).value = "8"  # type: ignore[misc]
