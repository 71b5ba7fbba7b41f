"""Taking in: every piece of a job on one page, and the papers in one go."""

import re
from typing import Any

import httpx

from shopapp.office import condition, history, papers, parts, people, photos, sizes
from shopapp.office.jobs import JobFacts
from tests import cast, makers
from tests.papers.reading import text_of
from tests.web.conftest import LiveShop
from tests.web.routes import floor

A_PHOTO = ("image.jpg", cast.PHOTO, "image/jpeg")


def send(shop: LiveShop, job: JobFacts, files: dict[str, Any] | None = None, **typed: Any) -> httpx.Response:
    """Send the page as the browser does, with the button that prints."""
    return shop.client.post(
        f"/jobs/{job.no}/in/print", data=typed, files=files or {"none": ("", b"")}, headers={"Origin": shop.origin}
    )  # fmt: skip


def both(shop: LiveShop, job: JobFacts) -> dict[str, Any]:
    """Both signs chosen, and where they go."""
    sign = floor.sign_of(shop, job)
    return {f"sign_{n}": sign for n in (1, 2)} | {f"goes_to_{n}": "machine" for n in (1, 2)}


def test_nothing_but_the_destination_is_chosen_beforehand(shop: LiveShop) -> None:
    job = floor.expected(shop)
    page = shop.get(f"/jobs/{job.no}/in").text
    assert 'name="sign_1"' in page
    checked = [line for line in page.split("<input") if " checked" in line.partition(">")[0]]
    assert all('value="not_looked"' in line for line in checked)
    assert len(checked) == 2 * len(condition.WORDS)
    assert 'name="machine_1" value="press 1"' in page


def test_both_pieces_come_in_and_the_papers_are_one_pdf(shop: LiveShop) -> None:
    job = floor.expected(shop)
    answer = send(shop, job, place_1="B1", place_2="B2", **both(shop, job))
    assert answer.headers["location"] == f"/jobs/{job.no}/in/{job.no}-T1.pdf"
    assert [floor.piece(shop, job, n).custody for n in (1, 2)] == ["rack", "rack"]
    assert floor.piece(shop, job, 2).place == "B2"
    pdf = shop.get(answer.headers["location"])
    text = text_of(pdf.content)
    for words in (f"Stub {job.no}", f"Tags {job.no}", f"Job ticket {job.no}", "no value declared", "crack test"):
        assert words in text
    again = shop.client.get(answer.headers["location"], headers={"If-None-Match": pdf.headers["etag"]})
    assert again.status_code == 304
    assert f"/jobs/{job.no}/in/{job.no}-T1.pdf" in shop.get(f"/jobs/{job.no}/in").text


def test_the_codes_lead_to_the_host_that_was_asked(shop: LiveShop) -> None:
    job = floor.expected(shop)
    send(shop, job, **both(shop, job))
    with shop.database.reading() as db:
        tags = papers.sheet(db, "tags", f"{job.no}-T1")[0]
    assert tags.tags[0].address == f"{shop.origin}/pieces/{job.no}-1"  # type: ignore[union-attr]
    assert shop.get(f"/pieces/{job.no}-1").headers["location"] == f"/jobs/{job.no}/1/weigh"


def test_photos_condition_and_what_came_along_go_with_the_piece(shop: LiveShop) -> None:
    job = floor.expected(shop)
    typed = {
        "cracked_1": "no", "chipped_1": "yes", "damage_words_1": "chip at the rim", "bits_1": "key\ntwo set screws",
        "declared_1": "1,200", "risk_1": "customer",
    }  # fmt: skip
    files = {"front_1": A_PHOTO, "damage_1": ("x.jpg", cast.a_photo(colour="red"), "image/jpeg"), "edge_2": ("", b"")}
    assert send(shop, job, files, **both(shop, job), **typed).status_code == 303
    piece = floor.piece(shop, job)
    with shop.database.reading() as db:
        assert [(one.what, one.said) for one in photos.of_piece(db, piece.id)] == [
            ("intake", "front"), ("damage", "chip at the rim"),
        ]  # fmt: skip
        assert [fact.answer for fact in condition.standing(db, piece.id)][:3] == ["no", "yes", "not_looked"]
        assert [bit.words for bit in condition.bits_of(db, [piece.id])] == ["key", "two set screws"]
        worth = condition.declared(db, piece.id)
        assert worth is not None
        assert (worth.cents, worth.risk) == (120000, "customer")
        assert not photos.of_piece(db, floor.piece(shop, job, 2).id)


def test_a_piece_that_is_not_here_yet_may_wait(shop: LiveShop) -> None:
    job = floor.expected(shop)
    assert send(shop, job, sign_2=floor.sign_of(shop, job), goes_to_2="shelf").status_code == 303
    assert [floor.piece(shop, job, n).custody for n in (1, 2)] == ["expected", "rack"]


def test_without_any_sign_nothing_comes_in(shop: LiveShop) -> None:
    job = floor.expected(shop)
    answer = send(shop, job, place_1="B <3>")
    assert answer.status_code == 422
    assert 'id="f-sign_1-problem"' in answer.text
    assert 'value="B &lt;3&gt;"' in answer.text
    with shop.database.reading() as db:
        assert not papers.of_job(db, job.id)


def test_what_is_told_of_a_piece_wants_its_sign(shop: LiveShop) -> None:
    job = floor.expected(shop)
    answer = send(shop, job, sign_1=floor.sign_of(shop, job), goes_to_1="machine", cracked_2="yes")
    assert answer.status_code == 422
    assert 'id="f-sign_2-problem"' in answer.text
    assert floor.piece(shop, job).custody == "expected"


def test_every_problem_is_told_at_once_and_nothing_is_half_written(shop: LiveShop) -> None:
    job = floor.expected(shop)
    typed = {"declared_1": "lots <b>", "risk_1": "customer", "came_at": ""}
    broken = ("image.jpg", cast.PHOTO[:200], "image/jpeg")
    answer = send(shop, job, {"front_2": broken}, **both(shop, job), **typed)
    assert answer.status_code == 422
    assert "lots &lt;b&gt;" in answer.text
    assert 'id="f-declared_1-problem"' in answer.text
    assert f'<a href="#f-front_2">{job.no}-2: ' in answer.text
    assert f'<a href="#f-declared_1">{job.no}-1: ' in answer.text
    assert floor.piece(shop, job).custody == "expected"


def test_what_one_piece_wants_is_not_told_of_the_next_as_well(shop: LiveShop) -> None:
    job = floor.expected(shop)
    typed = {**both(shop, job), "goes_to_1": "", "goes_to_2": ""}
    answer = send(shop, job, {}, **typed)
    assert answer.status_code == 422
    assert set(re.findall(r'href="#f-(\w+)"', answer.text)) == {"goes_to_1", "goes_to_2"}


def test_a_look_alike_is_said_aloud(shop: LiveShop) -> None:
    job = floor.expected(shop, pieces=1)
    with shop.database.writing() as db:
        lipped = makers.make_variant(db, shop.maker, body=None, **cast.LIPPED)
        sign = parts.variant(db, lipped).signs[0].id
    shop.post(f"/jobs/{job.no}/in", sign_1=sign, goes_to_1="machine")
    assert "Asked for was plain; the sign seen says lipped." in shop.get(f"/jobs/{job.no}/in").text


def test_sent_twice_it_is_written_once(shop: LiveShop) -> None:
    job = floor.expected(shop)
    typed = {**both(shop, job), "once": "in", "bits_1": "key"}
    first, second = (send(shop, job, {"front_1": A_PHOTO}, **typed) for _ in range(2))
    assert first.headers["location"] == second.headers["location"]
    piece = floor.piece(shop, job)
    with shop.database.reading() as db:
        assert len(condition.bits_of(db, [piece.id])) == len(photos.of_piece(db, piece.id)) == 1
        assert len([paper for paper in papers.of_job(db, job.id) if paper.kind == "stub"]) == 1


def test_who_wrote_meanwhile_is_told(shop: LiveShop) -> None:
    job = floor.expected(shop)
    piece = floor.piece(shop, job)
    with shop.database.writing() as db:
        seen = history.newest_of_piece(db, piece.id)
        other = people.add(db, **cast.SECOND, now=shop.now, by=shop.by)
        told = {"name": "web", "typed": "1.5", "unit": "in", "instrument": "caliper"}
        sizes.measure(db, piece_id=piece.id, **told, now=shop.now, by=other)
    answer = send(shop, job, **both(shop, job), seen=str(seen))
    assert answer.status_code == 409
    assert "OT at 4 Mar 2031" in answer.text
    assert floor.piece(shop, job).custody == "expected"


def test_what_came_in_earlier_is_entered_late(shop: LiveShop) -> None:
    job = floor.expected(shop, pieces=1)
    typed = {"sign_1": floor.sign_of(shop, job), "goes_to_1": "machine"}
    assert send(shop, job, **typed, came_at="2031-03-05T09:00").status_code == 422
    assert send(shop, job, **typed, came_at="in the morning").status_code == 422
    assert send(shop, job, **typed, came_at="2031-03-04T09:00").status_code == 303
    with shop.database.reading() as db:
        stub = papers.sheet(db, "stub", f"{job.no}-T1")[0]
    assert stub.late.startswith("It came in 4 Mar 2031, 09:00")  # type: ignore[union-attr]


def test_a_job_without_pieces_says_what_to_do(shop: LiveShop) -> None:
    job = floor.expected(shop, pieces=0)
    assert "Add a piece" in shop.get(f"/jobs/{job.no}/in").text


def test_one_piece_is_looked_at_on_its_card(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop, pieces=1)
    assert shop.post(f"/jobs/{job.no}/1/look", bent="yes").headers["location"] == f"/jobs/{job.no}/1#look"
    assert shop.post(f"/jobs/{job.no}/1/look", bent="perhaps").status_code == 422
    with shop.database.reading() as db:
        found = {fact.word: fact.answer for fact in condition.standing(db, floor.piece(shop, job).id)}
    assert (found["bent"], found["cracked"], found["rusted"]) == ("yes", "no", "not_looked")


def test_what_came_along_is_written_on_its_card(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop, pieces=1)
    assert shop.post(f"/jobs/{job.no}/1/came-along", bits="key", risk="shop").status_code == 303
    words = floor.shown(shop.get(f"/jobs/{job.no}/1").text)
    assert "key." in words
    assert "No value declared; the shop carries the risk." in words
    refused = shop.post(f"/jobs/{job.no}/1/came-along", declared="a lot <i>", risk="shop")
    assert refused.status_code == 422
    assert "a lot &lt;i&gt;" in refused.text


def test_a_blank_ticket_is_printed_for_a_day_without_power(shop: LiveShop) -> None:
    text = text_of(shop.get("/papers/blank.pdf").content)
    assert "Blank" in text
    assert "missing bits" in text.lower()


def test_a_time_to_come_a_missing_sign_and_a_wrong_value_are_told_in_one_round(shop: LiveShop) -> None:
    job = floor.expected(shop)
    typed = {"sign_1": "1", "goes_to_1": "machine", "declared_1": "lots", "risk_1": "shop", "bits_2": "a key"}
    answer = shop.post(f"/jobs/{job.no}/in", **typed, came_at="2031-03-05 09:00")
    named = re.findall(r'<li><a href="#f-(\w+)">', answer.text)
    assert sorted(named) == ["came_at", "declared_1", "sign_2"]
    assert f"{job.no}-2: Look at the piece" in answer.text


def test_a_piece_of_another_kind_is_looked_for_among_all(shop: LiveShop) -> None:
    job = floor.expected(shop, pieces=1)
    with shop.database.writing() as db:
        other = makers.make_part(db, shop.maker, name="idler")
        signs = ["long hub on one side"]
        makers.make_variant(db, shop.maker, part_id=other, name="long hub", body=None, signs=signs)
    assert "long hub on one side" not in shop.get(f"/jobs/{job.no}/in").text
    page = shop.get(f"/jobs/{job.no}/in", all_kinds="yes").text
    assert "long hub on one side" in page
    assert "It is none of these" not in page
    again = shop.post(f"/jobs/{job.no}/in", all_kinds="yes", bits_1="a key").text
    assert "long hub on one side" in again
