"""What the price sheet asks before a quote goes out, and what stands on its page after a mistake."""

import pytest

from tests import makers
from tests.papers.reading import text_of
from tests.web.conftest import LiveShop
from tests.web.routes.test_quotes import SHEET


@pytest.fixture
def no(shop: LiveShop) -> int:
    """A job with two pieces."""
    with shop.database.writing() as db:
        return makers.make_job(db, shop.maker).no


def test_a_mistake_beside_a_draft_comes_back_with_its_word(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/price", **SHEET)
    answer = shop.post(f"/jobs/{no}/price", **{**SHEET, "setting_0_first": "4o"})
    assert answer.status_code == 422
    assert 'value="4o"' in answer.text
    assert "Nothing is held." in answer.text


def test_a_count_that_is_not_the_jobs_is_asked_and_printed(shop: LiveShop, no: int) -> None:
    one = {**SHEET, "pieces": "1"}
    refused = shop.post(f"/jobs/{no}/price/issue", **one)
    assert refused.status_code == 422
    assert "The job has 2 pieces, and the sheet prices 1." in refused.text
    shop.post(f"/jobs/{no}/price/issue", **one, count_sure="yes")
    text = text_of(shop.get(f"/papers/quote/{no} A.pdf").content)
    assert "1 piece; the job has 2" in " ".join(text.split())


def test_further_pieces_without_minutes_are_asked(shop: LiveShop, no: int) -> None:
    empty = {**SHEET, "setting_0_each": "", "setting_0_cut": ""}
    assert "they are counted as none" in shop.get(f"/jobs/{no}/price/sums", **empty).text
    refused = shop.post(f"/jobs/{no}/price/issue", **empty)
    assert refused.status_code == 422
    assert "Write 0 if it is none." in refused.text
    assert shop.post(f"/jobs/{no}/price/issue", **{**empty, "setting_0_each": "0"}).status_code == 303
