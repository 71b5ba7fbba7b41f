"""What goes another way than planned."""

from datetime import timedelta
from typing import Any

import pytest
from sqlmodel import Session

from shopapp.office import (
    clock,
    handover,
    history,
    intake,
    invoices,
    jobs,
    mishaps,
    parts,
    payments,
    photos,
    questions,
    quotes,
    standing,
    weighing,
)
from shopapp.office import credits as notes
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.invoices_lines import LineTyped
from shopapp.office.tables.cutrun import ChuckSetting, Tick
from tests.cast import NOON, PHOTO
from tests.makers import (
    Shop,
    agree,
    fetch,
    finished_job,
    make_job,
    pieces_of,
    ready_job,
    send_back,
    spoil,
    take_everything_in,
    weigh,
)

LATER = NOON + timedelta(hours=2)
TOLD = {
    "story": "the web broke through", "photo": photos.made_small(PHOTO), "whom": "Marn", "said": "I have another one",
    "called_at": NOON + timedelta(hours=1), "who_pays": "labour dropped, we pay half of a new one",
}  # fmt: skip


def in_the_chuck(db: Session, shop: Shop) -> jobs.PieceFacts:
    job = make_job(db, shop)
    first, _ = take_everything_in(db, shop, job)
    weigh(db, shop, first, "before", "26.5")
    intake.move(db, piece_id=first.id, to="chuck", reason="for the test", **shop.at())
    return pieces_of(db, job)[0]


def again(db: Session, piece: jobs.PieceFacts) -> jobs.PieceFacts:
    return jobs.piece(db, piece.job_no, piece.n)


def test_a_spoiled_piece_keeps_its_story_its_photo_the_call_and_who_pays(db: Session, shop: Shop) -> None:
    piece = in_the_chuck(db, shop)
    clock.start(db, job_id=piece.job_id, **shop.at())
    mishaps.spoil(db, piece_id=piece.id, **TOLD, **shop.at(LATER))
    assert again(db, piece).said == "spoiled, on the pick-up shelf"
    facts = mishaps.spoiled(db, piece.id)
    assert (facts.story, facts.initials, facts.at) == ("the web broke through", "MB", LATER)
    assert [line.words for line in facts.who_pays] == ["labour dropped, we pay half of a new one"]
    (call,) = facts.calls
    assert (call.whom, call.at) == ("Marn", NOON + timedelta(hours=1))
    assert call.words == "1001-1 is spoiled: I have another one"
    assert [photo.what for photo in facts.photos] == ["damage"]
    assert [row.typed for row in weighing.readings(db, piece.id)] == ["26.5"]  # nothing is deleted
    assert (clock.of_job(db, piece.job_id), questions.stops(db, piece.job_id)) == ([], [])


@pytest.mark.parametrize("told", [{"who_pays": "we pay"}, {"whom": "Marn", "said": "oh"}], ids=["no call", "no money"])
def test_until_they_are_told_and_it_is_settled_the_job_waits_for_them(
    db: Session, shop: Shop, told: dict[str, str]
) -> None:
    piece = in_the_chuck(db, shop)
    mishaps.spoil(db, piece_id=piece.id, story="the web broke through", **told, **shop.at())
    assert standing.of_job(db, piece.job_id, now=NOON).work == "stopped, waiting on the customer"
    assert "settle who pays" in questions.stops(db, piece.job_id)[0].question


def test_who_pays_may_be_settled_later_and_settled_anew(db: Session, shop: Shop) -> None:
    piece = in_the_chuck(db, shop)
    with pytest.raises(InTheWay, match="not spoiled"):
        mishaps.settle(db, piece_id=piece.id, who_pays="nobody", **shop.at())
    assert mishaps.spoiled(db, piece.id) is None
    mishaps.spoil(db, piece_id=piece.id, story="jaw slipped", **shop.at())
    with pytest.raises(TryAgain, match="who pays for what"):
        mishaps.settle(db, piece_id=piece.id, who_pays=" ", **shop.at())
    for words in ("we pay", "we pay half"):
        mishaps.settle(db, piece_id=piece.id, who_pays=words, **shop.at())
    assert [line.words for line in mishaps.spoiled(db, piece.id).who_pays] == ["we pay", "we pay half"]


@pytest.mark.parametrize(
    ("told", "field"),
    [
        ({"story": " "}, "story"), ({"whom": "", "called_at": None}, "whom"), ({"said": ""}, "said"),
        ({"called_at": LATER + timedelta(minutes=1)}, "called_at"), ({"whom": "", "said": ""}, "whom"),
    ],
)  # fmt: skip
def test_a_spoiled_piece_wants_its_story_whole(db: Session, shop: Shop, told: dict[str, Any], field: str) -> None:
    piece = in_the_chuck(db, shop)
    with pytest.raises(TryAgain) as refusal:
        mishaps.spoil(db, piece_id=piece.id, **{**TOLD, **told}, **shop.at(LATER))
    assert set(refusal.value.problems) == {field}
    assert again(db, piece).custody == "chuck"


@pytest.mark.parametrize("lies", ["rack", "chuck", "checked", "shelf", "sent back"])
def test_a_piece_is_spoiled_wherever_it_lies_in_the_shop(db: Session, shop: Shop, lies: str) -> None:
    job = make_job(db, shop, pieces=1)
    (piece,) = take_everything_in(db, shop, job)
    if lies == "sent back":
        send_back(db, shop, piece)
    for to in ("chuck", "checked", "shelf")[: ("rack", "chuck", "checked", "shelf", "sent back").index(lies) % 4]:
        intake.move(db, piece_id=piece.id, to=to, reason="not weighed", **shop.at())
    mishaps.spoil(db, piece_id=piece.id, **TOLD, **shop.at(LATER))
    assert again(db, piece).said == "spoiled, on the pick-up shelf"
    assert [one.number for one in handover.waiting(db, job.customer_id)] == [piece.number]
    with pytest.raises(InTheWay, match="is spoiled, on the pick-up shelf"):
        mishaps.spoil(db, piece_id=piece.id, **TOLD, **shop.at(LATER))


def test_what_is_not_here_is_not_spoiled_here(db: Session, shop: Shop) -> None:
    job = ready_job(db, shop, pieces=1)
    fetch(db, shop, *pieces_of(db, job))
    for piece in (*pieces_of(db, job), *pieces_of(db, make_job(db, shop, pieces=1))):
        with pytest.raises(InTheWay, match="nothing can be spoiled here"):
            mishaps.spoil(db, piece_id=piece.id, **TOLD, **shop.at(LATER))


def test_a_spoiled_piece_that_was_billed_says_so_and_what_was_taken_back(db: Session, shop: Shop) -> None:
    job = ready_job(db, shop)
    first, second = pieces_of(db, job)
    no = invoices.issue(db, job_id=job.id, lines=[LineTyped("work", "1", "70")], piece_ids=[first.id], **shop.at())
    for piece in (first, second):
        mishaps.spoil(db, piece_id=piece.id, story="it fell", **shop.at())
    facts = mishaps.spoiled(db, first.id)
    assert (facts.bill, facts.back_cents, mishaps.spoiled(db, second.id).bill) == (no, 0, None)
    asked = [stop.question for stop in questions.stops(db, job.id)]
    assert [f"It stands on invoice {no}: " in words for words in asked] == [True, False]
    notes.credit(db, no=no, amount="35", reason="it fell", **shop.at())
    assert mishaps.spoiled(db, first.id).back_cents == 3500
    assert invoices.to_bill(db, job.id) == []


def test_our_mistake_is_put_right_without_charge_and_its_time_is_counted(db: Session, shop: Shop) -> None:
    old = ready_job(db, shop, pieces=1)
    (piece,) = pieces_of(db, old)
    no = mishaps.rework(db, piece_id=piece.id, reason="bore out of line", free=True, **shop.at())
    new = jobs.by_no(db, no)
    (tied,) = pieces_of(db, new)
    assert (tied.rework_of, tied.variant_id, new.customer_id) == (piece.id, piece.variant_id, old.customer_id)
    assert [one.number for one in mishaps.reworks(db, [piece.id])] == [f"{no}-1"]
    (draft,) = quotes.of_job(db, new.id)
    assert (draft.net_cents, draft.total_cents) == (0, 0)  # the shop's minimum charge does not come on top
    quotes.issue(db, quote_id=draft.id, **shop.at())
    quotes.go_ahead(db, job_id=new.id, said_by="Marn", how="in_person", **shop.at())
    jobs.spend(db, job_id=new.id, minutes=70, **shop.at())
    take_everything_in(db, shop, new)
    for to in ("chuck", "checked"):
        intake.move(db, piece_id=tied.id, to=to, reason="not weighed", **shop.at())
    fetch(db, shop, again(db, tied))
    (line,) = invoices.draft_lines(db, new.id, now=NOON)
    assert (line.words, line.price) == ("put right without charge, from 1001-1: bore out of line", "0.00")
    assert jobs.spent_minutes(db, new.id) == 70
    assert [line.words for line in history.of_piece(db, piece.id)][:2] == [
        f"done again; it goes on as {no}-1",
        f"in job {no}, without charge: bore out of line",
    ]


def test_a_piece_has_one_open_job_that_puts_it_right(db: Session, shop: Shop) -> None:
    (piece,) = pieces_of(db, ready_job(db, shop, pieces=1))
    told = {"piece_id": piece.id, "reason": "out of line", "free": True, **shop.at()}
    first = mishaps.rework(db, **told)
    with pytest.raises(InTheWay, match=f"goes on as {first}-1"):
        mishaps.rework(db, **told)
    mishaps.does_not_come(db, piece_id=jobs.piece(db, first, 1).id, reason="they take it as it is", **shop.at())
    second = mishaps.rework(db, **told)
    take_everything_in(db, shop, jobs.by_no(db, second))
    with pytest.raises(InTheWay, match=f"goes on as {second}-1"):
        mishaps.rework(db, **told)


def test_a_change_of_mind_is_tied_alike_and_has_its_price(db: Session, shop: Shop) -> None:
    (piece,) = pieces_of(db, finished_job(db, shop, pieces=1))
    no = mishaps.rework(db, piece_id=piece.id, reason="they want it thinner", free=False, **shop.at())
    new = jobs.by_no(db, no)
    assert (pieces_of(db, new)[0].rework_of, quotes.of_job(db, new.id)) == (piece.id, [])
    assert new.asked == "1001-1, at its price: they want it thinner"


def test_what_is_put_right_was_finished_and_has_its_reason(db: Session, shop: Shop) -> None:
    piece = in_the_chuck(db, shop)
    with pytest.raises(InTheWay, match="in the chuck"):
        mishaps.rework(db, piece_id=piece.id, reason="x", free=True, **shop.at())
    with pytest.raises(TryAgain, match="done again"):
        mishaps.rework(db, piece_id=piece.id, reason=" ", free=True, **shop.at())


def test_a_piece_goes_back_uncut_from_the_rack_and_out_of_the_chuck(db: Session, shop: Shop) -> None:
    first = in_the_chuck(db, shop)
    second = pieces_of(db, jobs.by_id(db, first.job_id))[1]
    for piece, words in ((first, "set up, not cut: crack"), (second, "not cut: crack")):
        mishaps.send_back(db, piece_id=piece.id, reason="crack", **shop.at())
        assert again(db, piece).said == "on the pick-up shelf, goes back uncut"
        assert again(db, piece).note.endswith(words)
    with pytest.raises(TryAgain, match="goes back uncut"):
        mishaps.send_back(db, piece_id=first.id, reason="", **shop.at())
    with pytest.raises(InTheWay, match="What lies in rack or chuck"):
        mishaps.send_back(db, piece_id=first.id, reason="once more", **shop.at())


def test_what_never_comes_does_not_keep_the_job_open(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    agree(db, shop, job)
    absent = pieces_of(db, job)[1]
    with pytest.raises(TryAgain, match="as they told it"):
        mishaps.does_not_come(db, piece_id=absent.id, reason=" ", **shop.at())
    mishaps.does_not_come(db, piece_id=absent.id, reason="they sold it", **shop.at())
    assert (again(db, absent).said, again(db, absent).note) == ("did not come", "they sold it")
    with pytest.raises(InTheWay, match="What is expected can stay away"):
        mishaps.does_not_come(db, piece_id=absent.id, reason="sold", **shop.at())
    sign = parts.variant(db, absent.variant_id).signs[0]
    intake.take_in(db, piece_id=pieces_of(db, job)[0].id, sign_id=sign.id, **shop.at())
    for to in ("chuck", "checked"):
        intake.move(db, piece_id=pieces_of(db, job)[0].id, to=to, reason="not weighed", **shop.at())
    handover.announce(db, job_id=job.id, **shop.at())
    fetch(db, shop, pieces_of(db, job)[0])
    assert standing.of_job(db, job.id, now=NOON).work == "closed"
    assert [piece.number for piece in invoices.to_bill(db, job.id)] == ["1001-1"]


@pytest.mark.parametrize("end", ["spoiled", "not come", "sent back"])
def test_a_deposit_of_a_job_that_comes_to_nothing_is_the_customers_credit(db: Session, shop: Shop, end: str) -> None:
    job = make_job(db, shop, pieces=1)
    payments.pay(db, job_id=job.id, amount="20", how="cash", **shop.at())
    (piece,) = pieces_of(db, job) if end == "not come" else take_everything_in(db, shop, job)
    assert payments.credit_of(db, job.customer_id) == []
    if end == "spoiled":
        spoil(db, shop, piece)
    elif end == "sent back":
        send_back(db, shop, piece)
    else:
        mishaps.does_not_come(db, piece_id=piece.id, reason="sold", **shop.at())
    assert [one.left_cents for one in payments.credit_of(db, job.customer_id)] == [2000]


def test_an_overpayment_beside_a_piece_that_never_came_is_the_customers_credit(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    first, absent = pieces_of(db, job)
    sign = parts.variant(db, first.variant_id).signs[0]
    intake.take_in(db, piece_id=first.id, sign_id=sign.id, **shop.at())
    for to in ("chuck", "checked"):
        intake.move(db, piece_id=first.id, to=to, reason="not weighed", **shop.at())
    fetch(db, shop, again(db, first))
    no = invoices.issue(db, job_id=job.id, lines=[LineTyped("work", "1", "10")], piece_ids=[first.id], **shop.at())
    payments.pay(db, job_id=job.id, amount="20", how="cash", invoice_no=no, **shop.at())
    assert payments.credit_of(db, job.customer_id) == []
    mishaps.does_not_come(db, piece_id=absent.id, reason="sold", **shop.at())
    assert [one.left_cents for one in payments.credit_of(db, job.customer_id)] == [950]


@pytest.mark.parametrize("trace", ["weight", "setting"])
def test_what_is_cut_does_not_go_back_as_uncut(db: Session, shop: Shop, trace: str) -> None:
    piece = in_the_chuck(db, shop)
    if trace == "weight":
        weigh(db, shop, piece, "between", "25")
    else:
        setting = ChuckSetting(job_id=piece.job_id, n=1, side="A", hold="by the bore", unit="in")
        db.add(setting)
        db.flush()
        db.add(Tick(setting_id=setting.id, piece_id=piece.id, what="done", by_id=shop.by, at=NOON))
        db.flush()
    with pytest.raises(InTheWay, match="cut already"):
        mishaps.send_back(db, piece_id=piece.id, reason="they want it back", **shop.at())
    intake.move(db, piece_id=piece.id, to="rack", **shop.at())
    with pytest.raises(InTheWay, match="cut already"):
        mishaps.send_back(db, piece_id=piece.id, reason="they want it back", **shop.at())


def test_called_off_with_the_set_up_done_keeps_its_minutes(db: Session, shop: Shop) -> None:
    piece = in_the_chuck(db, shop)
    clock.start(db, job_id=piece.job_id, **shop.at())
    at = shop.at(NOON + timedelta(minutes=25))
    assert mishaps.call_off(db, job_id=piece.job_id, reason="found a used one", **at) == 25
    assert jobs.by_id(db, piece.job_id).ended == "called_off"
    assert [p.said for p in handover.waiting(db, jobs.by_id(db, piece.job_id).customer_id)] == [
        "on the pick-up shelf, goes back uncut"
    ] * 2


def test_a_job_that_ends_settles_every_piece_of_it(db: Session, shop: Shop) -> None:
    job = make_job(db, shop)
    first = pieces_of(db, job)[0]
    sign = parts.variant(db, first.variant_id).signs[0]
    intake.take_in(db, piece_id=first.id, sign_id=sign.id, **shop.at())
    with pytest.raises(InTheWay, match="1001-1 is under way"):
        jobs.end(db, job_id=job.id, how="not_taken_up", reason="too dear", **shop.at())
    for told in ({"how": "lost", "reason": "x"}, {"how": "not_taken_up", "reason": " "}):
        with pytest.raises(TryAgain):
            mishaps.end(db, job_id=job.id, **told, **shop.at())
        assert [piece.fate for piece in pieces_of(db, job)] == [None, None]
    mishaps.end(db, job_id=job.id, how="not_taken_up", reason="too dear", **shop.at())
    assert [piece.note for piece in pieces_of(db, job)] == ["not cut: not taken up, too dear", "not taken up, too dear"]
    assert [piece.fate for piece in pieces_of(db, job)] == ["sent_back", "not_come"]


def test_a_job_with_a_finished_piece_is_not_called_off(db: Session, shop: Shop) -> None:
    job = finished_job(db, shop)
    with pytest.raises(InTheWay, match="under way"):
        mishaps.call_off(db, job_id=job.id, reason="x", **shop.at())
    with pytest.raises(TryAgain):
        mishaps.call_off(db, job_id=job.id, reason=" ", **shop.at())


def test_what_is_entered_late_says_when_it_was_entered(db: Session, shop: Shop) -> None:
    note = mishaps.late_note(db, told=NOON, now=LATER, note="power was out")
    assert note == "entered late, 2031-03-04 14:00; power was out"
    assert mishaps.entered_late(note)
    assert mishaps.late_note(db, told=NOON, now=LATER) == "entered late, 2031-03-04 14:00"
    assert mishaps.late_note(db, told=NOON, now=NOON, note=" hanging ") == "hanging"
    with pytest.raises(TryAgain, match="still to come"):
        mishaps.late_note(db, told=LATER, now=NOON)


def test_a_weight_from_the_paper_ticket_keeps_the_time_it_was_read(db: Session, shop: Shop) -> None:
    job = make_job(db, shop, pieces=1)
    (piece,) = take_everything_in(db, shop, job)
    intake.move(db, piece_id=piece.id, to="chuck", reason="on paper, no power", **shop.at())
    note = mishaps.late_note(db, told=NOON, now=LATER)
    weigh(db, shop, piece, "before", "26.5", note=note)
    (row,) = weighing.readings(db, piece.id)
    assert (row.at, mishaps.entered_late(row.note)) == (NOON, True)


def test_a_piece_knows_which_older_one_it_puts_right(db: Session, shop: Shop) -> None:
    old = finished_job(db, shop, pieces=1)
    piece = pieces_of(db, old)[0]
    no = mishaps.rework(db, piece_id=piece.id, reason="out of line", free=True, **shop.at())
    assert mishaps.puts_right(db, jobs.piece(db, no, 1)) == piece
    assert mishaps.puts_right(db, piece) is None
