"""Numbers without gaps."""

import threading
from contextlib import suppress

from sqlmodel import Session

from shopapp.office import numbering
from shopapp.office.database import Database


def test_each_series_counts_from_its_own_beginning(db: Session) -> None:
    taken = [numbering.take(db, series) for series in ("job", "invoice", "job", "credit", "invoice")]
    assert taken == [1001, 501, 1002, 1, 502]


def test_a_number_that_was_undone_is_given_again(book: Database) -> None:
    with suppress(RuntimeError), book.writing() as db:
        assert numbering.take(db, "invoice") == 501
        raise RuntimeError
    with book.writing() as db:
        assert numbering.take(db, "invoice") == 501


def test_a_shop_with_a_paper_book_goes_on_from_its_number(db: Session) -> None:
    numbering.begin_at(db, "job", 4711)
    assert numbering.take(db, "job") == 4711
    numbering.begin_at(db, "job", 12)
    assert numbering.take(db, "job") == 4712


def test_two_who_take_at_one_time_never_take_the_same(book: Database) -> None:
    taken: list[int] = []

    def take_ten() -> None:
        for _ in range(10):
            with book.writing() as db:
                taken.append(numbering.take(db, "invoice"))

    threads = [threading.Thread(target=take_ten) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(taken) == list(range(501, 541))
