"""The form of a bill: its lines follow its ticks, and what somebody typed stays."""

import re

import pytest

from shopapp.office import invoices, jobs, ledger
from shopapp.office.jobs import JobFacts
from tests import makers
from tests.web.conftest import LiveShop

DRAWN = {"line_0_words": "bench time", "line_0_quantity": "70 min", "line_0_price": "60.00", "drawn_for": "1,2"}
"""The lines of two pieces as they are drawn: 40 + 10 + 20 min at $60.00 an hour."""

TYPED = {"line_0_words": "turned both faces", "line_0_quantity": "70 min", "line_0_price": "60.00", "piece_1": "yes",
         "piece_2": "yes"}  # fmt: skip


@pytest.fixture
def job(shop: LiveShop) -> JobFacts:
    """Two pieces, finished, agreed at $70.00 for both and $50.00 for one."""
    with shop.database.writing() as db:
        return makers.ready_job(db, shop.maker)


def bill(shop: LiveShop, job: JobFacts, **typed: str) -> str:
    """What came of a sending: where it leads, or the page."""
    answer = shop.post(f"/jobs/{job.no}/bill", **typed)
    return answer.headers.get("location") or f"{answer.status_code} {answer.text}"


def first_line(page: str) -> str:
    return re.findall(r'name="line_0_quantity" value="([^"]*)"', page)[0]


def drawn_for(page: str) -> str:
    return re.findall(r'name="drawn_for" value="([^"]*)"', page)[0]


def nets(shop: LiveShop) -> list[int]:
    with shop.database.reading() as db:
        return [one.net_cents for one in ledger.newest(db)]


def test_the_page_says_for_which_pieces_its_lines_are(shop: LiveShop, job: JobFacts) -> None:
    page = shop.get(f"/jobs/{job.no}/bill").text
    assert (first_line(page), drawn_for(page)) == ("70 min", "1,2")


@pytest.mark.parametrize(
    ("ticks", "line", "numbers"),
    [({"piece_1": "yes"}, "50 min", "1"), ({"piece_2": "yes"}, "50 min", "2"), ({}, "", "")],
)
def test_lines_that_nobody_touched_follow_the_ticks(
    shop: LiveShop, job: JobFacts, ticks: dict[str, str], line: str, numbers: str
) -> None:
    answer = shop.get(f"/jobs/{job.no}/bill/lines", **DRAWN, **ticks)
    assert (first_line(answer.text), drawn_for(answer.text)) == (line, numbers)
    assert answer.headers["hx-trigger-after-settle"] == "drawn"
    assert "piece_" not in answer.text  # never the field whose change asked for it
    both = shop.get(f"/jobs/{job.no}/bill/lines", piece_1="yes", piece_2="yes", drawn_for=numbers,
                    line_0_words="bench time" if line else "", line_0_quantity=line,
                    line_0_price="60.00" if line else "").text  # fmt: skip
    assert (first_line(both), drawn_for(both)) == ("70 min", "1,2")


def test_lines_that_were_typed_in_stay_and_the_page_says_so(shop: LiveShop, job: JobFacts) -> None:
    typed = {**DRAWN, "line_0_words": "bench time, <late>", "piece_1": "yes"}
    page = shop.get(f"/jobs/{job.no}/bill/lines", **typed).text
    assert (first_line(page), drawn_for(page)) == ("70 min", "1,2")
    assert "bench time, &lt;late&gt;" in page
    assert "drawn for other ticks" in page
    anew = shop.post(f"/jobs/{job.no}/bill", **typed, more="draw").text
    assert (first_line(anew), drawn_for(anew)) == ("50 min", "1")
    assert nets(shop) == []


def test_without_script_the_lines_of_other_ticks_are_not_issued(shop: LiveShop, job: JobFacts) -> None:
    refused = bill(shop, job, **DRAWN, piece_1="yes")
    assert refused.startswith("422")
    assert f"The lines were drawn for {job.no}-1, {job.no}-2, and the ticks say otherwise" in refused
    assert 'id="f-pieces-problem"' in refused
    assert (first_line(refused), drawn_for(refused)) == ("50 min", "1")
    assert nets(shop) == []
    again = {**DRAWN, "line_0_quantity": "50 min", "drawn_for": "1"}
    assert bill(shop, job, **again, piece_1="yes") == "/invoices/501"
    rest = shop.get(f"/jobs/{job.no}/bill").text
    assert "bench time for 1 further piece, 20 min" in rest
    typed = {"line_0_words": "bench time for 1 further piece, 20 min", "line_0_quantity": "1", "line_0_price": "20.00"}
    assert bill(shop, job, **typed, drawn_for="2", piece_2="yes") == "/invoices/502"
    assert sum(nets(shop)) == 7000


def test_typed_lines_of_other_ticks_are_shown_once_and_then_meant(shop: LiveShop, job: JobFacts) -> None:
    typed = {**DRAWN, "line_0_price": "61", "piece_1": "yes"}
    refused = bill(shop, job, **typed)
    assert "You have changed them, so they stay" in refused
    assert (first_line(refused), drawn_for(refused)) == ("70 min", "1")
    assert 'value="61"' in refused
    assert bill(shop, job, **{**typed, "drawn_for": "1"}) == "/invoices/501"


def test_a_bill_for_no_piece_is_refused_and_keeps_what_was_typed(shop: LiveShop, job: JobFacts) -> None:
    for _ in range(2):
        refused = bill(shop, job, **DRAWN)
        assert "Tick the pieces that this bill is for." in refused
        assert first_line(refused) == "70 min"
    assert nets(shop) == []


def test_where_no_quote_was_agreed_ticks_change_no_line(shop: LiveShop) -> None:
    with shop.database.writing() as db:
        by_hand = makers.done_job(db, shop.maker, pieces=2)
    typed = {"line_0_words": "turning", "line_0_price": "12", "drawn_for": "1,2", "piece_2": "yes"}
    assert bill(shop, by_hand, **typed) == "/invoices/501"
    with shop.database.reading() as db:
        (billed,) = invoices.billed(db, by_hand.id)
        assert [piece.n for piece in jobs.pieces(db, by_hand.id) if piece.id == billed] == [2]


def test_the_sums_follow_the_typing(shop: LiveShop, job: JobFacts) -> None:
    text = shop.get(f"/jobs/{job.no}/bill/sums", **{**TYPED, "line_1_words": "two bushes", "line_1_quantity": "2",
                                                    "line_1_price": "9.25"}).text  # fmt: skip
    for words in ("$18.50", "$88.50", "$4.43", "$92.93"):  # by hand; 5 % of 88.50 is 4.425, half up
        assert words in text
    assert "<input" not in text


def test_a_half_typed_line_is_a_hint_and_no_error(shop: LiveShop, job: JobFacts) -> None:
    answer = shop.get(f"/jobs/{job.no}/bill/sums", line_0_words="turning", line_0_price="6o")
    assert answer.status_code == 200
    assert "No sum yet" in answer.text


def test_one_more_line_keeps_the_text_and_issues_nothing(shop: LiveShop, job: JobFacts) -> None:
    answer = shop.post(f"/jobs/{job.no}/bill", **TYPED, line_1_words="", more="line")
    assert answer.status_code == 200
    assert 'name="line_2_words"' in answer.text
    assert "turned both faces" in answer.text
    assert nets(shop) == []
