"""The word for a job is worked out from facts; here are the facts and the words."""

from datetime import date, timedelta

import pytest

from shopapp.office.tracks import Bill, Facts, PieceAt, said, state, state_of, tracks

TODAY = date(2031, 3, 4)


def days(number: int) -> date:
    return TODAY + timedelta(days=number)


def at(*codes: str, since: int = 0) -> tuple[PieceAt, ...]:
    """Pieces by where they are; after a stroke what was decided about them: "shelf/spoiled"."""
    told = [code.partition("/") for code in codes]
    return tuple(PieceAt(custody, days(-since), fate or None) for custody, _, fate in told)


def facts(**told: object) -> Facts:
    return Facts(today=TODAY, **told)


UNPAID, LATE, PAID = Bill(100, 0, 0, days(9)), Bill(100, 0, 0, days(-1)), Bill(100, 0, 100, days(-1))
STOPPED = (("customer", days(-12)), ("material", days(-3)))

# What the words mean to a shop: common practice, no source.
WORK = [
    (facts(), "asked"),
    (facts(quoted=True), "quoted"),
    (facts(quoted=True, agreed=True), "agreed, part not here yet"),
    (facts(agreed=True, pieces=at("expected", "expected")), "agreed, part not here yet"),
    (facts(agreed=True, pieces=at("expected", "rack")), "agreed, not started"),
    (facts(pieces=at("rack")), "asked"),
    (facts(agreed=True, pieces=at("rack", "chuck")), "at the bench"),
    (facts(agreed=True, pieces=at("rack", "checked")), "at the bench"),
    (facts(agreed=True, pieces=at("expected", "gone")), "at the bench"),
    (facts(agreed=True, pieces=at("checked", "shelf")), "checked"),
    (facts(agreed=True, pieces=at("checked", "gone")), "checked"),
    (facts(agreed=True, pieces=at("gone", "gone/spoiled")), "closed"),
    (facts(pieces=at("gone/sent_back")), "closed"),
    (facts(pieces=at("gone/not_come")), "closed"),
    (facts(agreed=True, pieces=at("gone", "gone/not_come")), "closed"),
    (facts(agreed=True, pieces=at("gone", "shelf/spoiled")), "checked"),
    (facts(agreed=True, pieces=at("rack", "gone/not_come")), "agreed, not started"),
    (facts(agreed=True, pieces=at("rack", "shelf/sent_back")), "agreed, not started"),
    (facts(agreed=True, pieces=at("checked", "gone/not_come")), "checked"),
    (facts(pieces=at("chuck"), stops=STOPPED), "stopped, waiting on the customer"),
    (facts(pieces=at("chuck"), stops=STOPPED[1:]), "stopped, waiting on material"),
    (facts(ended="called_off", stops=STOPPED), "called off"),
    (facts(ended="not_taken_up", quoted=True), "not taken up"),
]


@pytest.mark.parametrize(("told", "word"), WORK, ids=[word for _, word in WORK])
def test_the_work_track_says(told: Facts, word: str) -> None:
    assert tracks(told).work == word


MONEY = [
    (facts(), "nothing billed", False, 0),
    (facts(held_cents=50), "deposit in hand", False, 0),
    (facts(bills=(UNPAID,), held_cents=50), "billed", False, 100),
    (facts(bills=(LATE,)), "billed", True, 100),
    (facts(bills=(Bill(100, 0, 0, TODAY),)), "billed", False, 100),
    (facts(bills=(Bill(100, 0, 40, days(-1)),)), "part paid", True, 60),
    (facts(bills=(PAID, UNPAID)), "part paid", False, 100),
    (facts(bills=(PAID, LATE)), "part paid", True, 100),
    (facts(bills=(PAID,)), "paid", False, 0),
    (facts(bills=(Bill(100, 30, 70, days(-1)),)), "paid", False, 0),
    (facts(bills=(Bill(100, 100, 0, days(-1)),)), "credited", False, 0),
    (facts(bills=(Bill(0, 0, 0, days(-1)),)), "paid", False, 0),
]


@pytest.mark.parametrize(("told", "word", "overdue", "due"), MONEY)
def test_the_money_track_says(told: Facts, word: str, overdue: bool, due: int) -> None:
    found = tracks(told)
    assert (found.money, found.overdue, found.due_cents) == (word, overdue, due)


SHELF = at("shelf", "gone")
OLD = at("shelf", since=31)
# Each row holds everything of the rows below it that it can: the first word that holds is said.
HEADLINES = [
    (facts(ended="called_off", stops=STOPPED, bills=(LATE,), pieces=OLD), "called off", ""),
    (facts(stops=STOPPED, bills=(LATE,), pieces=OLD), "stopped 12 days, waiting on the customer", "stopped"),
    (facts(stops=(("material", days(-1)),)), "stopped 1 day, waiting on material", "stopped"),
    (facts(stops=(("customer", days(0)),)), "stopped today, waiting on the customer", "stopped"),
    (facts(bills=(LATE,), pieces=OLD), "overdue", "overdue"),
    (facts(bills=(UNPAID,), pieces=OLD + at("shelf")), "left behind", "left behind"),
    (facts(bills=(UNPAID,), pieces=SHELF), "ready, not fetched", ""),
    (facts(pieces=at("shelf", since=30)), "ready, not fetched", ""),
    (facts(agreed=True, pieces=at("shelf", "chuck")), "at the bench", ""),
    (facts(agreed=True, pieces=at("gone", "chuck")), "part gone", ""),
    (facts(agreed=True, pieces=at("gone", "checked")), "part gone", ""),
    (facts(agreed=True, quoted=True, pieces=at("chuck")), "at the bench", ""),
    (facts(agreed=True, quoted=True, quote_ran_out=True), "agreed, part not here yet", ""),
    (facts(quoted=True, quote_ran_out=True), "quote ran out", ""),
    (facts(quoted=True), "quoted", ""),
    (facts(), "asked", ""),
    (facts(bills=(UNPAID,), pieces=at("gone")), "gone and owing", ""),
    (facts(bills=(PAID,), pieces=at("gone")), "closed", ""),
    (facts(pieces=at("gone", "gone/sent_back")), "closed", ""),
    (facts(pieces=at("gone", "shelf/sent_back")), "ready, not fetched", ""),
    (facts(pieces=at("gone", "shelf/spoiled", since=31)), "left behind", "left behind"),
    (facts(pieces=at("checked", "gone/not_come")), "checked", ""),
    (facts(agreed=True, pieces=at("expected", "gone/not_come")), "agreed, part not here yet", ""),
]


@pytest.mark.parametrize(("told", "word", "flag"), HEADLINES, ids=[f"{word} {flag}" for _, word, flag in HEADLINES])
def test_the_headline_is_the_first_word_that_holds(told: Facts, word: str, flag: str) -> None:
    found = tracks(told)
    assert (found.headline, found.flag) == (word, flag)


@pytest.mark.parametrize(
    ("code", "lies", "word"),
    [("shelf", 30, "shelf"), ("shelf", 31, "left_behind"), ("rack", 99, "rack"), ("gone", 99, "gone")],
)
def test_a_piece_is_left_behind_when_it_has_lain_on_the_shelf_too_long(code: str, lies: int, word: str) -> None:
    assert state_of(PieceAt(code, days(-lies)), TODAY) == word


def test_the_shop_says_how_long_is_too_long() -> None:
    assert state_of(PieceAt("shelf", days(-8)), TODAY, left_behind_days=7) == "left_behind"


@pytest.mark.parametrize(
    ("custody", "fate", "code", "words"),
    [
        ("rack", None, "rack", "in the rack"), ("gone", None, "gone", "gone home"),
        ("shelf", "spoiled", "spoiled", "spoiled, on the pick-up shelf"),
        ("gone", "spoiled", "spoiled", "spoiled, gone home"),
        ("shelf", "sent_back", "shelf", "on the pick-up shelf, goes back uncut"),
        ("gone", "sent_back", "sent_back", "sent back uncut"),
        ("gone", "not_come", "not_come", "did not come"), ("gone", "again", "gone", "done again"),
    ],
)  # fmt: skip
def test_where_a_piece_is_and_what_was_decided_about_it_make_its_state(
    custody: str, fate: str | None, code: str, words: str
) -> None:
    assert (state(custody, fate), said(custody, fate)) == (code, words)


def test_what_goes_back_uncut_is_left_behind_like_any_other() -> None:
    assert state_of(PieceAt("shelf", days(-31), "sent_back"), TODAY) == "left_behind"
    assert state_of(PieceAt("gone", days(-31), "sent_back"), TODAY) == "sent_back"
