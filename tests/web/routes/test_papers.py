"""Papers by the route: read back, pressed once, frozen whatever the book says afterwards."""

import json
import sqlite3
from concurrent.futures import ThreadPoolExecutor
from dataclasses import MISSING
from datetime import timedelta
from typing import Any

import pytest

from shopapp.office import (
    credits as notes,
)
from shopapp.office import (
    customers,
    handover,
    invoices,
    jobs,
    letters,
    mishaps,
    papers,
    payments,
    phrases,
    questions,
    shopbook,
    statements,
)
from shopapp.office.floor_papers import intake
from shopapp.office.invoices import LineTyped
from shopapp.office.jobs import JobFacts
from shopapp.office.sheets.canon import KINDS, Sheet, from_json, to_json
from shopapp.papers.press import PressFailed
from shopapp.web.routes import papers as route
from tests import cast, makers
from tests.papers import desk, floor, samples
from tests.papers.reading import text_of
from tests.web.conftest import LiveShop

SHEETS: tuple[Sheet, ...] = (
    samples.quote(), samples.ready(), samples.invoice(), samples.credit(), floor.stub(), floor.tags(), floor.ticket(),
    floor.label(), floor.spoiled(), desk.deposit(), desk.receipt(), desk.question(), desk.letter(), desk.hand_over(),
    desk.statement(), desk.reminder(),
)  # fmt: skip
"""One of each kind of paper that is issued."""
NO_PAPERS = {"removal", "section", "blank"}
"""Parts of papers, and the paper that belongs to no job and is never issued."""
LINE = {"line_0_words": "turned both faces", "line_0_quantity": "70 min", "line_0_price": "60.00"}


@pytest.fixture
def job(shop: LiveShop) -> JobFacts:
    """A job with quote A agreed and notice R1."""
    with shop.database.writing() as db:
        customer_id = makers.make_customer(db, shop.maker, address="1 Press Row\nNether Sluice")
        return makers.ready_job(db, shop.maker, customer_id=customer_id)


@pytest.fixture
def invoice(shop: LiveShop, job: JobFacts) -> str:
    """Invoice 501, never pressed."""
    shop.post(f"/jobs/{job.no}/bill", **LINE, piece_1="yes", piece_2="yes")
    return "/papers/invoice/501.pdf"


def refuse_to_press(_sheet: Any) -> bytes:
    raise PressFailed("The press stopped twice on this paper.")


def rename_everybody(shop: LiveShop, job: JobFacts) -> None:
    with shop.database.writing() as db:
        shopbook.change(db, name="Somebody Else's Shop", **shop.maker.at())
        customers.keep(db, customer_id=job.customer_id, name="Renamed", address="9 New Street", **shop.maker.at())


def test_the_invoice_is_read_back(shop: LiveShop, invoice: str) -> None:
    answer = shop.get(invoice)
    assert answer.headers["content-type"] == "application/pdf"
    text = text_of(answer.content)
    for words in ("Invoice 501", "Cobbet Cider Mill", "1 Press Row", "turned both faces", "Total $73.50",
                  "To pay $73.50", "balancing", "crack test", "not for trade by weight"):  # fmt: skip
        assert words in text


def test_the_quote_is_read_back_with_its_removal(shop: LiveShop, job: JobFacts) -> None:
    text = text_of(shop.get(f"/papers/quote/{job.no} A.pdf").content)
    for words in (f"Quote {job.no} A", "bench time 70 min", "$73.50", "skim press plates", "balancing"):
        assert words in text
    assert "COMES OFF" in text.upper()


def test_the_ready_notice_is_read_back_with_both_weights(shop: LiveShop, job: JobFacts) -> None:
    text = text_of(shop.get(f"/papers/ready/{job.no}-R1.pdf").content)
    for words in (f"{job.no}-1", f"{job.no}-2", "26.5 lb", "23 lb", "3.5 lb", "crack test"):
        assert words in text


def test_the_credit_note_is_read_back(shop: LiveShop, invoice: str) -> None:
    shop.post("/invoices/501/credit", credit_amount="10", credit_reason="a scratch on the rim")
    text = text_of(shop.get("/papers/credit/1.pdf").content)
    for words in ("Credit note 1", "501", "a scratch on the rim", "Credited $10.50"):
        assert words in text


def test_it_opens_in_the_browser_and_is_saved_under_a_name_that_speaks(shop: LiveShop, job: JobFacts) -> None:
    with shop.database.writing() as db:
        customers.keep(db, customer_id=job.customer_id, name='Mühle "Süd"; x', **shop.maker.at())
    shop.post(f"/jobs/{job.no}/bill", **LINE, piece_1="yes", piece_2="yes")
    named = shop.get("/papers/invoice/501.pdf").headers["content-disposition"]
    assert named == (
        'inline; filename="Invoice 501, M_hle S_d x.pdf"; '
        "filename*=UTF-8''Invoice%20501%2C%20M%C3%BChle%20S%C3%BCd%20x.pdf"
    )


def test_what_was_pressed_once_is_never_pressed_again(
    shop: LiveShop, invoice: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = shop.get(invoice).content
    monkeypatch.setitem(route.PRESSES, "invoice", ("Invoice", refuse_to_press))
    assert shop.get(invoice).content == first


def test_the_bytes_stay_when_names_and_addresses_change(shop: LiveShop, job: JobFacts, invoice: str) -> None:
    first = shop.get(invoice).content
    rename_everybody(shop, job)
    assert shop.get(invoice).content == first


def test_a_paper_first_pressed_later_still_says_what_was_issued(shop: LiveShop, job: JobFacts, invoice: str) -> None:
    rename_everybody(shop, job)
    text = text_of(shop.get(invoice).content)
    assert "Brackwater Lathe Works" in text
    assert "1 Press Row" in text
    assert "Somebody Else" not in text
    assert "9 New Street" not in text


def test_the_mark_is_the_hash_of_the_sheet_and_saves_the_sending(shop: LiveShop, invoice: str) -> None:
    first = shop.get(invoice)
    with shop.database.reading() as db:
        digest = papers.sheet(db, "invoice", "501")[1]
    assert first.headers["etag"] == f'"{digest}"'
    again = shop.client.get(invoice, headers={"If-None-Match": first.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")


def test_two_first_pressings_at_once_give_the_same_bytes(shop: LiveShop, invoice: str) -> None:
    with ThreadPoolExecutor(2) as hands:
        both = list(hands.map(lambda _: shop.get(invoice).content, range(2)))
    assert both[0] == both[1] == shop.get(invoice).content


def test_a_press_that_fails_says_what_to_do_and_loses_nothing(
    shop: LiveShop, invoice: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patch:
        patch.setitem(route.PRESSES, "invoice", ("Invoice", refuse_to_press))
        answer = shop.get(invoice)
    assert answer.status_code == 503
    assert "Invoice 501 is issued and safe in the book" in answer.text
    assert "load this page again" in answer.text
    assert shop.get(invoice).content.startswith(b"%PDF")


def test_an_issued_sheet_cannot_be_changed_in_the_book(shop: LiveShop, invoice: str) -> None:
    file = shop.database.url.removeprefix("sqlite:///")
    with sqlite3.connect(file) as raw, pytest.raises(sqlite3.Error):
        raw.execute("UPDATE paper SET sheet = '{}'")
    raw.close()
    assert "Invoice 501" in text_of(shop.get(invoice).content)


@pytest.mark.parametrize(
    "path", ["/papers/invoice/999.pdf", "/papers/letter/1.pdf", "/papers/section/1.pdf", "/papers/quote/1001.pdf"]
)
def test_a_paper_that_was_not_issued_is_not_found(shop: LiveShop, path: str) -> None:
    assert shop.get(path).status_code == 404


def test_every_kind_of_sheet_that_is_issued_can_be_printed() -> None:
    assert set(route.PRESSES) == set(KINDS) - NO_PAPERS == {sheet.kind for sheet in SHEETS}


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.kind)
def test_a_frozen_sheet_of_any_kind_is_printed_under_its_name(shop: LiveShop, job: JobFacts, sheet: Sheet) -> None:
    with shop.database.writing() as db:
        papers.freeze(db, sheet, number="77", job_id=job.id, **shop.maker.at())
    answer = shop.get(f"/papers/{sheet.kind}/77.pdf")
    assert answer.content.startswith(b"%PDF")
    assert f'filename="{route.PRESSES[sheet.kind][0]} 77, Snickerby Sawmill.pdf"' in answer.headers[
        "content-disposition"
    ]  # fmt: skip
    assert "Knurlbottom" in text_of(answer.content)


def test_a_statement_is_read_back_with_the_words_of_its_day(shop: LiveShop, job: JobFacts, invoice: str) -> None:
    with shop.database.writing() as db:
        phrases.keep(db, subject="terms", words="Pay at the door.", valid_from=cast.NOON.date(), **shop.maker.at())
        number = statements.issue(db, customer_id=job.customer_id, **shop.maker.at())
        later = cast.NOON.date().replace(year=cast.NOON.year + 1)
        phrases.keep(db, subject="terms", words="Pay by post.", valid_from=later, **shop.maker.at())
    text = text_of(shop.get(f"/papers/statement/{number}.pdf").content)
    for words in (f"Statement {number}", "501 ", "Owed in all $73.50", "Pay at the door.", "Cobbet Cider Mill"):
        assert words in text
    assert "Pay by post." not in text


def test_a_deposit_and_a_payment_each_have_their_receipt(shop: LiveShop, job: JobFacts, invoice: str) -> None:
    with shop.database.writing() as db:
        held = payments.pay(db, job_id=job.id, amount="20", how="cash", **shop.maker.at())
        paid = payments.pay(db, job_id=job.id, amount="73.50", how="card", invoice_no=501, **shop.maker.at())
        issued = [payments.receipt(db, payment_id=one, **shop.maker.at()) for one in (held, paid)]
    assert [kind for kind, _ in issued] == ["deposit", "receipt"]
    first, second = (text_of(shop.get(f"/papers/{kind}/{number}.pdf").content) for kind, number in issued)
    assert "$20.00" in first
    assert "invoice 501" not in first
    assert "invoice 501 $73.50" in second
    assert "paid in full" in second


def everything_issued(shop: LiveShop, job: JobFacts) -> dict[str, str]:
    """One paper of each kind by its own verb, of a job that has quote A and notice R1 already: kind and number."""
    at, late = shop.maker.at(), shop.maker.at(cast.NOON + timedelta(days=40))
    with shop.database.writing() as db:
        first, _ = jobs.pieces(db, job.id)
        other = makers.finished_job(db, shop.maker, customer_id=job.customer_id)
        spoiled = jobs.pieces(db, other.id)[0]
        intake(db, job_id=job.id, **at)
        letters.labels(db, job_id=job.id, piece_id=first.id, **at)
        letters.ready_letter(db, job_id=job.id, **late)
        stop = questions.stop(db, job_id=job.id, waits_for="customer", question="Which side?", **at)
        letters.question(db, stop_id=stop, **at)
        mishaps.spoil(db, piece_id=spoiled.id, story="bored too wide", **at)
        letters.spoiled(db, piece_id=spoiled.id, **at)
        held = payments.pay(db, job_id=job.id, amount="5", how="cash", **at)
        payments.receipt(db, payment_id=held, **at)
        handover.hand_over_many(db, leaving={job.id: [first.id]}, taken_by="Marn", **at)
        no = invoices.issue(db, job_id=job.id, lines=[LineTyped("work", "1", "70")], **at)
        notes.credit(db, no=no, amount="10", reason="a scratch", **at)
        paid = payments.pay(db, job_id=job.id, amount="20", how="card", invoice_no=no, **at)
        payments.receipt(db, payment_id=paid, **at)
        statements.issue(db, customer_id=job.customer_id, **late)
        statements.remind(db, customer_id=job.customer_id, **late)
        rows = [*papers.of_job(db, other.id), *papers.of_job(db, job.id), *papers.of_customer(db, job.customer_id)]
    return {row.kind: row.number for row in rows}


def test_every_kind_of_paper_says_what_is_not_done_here_as_it_was_frozen(shop: LiveShop, job: JobFacts) -> None:
    issued = everything_issued(shop, job)
    with shop.database.writing() as db:
        frozen = {kind: papers.sheet(db, kind, number)[0].not_done for kind, number in issued.items()}
        shopbook.change(db, not_done="something else", **shop.maker.at())
    assert set(issued) == set(route.PRESSES)
    assert frozen == dict.fromkeys(issued, ("balancing", "crack test"))
    for kind, number in issued.items():
        text = text_of(shop.get(f"/papers/{kind}/{number}.pdf").content).lower()
        for words in ("not done here", "balancing", "crack test"):
            assert words in text, kind


def test_a_void_bill_is_handed_out_as_void_and_the_kept_bytes_stay(shop: LiveShop, invoice: str) -> None:
    first = shop.get(invoice)
    shop.post("/invoices/501/void", void_reason="wrong customer")
    void = shop.get(invoice)
    text = text_of(void.content)
    for words in ("Void invoice 501", "VOID", "wrong customer", "There is nothing to pay", "STATUS void"):
        assert words in text
    assert "To pay" not in text
    again = shop.get(invoice)
    assert (again.content, again.headers["etag"]) == (void.content, void.headers["etag"])
    assert void.headers["etag"] != first.headers["etag"]
    with shop.database.reading() as db:
        assert papers.pressed(db, papers.sheet(db, "invoice", "501")[1]) == first.content


def test_a_sheet_that_was_frozen_long_ago_is_still_read() -> None:
    for sheet in SHEETS:
        told = json.loads(to_json(sheet))
        for name in ("number", "approved", "not_done", "shown", "held_as", "void_on", "void_reason", "tax_paper_text"):
            if sheet.__dataclass_fields__.get(name) is not None and has_default(sheet, name):
                told.pop(name)
        assert from_json(sheet.kind, json.dumps(told)).letterhead == sheet.letterhead


def has_default(sheet: Sheet, name: str) -> bool:
    return sheet.__dataclass_fields__[name].default is not MISSING
