"""What holds a job up, asked and answered on the job's sheet."""

import pytest

from shopapp.office import questions
from shopapp.office.jobs import JobFacts
from tests import cast
from tests.papers.reading import text_of
from tests.web.conftest import LiveShop
from tests.web.routes import floor

ASK = {"waits_for": "customer", "question": "A crack at the keyway. Skim it?", "whom": "Marn, by phone"}


def stopped(shop: LiveShop) -> tuple[JobFacts, int]:
    job = floor.expected(shop)
    shop.post(f"/jobs/{job.no}/stop", **ASK)
    with shop.database.reading() as db:
        (stop,) = questions.stops(db, job.id)
    return job, stop.id


def test_a_question_stops_the_job_and_the_answer_is_its_next_step(shop: LiveShop) -> None:
    job, _ = stopped(shop)
    page = shop.get(f"/jobs/{job.no}").text
    assert "stopped today, waiting on the customer" in page
    assert ASK["question"] in page
    assert floor.main_acts(page) == ["Write down the answer"]


def test_a_question_sent_twice_is_asked_once(shop: LiveShop) -> None:
    job = floor.expected(shop)
    for _ in range(2):
        assert shop.post(f"/jobs/{job.no}/stop", once="q", **ASK).status_code == 303
    with shop.database.reading() as db:
        assert len(questions.stops(db, job.id)) == 1


@pytest.mark.parametrize(
    ("wrong", "field"),
    [({"waits_for": ""}, "waits_for"), ({"question": " "}, "question"), ({"ask_again_on": "soon"}, "ask_again_on")],
)
def test_a_stop_says_what_it_lacks_and_keeps_the_rest(shop: LiveShop, wrong: dict[str, str], field: str) -> None:
    job = floor.expected(shop)
    answer = shop.post(f"/jobs/{job.no}/stop", **{**ASK, "whom": "Marn <b>", **wrong})
    assert answer.status_code == 422
    assert f'id="f-{field}-problem"' in answer.text
    assert 'value="Marn &lt;b&gt;"' in answer.text


def test_the_answer_lets_the_job_go_on_and_stays_in_its_words(shop: LiveShop) -> None:
    job, stop_id = stopped(shop)
    answer = shop.post(f"/jobs/{job.no}/answer", stop=stop_id, answer="Skim it, he says, at his risk.")
    assert answer.status_code == 303
    page = shop.get(f"/jobs/{job.no}").text
    assert "Skim it, he says, at his risk." in page
    assert "waiting on" not in page


def test_an_empty_answer_is_refused_beside_its_field(shop: LiveShop) -> None:
    job, stop_id = stopped(shop)
    answer = shop.post(f"/jobs/{job.no}/answer", stop=stop_id, answer="")
    assert answer.status_code == 422
    assert 'id="f-answer-problem"' in answer.text


def test_a_question_of_another_job_is_not_answered_here(shop: LiveShop) -> None:
    _, stop_id = stopped(shop)
    other = floor.expected(shop, customer_id=1, variant_id=1)
    answer = shop.post(f"/jobs/{other.no}/answer", stop=stop_id, answer="yes")
    assert answer.status_code == 422
    assert "Choose the question that was answered." in answer.text


def test_a_question_is_answered_once(shop: LiveShop) -> None:
    job, stop_id = stopped(shop)
    shop.post(f"/jobs/{job.no}/answer", stop=stop_id, answer="yes")
    answer = shop.post(f"/jobs/{job.no}/answer", stop=stop_id, answer="no")
    assert answer.status_code == 409
    assert "has its answer already" in answer.text


def test_asking_once_more_moves_the_day(shop: LiveShop) -> None:
    job, stop_id = stopped(shop)
    answer = shop.post(f"/jobs/{job.no}/ask-again", stop=stop_id, next_on="2031-03-11", words="no answer")
    assert answer.status_code == 303
    page = floor.shown(shop.get(f"/jobs/{job.no}").text)
    assert "ask again Tue 11 Mar 2031" in page
    assert "no answer" in page


def test_a_day_that_is_none_is_refused_and_kept(shop: LiveShop) -> None:
    job, stop_id = stopped(shop)
    answer = shop.post(f"/jobs/{job.no}/ask-again", stop=stop_id, next_on="Friday", words="he was out")
    assert answer.status_code == 422
    assert 'value="Friday"' in answer.text
    assert 'value="he was out"' in answer.text


def test_a_question_is_asked_with_its_photo_and_goes_out_as_a_letter(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    typed = {"waits_for": "customer", "question": "13 mm at the <drain>: take less?", "photo_words": "the thin spot"}
    answer = shop.client.post(
        f"/jobs/{job.no}/stop", data=typed, files={"photo": ("i.jpg", cast.PHOTO)}, headers={"Origin": shop.origin}
    )
    assert answer.status_code == 303
    page = shop.get(f"/jobs/{job.no}").text
    assert 'alt="the thin spot"' in page
    letter = shop.post(f"/jobs/{job.no}/question-letter", stop="1").headers["location"]
    text = text_of(shop.get(letter).content)
    assert "13 mm at the <drain>: take less?" in text
    assert "the thin spot" in text
    assert shop.post(f"/jobs/{job.no}/question-letter", stop="9").status_code == 422
