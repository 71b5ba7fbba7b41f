"""The one next step of a job, from the first call to the paid bill."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from shopapp.office.jobs import PieceFacts
from shopapp.office.weighing import ReadingFacts, Weighed
from shopapp.web.nextstep import AtLathe, Now, Step, also, of_job, of_piece

AT = datetime(2031, 3, 4, 16, tzinfo=UTC)
READING = ReadingFacts(1, 1, "before", "26.5", "lb", 12020.2, "0.5", 1, "spring", True, "0", "", "MB", AT, None)
IN = Weighed(before=READING)
OUT = Weighed(before=READING, after=replace(READING, phase="after", typed="23"))
NONE = Weighed()


def piece(custody: str, n: int = 1, variant: int | None = 7) -> PieceFacts:
    return PieceFacts(
        n, 1, 1187, n, variant, "wheel", "six-pocket", None, "machine", "", "", custody, AT, None, ""
    )  # fmt: skip


def job(*pieces: PieceFacts, weighed: tuple[Weighed, ...] = (), **told: object) -> str:
    """The words of the next step, and where it leads."""
    every = {one.id: told for one, told in zip(pieces, weighed or (NONE,) * len(pieces), strict=True)}
    facts = {"agreed": True, "planned": frozenset({7}), **told}
    step = of_job(Now(1187, pieces, every, **facts))  # type: ignore[arg-type]
    return f"{step.words} > {step.route}{step.part}" if step else ""


@pytest.mark.parametrize(
    ("custody", "weighed", "planned", "said"),
    [
        ("expected", NONE, {7}, "Take in 1187-1 > intake.page"),
        ("rack", NONE, {7}, "Weigh in 1187-1 > weighing.page"),
        ("rack", IN, set(), "Draw the cuts > cutting.page"),
        ("rack", IN, {7}, "1187-1 into the chuck > pieces.move"),
        ("chuck", IN, {7}, "Settings and cut run > cutrun.page"),
        ("chuck", IN, set(), "Weigh out 1187-1 > weighing.page"),
        ("chuck", OUT, {7}, "1187-1 is checked > pieces.move"),
        ("chuck", NONE, set(), "1187-1 is checked > pieces.move"),
    ],
)
def test_a_piece_goes_through_the_shop_step_by_step(
    custody: str, weighed: Weighed, planned: set[int], said: str
) -> None:
    assert job(piece(custody), weighed=(weighed,), planned=frozenset(planned)) == said


@pytest.mark.parametrize("custody", ["checked", "shelf", "gone"])
def test_a_finished_piece_wants_nothing_of_its_own(custody: str) -> None:
    assert of_piece(piece(custody), OUT, frozenset({7})) is None


def test_what_lies_here_of_a_job_that_ended_is_handed_over() -> None:
    assert job(piece("shelf"), ended=True) == "Hand over > handover.page"
    assert job(piece("gone"), ended=True) == ""


def test_a_job_is_talked_over_before_anything_is_cut() -> None:
    asked = piece("expected")
    assert job(asked, agreed=False, planned=frozenset()) == "Draw the cuts > cutting.page"
    assert job(asked, agreed=False) == "Price it > quotes.page"
    assert job(piece("expected", variant=None), agreed=False) == "Price it > quotes.page"


def test_a_known_price_goes_before_the_drawing_of_cuts_until_it_was_quoted() -> None:
    asked, price = piece("expected"), {"agreed": False, "known_price": "Same price as last, $70.00"}
    assert job(asked, planned=frozenset(), **price) == "Same price as last, $70.00 > quotes.known"
    assert job(asked, quoted=True, **price) == "They say go ahead > quotes.page#go-ahead"
    assert job(asked, agreed=False, quoted=True) == "They say go ahead > quotes.page#go-ahead"


def test_a_part_under_the_tool_comes_before_the_talk() -> None:
    assert job(piece("chuck"), weighed=(IN,), agreed=False) == "Settings and cut run > cutrun.page"


def test_the_lathe_is_freed_first_then_all_are_taken_in_and_weighed() -> None:
    first, second = piece("rack"), piece("rack", 2)
    assert job(first, piece("expected", 2)) == "Take in 1187-2 > intake.page"
    assert job(piece("expected"), piece("expected", 2)) == "Take in 2 pieces > intake.page"
    assert of_piece(piece("expected"), NONE, frozenset()) == Step(
        "Take in 1187-1", "intake.page", {"no": 1187}, "#h-1"
    )  # fmt: skip
    assert job(first, second, weighed=(IN, NONE)) == "Weigh in 1187-2 > weighing.page"
    assert job(first, second, weighed=(IN, IN)) == "1187-1 into the chuck > pieces.move"
    assert job(first, piece("chuck", 2), weighed=(NONE, IN)) == "Settings and cut run > cutrun.page"


def test_a_question_stops_everything() -> None:
    assert job(piece("chuck"), stopped=True) == "Write down the answer > jobs.page#stops"


def test_a_job_without_a_piece_wants_one() -> None:
    assert job() == "Add a piece > jobs.page#add-piece"


def test_an_ended_job_wants_nothing() -> None:
    assert job(piece("expected"), ended=True) == ""


def test_what_is_checked_is_announced() -> None:
    assert job(piece("checked")) == "Announce that it is ready > handover.page"
    assert job(piece("shelf")) == "Announce that it is ready > handover.page"


def test_at_the_counter_bill_payment_and_hand_over_follow_each_other() -> None:
    ready = {"announced": True}
    assert job(piece("shelf"), to_bill=True, **ready) == "Bill it > invoices.draft"
    assert job(piece("shelf"), unpaid=True, **ready) == "Take payment > payments.page"
    assert job(piece("shelf"), **ready) == "Hand over > handover.page"
    assert job(piece("gone"), **ready) == ""


def test_who_has_an_account_takes_it_home_before_paying() -> None:
    account = {"announced": True, "unpaid": True, "pays_at_once": False}
    assert job(piece("shelf"), **account) == "Hand over > handover.page"
    assert job(piece("gone"), **account) == "Take payment > payments.page"


def test_who_is_billed_when_fetched_is_billed_then() -> None:
    fetched = {"announced": True, "to_bill": True, "bill_when": "fetched"}
    assert job(piece("shelf"), **fetched) == "Hand over > handover.page"
    assert job(piece("gone"), **fetched) == "Bill it > invoices.draft"


def test_what_is_in_the_chuck_goes_on_where_its_run_stands() -> None:
    first, second = piece("chuck"), piece("rack", 2)
    assert job(first, second, weighed=(IN, IN), run=(1, 2)) == "Run: setting 1, 1187-2 > cutrun.setting?piece=2"
    assert job(first, second, weighed=(IN, IN), run=None) == "Settings and cut run > cutrun.page"
    assert job(second, weighed=(IN,), run=(1, 2)) == "1187-2 into the chuck > pieces.move"


OPEN = ("photo of the finished piece",)


@pytest.mark.parametrize(
    ("weighed", "lathe", "said"),
    [
        (IN, AtLathe(2, True, False, OPEN), "Run: setting 2, 1187-1 > cutrun.setting?piece=1"),
        (IN, AtLathe(0, True, False, OPEN), "Final check of 1187-1 > finish.page"),
        (IN, AtLathe(0, True, True, OPEN), "Weigh out 1187-1 > weighing.page"),
        (IN, AtLathe(2, True, True, OPEN), "Weigh out 1187-1 > weighing.page"),
        (OUT, AtLathe(0, True, True, OPEN), "Final check of 1187-1, go on > finish.page"),
        (OUT, AtLathe(0, False, False, OPEN), "Final check of 1187-1 > finish.page"),
        (OUT, AtLathe(0, True, True, ("3 lb came off and that does not add up",)),
         "1187-1 does not add up: look again > finish.page"),
        (OUT, AtLathe(0, True, True, ()), "1187-1 is checked > pieces.move"),
    ],
)  # fmt: skip
def test_under_the_tool_the_run_comes_first_then_the_final_check_then_the_scale(
    weighed: Weighed, lathe: AtLathe, said: str
) -> None:
    step = of_piece(piece("chuck"), weighed, frozenset({7}), lathe)
    assert step
    assert f"{step.words} > {step.route}{step.part}" == said
    assert job(piece("chuck"), weighed=(weighed,), lathe={1: lathe}) == said


def test_pieces_may_be_taken_in_while_the_price_is_still_talked_over() -> None:
    now = Now(1187, [piece("expected"), piece("expected", 2)], {1: NONE, 2: NONE}, planned=frozenset({7}))
    assert of_job(now) == Step("Price it", "quotes.page", {"no": 1187})
    assert also(now, of_job(now)) == Step("Take in 2 pieces", "intake.page", {"no": 1187})
    agreed = replace(now, agreed=True)
    assert also(agreed, of_job(agreed)) is None
    assert also(replace(now, ended=True), None) is None
