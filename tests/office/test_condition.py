"""The state a piece came in, what it is said to be worth, and what came along."""

from datetime import timedelta

import pytest
from sqlmodel import Session

from shopapp.office import condition, history
from shopapp.office.errors import NotHere, TryAgain
from tests.cast import NOON
from tests.makers import Shop, make_job, pieces_of


def a_piece(db: Session, shop: Shop) -> int:
    return pieces_of(db, make_job(db, shop, pieces=1))[0].id


def test_what_nobody_answered_was_not_looked_at(db: Session, shop: Shop) -> None:
    state = condition.standing(db, a_piece(db, shop))
    assert [fact.word for fact in state] == ["cracked", "chipped", "rusted", "welded", "bent", "missing_bits"]
    assert {(fact.answer, fact.initials, fact.at) for fact in state} == {("not_looked", None, None)}


def test_the_newest_answer_counts_and_the_others_stay(db: Session, shop: Shop) -> None:
    piece_id = a_piece(db, shop)
    condition.look(db, piece_id=piece_id, answers={"cracked": "no", "rusted": "yes"}, **shop.at())
    condition.look(db, piece_id=piece_id, answers={"cracked": "yes"}, **shop.at(NOON + timedelta(hours=1)))
    state = {fact.word: fact for fact in condition.standing(db, piece_id)}
    assert (state["cracked"].answer, state["rusted"].answer, state["bent"].answer) == ("yes", "yes", "not_looked")
    assert (state["cracked"].initials, state["cracked"].at) == ("MB", NOON + timedelta(hours=1))
    assert [line.words for line in history.of_piece(db, piece_id)[:2]] == ["cracked: yes", "cracked: no; rusted: yes"]


def test_an_answer_given_twice_is_written_once(db: Session, shop: Shop) -> None:
    piece_id = a_piece(db, shop)
    for _ in range(2):
        condition.look(db, piece_id=piece_id, answers={"bent": "no", "chipped": "not_looked"}, **shop.at())
    assert [line.act for line in history.of_piece(db, piece_id)] == ["looked", "expected"]


def test_the_state_is_said_in_one_line(db: Session, shop: Shop) -> None:
    piece_id = a_piece(db, shop)
    condition.look(db, piece_id=piece_id, answers={"cracked": "no", "welded": "yes"}, **shop.at())
    said = condition.summary(condition.standing(db, piece_id))
    assert said == "cracked: no, welded before: yes; not looked: chipped, rusted, bent, missing bits"


@pytest.mark.parametrize("answers", [{"cracked": "maybe"}, {"haunted": "yes"}])
def test_there_are_six_words_and_three_answers(db: Session, shop: Shop, answers: dict[str, str]) -> None:
    with pytest.raises(TryAgain) as refusal:
        condition.look(db, piece_id=a_piece(db, shop), answers=answers, **shop.at())
    assert set(refusal.value.problems) == set(answers)


def test_a_value_is_declared_or_none_is(db: Session, shop: Shop) -> None:
    piece_id = a_piece(db, shop)
    assert condition.declared(db, piece_id) is None
    condition.declare(db, piece_id=piece_id, amount="1,200", risk="customer", **shop.at())
    assert condition.declared(db, piece_id).said == "declared value $1,200.00; the customer carries the risk"
    condition.declare(db, piece_id=piece_id, amount=" ", risk="shop", **shop.at())
    assert condition.declared(db, piece_id).said == "no value declared; the shop carries the risk"
    assert history.of_piece(db, piece_id)[0].act == "declared"


@pytest.mark.parametrize(
    ("amount", "risk", "field"),
    [("much", "shop", "declared"), ("0", "shop", "declared"), ("9" * 11, "shop", "declared"), ("5", "luck", "risk")],
)
def test_a_value_that_cannot_be_is_refused(db: Session, shop: Shop, amount: str, risk: str, field: str) -> None:
    with pytest.raises(TryAgain) as refusal:
        condition.declare(db, piece_id=a_piece(db, shop), amount=amount, risk=risk, **shop.at())
    assert set(refusal.value.problems) == {field}


def test_loose_bits_go_back_and_what_stays_is_named(db: Session, shop: Shop) -> None:
    first, second = pieces_of(db, make_job(db, shop))
    key, bolts = condition.add_bits(db, piece_id=first.id, lines=[" key  3/8 ", "", "4 bolts"], **shop.at())
    (washer,) = condition.add_bits(db, piece_id=second.id, lines=["washer"], **shop.at())
    said = condition.give_back(db, piece_ids=[first.id, second.id], bit_ids=[bolts], **shop.at())
    assert said == "Still here: key 3/8 of 1001-1; washer of 1001-2."
    assert [bit.back_at for bit in condition.bits_of(db, [first.id])] == [None, NOON]
    assert condition.give_back(db, piece_ids=[first.id, second.id], bit_ids=[key, washer], **shop.at()) == ""
    assert history.of_piece(db, second.id)[0].words == "went back: washer"


def test_a_bit_of_another_piece_does_not_go_back(db: Session, shop: Shop) -> None:
    first, second = pieces_of(db, make_job(db, shop))
    (washer,) = condition.add_bits(db, piece_id=second.id, lines=["washer"], **shop.at())
    assert condition.give_back(db, piece_ids=[first.id], bit_ids=[washer], **shop.at()) == ""
    assert condition.bits_of(db, [second.id])[0].back_at is None


def test_forty_lines_of_bits_are_the_most(db: Session, shop: Shop) -> None:
    piece_id = a_piece(db, shop)
    assert condition.add_bits(db, piece_id=piece_id, lines=[" "], **shop.at()) == []
    condition.add_bits(db, piece_id=piece_id, lines=["bolt"] * 40, **shop.at())
    with pytest.raises(TryAgain, match="box of bolts"):
        condition.add_bits(db, piece_id=piece_id, lines=["bolt"], **shop.at())


def test_a_piece_that_is_not_in_the_book_has_no_state(db: Session, shop: Shop) -> None:
    with pytest.raises(NotHere):
        condition.look(db, piece_id=99, answers={}, **shop.at())
    with pytest.raises(NotHere):
        condition.declare(db, piece_id=99, amount="", risk="shop", **shop.at())
    with pytest.raises(NotHere):
        condition.add_bits(db, piece_id=99, lines=["key"], **shop.at())
