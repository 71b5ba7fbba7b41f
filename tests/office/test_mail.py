"""The outbox: letters written with the act that they tell of, claimed, sent once, tried again, stuck and visible."""

from contextlib import suppress
from datetime import datetime, timedelta

import pytest
from sqlmodel import Session

from shopapp.office import history, mail, quotes
from shopapp.office.database import Database
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from tests import makers
from tests.cast import NOON
from tests.makers import AN_HOUR, Shop, make_job

TO = "marn@mill.example"


def posted(db: Session, shop: Shop, now: datetime = NOON, to: str = TO) -> int:
    job = make_job(db, shop)
    number = makers.quote(db, shop, job)
    return mail.post(db, kind="quote", number=number, to=to, subject="Your quote", **shop.at(now))


def tried(db: Session, letter_id: int, now: datetime, fault: str = "no answer") -> mail.Letter:
    assert mail.claim(db, letter_id=letter_id, now=now)
    mail.failed(db, letter_id=letter_id, fault=fault, now=now)
    return mail.one(db, letter_id)


def test_a_letter_names_its_paper_and_waits(db: Session, shop: Shop) -> None:
    row = posted(db, shop)
    (letter,) = mail.due(db, now=NOON)
    assert (letter.id, letter.kind, letter.number, letter.state) == (row, "quote", "1001 A", "waiting")
    assert len(letter.sha256) == 64
    assert history.of_job(db, letter.job_id or 0)[0].words == f"quote 1001 A put in the mail to {TO}"
    assert mail.due(db, now=NOON - timedelta(seconds=1)) == []


def test_what_is_undone_is_not_mailed(book: Database) -> None:
    with book.writing() as db:
        shop = makers.make_shop(db)
        job = make_job(db, shop)
        draft = quotes.keep_draft(db, job_id=job.id, typed=AN_HOUR, **shop.at())
    with suppress(RuntimeError), book.writing() as db:
        number = quotes.issue(db, quote_id=draft, **shop.at())
        mail.post(db, kind="quote", number=number, to=TO, subject="Your quote", **shop.at())
        raise RuntimeError
    with book.reading() as db:
        assert mail.of_job(db, job.id) == []


def test_a_letter_is_claimed_by_one_sender(db: Session, shop: Shop) -> None:
    row = posted(db, shop)
    assert mail.claim(db, letter_id=row, now=NOON)
    assert not mail.claim(db, letter_id=row, now=NOON)
    assert mail.due(db, now=NOON + timedelta(minutes=9)) == []
    assert [one.id for one in mail.due(db, now=NOON + mail.CLAIMED)] == [row]  # its sender never came back


def test_a_letter_that_was_sent_is_not_due_again(db: Session, shop: Shop) -> None:
    row = posted(db, shop)
    mail.claim(db, letter_id=row, now=NOON)
    mail.sent(db, letter_id=row, now=NOON)
    letter = mail.one(db, row)
    assert (letter.state, letter.sent_at, letter.said) == ("sent", NOON, "sent")
    assert mail.due(db, now=NOON + timedelta(days=9)) == []
    assert history.of_job(db, letter.job_id or 0)[0].words == f"sent to {TO}: Your quote"


def test_each_try_waits_longer_and_the_sixth_is_the_last(db: Session, shop: Shop) -> None:
    row, now, waits = posted(db, shop), NOON, []
    for _ in range(5):
        letter = tried(db, row, now)
        waits.append((letter.next_at - now) / timedelta(minutes=1))
        assert mail.due(db, now=letter.next_at - timedelta(seconds=1)) == []
        now = letter.next_at
    assert waits == [1, 5, 30, 120, 720]
    letter = tried(db, row, now, "the cable is out")
    assert (letter.state, letter.fault, letter.tries) == ("stuck", "the cable is out", 6)
    assert [one.id for one in mail.stuck(db)] == [row]
    assert mail.due(db, now=now + timedelta(days=9)) == []


def test_an_address_that_nobody_knows_is_stuck_at_once_and_tried_again_with_another(db: Session, shop: Shop) -> None:
    row = posted(db, shop)
    mail.claim(db, letter_id=row, now=NOON)
    mail.failed(db, letter_id=row, fault="550 no such person", now=NOON, for_good=True)
    assert "stuck" in history.of_job(db, mail.one(db, row).job_id or 0)[0].words
    mail.again(db, letter_id=row, to="office@mill.example", **shop.at())
    letter = mail.one(db, row)
    assert (letter.state, letter.tries, letter.to_address) == ("waiting", 0, "office@mill.example")
    with pytest.raises(InTheWay, match="not stuck"):
        mail.again(db, letter_id=row, **shop.at())


def test_a_letter_may_be_called_back_until_it_has_gone(db: Session, shop: Shop) -> None:
    row, gone = posted(db, shop), posted(db, shop)
    mail.call_back(db, letter_id=row, **shop.at())
    assert not mail.claim(db, letter_id=row, now=NOON)
    mail.claim(db, letter_id=gone, now=NOON)
    mail.sent(db, letter_id=gone, now=NOON)
    with pytest.raises(InTheWay, match="has gone out"):
        mail.call_back(db, letter_id=gone, **shop.at())


def test_a_letter_called_back_while_it_failed_stays_called_back(db: Session, shop: Shop) -> None:
    """Its sender was not heard of for so long that it was given up, and then it said that it had failed."""
    row = posted(db, shop)
    mail.claim(db, letter_id=row, now=NOON)
    mail.call_back(db, letter_id=row, **shop.at(NOON + mail.CLAIMED))
    mail.failed(db, letter_id=row, fault="no answer", now=NOON + mail.CLAIMED)
    assert mail.one(db, row).state == "called_back"


def test_a_letter_that_is_being_sent_is_not_called_back(db: Session, shop: Shop) -> None:
    row = posted(db, shop)
    mail.claim(db, letter_id=row, now=NOON)
    with pytest.raises(InTheWay, match="being sent this moment"):
        mail.call_back(db, letter_id=row, **shop.at())
    assert [letter.id for letter in mail.newest(db)] == [row]
    mail.sent(db, letter_id=row, now=NOON)
    assert mail.one(db, row).state == "sent"


def test_a_double_tap_puts_one_letter_in_the_mail(db: Session, shop: Shop) -> None:
    posted(db, shop)
    with pytest.raises(InTheWay, match="waits to be sent"):
        mail.post(db, kind="quote", number="1001 A", to=TO, subject="Your quote", **shop.at())
    mail.post(db, kind="quote", number="1001 A", to="other@mill.example", subject="Your quote", **shop.at())
    ids = [letter.message_id for letter in mail.due(db, now=NOON)]
    assert len(set(ids)) == 2


@pytest.mark.parametrize(
    "to",
    ["", "marn", "marn@", "@mill.example", "a@b", "a b@mill.example", "a@mill.example, b@mill.example", "a\n@b.example",
     "é@mill.example", "<a@mill.example>", "a@mill.example\r\nBcc: x@y.example", f"{'a' * 250}@mill.example"],
)  # fmt: skip
def test_what_is_no_address_is_refused(db: Session, shop: Shop, to: str) -> None:
    with pytest.raises(TryAgain) as refusal:
        posted(db, shop, to=to)
    assert set(refusal.value.problems) == {"to"}


def test_a_subject_is_one_line_and_a_paper_was_issued(db: Session, shop: Shop) -> None:
    posted(db, shop)
    for subject in (" ", "Hello\nBcc: x@y.example"):
        with pytest.raises(TryAgain, match="one line"):
            mail.post(db, kind="quote", number="1001 A", to="b@mill.example", subject=subject, **shop.at())
    with pytest.raises(NotHere, match="No quote 1001 B"):
        mail.post(db, kind="quote", number="1001 B", to=TO, subject="x", **shop.at())


def test_letters_that_want_somebody_stand_first(db: Session, shop: Shop) -> None:
    stuck, waiting, sent = (posted(db, shop) for _ in range(3))
    mail.claim(db, letter_id=sent, now=NOON)
    mail.sent(db, letter_id=sent, now=NOON)
    mail.claim(db, letter_id=stuck, now=NOON)
    mail.failed(db, letter_id=stuck, fault="550 nobody", now=NOON, for_good=True)
    told = [(one.id, one.state) for one in mail.newest(db)]
    assert told == [(stuck, "stuck"), (waiting, "waiting"), (sent, "sent")]
