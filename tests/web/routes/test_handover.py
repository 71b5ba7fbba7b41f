"""The shelf, the calls, the pieces that leave."""

import re
from datetime import timedelta

import httpx
import pytest

from shopapp.office import condition, handover, invoices, jobs, mail, papers, payments, shelf
from shopapp.office.jobs import PieceAsk
from shopapp.office.sheets.handover import HandOverSheet
from tests import makers
from tests.web.conftest import LiveShop
from tests.web.routes.floor import shown

INK = "M100,120L140,80L180,130"


@pytest.fixture
def no(shop: LiveShop) -> int:
    """A finished job of two pieces, both checked."""
    with shop.database.writing() as db:
        return makers.finished_job(db, shop.maker).no


def custodies(shop: LiveShop, no: int) -> list[str]:
    with shop.database.reading() as db:
        return [piece.custody for piece in jobs.pieces(db, jobs.by_no(db, no).id)]


def ticked(page: str) -> list[str]:
    return re.findall(r'name="(piece_\d+_\d+|bit_\d+)" value="yes" checked', page)


def give(shop: LiveShop, no: int, *numbers: str, **typed: str) -> httpx.Response:
    """Hand pieces over, told by their numbers; known and unsigned where nothing else is told."""
    ticks = {f"piece_{number.replace('-', '_')}": "yes" for number in numbers}
    return shop.post(f"/jobs/{no}/hand-over", **{"taken_by": "the nephew", "known": "yes", **ticks, **typed})


def test_announcing_puts_the_pieces_on_the_shelf_and_freezes_a_notice(shop: LiveShop, no: int) -> None:
    assert "Put on the shelf and announce" in shop.get(f"/jobs/{no}/ready").text
    answer = shop.post(f"/jobs/{no}/ready", notice_words="The key is in the bag.")
    assert answer.status_code == 303
    page = shop.get(answer.headers["location"]).text
    assert f"/papers/ready/{no}-R1.pdf" in page
    assert custodies(shop, no) == ["shelf", "shelf"]
    assert "Hand over the ticked pieces" in page


def test_nothing_is_announced_while_a_piece_is_unfinished(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.make_job(db, shop.maker)
        one = makers.make_job(db, shop.maker, pieces=1)
    assert "2 of 2 pieces are not finished yet" in shop.get(f"/jobs/{job.no}/ready").text
    assert "The piece is not finished yet, so nothing is announced.</p>" in shop.get(f"/jobs/{one.no}/ready").text
    answer = shop.post(f"/jobs/{job.no}/ready", notice_words="All done & swept")
    assert answer.status_code == 409
    assert "ready when every piece is finished" in answer.text
    assert custodies(shop, job.no) == ["expected", "expected"]


def test_a_call_is_one_tap(shop: LiveShop, no: int) -> None:
    answer = shop.post(f"/jobs/{no}/calls", outcome="no_answer", whom="", call_words="")
    assert answer.status_code == 303
    page = shop.get(answer.headers["location"]).text
    assert "<b>no answer</b>" in page
    assert "WK" in page
    assert 'href="tel:555-0311"' in page


def test_told_someone_else_needs_a_name_and_keeps_the_words(shop: LiveShop, no: int) -> None:
    answer = shop.post(f"/jobs/{no}/calls", outcome="someone_else", whom="", call_words="comes <b>Tuesday</b>")
    assert answer.status_code == 422
    assert "Write who was told." in answer.text
    assert 'value="comes &lt;b&gt;Tuesday&lt;/b&gt;"' in answer.text
    with shop.database.reading() as db:
        assert handover.calls(db, jobs.by_no(db, no).id) == []


def test_a_call_without_an_outcome_is_asked_about(shop: LiveShop, no: int) -> None:
    answer = shop.post(f"/jobs/{no}/calls", whom="Marn")
    assert answer.status_code == 422
    assert "Say what came of the call" in answer.text
    assert 'value="Marn"' in answer.text


def test_the_same_call_sent_twice_is_one_call(shop: LiveShop, no: int) -> None:
    for _ in range(2):
        shop.post(f"/jobs/{no}/calls", outcome="told", once="c-1")
    with shop.database.reading() as db:
        assert len(handover.calls(db, jobs.by_no(db, no).id)) == 1


def test_pieces_on_the_shelf_are_ticked_already_and_only_ticked_ones_leave(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/ready")
    assert ticked(shop.get(f"/jobs/{no}/ready").text) == [f"piece_{no}_1", f"piece_{no}_2"]
    answer = give(shop, no, f"{no}-2")
    assert answer.status_code == 303
    assert custodies(shop, no) == ["shelf", "gone"]
    assert ticked(shop.get(f"/jobs/{no}/ready").text) == [f"piece_{no}_1"]


def test_a_refused_hand_over_keeps_the_ticks_as_they_were(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/ready")
    answer = give(shop, no, f"{no}-2", taken_by=" ")
    assert answer.status_code == 422
    assert "Write who took the pieces." in answer.text
    assert ticked(answer.text) == [f"piece_{no}_2"]
    assert custodies(shop, no) == ["shelf", "shelf"]


def test_a_hand_over_of_nothing_is_asked_about(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/ready")
    answer = give(shop, no, taken_by="Marn <Cobbet>")
    assert answer.status_code == 422
    assert "Tick the pieces that leave." in answer.text
    assert 'value="Marn &lt;Cobbet&gt;"' in answer.text
    assert ticked(answer.text) == []


def test_a_piece_that_is_not_on_the_shelf_does_not_leave(shop: LiveShop, no: int) -> None:
    answer = give(shop, no, f"{no}-1")
    assert answer.status_code == 422
    assert "not on the pick-up shelf" in answer.text
    assert custodies(shop, no) == ["checked", "checked"]


def test_a_spoiled_piece_can_go_home_but_is_not_ticked_for_it(shop: LiveShop, no: int) -> None:
    with shop.database.writing() as db:
        first = jobs.piece(db, no, 1)
        makers.spoil(db, shop.maker, first)
    shop.post(f"/jobs/{no}/ready")
    page = shop.get(f"/jobs/{no}/ready").text
    assert ticked(page) == [f"piece_{no}_2"]
    assert f"{no}-1 press plate, plain, spoiled" in page


def test_what_is_due_stands_beside_the_door(shop: LiveShop, no: int) -> None:
    page = shop.get(f"/jobs/{no}/ready").text
    assert "by quote A" in page
    assert "$73.50" in page
    assert "Draw the bill, 2 to bill" in page


def test_weights_and_what_is_due_show_their_working_with_its_source(shop: LiveShop, no: int) -> None:
    weights, due = (shown(part) for part in shop.get(f"/jobs/{no}/ready").text.split("show the working")[1:])
    assert f"{no}-1 26.5 lb" in weights
    assert "= 3.5 lb" in weights
    assert " source " in weights
    # 70 min at $60.00 an hour are $70.00, and 5 % tax on it.
    assert "by quote A $73.50" in due
    assert "net $70.00 tax $3.50 holds for whole cents source Common practice, no source" in due
    shop.post(f"/jobs/{no}/ready")
    with shop.database.writing() as db:
        job = jobs.by_no(db, no)
        lines = invoices.draft_lines(db, job.id, now=shop.now)
        number = invoices.issue(db, job_id=job.id, lines=lines, now=shop.now, by=shop.by)
        payments.pay(db, job_id=job.id, amount="30", how="cash", invoice_no=number, now=shop.now, by=shop.by)
    due = shown(shop.get(f"/jobs/{no}/ready").text.split("show the working")[-1])
    assert "to pay $43.50" in due
    assert "total $73.50 paid −$30.00" in due


def receipt(shop: LiveShop, number: str) -> HandOverSheet:
    with shop.database.reading() as db:
        sheet, _ = papers.sheet(db, "hand_over", number)
    assert isinstance(sheet, HandOverSheet)
    return sheet


def test_pieces_of_two_jobs_leave_in_one_go_signed_for_once(shop: LiveShop, no: int) -> None:
    with shop.database.writing() as db:
        other = makers.ready_job(db, shop.maker, pieces=1)
    shop.post(f"/jobs/{no}/ready")
    page = shop.get(f"/jobs/{no}/ready").text
    assert ticked(page) == [f"piece_{no}_1", f"piece_{no}_2", f"piece_{other.no}_1"]
    answer = give(shop, no, f"{no}-1", f"{no}-2", f"{other.no}-1", known="", signature=INK)
    assert answer.status_code == 303
    told = receipt(shop, f"{no}-H1")
    assert (told.how, told.signature, told.job_numbers) == ("signed", INK, (str(no), str(other.no)))
    assert told.signed_for == tuple(f"{n} press plate, plain" for n in (f"{no}-1", f"{no}-2", f"{other.no}-1"))
    assert custodies(shop, other.no) == ["gone"]


def test_after_the_door_comes_the_bill_and_the_receipt_is_named(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/ready")
    answer = give(shop, no, f"{no}-1", f"{no}-2")
    assert answer.headers["location"] == f"/jobs/{no}/bill"
    page = shop.get(f"/jobs/{no}/bill").text
    assert f"They have left, receipt {no}-H1." in page
    assert f"/papers/hand_over/{no}-H1.pdf" in page


def test_neither_signed_nor_known_is_asked_about(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/ready")
    answer = give(shop, no, f"{no}-1", known="")
    assert answer.status_code == 422
    assert "Have them sign in the field, or choose known, unsigned." in answer.text
    assert 'href="#f-signature"' in answer.text
    assert custodies(shop, no) == ["shelf", "shelf"]


def test_a_refused_hand_over_keeps_the_signature(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/ready")
    answer = give(shop, no, f"{no}-1", known="", taken_by="", signature=INK)
    assert answer.status_code == 422
    assert f'class="signing-ink" d="{INK}"' in answer.text


@pytest.mark.parametrize("drawn", ["<svg onload=x>", "M1 1 url(#x)", "L1 1", "M" + "1 " * 11_000])
def test_a_signature_that_is_no_drawing_is_refused(shop: LiveShop, no: int, drawn: str) -> None:
    shop.post(f"/jobs/{no}/ready")
    answer = give(shop, no, f"{no}-1", known="", signature=drawn)
    assert answer.status_code == 422
    assert "did not come through whole" in answer.text
    assert "<svg onload" not in answer.text


def test_what_came_along_and_stays_is_named(shop: LiveShop, no: int) -> None:
    with shop.database.writing() as db:
        first = jobs.piece(db, no, 1)
        key, _ = condition.add_bits(db, piece_id=first.id, lines=["key <1>", "two bolts"], **shop.maker.at())
    shop.post(f"/jobs/{no}/ready")
    page = shop.get(f"/jobs/{no}/ready").text
    assert f"key &lt;1&gt;, of {no}-1" in page
    assert ticked(page) == [f"piece_{no}_1", f"piece_{no}_2"]  # somebody has to lay a hand on the bits
    give(shop, no, f"{no}-1", **{f"bit_{key}": "yes"})
    assert f"Still here: two bolts of {no}-1." in shop.get(f"/jobs/{no}/bill").text
    told = receipt(shop, f"{no}-H1")
    assert told.bits_back == (f"key <1> of {no}-1",)
    assert told.bits_here == (f"two bolts of {no}-1",)


def test_the_stub_comes_back_or_not(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/ready")
    give(shop, no, f"{no}-1", stub_back="yes")
    give(shop, no, f"{no}-2")
    assert [receipt(shop, f"{no}-H{n}").stub_back for n in (1, 2)] == [True, False]


def test_the_same_hand_over_sent_twice_is_one_receipt(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/ready")
    places = [give(shop, no, f"{no}-1", once="g-1").headers["location"] for _ in range(2)]
    assert places[0] == places[1]
    with shop.database.reading() as db:
        assert papers.count(db, "hand_over", job_id=jobs.by_no(db, no).id) == 1


def test_a_piece_for_their_own_shelf_is_written_there_and_has_a_label(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        variant_id = makers.the_plain_plate(db, shop.maker)
        job = makers.ready_job(db, shop.maker, pieces=(PieceAsk(variant_id, "shelf"),))
    page = shop.get(f"/jobs/{job.no}/ready").text
    assert "Print shelf labels, 1" in page
    assert shop.post(f"/jobs/{job.no}/labels").headers["location"] == f"/papers/label/{job.no}-S1.pdf"
    give(shop, job.no, f"{job.no}-1")
    with shop.database.reading() as db:
        assert [(row.variant_id, row.count) for row in shelf.tally(db, job.customer_id)] == [(variant_id, 1)]


def test_a_job_without_a_piece_for_a_shelf_has_no_labels(shop: LiveShop, no: int) -> None:
    assert "Print shelf labels" not in shop.get(f"/jobs/{no}/ready").text
    assert shop.post(f"/jobs/{no}/labels").status_code == 409


def test_a_call_says_when_to_try_again(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/calls", outcome="no_answer", next_in="3")
    shop.post(f"/jobs/{no}/calls", outcome="message", next_on="2031-03-20", next_in="1")
    with shop.database.reading() as db:
        told = [call.next_on for call in handover.calls(db, jobs.by_no(db, no).id)]
    today = shop.now.date()
    assert told == [today + timedelta(days=16), today + timedelta(days=3)]
    assert "next try 20 Mar 2031" in shop.get(f"/jobs/{no}/ready").text


def test_a_day_to_try_again_that_has_passed_is_refused(shop: LiveShop, no: int) -> None:
    answer = shop.post(f"/jobs/{no}/calls", outcome="no_answer", next_on="2031-03-03", call_words="rings")
    assert answer.status_code == 422
    assert "That day has passed" in answer.text
    assert 'value="rings"' in answer.text


@pytest.mark.parametrize(
    ("came", "leads"), [("rail.page", "/"), ("calls.page", "/calls"), ("money.page", "/jobs/{}/ready")]
)
def test_a_call_leads_back_to_the_list_it_was_made_from(shop: LiveShop, no: int, came: str, leads: str) -> None:
    answer = shop.post(f"/jobs/{no}/calls", outcome="told", **{"from": came})
    assert answer.headers["location"] == leads.format(no)


def test_the_notice_stands_there_as_a_short_message(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/ready", notice_words="Ring the bell & wait")
    page = shop.get(f"/jobs/{no}/ready").text
    assert f"Job {no}, skim press plates: ready are {no}-1 press plate, plain" in page
    assert "Ring the bell &amp; wait." in page
    assert 'href="sms:555-0311?body=Job%20' in page


def test_the_notice_goes_by_mail_with_the_act_or_not_at_all(
    shop: LiveShop, no: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert "by_mail" not in shop.get(f"/jobs/{no}/ready").text
    monkeypatch.setattr(shop.app.state, "postman", object(), raising=False)
    assert "by_mail" in shop.get(f"/jobs/{no}/ready").text
    refused = shop.post(f"/jobs/{no}/ready", by_mail="yes", mail_to="marn at mill")
    assert refused.status_code == 422
    assert 'id="f-mail_to-problem"' in refused.text
    assert custodies(shop, no) == ["checked", "checked"]
    assert shop.post(f"/jobs/{no}/ready", by_mail="yes", mail_to="marn@mill.example").status_code == 303
    with shop.database.reading() as db:
        (letter,) = mail.newest(db)
    assert (letter.kind, letter.number, letter.to_address) == ("ready", f"{no}-R1", "marn@mill.example")
    assert f"ready are {no}-1" in letter.body
