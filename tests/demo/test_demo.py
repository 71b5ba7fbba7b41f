"""The invented shop shows what it was made up to show, by the office's own sums, on any day."""

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from sqlmodel import Session

from shopapp.bench import weighing as bench
from shopapp.demo import kinds
from shopapp.demo.days import ZONE
from shopapp.office import (
    customers,
    cutting,
    handover,
    history,
    jobs,
    ledger,
    parts,
    payments,
    questions,
    quotes,
    rail,
    shopbook,
    sizes,
    standing,
    twins,
    weighing,
)
from shopapp.office.database import Database
from shopapp.office.errors import TryAgain
from shopapp.office.invoices import issue
from shopapp.office.invoices_lines import LineTyped
from shopapp.office.tracks import STATES, PieceAt, state_of
from tests.demo.conftest import NOW
from tests.demo.expected import AGES, JOBS, OFF, PIECES

VARIANTS = {(kind.name, one.name): one.key for kind in kinds.KINDS for one in kind.variants}
WORK = {
    "asked", "quoted", "agreed, part not here yet", "agreed, not started", "at the bench",
    "stopped, waiting on the customer", "stopped, waiting on material", "checked", "closed", "not taken up",
    "called off",
}  # fmt: skip
DAYS = [
    datetime(2028, 2, 29, 15, tzinfo=UTC),  # a leap day
    datetime(2026, 12, 31, 23, 30, tzinfo=UTC),  # the last day of a year
    datetime(2027, 7, 5, 3, tzinfo=UTC),  # still July 4 at the shop, and its clock an hour on
]


def money(db: Session, no: int, now: datetime = NOW) -> tuple[int, int, int]:
    """Total, paid and due of a job: what was billed less what was taken back, else what the newest quote says."""
    job_id = jobs.by_no(db, no).id
    bills = [bill for bill in ledger.of_job(db, job_id) if not bill.void_on]
    paid = sum(one.cents for one in payments.of_job(db, job_id))
    if bills:
        total = sum(bill.total_cents - bill.credited_cents for bill in bills)
        return total, paid, standing.of_job(db, job_id, now=now).due_cents
    quoted = quotes.of_job(db, job_id)
    return (quoted[-1].total_cents if quoted else 0), paid, 0


def where(db: Session, piece: jobs.PieceFacts) -> str:
    zone, days = ZoneInfo(ZONE), shopbook.the_shop(db).left_behind_days
    at = PieceAt(piece.custody, piece.moved_at.astimezone(zone).date(), piece.fate)
    return STATES[state_of(at, NOW.astimezone(zone).date(), days)]


def every_piece(db: Session) -> list[jobs.PieceFacts]:
    return [piece for no in JOBS for piece in jobs.pieces(db, jobs.by_no(db, no).id)]


@pytest.mark.parametrize("no", JOBS)
def test_a_job_stands_where_its_story_left_it(db: Session, no: int) -> None:
    tracks = standing.of_job(db, jobs.by_no(db, no).id, now=NOW)
    assert (*money(db, no), tracks.work, tracks.money, tracks.overdue) == JOBS[no]


def test_every_piece_is_where_its_story_left_it_and_weighs_what_it_should(db: Session) -> None:
    pieces = every_piece(db)
    weighed = weighing.of_pieces(db, pieces)
    told = {
        (p.job_no, p.n): (VARIANTS[p.part or "", p.variant or ""], where(db, p), weighed[p.id].verdict) for p in pieces
    }
    assert told == PIECES
    assert len(told) == 55


def test_every_word_for_work_and_for_a_piece_is_shown(db: Session) -> None:
    assert {standing.of_job(db, jobs.by_no(db, no).id, now=NOW).work for no in JOBS} == WORK
    assert {where(db, piece) for piece in every_piece(db)} == set(STATES.values())


def test_what_is_owed_stands_by_age(db: Session) -> None:
    owing = ledger.owing(db, now=NOW)
    assert tuple(sum(row.ages[i] for row in owing) for i in range(5)) == AGES
    assert sum(row.total for row in owing) == 54469
    assert {row.customer: row.total for row in owing} == {
        "Snickerby Sawmill": 19213, "Mottlebury Pottery School": 16291, "Fenlatch Grain Growers": 11350,
        "Plumwick Press Room": 7615,
    }  # fmt: skip


def test_the_invoices_run_without_a_gap_and_the_void_one_keeps_its_number(db: Session) -> None:
    bills = ledger.newest(db)
    assert [bill.no for bill in bills] == list(range(721, 700, -1))
    assert [bill.no for bill in bills if bill.void_on] == [715]
    days = [bill.issued_on for bill in reversed(bills)]
    assert days == sorted(days)


def test_the_spoiled_plate_is_taken_back_by_a_note_of_its_own(db: Session) -> None:
    bill = ledger.by_no(db, 713)
    assert (bill.job_no, bill.total_cents, bill.credited_cents) == (1174, 22844, 10750 + 672)
    assert any("credit note 31 on invoice 713" in line.words for line in history.of_job(db, bill.job_id))


def test_closed_jobs_took_about_the_minutes_they_were_quoted(db: Session) -> None:
    quoted = spent = count = 0
    for no in JOBS:
        job_id = jobs.by_no(db, no).id
        agreed = quotes.agreed_quote(db, job_id)
        if agreed and standing.of_job(db, job_id, now=NOW).work == "closed":
            quoted, spent, count = quoted + agreed.minutes, spent + jobs.spent_minutes(db, job_id), count + 1
    assert (count, quoted, spent) == (16, 1685, 1662)
    assert jobs.spent_minutes(db, jobs.by_no(db, 1179).id) == 70


def test_what_the_drawings_foresee_is_near_what_was_worked_out_by_rings(db: Session) -> None:
    seen = set()
    for piece in every_piece(db):
        plan = cutting.plan(db, piece.job_id, piece.variant_id or 0)
        if plan:
            key = VARIANTS[piece.part or "", piece.variant or ""]
            assert plan.grams == pytest.approx(OFF[key], rel=0.015), piece.number
            seen.add(key)
    assert seen == set(OFF)


def test_the_swapped_tags_were_seen_before_they_were_put_right(db: Session) -> None:
    firsts = []
    for n in (1, 2):
        piece = jobs.piece(db, 1177, n)
        rows, plan = weighing.readings(db, piece.id), cutting.plan(db, piece.job_id, piece.variant_id or 0)
        before = next(row for row in rows if row.phase == "before")
        wrong = next(row for row in rows if row.struck is not None)
        assert plan is not None
        said = bench.verdict(before.grams, wrong.grams, wrong.division_g, plan.grams, plan.spread)
        assert said.word == "look again"
        firsts += [before.grams, wrong.grams]
    assert bench.twins(*firsts, wrong.division_g, "lb").swapped


def test_the_swapped_tags_agree_now(db: Session) -> None:
    pieces = jobs.pieces(db, jobs.by_no(db, 1177).id)
    (pair,) = twins.pairs(pieces, weighing.of_pieces(db, pieces))
    assert (pair.removal, pair.swapped) == ("yes", False)


def test_a_wrong_reading_stays_in_the_book_with_its_reason(db: Session) -> None:
    (struck,) = [row for row in weighing.readings(db, jobs.piece(db, 1162, 1).id) if row.struck]
    assert (struck.typed, struck.scale) == ("11.0", "bench dial")
    assert "too coarse" in (struck.struck or "")


def test_a_wheel_ordered_as_iron_was_told_by_its_sign_to_be_nylon(db: Session) -> None:
    piece = jobs.piece(db, 1171, 3)
    assert piece.variant == "cast nylon"
    assert any(line.act == "look-alike" for line in history.of_piece(db, piece.id))


def test_two_bores_that_were_mixed_up_were_measured_asked_and_answered(db: Session) -> None:
    assert [sizes.of_piece(db, jobs.piece(db, 1172, n).id)[0].typed for n in (1, 2)] == ["28.00 mm", "1-1/8"]
    (stop,) = questions.stops(db, jobs.by_no(db, 1172).id)
    assert stop.answered_at is not None
    assert (stop.answered_at.date() - stop.asked_at.date()).days == 2


def test_the_crack_was_asked_about_twice(db: Session) -> None:
    job = jobs.by_no(db, 1182)
    assert standing.of_job(db, job.id, now=NOW).headline == "stopped 47 days, waiting on the customer"
    assert [line.at.date() for line in history.of_job(db, job.id) if line.act == "asked again"] == [date(2026, 2, 26)]


def test_the_disc_left_behind_was_called_about_three_times(db: Session) -> None:
    job_id = jobs.by_no(db, 1173).id
    assert [call.outcome for call in handover.calls(db, job_id)] == ["told", "no_answer", "message"]
    assert any((todo.no, todo.figure) == (1173, "113 days") for todo in rail.rail(db, now=NOW).left_behind)


def test_the_price_of_the_quote_stands_when_the_rate_goes_up(db: Session) -> None:
    job_id = jobs.by_no(db, 1176).id
    agreed = quotes.agreed_quote(db, job_id)
    assert agreed is not None
    assert agreed.net_cents == 12900  # 90 min at $86.00; at the new $92.00 it would be $138.00
    assert shopbook.rate_on(db, date(2026, 1, 12)) == 9200


def test_a_certificate_counts_on_the_day_of_the_bill(db: Session) -> None:
    taxes = {no: ledger.of_job(db, jobs.by_no(db, no).id)[0].tax_cents for no in (1165, 1167, 1178)}
    assert taxes == {1165: 0, 1167: 0, 1178: 958}


def test_a_bill_waits_for_the_order_number(db: Session) -> None:
    with pytest.raises(TryAgain, match="order number"):
        issue(db, job_id=jobs.by_no(db, 1185).id, lines=[LineTyped("work", "1", "138.00")], now=NOW, by=1)


def test_the_sleeve_that_came_back_is_tied_to_its_first_ticket(db: Session) -> None:
    assert jobs.piece(db, 1179, 1).rework_of == jobs.piece(db, 1168, 1).id


def test_the_coupling_in_the_rack_waits_for_its_weight(db: Session) -> None:
    piece = jobs.piece(db, 1187, 1)
    assert weighing.readings(db, piece.id) == []
    assert jobs.by_no(db, 1187).rush


def test_nobody_acts_at_night_or_in_the_future(db: Session) -> None:
    hours, latest = set(), datetime(2000, 1, 1, tzinfo=UTC)
    for no in JOBS:
        for line in history.of_job(db, jobs.by_no(db, no).id):
            hours.add(line.at.astimezone(ZoneInfo(ZONE)).hour)
            latest = max(latest, line.at)
    assert hours <= set(range(8, 17))
    assert NOW - timedelta(days=2) < latest < NOW


def test_the_variants_have_the_signs_that_tell_them_apart(db: Session) -> None:
    every = parts.all_variants(db)
    assert len(every) == 20
    assert len({variant.deciding for variant in every}) == 20
    assert len(customers.listing(db)) == 10


@pytest.mark.parametrize("now", DAYS, ids=lambda now: f"{now:%Y-%m-%d}")
def test_the_story_is_the_same_on_any_day(told_at: Callable[[datetime], Database], now: datetime) -> None:
    today = now.astimezone(ZoneInfo(ZONE)).date()
    with told_at(now).reading() as db:
        owing = ledger.owing(db, now=now)
        assert tuple(sum(row.ages[i] for row in owing) for i in range(5)) == AGES
        for no, told in JOBS.items():
            tracks = standing.of_job(db, jobs.by_no(db, no).id, now=now)
            assert (*money(db, no, now), tracks.work, tracks.money, tracks.overdue) == told, no
        assert ledger.by_no(db, 701).issued_on == today - (date(2026, 3, 31) - date(2025, 10, 9))
        moved = weighing.readings(db, jobs.piece(db, 1177, 1).id)[1].struck or ""
        assert f"put right {today - timedelta(days=78)}" in moved
