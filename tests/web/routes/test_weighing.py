"""The weigh strip: judged while typed, written down once, struck through and never erased."""

import re

import pytest

from shopapp.office import weighing
from shopapp.office.jobs import JobFacts
from tests import makers
from tests.web.conftest import LiveShop
from tests.web.routes import floor


def judged(shop: LiveShop, job: JobFacts, reading: str, *, phase: str = "after", scale: str = "spring") -> str:
    """The words of the live answer."""
    answer = shop.get(
        f"/jobs/{job.no}/1/weigh/judge", reading=reading, phase=phase, scale=str(shop.maker.scales[scale])
    )  # fmt: skip
    assert answer.status_code == 200
    return floor.shown(answer.text)


def test_the_strip_is_dark_and_shows_each_scale_with_its_division(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    page = shop.get(f"/jobs/{job.no}/1/weigh").text
    assert '<body class="bench">' in page
    assert "weigh in" in page
    assert "data-keypad" in page
    words = floor.shown(page)
    assert "spring 0.5 lb" in words
    assert "counter 5 g" in words


def test_nothing_is_filled_in_and_no_scale_is_chosen_that_was_not_used(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    page = shop.get(f"/jobs/{job.no}/1/weigh").text
    assert 'name="reading" value=""' in page
    assert not re.search(r'name="scale"[^>]* checked', page)


def test_a_weight_written_down_leads_to_the_twin_that_still_wants_one(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    first = floor.weigh(shop, job, 1, reading="26.5")
    assert first.headers["location"] == f"/jobs/{job.no}/2/weigh"
    twin = floor.shown(shop.get(first.headers["location"]).text)
    assert f"twin {job.no}-1 26.5 lb → …" in twin
    second = floor.weigh(shop, job, 2, reading="26.5")
    assert second.headers["location"] == f"/jobs/{job.no}"


def test_the_scale_used_last_in_this_browser_is_offered(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    floor.weigh(shop, job, 1, reading="26.5")
    page = shop.get(f"/jobs/{job.no}/2/weigh").text
    assert re.search(rf'name="scale" value="{shop.maker.scales["spring"]}"[^>]* checked', page)


def test_a_reading_between_two_divisions_is_asked_about_and_kept(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    answer = floor.weigh(shop, job, reading="26.3", note="hanging <hook>")
    assert answer.status_code == 422
    assert "This scale shows halves. 26.0 or 26.5?" in answer.text
    assert 'id="f-reading-problem"' in answer.text
    assert 'value="26.3"' in answer.text
    assert 'value="hanging &lt;hook&gt;"' in answer.text
    assert floor.weights(shop, job).before is None


@pytest.mark.parametrize("typed", ["", "heavy", "0", "900"])
def test_a_reading_that_no_scale_here_can_show_is_refused(shop: LiveShop, typed: str) -> None:
    job = floor.in_the_rack(shop)
    answer = floor.weigh(shop, job, reading=typed)
    assert answer.status_code == 422
    assert 'id="f-reading-problem"' in answer.text


def test_the_scale_has_to_be_said(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    answer = shop.post(f"/jobs/{job.no}/1/weigh", phase="before", reading="26.5")
    assert answer.status_code == 422
    assert "Choose the scale that the piece lies on." in answer.text
    assert 'value="26.5"' in answer.text


def test_a_reading_sent_twice_is_written_once(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    for _ in range(2):
        assert floor.weigh(shop, job, once="w", reading="26.5").status_code == 303
    with shop.database.reading() as db:
        assert len(weighing.readings(db, floor.piece(shop, job).id)) == 1


def test_another_scale_than_before_wants_a_word_why(shop: LiveShop) -> None:
    job = floor.in_the_chuck(shop)
    told = {"phase": "after", "scale": "counter", "reading": "10500"}
    refused = floor.weigh(shop, job, **told)
    assert refused.status_code == 422
    assert 'id="f-note-problem"' in refused.text
    assert 'value="10500"' in refused.text
    assert floor.weigh(shop, job, **told, note="the dial sticks").status_code == 303


def test_while_it_is_typed_the_after_weight_gets_its_verdict_and_nothing_is_written(shop: LiveShop) -> None:
    job = floor.in_the_chuck(shop)
    words = judged(shop, job, "23")
    assert "agrees" in words
    assert "Off by the scale 3.5 lb" in words
    assert floor.weights(shop, job).after is None
    assert 'name="reading"' not in shop.get(f"/jobs/{job.no}/1/weigh/judge", reading="23").text


@pytest.mark.parametrize(("typed", "word"), [("22.5", "look again"), ("20", "does not add up")])
def test_a_weight_too_far_off_is_told_before_it_is_written(shop: LiveShop, typed: str, word: str) -> None:
    assert word in judged(shop, floor.in_the_chuck(shop), typed)


def test_half_a_number_gets_a_hint_and_no_refusal(shop: LiveShop) -> None:
    job = floor.in_the_chuck(shop)
    assert "This scale shows halves. 22.0 or 22.5?" in judged(shop, job, "22.3")
    for typed in ("", "2", "22.", "2 l", "<q>"):
        assert "<q>" not in judged(shop, job, typed)


def test_before_the_cuts_a_scale_says_whether_it_can_judge_them(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    assert "spring can judge this" in judged(shop, job, "", phase="before")
    assert "weighbridge is too coarse" in judged(shop, job, "", phase="before", scale="weighbridge")
    assert "26.500 lb · 12.020 kg" in judged(shop, job, "26.5", phase="before")


def test_a_wrong_reading_is_struck_through_with_its_reason(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    floor.weigh(shop, job, reading="36.5")
    wrong = floor.weights(shop, job).before
    answer = shop.post(f"/jobs/{job.no}/1/strike", struck=wrong.id if wrong else "", reason="wrong circle <read>")
    assert answer.headers["location"] == f"/jobs/{job.no}/1/weigh"
    page = shop.get(answer.headers["location"]).text
    assert '<s class="fig">36.5 lb</s>' in page
    assert "wrong circle &lt;read&gt;" in page
    assert floor.weigh(shop, job, reading="26.5").status_code == 303


def test_striking_wants_a_reason_and_a_reading_of_this_piece(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    for n, reading in ((1, "36.5"), (2, "26.5")):
        floor.weigh(shop, job, n, reading=reading)
    wrong = floor.weights(shop, job).before
    bare = shop.post(f"/jobs/{job.no}/1/strike", struck=wrong.id if wrong else "")
    assert bare.status_code == 422
    assert 'id="f-reason-problem"' in bare.text
    other = shop.post(f"/jobs/{job.no}/2/strike", struck=wrong.id if wrong else "", reason="not its own")
    assert other.status_code == 422
    assert "Choose the reading that is wrong." in other.text
    assert 'value="not its own"' in other.text


def test_once_both_weights_stand_the_strip_shows_them_and_asks_for_nothing(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.finished_job(db, shop.maker)
    page = shop.get(f"/jobs/{job.no}/1/weigh").text
    assert 'name="reading"' not in page
    assert "26.5 lb → 23 lb: 3.5 lb off" in floor.shown(page)


def test_a_weight_between_the_cuts_is_kept_beside_the_others(shop: LiveShop) -> None:
    job = floor.in_the_chuck(shop)
    assert "weigh between cuts" in shop.get(f"/jobs/{job.no}/1/weigh", phase="between").text
    assert floor.weigh(shop, job, phase="between", reading="24.5").headers["location"] == f"/jobs/{job.no}"
    told = floor.weights(shop, job)
    assert [row.typed for row in told.between] == ["24.5"]
    assert told.after is None


def test_a_piece_that_is_not_here_is_not_weighed(shop: LiveShop) -> None:
    job = floor.expected(shop)
    assert "Take it in first" in shop.get(f"/jobs/{job.no}/1/weigh").text
    assert floor.weigh(shop, job, reading="26.5").status_code == 409


def test_a_weight_that_does_not_fit_the_material_is_said_while_it_is_typed(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    light = shop.get(f"/jobs/{job.no}/1/weigh/judge", phase="before", scale="1", reading="9")
    assert "not carbon steel 7.85." in light.text
    assert "<b>Material" in light.text
    right = shop.get(f"/jobs/{job.no}/1/weigh/judge", phase="before", scale="1", reading="26.5")
    assert "fits carbon steel 7.85." in right.text
    assert "<b>Material" not in right.text


def test_a_verdict_that_does_not_agree_says_live_what_would_explain_it(shop: LiveShop) -> None:
    job = floor.in_the_chuck(shop)
    asked = {"phase": "after", "scale": "1", "reading": "18"}
    assert "times its own uncertainty" in floor.shown(shop.get(f"/jobs/{job.no}/1/weigh/judge", **asked).text)
    below = shop.get(f"/jobs/{job.no}/1/weigh/worked", **asked)
    assert "What would explain it, most plausible first" in floor.shown(below.text)
    assert "show the working" in below.text
    assert "<input" not in below.text
    agreed = shop.get(f"/jobs/{job.no}/1/weigh/worked", **{**asked, "reading": "23"})
    assert "What would explain it" not in agreed.text


def test_a_scale_too_coarse_is_told_with_a_sharper_way(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    words = floor.shown(shop.get(f"/jobs/{job.no}/1/weigh/worked", phase="before", scale="3", reading="").text)
    assert "Sharper: all 2 at once on counter" in words
    assert "At once wants both weights, before and after the cuts" in words


def test_a_piece_that_got_heavier_is_asked_about_and_kept_with_its_reason(shop: LiveShop) -> None:
    job = floor.in_the_chuck(shop)
    asked = "It weighed 26.5 lb before. Heavier by 3.5 lb: other piece, other scale, or not zero?"
    assert asked in judged(shop, job, "30")
    refused = floor.weigh(shop, job, phase="after", reading="30")
    assert refused.status_code == 422
    assert asked in floor.shown(refused.text)
    assert 'id="f-heavier"' in refused.text
    assert 'value="30"' in refused.text
    assert floor.weigh(shop, job, phase="after", reading="30", heavier="a <bush> is in").status_code == 303
    assert "heavier all the same: a &lt;bush&gt; is in" in shop.get(f"/jobs/{job.no}/1").text


def test_a_scale_that_is_not_at_zero_is_asked_about(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    refused = floor.weigh(shop, job, reading="27", zero=".5")
    assert refused.status_code == 422
    assert "spring shows .5 lb with nothing on it. Set it to zero and weigh again" in floor.shown(refused.text)
    assert 'name="zero" value=".5"' in refused.text
    assert floor.weigh(shop, job, reading="27", zero=".5", less_zero="yes").status_code == 303
    page = floor.shown(shop.get(f"/jobs/{job.no}/1").text)
    assert "26.5 lb" in page
    assert "27 lb shown, less .5 lb at zero" in page


def test_the_strip_says_of_which_scale_the_zero_was_not_looked_at_today(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)

    def asks() -> list[str]:
        page = shop.get(f"/jobs/{job.no}/2/weigh").text
        return re.findall(r'data-unit="(\w+)" data-zero="not today"', page)

    assert asks() == ["g", "lb", "lb"]
    floor.weigh(shop, job, reading="26.5")
    assert asks() == ["g", "lb"]


def test_a_piece_that_went_home_is_weighed_only_late_and_with_a_note(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.ready_job(db, shop.maker, pieces=1)
        (piece,) = makers.pieces_of(db, job)
        makers.fetch(db, shop.maker, piece)
    refused = floor.weigh(shop, job, phase="between", reading="25", heavier="x")
    assert refused.status_code == 422
    assert "This piece is not here: gone home." in refused.text
    assert 'id="f-at-problem"' in refused.text
    told = {"phase": "between", "reading": "25", "at": "2031-03-04T11:30"}
    assert 'id="f-note-problem"' in floor.weigh(shop, job, **told).text
    assert floor.weigh(shop, job, **told, note="from the pad").status_code == 303


def test_a_reading_from_the_paper_ticket_is_entered_late(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop, pieces=1)
    refused = floor.weigh(shop, job, reading="26.5", at="2031-03-04T13:00")
    assert refused.status_code == 422
    assert "That time is still to come." in refused.text
    assert floor.weigh(shop, job, reading="26.5", at="this morning").status_code == 422
    assert floor.weigh(shop, job, reading="26.5", at="2031-03-04T09:30").status_code == 303
    before = floor.weights(shop, job).before
    assert before is not None
    assert before.note == "entered late, 2031-03-04 12:00"
    # Half past nine in the shop, four hours west of Greenwich.
    assert (before.at.hour, before.at.minute) == (13, 30)
