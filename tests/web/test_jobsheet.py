"""What the job's sheet gathers: steps as buttons, rings, rows of a form that asks for pieces."""

import re

from shopapp.office import jobs
from shopapp.web.forms import Form
from shopapp.web.jobsheet import piece_ask
from tests import makers
from tests.web.conftest import LiveShop
from tests.web.routes import floor


class Asking:
    """As much of a desk as a form's row looks at."""

    def __init__(self, db: object) -> None:
        self.db = db


def test_a_row_is_read_by_its_mark(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        plain = makers.make_variant(db, shop.maker)
    form = Form(typed={"variant_3": str(plain), "goes_to_3": "shelf", "machine_3": " press "})
    with shop.database.reading() as db:
        assert piece_ask(Asking(db), form, "_3") == jobs.PieceAsk(plain, "shelf", "press")  # type: ignore[arg-type]
        assert piece_ask(Asking(db), form, "_4") == jobs.PieceAsk(None, "machine", "")  # type: ignore[arg-type]
    assert not form.problems


def test_a_step_that_moves_is_a_form_of_its_own_and_no_two_share_a_key(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    for n in (1, 2):
        floor.weigh(shop, job, n, reading="26.5")
    page = shop.get(f"/jobs/{job.no}").text
    keys = re.findall(r'name="once" value="([^"]+)"', page)
    assert page.count('name="to" value="chuck"') == 2
    assert len(keys) == len(set(keys)) > 5
    assert floor.main_acts(page) == [f"{job.no}-1 into the chuck"]


def test_what_lies_too_long_is_shown_as_left_behind(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        job = makers.ready_job(db, shop.maker)
    assert "left behind" not in floor.shown(shop.get(f"/jobs/{job.no}").text)
    shop.later(days=41)
    assert "2 left behind" in floor.shown(shop.get(f"/jobs/{job.no}").text)


def test_every_form_on_the_sheet_comes_back_open_with_its_own_problem(shop: LiveShop) -> None:
    job = floor.expected(shop)
    page = shop.post(f"/jobs/{job.no}/minutes", minutes="soon").text
    opened = re.findall(r'<details class="folded" open><summary>([^<]+)', page)
    assert opened == ["Minutes spent"]


def test_each_cut_variant_shows_its_small_drawing(shop: LiveShop) -> None:
    job = floor.in_the_rack(shop)
    page = shop.get(f"/jobs/{job.no}").text
    assert page.count("<svg xmlns") == 1
    assert f'href="/jobs/{job.no}/cuts/1"' in page
