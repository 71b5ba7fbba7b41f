"""The echo beside a field: both units, or how to type it."""

import pytest

from tests.web.conftest import LiveShop


@pytest.mark.outside("verified: NIST SP 811, App. B.8, and Handbook 44, App. C")
def test_a_length_is_echoed_in_both_units(shop: LiveShop) -> None:
    # NIST SP 811, 2008, B.8: an inch is 25.4 mm exactly; 7/8 in is 22.225 mm.
    answer = shop.get("/echo/length", deep="7/8", unit="in", field="deep")
    assert answer.status_code == 200
    assert "22.22" in answer.text or "22.23" in answer.text


@pytest.mark.outside("verified: NIST SP 811, App. B.8, and Handbook 44, App. C")
def test_a_weight_is_echoed_in_both_units(shop: LiveShop) -> None:
    # NIST Handbook 44, Appendix C: an avoirdupois pound is 453.59237 g exactly.
    assert "3.856 kg" in shop.get("/echo/mass", reading="8.5", unit="lb").text


def test_a_half_typed_figure_is_no_error(shop: LiveShop) -> None:
    answer = shop.get("/echo/length", deep="5-", unit="in")
    assert answer.status_code == 200
    assert answer.text


def test_nothing_typed_says_nothing(shop: LiveShop) -> None:
    assert shop.get("/echo/length", deep="", unit="in").text == ""
    assert shop.get("/echo/mass").text == ""


def test_the_unit_is_the_one_beside_the_field(shop: LiveShop) -> None:
    assert "25.4" in shop.get("/echo/length", deep="1", unit="in").text
    assert "25.4 mm" in shop.get("/echo/length", deep="25.4", unit="mm").text


def test_an_unknown_unit_and_hostile_text_come_to_words_only(shop: LiveShop) -> None:
    answer = shop.get("/echo/length", deep="<img src=x>", unit="<b>")
    assert answer.status_code == 200
    assert "<" not in answer.text
