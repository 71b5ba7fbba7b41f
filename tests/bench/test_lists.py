"""A list in one field: what parts two figures, and what is asked about because it may belong to one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench.errors import Asked
from shopapp.bench.lists import parts

IDLE = frozenset(("rpm", "min"))


@pytest.mark.parametrize(
    ("text", "listed"),
    [
        ("70 200 460", ["70", "200", "460"]), ("70, 200; 460", ["70", "200", "460"]), ("", []), (" ; ", []),
        ("450, 90; 60  1200 90 rpm", ["450", "90", "60", "1200", "90"]), ("1h 30, 2h", ["1h 30", "2h"]),
        ("90 1:30 1.5h", ["90", "1:30", "1.5h"]), ("1h30 2h", ["1h30", "2h"]), ("60 min, 90 min", ["60", "90"]),
        ("1 h 30 min; 2 h", ["1 h 30 min", "2 h"]), ("12,", ["12"]),
    ],
)  # fmt: skip
def test_a_list_is_cut_where_one_figure_ends(text: str, listed: list[str]) -> None:
    assert parts(text, IDLE) == listed


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("1,200", "1,200: one number, or two"), ("70, 1,200", "1,200: one number"), ("60,90", "60,90: one number"),
        ("90,5", "90,5: one number"), ("1 200", "1 200: one number"), ("60 1\u00a0200", "one number"),
        ("1h 30 2h", "1h 30: one time, or two"), ("2 1 hr 15", ""),
    ],
)  # fmt: skip
def test_what_may_be_one_figure_or_two_is_asked_about(text: str, says: str) -> None:
    if says:
        with pytest.raises(Asked, match=says):
            parts(text, IDLE)
    else:
        assert "hr" in parts(text, IDLE)  # a reader of times sends it back


@given(st.lists(st.integers(10, 99_999), max_size=12), st.sampled_from([" ", ", ", "; ", "  ", " ,  "]))
def test_whole_numbers_come_back_as_they_went_in(numbers: list[int], between: str) -> None:
    assert parts(between.join(map(str, numbers))) == [str(one) for one in numbers]
