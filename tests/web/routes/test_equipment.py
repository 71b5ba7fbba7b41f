"""Machines and instruments in the shop book."""

from shopapp.office import equipment
from tests.web.conftest import LiveShop
from tests.web.routes import floor

LATHE = {"machine": "big lathe", "dial": "diameter", "chuck_limit": "1200", "speeds": "120 60 240", "screw": "5 mm"}
DIAL = {"instrument": "dial caliper", "unit": "in", "resolution": ".001", "good_to": ".002"}


def test_a_machine_is_entered_and_shown(shop: LiveShop) -> None:
    assert shop.post("/book/machines", **LATHE).headers["location"] == "/book/machines"
    words = floor.shown(shop.get("/book/machines").text)
    for said in ("big lathe", "what comes off the diameter", "1200 rpm", "60, 120, 240", "5 mm"):
        assert said in words
    assert 'href="/book/machines"' in shop.get("/book").text


def test_a_machine_wants_its_dial_and_its_limit(shop: LiveShop) -> None:
    answer = shop.post("/book/machines", machine="mill <2>", speeds="fast")
    assert answer.status_code == 422
    for field in ("dial", "chuck_limit", "speeds"):
        assert f'href="#f-{field}"' in answer.text
    assert 'value="mill &lt;2&gt;"' in answer.text


def test_an_instrument_is_entered_and_offered_for_sizes(shop: LiveShop) -> None:
    assert shop.post("/book/instruments", **DIAL).status_code == 303
    assert "±.002 in" in floor.shown(shop.get("/book/instruments").text)
    job = floor.in_the_rack(shop, pieces=1)
    assert 'value="dial caliper"' in shop.get(f"/jobs/{job.no}/1").text


def test_an_instrument_wants_what_it_shows(shop: LiveShop) -> None:
    answer = shop.post("/book/instruments", instrument="tape <b>", unit="in")
    assert answer.status_code == 422
    assert 'id="f-resolution-problem"' in answer.text
    assert 'value="tape &lt;b&gt;"' in answer.text


def test_what_goes_out_of_use_is_offered_no_more(shop: LiveShop) -> None:
    shop.post("/book/machines", **LATHE)
    with shop.database.reading() as db:
        (one,) = equipment.machines(db)
    assert shop.post(f"/book/machine/{one.id}/retire").headers["location"] == "/book/machines"
    assert "No machine yet." in shop.get("/book/machines").text
    assert shop.post("/book/hammer/1/retire").status_code == 404
