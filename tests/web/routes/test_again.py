"""Same again by one press; what was seen, weighed or measured then is not copied."""

from shopapp.office import condition, cutting, jobs, photos
from tests import makers
from tests.web.conftest import LiveShop
from tests.web.routes import floor


def test_the_rail_leads_to_the_customer_and_the_customer_to_the_same_again(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        old = makers.finished_job(db, shop.maker)
    assert f'href="/customers/{old.customer_id}"' in shop.get("/").text
    page = shop.get(f"/customers/{old.customer_id}").text
    assert f'action="/jobs/{old.no}/same-again"' in page
    assert floor.main_acts(page) == [f"Same again: {old.title}"]


def test_one_press_opens_it_and_leads_to_the_taking_in(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        old = makers.finished_job(db, shop.maker)
    answers = [shop.post(f"/jobs/{old.no}/same-again", once="a") for _ in range(2)]
    assert {answer.headers["location"] for answer in answers} == {f"/jobs/{old.no + 1}/in"}
    with shop.database.reading() as db:
        new = jobs.by_no(db, old.no + 1)
        pieces = jobs.pieces(db, new.id)
        assert [piece.custody for piece in pieces] == ["expected", "expected"]
        assert cutting.plan(db, new.id, pieces[0].variant_id or 0) is not None
        assert not photos.of_job(db, new.id)
        assert condition.standing(db, pieces[0].id)[0].answer == "not_looked"


def test_a_job_without_pieces_cannot_be_done_again(shop: LiveShop) -> None:
    job = floor.expected(shop, pieces=0)
    answer = shop.post(f"/jobs/{job.no}/same-again")
    assert answer.status_code == 409
    assert f"Job {job.no} has no piece to be done again." in answer.text


def test_a_customer_without_a_job_gets_a_new_one_only(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        customer = makers.make_customer(db, shop.maker)
    assert floor.main_acts(shop.get(f"/customers/{customer}").text) == ["New job"]
