"""The cut run: planned by settings, a card for each piece, ticks before the clock, done and on to the next."""

import re
from typing import Any

import httpx
import pytest

from shopapp.office import chuck, clock, equipment, jobs, trouble
from shopapp.office.drawing import CutsTyped, Typed
from shopapp.office.jobs import JobFacts
from tests import cast, makers
from tests.web.conftest import LiveShop
from tests.web.routes import floor

BOTH = CutsTyped("in", (Typed("face", {"depth": ".125"}, "A"), Typed("turn", {"to": "7.750"}, "B")))
TICKS = {"key_out": "yes", "turned_by_hand": "yes"}


def in_the_rack(shop: LiveShop, pieces: int = 2) -> JobFacts:
    """A job agreed and weighed in, with cuts on both sides."""
    job = floor.in_the_rack(shop, pieces)
    with shop.database.writing() as db:
        makers.keep_cuts(db, shop.maker, job, BOTH)
    for n in range(1, pieces + 1):
        floor.weigh(shop, job, n, reading="26.5")
    return job


def holds(shop: LiveShop, job: JobFacts, **told: str) -> dict[str, str]:
    """What the form of the plan sends."""
    with shop.database.reading() as db:
        (one,) = chuck.sides(db, job.id)
    names = {f"hold_{one.variant_id}_A": "inside of the rim", f"hold_{one.variant_id}_B": "turned outside"}
    return {**names, f"first_{one.variant_id}": "A", "unit": "in", **told}


def planned(shop: LiveShop, pieces: int = 2, **told: str) -> JobFacts:
    """The same with its settings."""
    job = in_the_rack(shop, pieces)
    assert shop.post(f"/jobs/{job.no}/run", **holds(shop, job, **told)).status_code == 303
    return job


def act(shop: LiveShop, job: JobFacts, what: str, setting: int = 1, **told: Any) -> httpx.Response:
    """Send one of a card's forms, for the first piece if no other is told."""
    where = f"/jobs/{job.no}/run/{setting}" + (f"/{what}" if what else "")
    return shop.post(where, **{"piece": "1", **told})


def ticks(shop: LiveShop, job: JobFacts, n: int = 1, setting: int = 1) -> set[str]:
    with shop.database.reading() as db:
        return set(chuck.setting(db, job.id, setting).of(n).ticks)


def running(shop: LiveShop) -> clock.ClockFacts | None:
    with shop.database.reading() as db:
        return clock.running(db, shop.by)


def card(shop: LiveShop, job: JobFacts, setting: int = 1, **query: str) -> str:
    answer = shop.get(f"/jobs/{job.no}/run/{setting}", **query)
    assert answer.status_code == 200
    return answer.text


def test_settings_are_planned_and_say_what_they_save(shop: LiveShop) -> None:
    job = in_the_rack(shop)
    asked = floor.shown(shop.get(f"/jobs/{job.no}/run").text)
    assert "How is it held?" in asked
    assert f"{job.no}-1, {job.no}-2" in asked
    assert shop.post(f"/jobs/{job.no}/run", **holds(shop, job)).headers["location"] == f"/jobs/{job.no}/run"
    page = shop.get(f"/jobs/{job.no}/run").text
    words = floor.shown(page)
    assert "One re-set of the jaws; piece by piece it would be 3." in words
    assert "Hold inside of the rim" in words
    assert floor.main_acts(page) == [f"Setting 1, piece {job.no}-1"]
    for caution in ("key out of the chuck", "iron dust", "rules of your shop"):
        assert caution in words
    assert "safe" not in words.casefold()


def test_without_cuts_the_run_says_what_to_do(shop: LiveShop) -> None:
    job = floor.expected(shop)
    page = shop.get(f"/jobs/{job.no}/run").text
    assert "No cuts are drawn yet." in page
    assert floor.main_acts(page) == ["Draw the cuts"]
    with shop.database.writing() as db:
        bare = makers.make_job(db, shop.maker, pieces=(jobs.PieceAsk(),))
    assert "It is not known yet what the pieces are." in shop.get(f"/jobs/{bare.no}/run").text


def test_a_hold_that_is_not_said_comes_back_with_the_rest(shop: LiveShop) -> None:
    job = in_the_rack(shop)
    told = holds(shop, job)
    empty = next(name for name in told if name.endswith("_B"))
    answer = shop.post(f"/jobs/{job.no}/run", **{**told, empty: "", "speed": "<fast>"})
    assert answer.status_code == 422
    assert "Say how it is held for side B" in answer.text
    assert 'value="inside of the rim"' in answer.text
    assert "&lt;fast&gt;" in answer.text
    assert shop.get(f"/jobs/{job.no}/run/1").status_code == 404


def test_the_last_hold_of_this_kind_is_offered(shop: LiveShop) -> None:
    planned(shop)
    job = in_the_rack(shop)
    assert 'value="inside of the rim"' in shop.get(f"/jobs/{job.no}/run").text


def test_a_card_leads_with_the_trouble_of_last_time(shop: LiveShop) -> None:
    first = planned(shop)
    told = {"words": "Jaw 3 slipped: <wipe> the rim.", "once": "t"}
    for _ in range(2):
        answer = shop.client.post(
            f"/jobs/{first.no}/run/1/trouble", data={"piece": "1", **told}, headers={"Origin": shop.origin},
            files={"photo": ("a.jpg", cast.PHOTO, "image/jpeg")},
        )  # fmt: skip
        assert answer.headers["location"] == f"/jobs/{first.no}/run/1?piece=1"
    page = card(shop, planned(shop))
    assert "Jaw 3 slipped: &lt;wipe&gt; the rim." in page
    assert page.index("Jaw 3 slipped") < page.index('id="h-hold"')
    with shop.database.reading() as db:
        (note,) = trouble.of_job(db, first.id)
    assert f"/photos/{note.photo_id}/small.jpg" in page


def test_trouble_without_words_is_asked_for(shop: LiveShop) -> None:
    job = planned(shop)
    answer = act(shop, job, "trouble", words=" ")
    assert answer.status_code == 422
    assert "Write what went wrong" in answer.text


def test_the_stop_and_the_passes_are_told_while_they_are_typed(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        machine = equipment.add_machine(db, name="big lathe", dial="diameter", chuck_limit="800", **shop.maker.at())
    job = planned(shop)
    where = f"/jobs/{job.no}/run/2/sums"
    told = {"piece": "1", "back_off": ".020", "extra_feed": ".008", "least": ".010", "most_per_pass": ".070"}
    live = shop.get(where, **told, machine=str(machine), speed="280").text
    words = floor.shown(live)
    assert ".020 − .008 = .012 in clear; least is .010." in words
    assert "On the dial in all, + .125 a pass" in words  # .125 of radius in two passes of .0625
    assert re.findall(r'<b class="fig">([.\d]+)</b></label>', live) == [".125", ".250"]
    assert "134 rpm for 134 wanted." in words
    assert "the chuck bears 800 rpm at most" in words
    assert "<input class" not in live  # a fragment never holds the fields that asked for it
    red = floor.shown(shop.get(where, **{**told, "extra_feed": ".011"}).text)
    assert "under the least of .010. Back off more, or feed less." in red
    half = shop.get(where, piece="1", back_off="abc")
    assert half.status_code == 200
    assert "cannot be read here" in half.text


def test_a_card_holds_its_working_with_its_source(shop: LiveShop) -> None:
    job = planned(shop)
    told = {"back_off": ".020", "extra_feed": ".008", "least": ".010"}
    act(shop, job, "", **told)
    live = floor.shown(shop.get(f"/jobs/{job.no}/run/1/worked", piece="1", **told).text)
    for words in (floor.shown(card(shop, job)), live):
        assert "show the working clear at the stop .012 in" in words
        assert "Common practice, no source" in words


def test_a_card_is_kept_and_a_stop_that_is_too_close_is_not(shop: LiveShop) -> None:
    job = planned(shop)
    kept = act(shop, job, "", back_off=".020", extra_feed=".008", least=".010", feed=".010")
    assert kept.headers["location"] == f"/jobs/{job.no}/run/1?piece=1"
    assert 'name="back_off" value=".020"' in card(shop, job)
    answer = act(shop, job, "", back_off=".020", extra_feed=".011", least=".010")
    assert answer.status_code == 422
    assert 'name="extra_feed" value=".011"' in answer.text
    assert "under the least of .010" in answer.text
    assert 'name="extra_feed" value=".008"' in card(shop, job)


def test_no_tick_is_made_before_it_is_made(shop: LiveShop) -> None:
    job = planned(shop)
    assert not re.search(r'type="checkbox"[^>]* checked', card(shop, job))
    act(shop, job, "start", **TICKS)
    assert "The key is out of the chuck" in floor.shown(card(shop, job))
    second = card(shop, job, piece="2")
    assert re.search(r'name="key_out"', second)
    assert not re.search(r'type="checkbox"[^>]* checked', second)


def test_the_clock_does_not_start_without_both_ticks(shop: LiveShop) -> None:
    job = planned(shop)
    answer = act(shop, job, "start", key_out="yes")
    assert answer.status_code == 422
    assert "Before power, look and tick: turned once by hand" in answer.text
    assert re.search(r'name="key_out" value="yes" checked', answer.text)  # what was ticked stays ticked
    assert (running(shop), ticks(shop, job), floor.piece(shop, job).custody) == (None, set(), "rack")


def test_with_both_ticks_it_starts_once_and_shows_its_minutes(shop: LiveShop) -> None:
    job = planned(shop)
    for _ in range(2):
        answer = act(shop, job, "start", **TICKS, once="s")
        assert answer.headers["location"] == f"/jobs/{job.no}/run/1?piece=1#sums"
    assert floor.piece(shop, job).custody == "chuck"
    shop.later(minutes=12)
    assert "12 min WK, since" in floor.shown(card(shop, job))
    assert "12 min WK" in floor.shown(shop.get(f"/jobs/{job.no}/run/1/clock").text)
    clocked = running(shop)
    assert clocked
    act(shop, job, "stop", clock=str(clocked.id))
    assert running(shop) is None
    assert "12 min by the clock on this setting so far." in floor.shown(card(shop, job))


def test_the_gate_stands_before_the_first_chip(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    with shop.database.writing() as db:
        makers.keep_cuts(db, shop.maker, job, BOTH)
    shop.post(f"/jobs/{job.no}/run", **holds(shop, job))
    answer = act(shop, job, "start", **TICKS)
    assert answer.status_code == 422
    assert "Before the first chip: it was not weighed." in answer.text


def test_a_clock_that_runs_elsewhere_is_asked_about(shop: LiveShop) -> None:
    other, job = planned(shop), planned(shop)
    act(shop, other, "start", **TICKS)
    answer = act(shop, job, "start", **TICKS)
    assert answer.status_code == 422
    assert "Stop it and start here" in answer.text
    act(shop, job, "start", **TICKS, switch="yes")
    clocked = running(shop)
    assert clocked
    assert clocked.job_no == job.no


def test_a_forgotten_clock_asks_how_long_it_was(shop: LiveShop) -> None:
    job, other = planned(shop), planned(shop)
    act(shop, job, "start", **TICKS)
    shop.later(hours=15)
    clocked = running(shop)
    assert clocked
    asked = act(shop, job, "stop", clock=str(clocked.id))
    assert asked.status_code == 422
    assert "How long was it really?" in asked.text
    elsewhere = act(shop, other, "start", **TICKS, switch="yes")
    assert elsewhere.status_code == 422
    assert f'name="clock" value="{clocked.id}"' in elsewhere.text
    told = act(shop, other, "stop", clock=str(clocked.id), minutes="40", said="forgot it")
    assert told.status_code == 303
    assert running(shop) is None


def test_ticks_are_made_without_the_clock_and_taken_back(shop: LiveShop) -> None:
    job = planned(shop)
    assert act(shop, job, "tick", key_out="yes").status_code == 303
    assert ticks(shop, job) == {"key_out"}
    act(shop, job, "tick", back="key_out")
    assert ticks(shop, job) == set()
    none = act(shop, job, "tick")
    assert none.status_code == 422
    assert "Tick what you looked at." in none.text


def test_done_goes_on_to_the_next_piece_and_the_next_setting(shop: LiveShop) -> None:
    job = planned(shop)
    went = []
    for setting, n in ((1, 1), (1, 2), (2, 1), (2, 2)):
        act(shop, job, "start", setting, piece=str(n), **TICKS)
        page = card(shop, job, setting, piece=str(n))
        went.append(floor.main_acts(page))
        answer = act(shop, job, "done", setting, piece=str(n))
    assert went == [[f"Done, next piece: {job.no}-2"], ["Done, next setting: 2"], [f"Done, next piece: {job.no}-2"],
                    ["Done here"]]  # fmt: skip
    assert answer.headers["location"] == f"/jobs/{job.no}"
    words = floor.shown(shop.get(f"/jobs/{job.no}/run").text)
    assert "Every piece is done in every setting." in words
    assert "A piece is done in one of these settings, so the plan stands." in words
    late = shop.post(f"/jobs/{job.no}/run", **holds(shop, job))
    assert late.status_code == 409
    act(shop, job, "done", 2, piece="2", undo="yes")
    assert f"Setting 2, piece {job.no}-2" in shop.get(f"/jobs/{job.no}/run").text


def test_the_job_leads_to_its_run(shop: LiveShop) -> None:
    job = planned(shop)
    page = shop.get(f"/jobs/{job.no}").text
    assert f'href="/jobs/{job.no}/run"' in page
    act(shop, job, "start", **TICKS)
    assert floor.main_acts(shop.get(f"/jobs/{job.no}").text) == [f"Run: setting 1, {job.no}-1"]


def test_a_setting_or_piece_that_is_not_there_is_not_found(shop: LiveShop) -> None:
    job = planned(shop)
    assert shop.get(f"/jobs/{job.no}/run/7").status_code == 404
    assert act(shop, job, "done", piece="9").status_code == 404


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_every_field_shows_its_unit(shop: LiveShop, unit: str) -> None:
    job = planned(shop, unit=unit)
    page = card(shop, job)
    assert f'<span class="unit">{unit}</span>' in page
    assert ("m/min" if unit == "mm" else "ft/min") in page


def test_a_shop_without_a_machine_is_led_to_enter_one(shop: LiveShop) -> None:
    job = planned(shop)
    assert 'href="/book/machines">Enter a machine</a>' in card(shop, job)
    with shop.database.writing() as db:
        equipment.add_machine(db, name="long lathe", dial="radius", chuck_limit="1200", **shop.maker.at())
    assert "Enter a machine" not in card(shop, job)
