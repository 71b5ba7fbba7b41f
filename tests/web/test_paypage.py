"""The page of a job's money."""

from shopapp.office import payments, refunds
from tests import makers
from tests.web.conftest import LiveShop


def test_what_came_in_and_what_went_out_stand_on_one_page(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.make_job(db, shop.maker)
        row = payments.pay(db, job_id=job.id, amount="50", how="card", **shop.maker.at())
        refunds.give_back(db, payment_id=row, amount="20", how="cash", reason="too much", **shop.maker.at())
    page = shop.get(f"/jobs/{job.no}/pay").text
    for words in ("What came in for this job", "What was given back", "$20.00", "give $30.00 of 4 Mar 2031 back"):
        assert words in page
    assert "take back $50.00" not in page  # first what was given back of it has to be wrong
