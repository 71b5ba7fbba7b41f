"""What the floor of the invented shop has written down, and what that led to."""

import math

import pytest
from sqlmodel import Session

from shopapp.demo import shop as invented
from shopapp.office import (
    chuck,
    clock,
    condition,
    customers,
    equipment,
    finish,
    gate,
    history,
    jobs,
    mishaps,
    people,
    photos,
    sizes,
    together,
    trouble,
    truing,
    weighing,
)
from shopapp.office.clock import TICKS
from tests.demo.expected import JOBS, PIECES


def every_piece(db: Session) -> list[jobs.PieceFacts]:
    return [jobs.piece(db, *key) for key in PIECES]


def test_the_big_lathe_reads_the_radius_and_the_small_one_the_diameter(db: Session) -> None:
    told = {one.name: (one.dial, one.chuck_limit) for one in equipment.machines(db)}
    assert told == {"16 in lathe": ("radius", 800), "10 in lathe": ("diameter", 1200)}
    assert all(one.speeds[-1] > one.chuck_limit > one.speeds[0] for one in equipment.machines(db))


@pytest.mark.outside("computed: GUM F.2.2.1")
def test_two_wheel_heads_at_once_are_sharper_than_each_alone(db: Session) -> None:
    pieces = [jobs.piece(db, 1178, n) for n in (1, 2)]
    found = together.of_pieces(db, pieces)[pieces[0].id]
    assert (found.removed_text, found.each_text, found.verdict) == ("4.0 lb", "2.00 lb", "agrees")
    # GUM F.2.2.1, two readings of 0.5 lb for two pieces: 2 x 0.5/sqrt(6)/2; the figure by itself is ±0.20 lb.
    assert found.good_to == f"{2 * 0.5 / math.sqrt(6) / 2:.2f} lb"
    for piece in pieces:
        single = weighing.of_pieces(db, [piece])[piece.id]
        assert [row.text for row in (single.before, single.after) if row] == ["9 lb", "7 lb"]


def test_every_size_was_measured_with_an_instrument_of_the_shop(db: Session) -> None:
    here = {one.name for one in equipment.instruments(db)}
    used = {size.instrument for piece in every_piece(db) for size in sizes.of_piece(db, piece.id)}
    assert used
    assert used <= here


def test_every_piece_in_the_chuck_or_past_it_went_through_the_gate(db: Session) -> None:
    waived = {p.number for p in every_piece(db) if gate.waived_words(db, p.id)}
    past = [p for p in every_piece(db) if p.custody in ("chuck", "checked", "shelf", "gone")]
    cut = [p for p in past if p.fate in (None, "spoiled")]
    assert waived == {"1179-1"}
    assert {p.number for p in cut if gate.missing(db, p.id)} == waived


def test_the_cracked_plate_waits_for_the_customer_with_its_photo_and_its_letter(db: Session) -> None:
    piece = jobs.piece(db, 1182, 1)
    assert condition.standing(db, piece.id)[0].answer == "yes"
    assert {photo.what for photo in photos.of_piece(db, piece.id)} == {"intake", "damage", "question"}
    assert "customer has not been heard" in gate.refuses(db, piece.id)
    assert any(line.words == "question letter 1182-Q1" for line in history.of_job(db, piece.job_id))


def test_what_came_along_went_home_with_its_piece_and_stays_with_one_that_is_here(db: Session) -> None:
    told = every_piece(db)
    bits = condition.bits_of(db, [piece.id for piece in told])
    home = {piece.number for piece in told if piece.custody == "gone"}
    assert {bit.number for bit in bits if bit.back_at is None} == {"1182-1", "1185-1"}
    assert {bit.number for bit in bits if bit.back_at} <= home
    assert len(bits) == 7


def test_trouble_is_kept_for_the_next_piece_of_its_kind(db: Session) -> None:
    for no, n, word in ((1186, 1, "wavy"), (1174, 2, "slot")):
        piece = jobs.piece(db, no, n)
        (note,) = trouble.of_variant(db, piece.variant_id or 0)
        assert (note.number, word in note.words, note.photo_id is not None) == (piece.number, True, True)


def test_the_spoiled_plate_has_its_call_its_photo_and_who_pays(db: Session) -> None:
    piece = jobs.piece(db, 1174, 2)
    told = mishaps.spoiled(db, piece.id)
    assert told is not None
    assert (told.calls[0].at, told.calls[0].whom) == (told.at, "Maribel Gannetbrow")
    assert "$310.00" in told.who_pays[0].words
    assert len(told.photos) == 1


def test_wheels_and_sheaves_were_out_as_found_and_within_as_left(db: Session) -> None:
    for no, n in ((1161, 1), (1161, 2), (1190, 1)):
        rows = truing.of_piece(db, jobs.piece(db, no, n).id)
        within = {(row.stage, row.judged.within) for row in rows}
        assert within == {("found", False), ("left", True)}


def test_the_run_goes_on_with_the_second_sheave_in_the_same_setting(db: Session) -> None:
    job = jobs.by_no(db, 1190)
    run = chuck.of_job(db, job.id)
    (setting,) = run.settings
    assert run.next == (1, 2)
    assert set(setting.of(1).ticks) == {*TICKS, "done"}
    assert setting.of(2).ticks == {}
    assert clock.by_setting(db, job.id) == {setting.setting.id: jobs.spent_minutes(db, job.id)} == {
        setting.setting.id: 41
    }  # fmt: skip


def test_both_wheels_went_through_the_back_before_the_jaws_were_set_anew(db: Session) -> None:
    run = chuck.of_job(db, jobs.by_no(db, 1161).id)
    assert [(one.setting.side, [piece.piece.n for piece in one.pieces]) for one in run.settings] == [
        ("A", [1, 2]), ("B", [1, 2])
    ]  # fmt: skip
    assert (run.resets, run.piece_by_piece) == (1, 3)
    assert [one.minutes for one in run.settings] == [105, 77]
    assert all(set(piece.ticks) == {*TICKS, "done"} for one in run.settings for piece in one.pieces)


def test_the_first_wheel_was_checked_to_the_last_line_and_agrees_by_its_own_sizes_too(db: Session) -> None:
    told = finish.check(db, jobs.piece(db, 1161, 1).id)
    assert told.missing == ()
    assert told.by_measured is not None
    assert {told.by_plan.verdict, told.by_measured.verdict} == {"agrees"}


def test_every_minute_of_the_story_came_by_the_clock_and_no_clock_runs(db: Session) -> None:
    for no in JOBS:
        job_id = jobs.by_no(db, no).id
        clocked = sum(clock.by_setting(db, job_id).values())
        assert clocked == jobs.spent_minutes(db, job_id), no
        assert clock.of_job(db, job_id) == []
    assert not any(clock.running(db, person.id) for person in people.everyone(db))


def test_customers_note_no_price_that_stands_as_an_agreement(db: Session) -> None:
    notes = [customers.one(db, one.id).note for one in customers.listing(db, most=200)]
    assert not any("$" in note for note in notes)
    assert len(notes) == len(invented.CUSTOMERS)
