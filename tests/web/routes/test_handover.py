"""The shelf, the calls, the pieces that leave."""

import re

import pytest

from shopapp.office import handover, intake, jobs
from tests import makers
from tests.web.conftest import LiveShop


@pytest.fixture
def no(shop: LiveShop) -> int:
    """A finished job of two pieces, both checked."""
    with shop.database.writing() as db:
        return makers.finished_job(db, shop.maker).no


def custodies(shop: LiveShop, no: int) -> list[str]:
    with shop.database.reading() as db:
        return [piece.custody for piece in jobs.pieces(db, jobs.by_no(db, no).id)]


def ticked(page: str) -> list[str]:
    return re.findall(r'name="(piece_\d+)" value="yes" checked', page)


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
    assert "2 of 2 pieces are not finished yet" in shop.get(f"/jobs/{job.no}/ready").text
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
    assert ticked(shop.get(f"/jobs/{no}/ready").text) == ["piece_1", "piece_2"]
    answer = shop.post(f"/jobs/{no}/hand-over", piece_2="yes", taken_by="the nephew")
    assert answer.status_code == 303
    assert custodies(shop, no) == ["shelf", "gone"]
    assert ticked(shop.get(f"/jobs/{no}/ready").text) == ["piece_1"]


def test_a_refused_hand_over_keeps_the_ticks_as_they_were(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/ready")
    answer = shop.post(f"/jobs/{no}/hand-over", piece_2="yes", taken_by=" ")
    assert answer.status_code == 422
    assert "Write who took the pieces." in answer.text
    assert ticked(answer.text) == ["piece_2"]
    assert custodies(shop, no) == ["shelf", "shelf"]


def test_a_hand_over_of_nothing_is_asked_about(shop: LiveShop, no: int) -> None:
    shop.post(f"/jobs/{no}/ready")
    answer = shop.post(f"/jobs/{no}/hand-over", taken_by="Marn <Cobbet>")
    assert answer.status_code == 422
    assert "Tick the pieces that leave." in answer.text
    assert 'value="Marn &lt;Cobbet&gt;"' in answer.text
    assert ticked(answer.text) == []


def test_a_piece_that_is_not_on_the_shelf_does_not_leave(shop: LiveShop, no: int) -> None:
    answer = shop.post(f"/jobs/{no}/hand-over", piece_1="yes", taken_by="Marn")
    assert answer.status_code == 422
    assert "not on the pick-up shelf" in answer.text
    assert custodies(shop, no) == ["checked", "checked"]


def test_a_spoiled_piece_can_go_home_but_is_not_ticked_for_it(shop: LiveShop, no: int) -> None:
    with shop.database.writing() as db:
        first = jobs.piece(db, no, 1)
        intake.move(db, piece_id=first.id, to="spoiled", reason="the web broke through", **shop.maker.at())
    shop.post(f"/jobs/{no}/ready")
    page = shop.get(f"/jobs/{no}/ready").text
    assert ticked(page) == ["piece_2"]
    assert f"{no}-1 press plate, plain, spoiled" in page


def test_what_is_due_stands_beside_the_door(shop: LiveShop, no: int) -> None:
    page = shop.get(f"/jobs/{no}/ready").text
    assert "by quote A" in page
    assert "$73.50" in page
    assert "Draw the bill, 2 to bill" in page
