"""What the desk of the invented shop has agreed, written, handed over and shown somebody new."""

from concurrent.futures import ThreadPoolExecutor
from datetime import date

import anyio
import httpx
import pytest
from sqlmodel import Session

from shopapp import app
from shopapp.demo import telling
from shopapp.office import agreements, customers, handover, jobs, papers, quotes, shelf, shopbook, weighing
from shopapp.office.database import Database
from tests.demo.conftest import NOW

WHEELS = {1161: 2, 1170: 1, 1177: 2, 1183: 1, 1189: 2}
CARRIERS = {1163: 4, 1180: 6}


def customer_of(db: Session, no: int) -> int:
    return jobs.by_no(db, no).customer_id


@pytest.mark.parametrize("no", [*WHEELS, *CARRIERS])
def test_a_price_agreed_on_is_found_by_its_dates_and_not_typed(db: Session, no: int) -> None:
    (quote,) = quotes.of_job(db, jobs.by_no(db, no).id)
    each = {one.id: one.cents_each for one in agreements.of_customer(db, customer_of(db, no))}
    held = quote.pricing.held
    assert held is not None
    assert quote.pricing.agreed_each == ""
    assert each[held.agreement_id] == (13800 if no in WHEELS else 6200)
    assert quote.net_cents == each[held.agreement_id] * {**WHEELS, **CARRIERS}[no]


def test_three_carriers_are_dearer_each_than_four(db: Session) -> None:
    job = jobs.by_no(db, 1163)
    (quote,) = quotes.of_job(db, job.id)
    sheet = quote.pricing.__class__(settings=quote.pricing.settings)
    told = quotes.at_counts(db, job_id=job.id, typed=sheet, day=date(2025, 10, 9), counts=(3, 4))
    assert {n: priced.totals.net_cents for n, priced in told.items()} == {3: 3 * 7400, 4: 4 * 6200}


def test_after_the_last_day_the_owner_is_told_that_the_agreement_ended(db: Session) -> None:
    job = jobs.by_no(db, 1189)
    assert agreements.for_job(db, job.id, day=date(2026, 6, 30), count=2).agreement is not None
    late = agreements.for_job(db, job.id, day=date(2026, 7, 1), count=2)
    assert late.agreement is None
    assert "ended on 2026-06-30" in late.notice


def test_the_shelves_of_the_customers_follow_from_what_left(db: Session) -> None:
    told = {
        one.name: {row.variant: row.count for row in shelf.tally(db, one.id)} for one in customers.listing(db, most=200)
    }
    assert {name: rows for name, rows in told.items() if rows} == {
        "Snickerby Sawmill": {"six-pocket": 1, "eight-pocket": 1},  # three wheels left for it, one was used
        "Fenlatch Grain Growers": {"short foot": 1, "1-1/8 in bore": 1},
        "Mottlebury Pottery School": {"three-pin": 1},
        "Humblewhey Creamery": {"shouldered": 1},
        "Thistlewump County Road Garage": {"right": 1},
    }


def test_a_paper_has_the_words_of_its_day(db: Session) -> None:
    old, new = (papers.sheet(db, "ready", number)[0].phrases for number in ("1161-R1", "1185-R1"))
    assert any("the shelf is short" in words for words in old)
    assert any("free for 30 days" in words for words in new)
    assert not any("the shelf is short" in words for words in new)


def test_sleeves_fetched_one_at_a_time_were_signed_for_twice(db: Session) -> None:
    kept = [paper for paper in papers.of_job(db, jobs.by_no(db, 1168).id) if paper.kind == "hand_over"]
    sheets = [papers.sheet(db, "hand_over", paper.number)[0] for paper in kept]
    assert [len(sheet.pieces) for sheet in sheets] == [1, 1]
    assert all(sheet.how == "signed" and sheet.signature.startswith("M") for sheet in sheets)


def test_calls_say_when_to_try_next(db: Session) -> None:
    waiting = {one.job_no: one.next_on for one in handover.uncollected(db, now=NOW)}
    assert waiting == {1173: date(2026, 2, 16), 1180: date(2026, 4, 1), 1185: None}


def test_letters_labels_and_reminders_were_written(db: Session) -> None:
    of_jobs = {(paper.kind, paper.number) for no in (1161, 1173, 1174, 1182)
               for paper in papers.of_job(db, jobs.by_no(db, no).id)}  # fmt: skip
    assert {("label", "1161-S1"), ("letter", "1173-L1"), ("spoiled", "1174-2-X1"), ("question", "1182-Q1")} <= of_jobs
    kinds = {no: {paper.kind for paper in papers.of_customer(db, customer_of(db, no))} for no in (1163, 1173, 1177)}
    assert kinds == {1163: {"statement"}, 1173: {"reminder"}, 1177: {"reminder"}}


def test_a_weight_written_against_the_wrong_tag_is_looked_at_again_while_it_is_typed(db: Session) -> None:
    platform = next(scale.id for scale in shopbook.scales(db) if scale.name == "platform")
    told = weighing.judge(db, piece=jobs.piece(db, 1177, 1), scale_id=platform, phase="after", typed="17.4")
    assert told.verdict == "look again"
    assert len(told.explained) > 1


def test_what_to_try_opens(story: Database) -> None:
    async def walk() -> list[int]:
        inside = httpx.ASGITransport(app=app.build(story, clock=lambda: NOW))
        async with httpx.AsyncClient(transport=inside, base_url="http://127.0.0.1") as browser:
            return [(await browser.get(line.split(":")[0])).status_code for line in telling.TO_TRY]

    # In a thread of its own: a browser's test leaves its loop running in this one.
    with ThreadPoolExecutor(1) as pool:
        assert pool.submit(anyio.run, walk).result() == [200, 200, 200]


def test_the_receipt_at_the_door_has_the_verdict_and_the_sum_of_the_bill(db: Session) -> None:
    door, bill = papers.sheet(db, "hand_over", "1165-H1")[0], papers.sheet(db, "invoice", "706")[0]
    assert [(piece.scale_words, piece.verdict) for piece in door.pieces] == [
        ("bench dial, shows 0.5 lb", "scale too coarse")
    ] * 2  # fmt: skip
    assert all(row.endswith("by the drawing 0.792 lb: scale too coarse") for row in bill.pieces)
    part, asked = papers.sheet(db, "hand_over", "1180-H1")[0], papers.sheet(db, "invoice", "720")[0]
    assert (part.due_text, asked.totals.total_cents) == ("job 1180: To pay: $263.50", 26350)
