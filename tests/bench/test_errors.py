"""A refusal of the bench is a sentence that can be shown as it is."""

import pytest

from shopapp.bench.errors import Asked, BenchError, Impossible, Refused


@pytest.mark.parametrize("kind", [Refused, Asked, Impossible])
def test_every_refusal_is_caught_as_one_and_says_its_sentence(kind: type[BenchError]) -> None:
    with pytest.raises(BenchError) as caught:
        raise kind("Type one number.")
    assert str(caught.value) == "Type one number."
    assert isinstance(caught.value, ValueError)
