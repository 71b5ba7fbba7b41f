"""The outbox: what waits, what is stuck and why, tried again, called back; a letter around an issued paper."""

import pytest

from shopapp.office import mail
from tests import makers
from tests.web.conftest import LiveShop
from tests.web.routes.floor import shown


@pytest.fixture
def posting(shop: LiveShop, monkeypatch: pytest.MonkeyPatch) -> LiveShop:
    """A shop with a mail server."""
    monkeypatch.setattr(shop.app.state, "postman", object(), raising=False)
    return shop


@pytest.fixture
def number(shop: LiveShop) -> str:
    """The number of an issued quote."""
    with shop.database.writing() as db:
        customer_id = makers.make_customer(db, shop.maker, email="marn@mill.example")
        return makers.quote(db, shop.maker, makers.make_job(db, shop.maker, customer_id=customer_id))


def letter(shop: LiveShop, number: str, state: str = "waiting") -> int:
    """A letter in the outbox, as far as it has come."""
    with shop.database.writing() as db:
        at = shop.maker.at(shop.now)
        row = mail.post(db, kind="quote", number=number, to="marn@mill.example", subject="Your <quote>", **at)
        if state != "waiting":
            mail.claim(db, letter_id=row, now=shop.now)
        if state == "sent":
            mail.sent(db, letter_id=row, now=shop.now)
        if state == "stuck":
            mail.failed(db, letter_id=row, fault="550 <nobody> of that name", now=shop.now, for_good=True)
        return row


def one(shop: LiveShop, row: int) -> mail.Letter:
    with shop.database.reading() as db:
        return mail.one(db, row)


def test_an_empty_outbox_says_what_goes_into_it(shop: LiveShop) -> None:
    page = shop.get("/mail").text
    assert "Nothing was sent by mail yet." in page
    assert "This shop has no mail server yet" in page


def test_what_is_stuck_is_shown_with_the_reason_and_never_as_markup(posting: LiveShop, number: str) -> None:
    letter(posting, number, "stuck")
    page = posting.get("/mail").text
    assert "1 stuck, 0 waiting" in page
    assert "550 &lt;nobody&gt; of that name" in page
    assert "Your &lt;quote&gt;" in page
    assert "This shop has no mail server yet" not in page


def test_a_stuck_letter_is_tried_again_at_another_address(posting: LiveShop, number: str) -> None:
    row = letter(posting, number, "stuck")
    refused = posting.post(f"/mail/{row}/again", to="marn at mill")
    assert refused.status_code == 422
    assert 'value="marn at mill"' in refused.text
    assert 'id="f-to-problem"' in refused.text
    assert posting.post(f"/mail/{row}/again", to="office@mill.example").headers["location"] == "/mail"
    assert (one(posting, row).state, one(posting, row).to_address) == ("waiting", "office@mill.example")


def test_only_a_stuck_letter_is_tried_again(posting: LiveShop, number: str) -> None:
    row = letter(posting, number, "sent")
    assert "Try again" not in posting.get("/mail").text
    assert posting.post(f"/mail/{row}/again", to="").status_code == 409


def test_a_letter_that_waits_is_called_back_once(posting: LiveShop, number: str) -> None:
    row = letter(posting, number)
    assert posting.post(f"/mail/{row}/call-back").status_code == 303
    assert one(posting, row).state == "called_back"
    assert posting.post(f"/mail/{row}/call-back").status_code == 409
    assert "called back" in shown(posting.get("/mail").text)


def test_a_letter_that_is_not_there_is_not_found(posting: LiveShop) -> None:
    assert posting.post("/mail/99/again", to="").status_code == 404


def test_the_letter_around_a_paper_is_there_to_be_looked_at(posting: LiveShop, number: str) -> None:
    page = posting.get("/mail/new", kind="quote", number=number).text
    assert 'value="marn@mill.example"' in page
    assert f'value="Quote {number} from Brackwater Lathe Works"' in page
    assert "Good day Marn Cobbet,\n\nThe paper is enclosed.\n\nBrackwater Lathe Works, 555-0301" in page
    assert f"/papers/quote/{number.replace(' ', '%20')}.pdf" in page


def test_a_letter_goes_into_the_outbox_once(posting: LiveShop, number: str) -> None:
    typed = {"kind": "quote", "number": number, "to": "marn@mill.example", "subject": "Your quote", "body": "Good day."}
    for _ in range(2):
        assert posting.post("/mail/new", **typed, once="m-1").headers["location"] == "/mail"
    with posting.database.reading() as db:
        (kept,) = mail.newest(db)
    assert (kept.kind, kept.number, kept.subject, kept.body) == ("quote", number, "Your quote", "Good day.")


@pytest.mark.parametrize(
    ("name", "text", "told"),
    [("to", "marn", "Write one mail address"), ("subject", "", "Write one line"), ("to", "", "Write one mail address")],
)
def test_a_refused_letter_keeps_its_text(posting: LiveShop, number: str, name: str, text: str, told: str) -> None:
    typed = {"kind": "quote", "number": number, "to": "a@b.example", "subject": "s", "body": "Good <day>", name: text}
    answer = posting.post("/mail/new", **typed)
    assert answer.status_code == 422
    assert told in answer.text
    assert "Good &lt;day&gt;" in answer.text
    with posting.database.reading() as db:
        assert mail.newest(db) == []


def test_without_a_mail_server_nothing_is_put_into_the_outbox(shop: LiveShop, number: str) -> None:
    assert "Send it" not in shop.get("/mail/new", kind="quote", number=number).text
    answer = shop.post("/mail/new", kind="quote", number=number, to="a@b.example", subject="s", body="")
    assert answer.status_code == 422
    assert "no mail server" in answer.text


def test_tags_and_unknown_papers_are_not_sent(posting: LiveShop) -> None:
    assert posting.get("/mail/new", kind="tags", number="1").status_code == 404
    assert posting.get("/mail/new", kind="quote", number="1 A").status_code == 404
