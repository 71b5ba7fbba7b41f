"""Turns a minute are turns: a speed of the rim typed there is sent back."""

import pytest

from shopapp.bench.errors import Asked, BenchError, Refused
from shopapp.bench.turns import turns


@pytest.mark.parametrize(("text", "rpm"), [("460", 460), ("460 rpm", 460), ("2870.5", 2870.5), ("33-1/3", 100 / 3)])
def test_turns_are_read_as_typed(text: str, rpm: float) -> None:
    assert turns(text).amount == pytest.approx(rpm)


@pytest.mark.parametrize(
    ("text", "kind", "says"),
    [
        ("9000 ft/min", Refused, "turns a minute"), ("100 sfm", Refused, "turns a minute"),
        ("30 m/min", Refused, "turns a minute"), ("2.870", Asked, "2870"), ("2.870 rpm", Asked, "2870"),
        ("2,870", Asked, "2870"), ("fast", Refused, "rpm"),
    ],
)  # fmt: skip
def test_what_may_be_no_turns_is_sent_back(text: str, kind: type[BenchError], says: str) -> None:
    with pytest.raises(kind, match=says):
        turns(text)
