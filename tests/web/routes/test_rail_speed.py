"""How long a page and a live fragment take, through the real server: timed by `pytest -m bench --benchmark-enable`."""

from collections.abc import Callable
from typing import Any

import pytest

from shopapp.office import jobs
from tests.makers import keep_cuts, make_job, pieces_of, take_everything_in, weigh
from tests.web.conftest import LiveShop

pytestmark = pytest.mark.bench

Timer = Callable[..., Any]


@pytest.fixture
def busy(shop: LiveShop) -> LiveShop:
    """Thirty jobs of two pieces hang on the rail, half of them weighed."""
    with shop.database.writing() as db:
        for n in range(30):
            job = make_job(db, shop.maker)
            keep_cuts(db, shop.maker, job)
            if n % 2:
                for piece in take_everything_in(db, shop.maker, job):
                    weigh(db, shop.maker, piece, "before", "20")
    return shop


def test_the_rail_with_thirty_jobs(busy: LiveShop, benchmark: Timer) -> None:
    answer = benchmark(busy.get, "/")
    assert answer.text.count('class="ticket') >= 30


def test_the_removal_while_a_number_is_typed(busy: LiveShop, benchmark: Timer) -> None:
    with busy.database.reading() as db:
        variant_id = pieces_of(db, jobs.by_no(db, 1001))[0].variant_id
    address = f"/jobs/1001/cuts/{variant_id}/removal?unit=in&cut_0_side=A&cut_0_kind=face&cut_0_depth=.125&cut_0_to=2"
    answer = benchmark(busy.get, address)
    assert "lb" in answer.text
