"""The ask slip, and the job's sheet with its small forms."""

import re

import pytest

from shopapp.office import customers, history, jobs, mishaps, weighing
from tests import makers
from tests.web.conftest import LiveShop
from tests.web.routes import floor

NEW = {"name": "Ysolde", "phone": "555-0333", "title": "skim one disc"}


def known_mill(shop: LiveShop) -> int:
    at = shop.maker
    with shop.database.writing() as db:
        return makers.make_customer(db, at)


def test_a_name_a_phone_and_a_title_are_enough(shop: LiveShop) -> None:
    answer = shop.post("/ask", once="a", keep="ask", **NEW)
    assert answer.status_code == 303
    page = shop.get(answer.headers["location"])
    assert "Ysolde" in page.text
    assert "555-0333" in page.text
    assert '<meta name="saved" content="ask">' in page.text


def test_a_known_caller_is_chosen_and_not_entered_again(shop: LiveShop) -> None:
    mill = known_mill(shop)
    answer = shop.post("/ask", customer=mill, title="two plates", count="0")
    assert answer.status_code == 303
    with shop.database.reading() as db:
        assert [one.id for one in customers.listing(db)] == [mill]
        assert jobs.of_customer(db, mill)[0].title == "two plates"


def test_each_piece_keeps_what_was_asked_and_where_it_goes(shop: LiveShop) -> None:
    at = shop.maker
    with shop.database.writing() as db:
        plain = makers.make_variant(db, at)
    rows = {"count": "2", "variant_0": plain, "goes_to_0": "machine", "machine_0": "press 2", "goes_to_1": "shelf"}
    no = int(shop.post("/ask", **NEW, **rows).headers["location"].rsplit("/", 1)[1])
    with shop.database.reading() as db:
        first, second = jobs.pieces(db, jobs.by_no(db, no).id)
    assert (first.variant_id, first.destination) == (plain, "machine: press 2")
    assert (second.variant_id, second.destination) == (None, "customer's shelf")


def test_a_slip_without_phone_or_with_an_odd_day_says_both_and_keeps_what_was_typed(shop: LiveShop) -> None:
    answer = shop.post("/ask", name="Ysolde <i>", asked='like "before"', count="3", machine_2="mill 4",
                       wanted_by="soon")  # fmt: skip
    assert answer.status_code == 422
    assert "2 things to put right" in answer.text
    for field in ("wanted_by", "phone"):
        assert f'id="f-{field}-problem"' in answer.text
    for typed in ('value="Ysolde &lt;i&gt;"', "like &#34;before&#34;", 'value="mill 4"'):
        assert typed in answer.text
    with shop.database.reading() as db:
        assert not customers.listing(db)


def test_a_name_and_a_phone_are_a_slip_and_the_rest_says_that_it_was_not_asked(shop: LiveShop) -> None:
    answer = shop.post("/ask", name="Ysolde", phone="555-0333")
    assert answer.status_code == 303
    words = floor.shown(shop.get(answer.headers["location"]).text)
    for part in ("not asked yet what is to be done", "no hurry", "no day", "not yet"):
        assert part in words


def test_a_slip_without_a_title_is_called_by_the_first_words_of_what_they_said(shop: LiveShop) -> None:
    said = "two press plates like before, but the one with the lip is worn much deeper\nand a bolt is missing"
    short = "two press plates like before, but the one with the lip is …"
    for asked, title in ((said, short), ("one disc", "one disc")):
        answer = shop.post("/ask", name=f"Ysolde {asked[:3]}", phone="555-0333", asked=asked)
        with shop.database.reading() as db:
            assert jobs.by_no(db, int(answer.headers["location"].split("/")[-1])).title == title


def test_a_refused_slip_leaves_no_customer_behind(shop: LiveShop) -> None:
    answer = shop.post("/ask", **{**NEW, "wanted_by": "Thursday"})
    assert answer.status_code == 422
    assert "year-month-day" in answer.text
    with shop.database.reading() as db:
        assert not customers.listing(db)


def test_a_slip_sent_twice_makes_one_job(shop: LiveShop) -> None:
    first, second = (shop.post("/ask", once="same", **NEW) for _ in range(2))
    assert first.headers["location"] == second.headers["location"]
    with shop.database.reading() as db:
        (only,) = customers.listing(db)
        assert len(jobs.of_customer(db, only.id)) == 1


def test_a_variant_that_is_not_in_the_book_is_refused_at_its_row(shop: LiveShop) -> None:
    answer = shop.post("/ask", **NEW, count="1", variant_0="99")
    assert answer.status_code == 422
    assert 'id="f-variant_0-problem"' in answer.text


@pytest.mark.parametrize("count", ["some", "201", "-1"])
def test_a_count_that_cannot_be_is_refused(shop: LiveShop, count: str) -> None:
    answer = shop.post("/ask", **NEW, count=count)
    assert answer.status_code == 422
    assert f'value="{count}"' in answer.text


def test_nobody_writes_before_saying_who_they_are(shop: LiveShop) -> None:
    shop.client.cookies.delete("who")
    answer = shop.post("/ask", **NEW)
    assert answer.status_code == 422
    assert "Say who you are first" in answer.text
    assert 'value="Ysolde"' in answer.text


def test_typing_part_of_a_name_lists_the_callers_but_not_the_field(shop: LiveShop) -> None:
    known_mill(shop)
    answer = shop.get("/ask/callers", name="cider")
    assert answer.status_code == 200
    assert "Cobbet Cider Mill" in answer.text
    assert 'name="name"' not in answer.text
    assert "Somebody new" in answer.text


def test_changing_the_count_keeps_the_rows_that_were_typed(shop: LiveShop) -> None:
    answer = shop.get("/ask/pieces", count="3", machine_0="press 1", goes_to_1="shelf")
    assert answer.text.count("<fieldset") == 3
    assert 'value="press 1"' in answer.text
    assert 'name="count"' not in answer.text
    whole = shop.get("/ask", count="2", title="skim <x>", machine_1="mill")
    assert 'value="skim &lt;x&gt;"' in whole.text
    assert 'value="mill"' in whole.text


def test_a_count_half_typed_asks_for_nothing(shop: LiveShop) -> None:
    answer = shop.get("/ask/pieces", count="2x")
    assert answer.status_code == 200
    assert answer.text.count("<fieldset") == 1


def test_beside_the_slip_stand_the_callers_last_three_jobs_and_what_came_off_last_time(shop: LiveShop) -> None:
    at = shop.maker
    with shop.database.writing() as db:
        job = makers.finished_job(db, at)
        jobs.spend(db, job_id=job.id, minutes=90, **at.at())
        variant = jobs.piece(db, job.no, 1).variant_id
        older = [makers.make_job(db, at, customer_id=job.customer_id, variant_id=variant).no for _ in range(3)]
    beside = shop.get("/ask/beside", customer=str(job.customer_id), variant_0=str(variant)).text
    assert [f'href="/jobs/{no}"' in beside for no in (job.no, *older)] == [False, True, True, True]
    assert f"last time {job.no}-1 , 4 Mar 2031: 3.5 lb off, 45 min" in floor.shown(beside)
    fold = floor.shown(beside.partition("show the working")[2])
    assert f"{job.no}-1 26.5 lb" in fold
    assert "minutes of the job / its pieces" in fold
    assert "source Common practice, no source" in fold


def test_a_job_shows_its_tracks_its_pieces_and_its_one_next_step(shop: LiveShop) -> None:
    job = floor.expected(shop)
    page = shop.get(f"/jobs/{job.no}").text
    words = floor.shown(page)
    for part in ("asked", "2 expected", "nothing billed", f"{job.no}-1", "press plate, plain"):
        assert part in words
    assert floor.main_acts(page) == ["Draw the cuts"]


def test_a_job_that_is_not_in_the_book_says_so(shop: LiveShop) -> None:
    answer = shop.get("/jobs/77")
    assert answer.status_code == 404
    assert "There is no job 77 in the book." in answer.text


def test_a_struck_weight_stays_readable_on_the_job(shop: LiveShop) -> None:
    at = shop.maker
    job = floor.in_the_rack(shop)
    with shop.database.writing() as db:
        wrong = makers.weigh(db, at, jobs.piece(db, job.no, 1), "before", "36.5")
        weighing.strike(db, reading_id=wrong, reason="wrong circle read", **at.at())
    page = shop.get(f"/jobs/{job.no}").text
    assert re.search(r"<s[^>]*>36\.5 lb</s>", page)
    assert "wrong circle read" in page


def test_twins_and_verdicts_show_their_working(shop: LiveShop) -> None:
    at = shop.maker
    with shop.database.writing() as db:
        job = makers.finished_job(db, at)
    words = floor.shown(shop.get(f"/jobs/{job.no}").text)
    assert "agrees" in words
    assert "show the working" in words
    assert "before 26.5 lb on spring, shows 0.5 lb after 23 lb on spring" in words
    assert "ISO 13528" in words
    assert "Same off both? Yes" in words
    assert "0.000" not in words.split("Same now?")[1][:60]


def test_papers_lead_to_their_print(shop: LiveShop) -> None:
    at = shop.maker
    with shop.database.writing() as db:
        job = makers.ready_job(db, at)
    page = shop.get(f"/jobs/{job.no}").text
    assert f'href="/papers/quote/{job.no}%20A.pdf"' in page
    assert f'href="/papers/ready/{job.no}-R1.pdf"' in page


def test_the_jobs_own_facts_can_be_written_over(shop: LiveShop) -> None:
    job = floor.expected(shop)
    answer = shop.post(f"/jobs/{job.no}", title="skim both", promised_on="2031-03-20", rush="yes", order_number="PO 7")
    assert answer.status_code == 303
    words = floor.shown(shop.get(f"/jobs/{job.no}").text)
    for part in ("skim both", "Thu 20 Mar 2031", "PO 7", "rush"):
        assert part in words


def test_a_job_without_a_title_is_refused_and_keeps_its_typing(shop: LiveShop) -> None:
    job = floor.expected(shop)
    answer = shop.post(f"/jobs/{job.no}", title=" ", asked="new words")
    assert answer.status_code == 422
    assert 'id="f-title-problem"' in answer.text
    assert "new words" in answer.text


def test_a_piece_more_takes_the_next_number(shop: LiveShop) -> None:
    job = floor.expected(shop)
    for _ in range(2):
        assert shop.post(f"/jobs/{job.no}/pieces", once="p", goes_to="shelf").status_code == 303
    assert floor.piece(shop, job, 3).destination == "customer's shelf"
    assert shop.get(f"/jobs/{job.no}/4").status_code == 404


def test_a_piece_that_goes_nowhere_known_is_refused(shop: LiveShop) -> None:
    job = floor.expected(shop)
    answer = shop.post(f"/jobs/{job.no}/pieces", goes_to="moon", machine="press 9")
    assert answer.status_code == 422
    assert 'value="press 9"' in answer.text


def test_minutes_are_added_up(shop: LiveShop) -> None:
    job = floor.expected(shop)
    for typed in ("45", "1h 30"):
        assert shop.post(f"/jobs/{job.no}/minutes", minutes=typed, minutes_words="side A").status_code == 303
    assert "135 min" in floor.shown(shop.get(f"/jobs/{job.no}").text)


@pytest.mark.parametrize("typed", ["", "soon", "25h"])
def test_minutes_that_cannot_be_are_refused_beside_their_field(shop: LiveShop, typed: str) -> None:
    job = floor.expected(shop)
    answer = shop.post(f"/jobs/{job.no}/minutes", minutes=typed, minutes_words="side A")
    assert answer.status_code == 422
    assert 'id="f-minutes-problem"' in answer.text
    assert 'value="side A"' in answer.text


def test_a_job_that_is_not_taken_up_ends_with_its_reason(shop: LiveShop) -> None:
    job = floor.expected(shop)
    answer = shop.post(f"/jobs/{job.no}/end", how="not_taken_up", reason="too dear")
    assert answer.status_code == 303
    page = shop.get(f"/jobs/{job.no}").text
    assert "not taken up" in page
    assert floor.main_acts(page) == []
    with shop.database.reading() as db:
        assert history.of_job(db, job.id)[0].words == "too dear"


@pytest.mark.parametrize(("how", "field"), [("", "how"), ("called_off", "reason")])
def test_an_end_wants_a_kind_and_a_reason(shop: LiveShop, how: str, field: str) -> None:
    job = floor.expected(shop)
    answer = shop.post(f"/jobs/{job.no}/end", how=how, reason="" if how else "moved away")
    assert answer.status_code == 422
    assert f'id="f-{field}-problem"' in answer.text


def test_a_job_under_way_cannot_end_unsaid(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.finished_job(db, shop.maker)
    answer = shop.post(f"/jobs/{job.no}/end", how="called_off", reason="sold the saw")
    assert answer.status_code == 409
    assert "is under way" in answer.text
    assert "sold the saw" in answer.text


def test_what_is_here_uncut_when_a_job_ends_waits_to_be_fetched(shop: LiveShop) -> None:
    job = floor.in_the_chuck(shop)
    assert shop.post(f"/jobs/{job.no}/end", how="not_taken_up", reason="too dear").status_code == 303
    assert [floor.piece(shop, job, n).said for n in (1, 2)] == ["on the pick-up shelf, goes back uncut"] * 2
    assert floor.main_acts(shop.get(f"/jobs/{job.no}").text) == ["Hand over"]
    assert f'href="/jobs/{job.no}/ready#give"' in shop.get("/").text
    assert "2 pieces, 2 uncut" in floor.shown(shop.get("/calls").text)
    assert "by quote" not in shop.get(f"/jobs/{job.no}/ready").text
    taken = {f"piece_{job.no}_{n}": "yes" for n in (1, 2)}
    assert shop.post(f"/jobs/{job.no}/hand-over", taken_by="Marn", known="yes", **taken).status_code == 303
    assert [floor.piece(shop, job, n).said for n in (1, 2)] == ["sent back uncut"] * 2
    assert "Hand-over receipt" in shop.get(f"/jobs/{job.no}/ready").text


def test_each_of_the_callers_last_jobs_says_its_price_its_minutes_and_what_came_off(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.finished_job(db, shop.maker)
        jobs.spend(db, job_id=job.id, minutes=90, **shop.maker.at())
        makers.make_job(db, shop.maker, customer_id=job.customer_id)
    beside = floor.shown(shop.get("/ask/beside", customer=str(job.customer_id)).text)
    # By hand: 70 min at $60.00 an hour for two plates; both were weighed 26.5 and 23 lb.
    told = ("2 × press plate, plain 3.5 lb off", "90 min $70.00, $35.00 each quoted, not billed", "not timed no price")
    for part in told:
        assert part in beside


def test_rush_stands_before_the_button_that_keeps_the_slip(shop: LiveShop) -> None:
    page = shop.get("/ask").text
    assert page.index('name="rush"') < page.index(">Keep it</button>", page.index("ask-what"))


def test_a_known_name_and_phone_are_kept_for_that_customer_with_one_press(shop: LiveShop) -> None:
    old = floor.expected(shop)
    with shop.database.reading() as db:
        known = customers.one(db, old.customer_id)
    typed = {"name": known.name.upper(), "phone": known.phone.replace("-", " "), "title": "skim one more", "count": "1"}
    answer = shop.post("/ask", **typed, variant_0="", goes_to_0="machine")
    assert answer.status_code == 422
    assert f'name="customer" value="{known.id}">Keep it for {known.name}, {known.phone}</button>' in answer.text
    kept = shop.post("/ask", **typed, variant_0="", goes_to_0="machine", customer=str(known.id))
    assert kept.status_code == 303
    with shop.database.reading() as db:
        assert jobs.by_no(db, old.no + 1).customer_id == known.id


def test_pieces_can_be_taken_in_before_the_price_is_agreed(shop: LiveShop) -> None:
    job = floor.expected(shop)
    page = shop.get(f"/jobs/{job.no}").text
    assert floor.main_acts(page) == ["Draw the cuts"]
    assert f'href="/jobs/{job.no}/in">Take in 2 pieces</a>' in page
    assert f'href="/jobs/{job.no}/in#h-1">Take in {job.no}-1</a>' in page
    assert f'href="/jobs/{job.no}/in#h-1">Take it in: photos' in shop.get(f"/jobs/{job.no}/1").text


def test_a_closed_job_promises_no_work(shop: LiveShop) -> None:
    job = floor.in_the_chuck(shop, pieces=1)
    assert "will come off" in shop.get(f"/jobs/{job.no}").text
    shop.post(f"/jobs/{job.no}/1/spoiled", story="it came out of the jaws")
    page = floor.shown(shop.get(f"/jobs/{job.no}").text)
    for words in ("will come off", "One more piece", "Change the cuts", "Settings and cut run"):
        assert words not in page
    assert "Look at the cuts" in page


def test_a_piece_done_again_is_named_on_both_jobs(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        old = makers.ready_job(db, shop.maker)
        first = makers.pieces_of(db, old)[0]
        no = mishaps.rework(db, piece_id=first.id, reason="bore out of line", free=True, **shop.maker.at())
    assert f'href="/jobs/{no}/1">Put right as {no}-1</a>' in shop.get(f"/jobs/{old.no}").text
    assert f'href="/jobs/{old.no}/1">Puts right {old.no}-1</a>' in shop.get(f"/jobs/{no}").text
