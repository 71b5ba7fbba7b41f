"""The piece card as it is gathered: what is still wanted before the first chip, and the way to it."""

from shopapp.office import gate
from tests import cast, makers
from tests.web.conftest import LiveShop
from tests.web.routes import floor


def test_each_missing_fact_leads_to_where_it_is_mended(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        variant = makers.make_variant(db, shop.maker, body=cast.GUARDED)
        job = makers.make_job(db, shop.maker, variant_id=variant, pieces=1)
    shop.post(f"/jobs/{job.no}/1/take-in", sign=floor.sign_of(shop, job), goes_to="machine")
    page = shop.get(f"/jobs/{job.no}/1").text
    for href, words in (
        (f"/jobs/{job.no}/1/weigh", "it was not weighed"), ("#photos", "no photo was taken"),
        ("#look", "nobody looked for cracks"), ("#sizes", "web was not measured"),
        (f"/jobs/{job.no}/price#go-ahead", "the customer has not said go ahead"),
    ):  # fmt: skip
        assert f'<a href="{href}"><b>{words}</b>' in page
    assert page.count('class="gate-not"') == 5
    assert page.count('class="gate-ok"') == 1


def test_what_was_waived_is_shown_as_waived(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop, pieces=1)
    with shop.database.writing() as db:
        gate.waive(db, piece_id=floor.piece(shop, job).id, reason="no scale", now=shop.now, by=shop.by)
    words = floor.shown(shop.get(f"/jobs/{job.no}/1").text)
    assert "goes without: not weighed before" in words


def test_the_card_offers_only_what_fits_where_the_piece_is(shop: LiveShop) -> None:
    expected, rack = floor.expected(shop, pieces=1), floor.in_the_rack(shop, pieces=1)
    page = shop.get(f"/jobs/{expected.no}/1").text
    assert "/look" not in page
    assert "Final check" not in page
    page = shop.get(f"/jobs/{rack.no}/1").text
    assert f"/jobs/{rack.no}/1/look" in page
    assert "It goes back uncut" in page
    assert "shelf label" not in page
