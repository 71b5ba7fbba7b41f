"""The sheet of a removal: how sure it is, read from its range."""

import pytest

from shopapp.office.sheets.removal import RemovalSheet


@pytest.mark.parametrize(("low", "high"), [(90.0, 110.0), (0.0, 110.0)])
def test_the_lower_end_that_stops_at_nothing_makes_nothing_surer(low: float, high: float) -> None:
    assert RemovalSheet((), (), 100.0, low, high, "", "").sure_g == 10.0
