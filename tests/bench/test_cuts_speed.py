"""How long a removal takes: a wheel with three kinds of voids, five cuts, keep-outs, web and wall."""

from typing import Any

import pytest

from shopapp.bench.cuts import KeepOut, Least, removal
from tests.bench.bodies import INCH, WHEEL, WHEEL_CUTS


@pytest.mark.bench
def test_a_removal_is_worked_out(benchmark: Any) -> None:
    edges = [KeepOut("pockets", 1.0625 * INCH, "from", 0.254), KeepOut("pockets", 1.4375 * INCH, "to", 0.254)]
    found = benchmark(removal, WHEEL, WHEEL_CUTS, 7.1, edges, Least("web", 5), Least("wall", 5))
    assert found.refusals == ()
    assert found.mass > 0
