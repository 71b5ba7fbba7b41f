"""Where numbers begin, and that they cannot begin anew."""

import pytest
from sqlmodel import Session

from shopapp.office import history, series
from shopapp.office.errors import InTheWay, TryAgain
from tests import makers
from tests.makers import Shop


def next_numbers(db: Session) -> dict[str, int]:
    return {one.code: one.next_number for one in series.every(db)}


def test_a_new_book_says_where_each_series_will_begin(db: Session, shop: Shop) -> None:
    assert next_numbers(db) == {"job": 1001, "invoice": 501, "credit": 1}
    assert not any(one.used for one in series.every(db))


def test_a_series_begins_where_the_paper_book_ended(db: Session, shop: Shop) -> None:
    series.begin(db, code="job", number=4711, **shop.at())
    series.begin(db, code="job", number=312, **shop.at())
    assert next_numbers(db)["job"] == 312
    assert makers.make_job(db, shop).no == 312
    assert next_numbers(db)["job"] == 313
    assert [line.words for line in history.of_act(db, "numbers")] == ["jobs begin at 312", "jobs begin at 4711"]


def test_once_a_number_was_given_out_the_series_goes_on(db: Session, shop: Shop) -> None:
    makers.make_job(db, shop)
    with pytest.raises(InTheWay, match="given out already"):
        series.begin(db, code="job", number=5000, **shop.at())
    series.begin(db, code="invoice", number=5000, **shop.at())
    assert {one.code: one.used for one in series.every(db)} == {"job": True, "invoice": False, "credit": False}


@pytest.mark.parametrize(("code", "number", "field"), [("letters", 5, "series"), ("job", 0, "begin_job")])
def test_what_cannot_be_is_refused_beside_its_field(
    db: Session, shop: Shop, code: str, number: int, field: str
) -> None:  # fmt: skip
    with pytest.raises(TryAgain) as refusal:
        series.begin(db, code=code, number=number, **shop.at())
    assert set(refusal.value.problems) == {field}
