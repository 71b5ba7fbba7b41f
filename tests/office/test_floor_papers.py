"""What is printed when pieces come in, read from the frozen sheets."""

from datetime import timedelta
from typing import Any

import pytest
from sqlmodel import Session

from shopapp.office import condition, floor_papers, gate, intake, jobs, mishaps, papers, photos, phrases, sizes, trouble
from shopapp.office.errors import InTheWay
from shopapp.office.jobs import JobFacts
from tests import cast, makers
from tests.makers import Shop

AT = "http://bench.shop:8000"


@pytest.fixture
def job(db: Session, shop: Shop) -> JobFacts:
    """An agreed job whose two plates are here, its cuts planned."""
    job = makers.make_job(db, shop, promised_on=cast.TODAY, asked="skim both faces")
    makers.keep_cuts(db, shop, job)
    makers.agree(db, shop, job)
    makers.take_everything_in(db, shop, job)
    return job


def issued(db: Session, shop: Shop, job: JobFacts, **told: Any) -> tuple[Any, Any, Any]:
    """Stub, tags and ticket as they were frozen."""
    number = floor_papers.intake(db, job_id=job.id, **{"address": AT, **shop.at(), **told})
    return tuple(papers.sheet(db, kind, number)[0] for kind in ("stub", "tags", "ticket"))  # type: ignore[return-value]


def test_the_three_papers_carry_one_number_and_the_next_printing_has_the_next(
    db: Session, shop: Shop, job: JobFacts
) -> None:
    numbers = [floor_papers.intake(db, job_id=job.id, **shop.at()) for _ in range(2)]
    assert numbers == [f"{job.no}-T1", f"{job.no}-T2"]
    assert [(paper.kind, paper.number) for paper in papers.of_job(db, job.id)[:3]] == [
        ("ticket", numbers[1]), ("tags", numbers[1]), ("stub", numbers[1]),
    ]  # fmt: skip


def test_the_stub_says_what_was_looked_at_and_what_was_not(db: Session, shop: Shop, job: JobFacts) -> None:
    piece = makers.pieces_of(db, job)[0]
    condition.declare(db, piece_id=piece.id, amount="400", risk="customer", **shop.at())
    condition.add_bits(db, piece_id=piece.id, lines=["key", "two set screws"], **shop.at())
    photos.keep(db, what="damage", photo=photos.made_small(cast.a_photo(colour="red")), piece_id=piece.id, **shop.at())
    first, second = issued(db, shop, job)[0].pieces
    assert dict(first.condition) == {
        "cracked": "no", "chipped": "not looked", "rusted": "not looked", "welded before": "not looked",
        "bent": "not looked", "missing bits": "not looked",
    }  # fmt: skip
    assert (first.declared, first.risk) == ("$400.00", "the customer carries the risk")
    assert (first.loose, first.photos) == (("key", "two set screws"), ("1 as it came in", "1 damage"))
    assert (second.declared, second.risk, second.loose) == ("", "", ())
    assert first.sign == "flat on both faces"


def test_only_the_owners_own_words_are_printed(db: Session, shop: Shop, job: JobFacts) -> None:
    assert issued(db, shop, job)[0].terms == ()
    phrases.keep(db, subject="storage", words="Sixty days, then we write.", valid_from=cast.TODAY, **shop.at())
    assert issued(db, shop, job)[0].terms == ("Sixty days, then we write.",)


def test_each_tag_opens_its_piece(db: Session, shop: Shop, job: JobFacts) -> None:
    tags = issued(db, shop, job)[1].tags
    assert [tag.address for tag in tags] == [f"{AT}/pieces/{job.no}-1", f"{AT}/pieces/{job.no}-2"]
    assert (tags[0].place, tags[0].promised, tags[0].goes_to) == ("B2", "2031-03-04", "press 1")
    assert issued(db, shop, job, address="")[1].tags[0].address == ""


def test_the_ticket_has_section_removal_and_the_least_that_must_stay(db: Session, shop: Shop) -> None:
    variant = makers.make_variant(db, shop, body=cast.GUARDED)
    job = makers.make_job(db, shop, variant_id=variant)
    makers.keep_cuts(db, shop, job)
    piece = makers.take_everything_in(db, shop, job)[0]
    told = {"name": "web", "typed": "2.000", "unit": "in", "instrument": "caliper"}
    sizes.measure(db, piece_id=piece.id, **told, **shop.at())
    trouble.note(db, job_id=job.id, piece_id=piece.id, words="jaw 3 slipped on paint", **shop.at())
    (kind,) = issued(db, shop, job)[2].kinds
    assert kind.pieces == (f"{job.no}-1", f"{job.no}-2")
    assert kind.section is not None
    # A disc of 8 in with a 2 in bore, .250 in deep, at 7.85 g/cm3: pi/4 (8² - 2²) x .25 in3 = 1.515 kg = 3.34 lb.
    assert kind.removal.grams == pytest.approx(3.141592653589793 / 4 * 60 * 0.25 * 2.54**3 * 7.85)
    (web,) = kind.webs
    assert web.before.startswith("2.000 in")
    assert (web.take, web.left) == ("0.250 in", "1.750 in")
    assert web.least.startswith("1.5")
    assert kind.keep_outs[0].startswith("drain groove: ")
    assert kind.trouble == ("jaw 3 slipped on paint",)
    assert ("drain groove untouched", "tick") in kind.checks


def test_the_ticket_says_what_came_off_last_time_and_how_far_the_scale_bears_it_out(db: Session, shop: Shop) -> None:
    job = makers.make_job(db, shop, pieces=1)
    makers.keep_cuts(db, shop, job)
    (piece,) = makers.take_everything_in(db, shop, job)
    for phase, typed in (("before", "26.5"), ("after", "10")):
        makers.weigh(db, shop, piece, phase, typed)
    for to in ("chuck", "checked"):
        intake.move(db, piece_id=piece.id, to=to, reason="he waits", **shop.at())
    new = makers.make_job(db, shop, pieces=1)
    makers.take_everything_in(db, shop, new)
    (kind,) = issued(db, shop, new)[2].kinds
    assert kind.last_time == f"{piece.number}, 16.5 lb, does not add up"


def test_the_ticket_prints_what_a_piece_is_cut_without(db: Session, shop: Shop, job: JobFacts) -> None:
    piece = makers.pieces_of(db, job)[0]
    gate.waive(db, piece_id=piece.id, reason="the scale is away", **shop.at())
    assert issued(db, shop, job)[2].pieces[0].waived == ("not weighed before",)


def test_the_ticket_of_a_piece_that_is_put_right_names_the_old_one(db: Session, shop: Shop) -> None:
    old = makers.finished_job(db, shop, pieces=1)
    piece = makers.pieces_of(db, old)[0]
    no = mishaps.rework(db, piece_id=piece.id, reason="out of line", free=True, **shop.at())
    job = jobs.by_no(db, no)
    makers.take_everything_in(db, shop, job)
    assert issued(db, shop, job)[2].tie == f"{old.no}-1"


def test_pieces_that_are_not_here_are_on_no_paper(db: Session, shop: Shop) -> None:
    job = makers.make_job(db, shop)
    with pytest.raises(InTheWay, match="No piece of this job is here yet"):
        floor_papers.intake(db, job_id=job.id, **shop.at())
    piece = makers.pieces_of(db, job)[1]
    sign = makers.parts.variant(db, piece.variant_id).signs[0]
    intake.take_in(db, piece_id=piece.id, sign_id=sign.id, **shop.at())
    assert [one.number for one in issued(db, shop, job)[0].pieces] == [f"{job.no}-2"]


def test_what_was_entered_late_says_so(db: Session, shop: Shop, job: JobFacts) -> None:
    came = cast.NOON - timedelta(hours=3)
    stub, _, ticket = issued(db, shop, job, came_at=came)
    # Four hours west of Greenwich: noon there is 16:00 UTC.
    assert stub.late == ticket.late == "It came in 4 Mar 2031, 09:00 and was entered 4 Mar 2031, 12:00."
    assert issued(db, shop, job)[0].late == ""


def test_a_blank_ticket_asks_what_the_screen_asks(db: Session, shop: Shop) -> None:
    sheet = floor_papers.blank(db, **shop.at())
    assert sheet.looked_for == tuple(condition.WORDS.values())
    assert "spring: 0.5 to 60 lb" in sheet.scales
    assert sheet.not_done == ("balancing", "crack test")
