"""The press stops when the papers' tests are through."""

from collections.abc import Iterator

import pytest

from shopapp.papers import press


@pytest.fixture(scope="session", autouse=True)
def _press_stops() -> Iterator[None]:
    yield
    press.close()
