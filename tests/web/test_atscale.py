"""Which scale a browser used last."""

import re

from tests.web.conftest import LiveShop
from tests.web.routes import floor


def chosen(page: str) -> list[str]:
    return re.findall(r'name="scale" value="(\d+)"[^>]* checked', page)


def test_a_scale_is_remembered_by_the_browser_that_used_it_and_for_both_strips(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    for strip in ("weigh", "weigh-together"):
        assert chosen(shop.get(f"/jobs/{job.no}/2/{strip}").text) == []
    floor.weigh(shop, job, 1, reading="26.5")
    for strip in ("weigh", "weigh-together"):
        assert chosen(shop.get(f"/jobs/{job.no}/2/{strip}").text) == [str(shop.maker.scales["spring"])]


def test_a_refused_weight_chooses_nothing_for_the_next_time(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    assert floor.weigh(shop, job, 1, reading="26.3").status_code == 422
    assert chosen(shop.get(f"/jobs/{job.no}/2/weigh").text) == []


def test_the_scale_of_the_weight_before_goes_first(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    floor.weigh(shop, job, 1, reading="26.5")
    floor.weigh(shop, job, 2, reading="12000", scale="counter")
    assert chosen(shop.get(f"/jobs/{job.no}/1/weigh").text) == [str(shop.maker.scales["spring"])]
