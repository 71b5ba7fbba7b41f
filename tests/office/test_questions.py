"""What holds a job up."""

from datetime import date, timedelta

import pytest
from sqlmodel import Session

from shopapp.office import history, questions
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from tests.cast import NOON
from tests.makers import Shop, make_job


def stop(db: Session, shop: Shop, **told: object) -> int:
    facts = {"waits_for": "customer", "question": "13 mm or a quarter inch?", "whom": "Marn", **told}
    return questions.stop(db, **{"job_id": facts.pop("job_id", None) or make_job(db, shop).id, **facts}, **shop.at())


def test_a_question_and_its_answer_are_kept_word_for_word(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    row = stop(db, shop, job_id=job.id)
    questions.answer(db, stop_id=row, words=" half of it, you choose ", **shop.at(NOON + timedelta(days=2)))
    (kept,) = questions.stops(db, job.id)
    assert (kept.question, kept.answer) == ("13 mm or a quarter inch?", "half of it, you choose")
    assert kept.answered_at - kept.asked_at == timedelta(days=2)
    assert [line.act for line in history.of_job(db, job.id)[:2]] == ["answered", "stopped"]


def test_open_questions_stand_first(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    first = stop(db, shop, job_id=job.id)
    second = stop(db, shop, job_id=job.id, waits_for="material", question="bar 60 mm")
    questions.answer(db, stop_id=first, words="13 mm", **shop.at())
    assert [one.id for one in questions.stops(db, job.id)] == [second, first]


def test_asking_again_moves_the_day(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    row = stop(db, shop, job_id=job.id, ask_again_on=date(2031, 3, 7))
    questions.ask_again(db, stop_id=row, next_on=date(2031, 3, 14), words="left a message", **shop.at())
    assert questions.stops(db, job.id)[0].ask_again_on == date(2031, 3, 14)
    assert history.of_job(db, job.id)[0].words == "left a message"


@pytest.mark.parametrize(("told", "field"), [({"question": " "}, "question"), ({"waits_for": "luck"}, "waits_for")])
def test_a_stop_says_what_is_waited_for(db: Session, shop: Shop, told: dict[str, str], field: str) -> None:
    with pytest.raises(TryAgain) as refusal:
        stop(db, shop, **told)
    assert set(refusal.value.problems) == {field}


def test_an_answer_has_words_and_is_given_once(db: Session, shop: Shop) -> None:
    row = stop(db, shop)
    with pytest.raises(TryAgain, match="word for word"):
        questions.answer(db, stop_id=row, words="  ", **shop.at())
    questions.answer(db, stop_id=row, words="13 mm", **shop.at())
    with pytest.raises(InTheWay, match="its answer already"):
        questions.answer(db, stop_id=row, words="14 mm", **shop.at())


def test_a_question_that_was_never_asked_is_not_here(db: Session, shop: Shop) -> None:
    with pytest.raises(NotHere):
        questions.answer(db, stop_id=9, words="x", **shop.at())
    with pytest.raises(NotHere):
        questions.ask_again(db, stop_id=9, next_on=None, **shop.at())
