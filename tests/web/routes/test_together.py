"""The strip for alike pieces at once: judged while typed, written once for all, struck for all, no single reading."""

from typing import Any

import httpx

from shopapp.office import jobs, together
from shopapp.office.jobs import JobFacts
from shopapp.office.together import Jointly
from tests import makers
from tests.web.conftest import LiveShop
from tests.web.routes import floor


def weigh(shop: LiveShop, job: JobFacts, n: int = 1, *, scale: str = "spring", **told: Any) -> httpx.Response:
    """Send the strip's form as its page gives it, for all pieces of the job."""
    typed = {"phase": "before", "scale": shop.maker.scales[scale], "pieces": ids(shop, job), **told}
    return shop.post(f"/jobs/{job.no}/{n}/weigh-together", **typed)


def ids(shop: LiveShop, job: JobFacts) -> list[int]:
    with shop.database.reading() as db:
        return [piece.id for piece in jobs.pieces(db, job.id)]


def jointly(shop: LiveShop, job: JobFacts, n: int = 1) -> Jointly:
    with shop.database.reading() as db:
        piece = jobs.piece(db, job.no, n)
        return together.of_pieces(db, [piece])[piece.id]


def shown(shop: LiveShop, job: JobFacts, path: str = "weigh-together", n: int = 1) -> str:
    return floor.shown(shop.get(f"/jobs/{job.no}/{n}/{path}").text)


def test_the_weigh_page_of_a_piece_with_a_twin_leads_to_both_at_once(shop: LiveShop) -> None:
    job, alone = floor.in_the_rack(shop), floor.in_the_rack(shop, pieces=1)
    page = shop.get(f"/jobs/{job.no}/1/weigh").text
    assert f'href="/jobs/{job.no}/1/weigh-together"' in page
    assert "Weigh in both at once" in page
    assert "weigh-together" not in shop.get(f"/jobs/{alone.no}/1/weigh").text
    assert "Weigh it on its own" in shown(shop, alone)


def test_one_number_is_written_down_for_both_and_for_neither_alone(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    strip = shown(shop, job)
    assert f"weigh in, both at once {job.no}-1 and {job.no}-2" in strip
    assert "each still wants a weight of its own" in strip
    answer = weigh(shop, job, reading="53", zero_seen="yes")
    assert answer.headers["location"] == f"/jobs/{job.no}/1/weigh"
    for n in (1, 2):
        before = jointly(shop, job, n).before
        assert before is not None
        assert (before.text, before.zero_seen) == ("53 lb", True)
        assert floor.weights(shop, job, n).before is None
        assert f"{job.no}-1 and {job.no}-2 at once 53 lb → …" in shown(shop, job, "weigh", n)


def test_sent_twice_it_is_written_once(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    first, second = (weigh(shop, job, reading="53", once="both") for _ in range(2))
    assert first.headers["location"] == second.headers["location"]
    assert weigh(shop, job, reading="53", once="other").status_code == 422


def test_the_verdict_on_the_average_is_said_live_and_stands_on_strip_and_card(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    weigh(shop, job, reading="53")
    live = shop.get(f"/jobs/{job.no}/2/weigh-together/judge", phase="after", scale="1", reading="46.5")
    assert live.status_code == 200
    assert "On the average 3.25 lb ±0.20 lb came off each" in floor.shown(live.text)
    assert "<input" not in live.text
    assert "Weigh out both at once" in shown(shop, job, "weigh")
    assert "53 lb →" in shown(shop, job)
    weigh(shop, job, 2, phase="after", reading="46.5")
    assert "Weigh out both at once" not in shown(shop, job, "weigh")
    for page in (shown(shop, job), shown(shop, job, "weigh"), floor.shown(shop.get(f"/jobs/{job.no}/2").text)):
        assert "53 lb → 46.5 lb = −6.5 lb , 3.25 lb ±0.20 lb each" in page
        assert "agrees. On the average 3.25 lb" in page
    card = floor.shown(shop.get(f"/jobs/{job.no}/1").text)
    assert "before, 2 at once 53 lb" in card
    assert f"after, {job.no}-1 and {job.no}-2 at once: 46.5 lb on spring" in card


def test_a_refused_number_comes_back_with_every_word(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    answer = weigh(shop, job, reading="53.3", note="in <the> box")
    assert answer.status_code == 422
    assert 'id="f-reading-problem"' in answer.text
    assert 'value="53.3"' in answer.text
    assert 'value="in &lt;the&gt; box"' in answer.text
    assert jointly(shop, job) == Jointly()
    bare = shop.post(f"/jobs/{job.no}/1/weigh-together", phase="before", reading="53", pieces=ids(shop, job))
    assert "Choose the scale that the pieces lie on." in bare.text


def test_a_wrong_one_is_struck_through_and_the_strip_asks_anew(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    weigh(shop, job, reading="43")
    wrong = jointly(shop, job).before
    assert wrong is not None
    path = f"/jobs/{job.no}/2/weigh-together/strike"
    bare = shop.post(path, struck=wrong.id)
    assert bare.status_code == 422
    assert 'id="f-reason-problem"' in bare.text
    assert "Choose the reading that is wrong." in shop.post(path, struck="99", reason="x").text
    answer = shop.post(path, struck=wrong.id, reason="wrong circle <read>")
    assert answer.headers["location"] == f"/jobs/{job.no}/2/weigh-together"
    page = shop.get(answer.headers["location"]).text
    assert '<s class="fig">43 lb</s>' in page
    assert "wrong circle &lt;read&gt;" in page
    assert weigh(shop, job, reading="53").status_code == 303
    assert "struck through: wrong circle" in floor.shown(shop.get(f"/jobs/{job.no}/1").text)


def test_after_the_first_chip_there_is_nothing_to_take_it_from(shop: LiveShop) -> None:
    job = floor.in_the_chuck(shop)
    assert "weigh-together" not in shop.get(f"/jobs/{job.no}/1/weigh").text
    assert "They were not weighed at once before the cuts" in shown(shop, job)
    assert weigh(shop, job, phase="after", reading="46.5").status_code == 422


def test_one_that_left_meanwhile_leaves_the_weight_after_to_each(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    weigh(shop, job, reading="53")
    assert shop.post(f"/jobs/{job.no}/2/send-back", reason="cracked").status_code == 303
    assert "so the weight after is taken of each" in shown(shop, job)
    assert weigh(shop, job, phase="after", reading="46.5").status_code == 409


def test_who_wrote_of_the_twin_meanwhile_is_told(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    page = shop.get(f"/jobs/{job.no}/1/weigh-together").text
    seen = page.partition('name="seen" value="')[2].partition('"')[0]
    with shop.database.writing() as db:
        twin = makers.pieces_of(db, job)[1]
        makers.weigh(db, makers.Shop(1, shop.maker.scales), twin, "before", "26.5")
    answer = weigh(shop, job, reading="53", seen=seen)
    assert answer.status_code == 409
    assert "Send it all the same" in answer.text


def test_read_on_paper_it_is_entered_late(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    assert weigh(shop, job, reading="53", at="2031-03-04T13:00").status_code == 422
    assert weigh(shop, job, reading="53", at="2031-03-04T09:30").status_code == 303
    before = jointly(shop, job).before
    assert before is not None
    assert (before.note, before.at.hour) == ("entered late, 2031-03-04 12:00", 13)
