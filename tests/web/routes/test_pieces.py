"""The piece card: the sign that is seen, the way through the shop, the sizes."""

import re

import pytest

from shopapp.office import history, parts, sizes
from tests import cast, makers
from tests.web.conftest import LiveShop
from tests.web.routes import floor

SIZE = {"size_name": "web", "size": ".650", "unit": "in", "instrument": "caliper"}
HERE = {"goes_to": "machine", "machine": "press 1"}


def with_a_twin(shop: LiveShop) -> tuple[int, int]:
    """A job of one plain plate; gives its number and the deciding sign of the lipped plate."""
    job = floor.expected(shop, pieces=1)
    with shop.database.writing() as db:
        lipped = makers.make_variant(db, shop.maker, body=None, **cast.LIPPED)
        return job.no, parts.variant(db, lipped).signs[0].id


def test_the_look_alikes_stand_side_by_side_and_none_is_chosen_beforehand(shop: LiveShop) -> None:
    no, _ = with_a_twin(shop)
    page = shop.get(f"/jobs/{no}/1").text
    assert page.count('name="sign"') == 2
    pairs = re.findall(r"<b>([^<]+)</b>\s*<span>([^<]+)</span>", page)
    assert pairs == [("lip on one face", "one drain hole"), ("flat on both faces", "one drain hole")]
    assert not re.search(r'name="sign" value="\d+" checked', page)


def test_a_piece_of_unknown_kind_shows_every_kind_by_part(shop: LiveShop) -> None:
    with_a_twin(shop)
    with shop.database.writing() as db:
        hub = makers.make_part(db, shop.maker, name="hub")
        makers.make_variant(db, shop.maker, part_id=hub, name="keyed", signs=["a keyway"], body=None)
    no = int(shop.post("/ask", customer="1", title="what is it", count="1").headers["location"].rsplit("/", 1)[1])
    page = shop.get(f"/jobs/{no}/1").text
    assert page.count('name="sign"') == 3
    assert "<h3>hub</h3>" in page
    assert "<h3>press plate</h3>" in page


def test_a_part_that_is_none_of_these_can_be_looked_for_among_all(shop: LiveShop) -> None:
    no, _ = with_a_twin(shop)
    with shop.database.writing() as db:
        hub = makers.make_part(db, shop.maker, name="hub")
        makers.make_variant(db, shop.maker, part_id=hub, name="keyed", signs=["a keyway"], body=None)
    assert "a keyway" not in shop.get(f"/jobs/{no}/1").text
    assert "a keyway" in shop.get(f"/jobs/{no}/1", all_kinds="yes").text


def test_the_sign_that_is_seen_takes_the_piece_in(shop: LiveShop) -> None:
    job = floor.expected(shop)
    sign = floor.sign_of(shop, job)
    answer = shop.post(f"/jobs/{job.no}/1/take-in", sign=sign, place="B3", note="chip at the rim", **HERE)
    assert answer.headers["location"] == f"/jobs/{job.no}"
    piece = floor.piece(shop, job)
    assert (piece.custody, piece.sign_seen, piece.place, piece.note) == (
        "rack", "flat on both faces", "B3", "chip at the rim",
    )  # fmt: skip


def test_a_sign_of_the_twin_is_believed_and_said_aloud(shop: LiveShop) -> None:
    no, other_sign = with_a_twin(shop)
    answer = shop.post(f"/jobs/{no}/1/take-in", once="t", sign=other_sign, **HERE)
    assert answer.headers["location"] == f"/jobs/{no}/1"
    page = shop.get(f"/jobs/{no}/1").text
    assert page.count("Asked for was plain; the sign seen says lipped.") >= 2
    assert 'class="notice' in page
    assert "press plate, lipped" in page


def test_nothing_is_taken_in_unseen(shop: LiveShop) -> None:
    job = floor.expected(shop)
    answer = shop.post(f"/jobs/{job.no}/1/take-in", place="B3 <i>", **HERE)
    assert answer.status_code == 422
    assert 'id="f-sign-problem"' in answer.text
    assert 'value="B3 &lt;i&gt;"' in answer.text
    assert floor.piece(shop, job).custody == "expected"


def test_into_the_chuck_without_weight_wants_a_reason_and_says_what_is_missing(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    refused = shop.post(f"/jobs/{job.no}/1/move", to="chuck", place="lathe <2>")
    assert refused.status_code == 422
    assert "Before the first chip: it was not weighed." in refused.text
    assert 'value="lathe &lt;2&gt;"' in refused.text
    assert shop.post(f"/jobs/{job.no}/1/move", to="chuck", reason="scale away").status_code == 303
    piece = floor.piece(shop, job)
    assert piece.custody == "chuck"
    assert "cut without: it was not weighed. scale away" in piece.note


def test_what_is_missing_before_the_first_chip_is_said_beforehand(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    words = floor.shown(shop.get(f"/jobs/{job.no}/1").text)
    assert "Before the first chip" in words
    assert "it was not weighed Weigh it in." in words
    assert "there: sign seen: flat on both faces" in words


def test_a_piece_goes_its_way_once_however_often_it_is_sent(shop: LiveShop) -> None:
    job = floor.in_the_chuck(shop)
    for _ in range(2):
        assert shop.post(f"/jobs/{job.no}/1/move", once="m", to="checked", reason="seen").status_code == 303
    with shop.database.reading() as db:
        acts = [line.act for line in history.of_piece(db, floor.piece(shop, job).id)]
    assert acts.count("checked") == 1


@pytest.mark.parametrize(("to", "status"), [("spoiled", 422), ("sent_back", 422), ("gone", 409), ("expected", 409)])
def test_what_is_decided_about_a_piece_is_no_mere_move(shop: LiveShop, to: str, status: int) -> None:
    job = floor.in_the_chuck(shop)
    assert shop.post(f"/jobs/{job.no}/1/move", to=to, reason="dug in").status_code == status
    assert floor.piece(shop, job).custody == "chuck"


def test_a_move_that_its_place_does_not_allow_says_where_it_is(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    answer = shop.post(f"/jobs/{job.no}/1/move", to="shelf")
    assert answer.status_code == 409
    assert "This piece is in the rack; from there it cannot become on the pick-up shelf." in floor.shown(answer.text)


def test_the_enter_key_chooses_no_way(shop: LiveShop) -> None:
    job = floor.in_the_chuck(shop)
    first = re.search(r'<button type="submit" name="to" value="" hidden>', shop.get(f"/jobs/{job.no}/1").text)
    assert first
    answer = shop.post(f"/jobs/{job.no}/1/move", to="", reason="dug in")
    assert answer.status_code == 422
    assert "press one of the buttons" in answer.text
    assert 'value="dug in"' in answer.text


def test_taking_in_and_going_home_are_no_mere_moves(shop: LiveShop) -> None:
    job = floor.expected(shop)
    assert 'name="to"' not in shop.get(f"/jobs/{job.no}/1").text
    with shop.database.writing() as db:
        ready = makers.ready_job(db, shop.maker, customer_id=job.customer_id)
    page = shop.get(f"/jobs/{ready.no}/1").text
    assert 'value="gone"' not in page
    assert f'href="/jobs/{ready.no}/ready"' in page


def test_a_size_is_kept_as_typed_and_shown_in_both_units(shop: LiveShop) -> None:
    job = floor.expected(shop)
    answer = shop.post(f"/jobs/{job.no}/1/sizes", **{**SIZE, "size": "7-3/8"})
    assert answer.status_code == 303
    words = floor.shown(shop.get(f"/jobs/{job.no}/1").text)
    assert "7-3/8 in" in words
    # NIST SP 811, B.8: one inch is 25.4 mm exactly; 7.375 x 25.4 = 187.325.
    assert "187.32" in words


def test_two_sizes_told_of_one_thing_are_held_together(shop: LiveShop) -> None:
    job = floor.expected(shop)
    typed = {**SIZE, "size": "22 mm", "size_note": "he said 3/4 in"}
    answer = shop.post(f"/jobs/{job.no}/1/sizes", **typed)
    assert answer.status_code == 422
    assert 'id="f-size_note-problem"' in answer.text
    assert 'value="he said 3/4 in"' in answer.text
    with shop.database.reading() as db:
        assert not sizes.of_piece(db, floor.piece(shop, job).id)


def test_a_size_that_cannot_be_read_says_so_beside_it(shop: LiveShop) -> None:
    job = floor.expected(shop)
    answer = shop.post(f"/jobs/{job.no}/1/sizes", **{**SIZE, "size": "about half <x>", "size_name": ""})
    assert answer.status_code == 422
    for field in ("size", "size_name"):
        assert f'id="f-{field}-problem"' in answer.text
    assert 'value="about half &lt;x&gt;"' in answer.text


def test_the_last_of_the_kind_leave_this_piece_out(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        earlier = makers.finished_job(db, shop.maker)
        job = makers.make_job(db, shop.maker, customer_id=earlier.customer_id, variant_id=1)
    page = floor.shown(shop.get(f"/jobs/{job.no}/1").text)
    assert f"{earlier.no}-1 Cobbet Cider Mill" in page
    assert "−3.5 lb" in page
    assert f"{earlier.no}-1 Cobbet" not in floor.shown(shop.get(f"/jobs/{earlier.no}/1").text)


def test_a_piece_that_is_not_in_the_job_says_so(shop: LiveShop) -> None:
    job = floor.expected(shop)
    assert f"There is no piece {job.no}-9 in the book." in shop.get(f"/jobs/{job.no}/9").text


def test_a_size_that_looks_like_a_slip_is_asked_about_and_may_be_sent_all_the_same(shop: LiveShop) -> None:
    first, second = floor.in_the_rack(shop, 1), floor.in_the_rack(shop, 1)
    assert shop.post(f"/jobs/{first.no}/1/sizes", **SIZE).status_code == 303
    half = {**SIZE, "size": ".325"}
    asked = shop.post(f"/jobs/{second.no}/1/sizes", once="a", **half)
    assert asked.status_code == 422
    assert "Half of last time" in asked.text
    assert 'name="size_sure"' in asked.text
    assert 'value=".325"' in asked.text
    assert shop.post(f"/jobs/{second.no}/1/sizes", once="b", size_sure="yes", **half).status_code == 303


def test_the_card_says_where_the_weight_does_not_fit_the_material(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop, 1)
    floor.weigh(shop, job, 1, phase="before", reading="9")
    for page in (f"/jobs/{job.no}/1", f"/jobs/{job.no}"):
        assert "not carbon steel 7.85." in shop.get(page).text


def test_a_tag_opens_the_scale_where_the_piece_waits_for_it_and_else_its_card(shop: LiveShop) -> None:
    expected, rack = floor.expected(shop), floor.in_the_rack(shop)
    assert shop.get(f"/pieces/{expected.no}-1").headers["location"] == f"/jobs/{expected.no}/1"
    assert shop.get(f"/pieces/{rack.no}-2").headers["location"] == f"/jobs/{rack.no}/2/weigh"
    floor.weigh(shop, rack, 2, reading="26")
    assert shop.get(f"/pieces/{rack.no}-2").headers["location"] == f"/jobs/{rack.no}/2"
    assert shop.get(f"/pieces/{rack.no}-9").status_code == 404


def test_two_sizes_told_of_one_thing_ask_while_the_second_is_typed(shop: LiveShop) -> None:
    job = floor.expected(shop)
    told = {"size": "22 mm", "unit": "in", "instrument": "caliper"}
    asked = shop.get(f"/jobs/{job.no}/1/sizes/clash", **told, size_note="he said 3/4 in")
    # 22 mm / 25.4 = 0.8661 in; less .750 are .116 (NIST SP 811, B.8).
    assert "they differ by .116 in" in asked.text
    for half in ("", "he said 3/", "22 mm he said too"):
        answer = shop.get(f"/jobs/{job.no}/1/sizes/clash", **told, size_note=half)
        assert answer.status_code == 200
        assert "differ" not in answer.text
