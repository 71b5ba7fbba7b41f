"""What the tests of the office share: the shop, set up in the empty book."""

import pytest
from sqlmodel import Session

from tests import makers
from tests.makers import Shop


@pytest.fixture
def shop(db: Session) -> Shop:
    """The shop with its rate, tax and scales."""
    return makers.make_shop(db)
