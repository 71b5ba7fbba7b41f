"""Whom to call, by how long they wait; and the letter when calls did not help."""

import html

import pytest

from shopapp.office import handover, jobs, mail, papers
from shopapp.office.jobs import JobFacts
from shopapp.office.sheets.letter import LetterSheet
from tests import makers
from tests.web.conftest import LiveShop
from tests.web.routes.floor import shown


@pytest.fixture
def job(shop: LiveShop) -> JobFacts:
    """A job whose two pieces lie on the shelf since today."""
    with shop.database.writing() as db:
        return makers.ready_job(db, shop.maker)


def bands(page: str) -> list[str]:
    """The heads of the list, in their order."""
    return [words.partition("</h2>")[0].partition(">")[2].split("\n")[0] for words in page.split('id="h-band-')[1:]]


def test_an_empty_shelf_says_so(shop: LiveShop) -> None:
    assert "Nothing lies on the pick-up shelf." in shop.get("/calls").text


@pytest.mark.parametrize(
    ("days", "head"),
    [
        (0, "Less than 14 days"), (13, "Less than 14 days"), (14, "14 days and more"), (29, "14 days and more"),
        (30, "30 days and more"), (60, "60 days and more"), (89, "60 days and more"), (90, "90 days and more"),
    ],
)  # fmt: skip
def test_a_job_stands_in_the_list_of_its_days(shop: LiveShop, job: JobFacts, days: int, head: str) -> None:
    shop.later(days=days)
    page = shop.get("/calls").text
    assert bands(page) == [head]
    assert f"{days} day{'s' if days != 1 else ''} since 4 Mar 2031" in shown(page)


def test_what_waits_longest_comes_first(shop: LiveShop, job: JobFacts) -> None:
    shop.later(days=40)
    with shop.database.writing() as db:
        late = makers.finished_job(db, shop.maker)
        handover.announce(db, job_id=late.id, now=shop.now, by=shop.by)
    page = shop.get("/calls").text
    assert bands(page) == ["30 days and more", "Less than 14 days"]
    assert page.index(f"/jobs/{job.no}/ready") < page.index(f"/jobs/{late.no}/ready")


def test_the_days_show_how_they_are_counted_with_their_source(shop: LiveShop, job: JobFacts) -> None:
    fold = shown(shop.get("/calls").text.partition("show the working")[2])
    assert "today − the day it came to the shelf" in fold
    assert "14 days and more from day 14 on" in fold
    assert "calendar days in the shop's zone source Common practice, no source" in html.unescape(fold)


def test_a_call_is_written_from_the_list(shop: LiveShop, job: JobFacts) -> None:
    assert "nobody was called" in shop.get("/calls").text
    answer = shop.post(f"/jobs/{job.no}/calls", outcome="no_answer", next_in="3", **{"from": "calls.page"})
    assert answer.headers["location"] == "/calls"
    page = shown(shop.get("/calls").text)
    assert "1 call, last 4 Mar 2031: no answer next try Fri 7 Mar 2031" in page


def test_pieces_that_were_fetched_leave_the_list(shop: LiveShop, job: JobFacts) -> None:
    with shop.database.writing() as db:
        ids = [piece.id for piece in jobs.pieces(db, job.id)]
        handover.hand_over(db, job_id=job.id, piece_ids=ids, taken_by="Marn", **shop.maker.at())
    assert f"/jobs/{job.no}/ready" not in shop.get("/calls").text


def test_the_letter_says_what_waits_since_when_and_what_was_tried(shop: LiveShop, job: JobFacts) -> None:
    shop.post(f"/jobs/{job.no}/calls", outcome="message", whom="Marn")
    shop.later(days=31)
    answer = shop.post(f"/jobs/{job.no}/letter", letter_words="Come <soon>.")
    assert answer.headers["location"] == f"/papers/letter/{job.no}-L1.pdf"
    with shop.database.reading() as db:
        sheet, _ = papers.sheet(db, "letter", f"{job.no}-L1")
    assert isinstance(sheet, LetterSheet)
    assert (sheet.days, sheet.words, sheet.calls) == (31, "Come <soon>.", ("4 Mar 2031: left a message",))
    page = shop.get("/calls").text
    assert f"/papers/letter/{job.no}-L1.pdf" in page
    assert f"/papers/ready/{job.no}-R1.pdf" in page


def test_a_letter_sent_twice_is_one_letter(shop: LiveShop, job: JobFacts) -> None:
    for _ in range(2):
        shop.post(f"/jobs/{job.no}/letter", once="l-1")
    with shop.database.reading() as db:
        assert papers.count(db, "letter", job_id=job.id) == 1


def test_a_letter_about_nothing_is_refused_and_keeps_the_words(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.finished_job(db, shop.maker)
    answer = shop.post(f"/jobs/{job.no}/letter", letter_words="hello")
    assert answer.status_code == 409
    assert "nothing to write about" in answer.text


def test_a_letter_that_is_too_long_is_shown_again(shop: LiveShop, job: JobFacts) -> None:
    answer = shop.post(f"/jobs/{job.no}/letter", letter_words="x" * 4001)
    assert answer.status_code == 422
    assert "x" * 4001 in answer.text


def test_a_letter_is_sent_by_mail_from_its_own_page(
    shop: LiveShop, job: JobFacts, monkeypatch: pytest.MonkeyPatch
) -> None:
    shop.post(f"/jobs/{job.no}/letter")
    assert "Send by mail" not in shop.get("/calls").text
    monkeypatch.setattr(shop.app.state, "postman", object(), raising=False)
    assert f"/mail/new?kind=letter&amp;number={job.no}-L1" in shop.get("/calls").text
    with shop.database.reading() as db:
        assert mail.newest(db) == []


def test_a_name_is_never_markup(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        customer_id = makers.make_customer(db, shop.maker, name="<i>Aldous</i>", phone='5"><b>')
        makers.ready_job(db, shop.maker, customer_id=customer_id, title="<u>plates</u>")
    page = shop.get("/calls").text
    for markup in ("<i>Aldous", "<u>plates", '"><b>'):
        assert markup not in page


@pytest.mark.parametrize("outcome", ["told", "message", "no_answer", "someone_else"])
def test_each_of_the_four_outcomes_is_one_tap(shop: LiveShop, job: JobFacts, outcome: str) -> None:
    page = shop.get("/calls").text
    assert f'name="outcome" value="{outcome}"' in page
    shop.post(f"/jobs/{job.no}/calls", outcome=outcome, whom="the foreman", **{"from": "calls.page"})
    with shop.database.reading() as db:
        assert [(one.outcome, one.whom) for one in handover.calls(db, job.id)] == [(outcome, "the foreman")]


def test_told_someone_else_without_a_name_asks_for_it(shop: LiveShop, job: JobFacts) -> None:
    answer = shop.post(f"/jobs/{job.no}/calls", outcome="someone_else", **{"from": "calls.page"})
    assert answer.status_code == 422
    assert "Write who was told." in answer.text
    assert 'name="whom"' in answer.text
