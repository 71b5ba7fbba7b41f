"""The owner's words, dated, and frozen on papers."""

from datetime import date, timedelta

import pytest
from sqlmodel import Session, select

from shopapp.office import history, papers, phrases
from shopapp.office.errors import TryAgain
from shopapp.office.tables.history import Event
from tests.cast import NOON, TODAY
from tests.makers import Shop, make_job, quote

OURS = "Put right free within thirty days if it comes back as it left."


def keep(db: Session, shop: Shop, words: str = OURS, day: date = TODAY, subject: str = "workmanship") -> None:
    phrases.keep(db, subject=subject, words=words, valid_from=day, **shop.at())


def test_a_new_book_has_a_place_for_each_subject_and_no_advice(db: Session, shop: Shop) -> None:
    told = phrases.every(db, TODAY)
    assert {one.subject for one in told} == set(phrases.SHIPPED)
    assert all(one.words.startswith("write your own:") for one in told)
    assert phrases.printed(db, TODAY, *phrases.SHIPPED) == ()


def test_words_hold_from_their_day_on(db: Session, shop: Shop) -> None:
    keep(db, shop)
    keep(db, shop, "Put right free within ten days.", TODAY + timedelta(days=10))
    said = [phrases.on(db, "workmanship", TODAY + timedelta(days=n)) for n in (-1, 0, 9, 10)]
    assert phrases.is_placeholder(said[0])
    assert said[1:] == [OURS, OURS, "Put right free within ten days."]
    assert [one.valid_from for one in phrases.every(db, TODAY)][:2] == [TODAY + timedelta(days=10), TODAY]


def test_a_paper_keeps_the_words_it_was_issued_with(db: Session, shop: Shop) -> None:
    keep(db, shop)
    job = make_job(db, shop)
    first = papers.sheet(db, "quote", quote(db, shop, job))
    later = NOON + timedelta(days=1)
    keep(db, shop, "Nothing is put right free.", TODAY + timedelta(days=1))
    second, _ = papers.sheet(db, "quote", quote(db, shop, job, now=later))
    assert (first[0].phrases, second.phrases) == ((OURS,), ("Nothing is put right free.",))
    assert papers.sheet(db, "quote", "1001 A") == first


def test_words_may_end(db: Session, shop: Shop) -> None:
    keep(db, shop)
    keep(db, shop, "", TODAY + timedelta(days=1))
    assert phrases.printed(db, TODAY + timedelta(days=1), "workmanship") == ()


@pytest.mark.parametrize(
    ("told", "field"),
    [
        ({"words": "Write your own: x"}, "words"), ({"words": "x" * 2001}, "words"),
        ({"subject": "weather"}, "subject"),
    ],
)  # fmt: skip
def test_what_is_not_the_owners_word_is_refused(db: Session, shop: Shop, told: dict[str, str], field: str) -> None:
    keep(db, shop)
    with pytest.raises(TryAgain) as refusal:
        keep(db, shop, **told)
    assert set(refusal.value.problems) == {field}


def test_who_wrote_them_stands_in_the_day_book(db: Session, shop: Shop) -> None:
    keep(db, shop)
    words = db.exec(select(Event.words).where(Event.act == "phrase")).one()
    assert words == f"workmanship from {TODAY}: {OURS}"
    assert history.initials(db, shop.by) == "MB"


def test_words_written_wrong_are_put_right_on_their_own_day_and_stay_to_be_seen(db: Session, shop: Shop) -> None:
    keep(db, shop, "Put right free for ten years.")
    keep(db, shop, OURS)
    keep(db, shop, "Thirty days.", subject="storage")
    assert phrases.on(db, "workmanship", TODAY) == OURS
    told = [(row.words, row.superseded) for row in phrases.every(db, TODAY) if row.subject == "workmanship"]
    assert told == [(OURS, False), ("Put right free for ten years.", True)]
    assert [row.superseded for row in phrases.every(db, TODAY) if row.subject == "storage"] == [False]
