"""Ready, called, fetched: the shelf and its notice, the calls, the pieces that leave by the door."""

import re
from datetime import date, timedelta
from typing import Any

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.office import (
    condition,
    customers,
    handover,
    invoices,
    jobs,
    letters,
    mail,
    papers,
    payments,
    quotes,
    standing,
    weighing,
    workings_money,
    workings_scale,
)
from shopapp.office.database import Session
from shopapp.office.handover import HandedOver
from shopapp.office.jobs import JobFacts, PieceFacts
from shopapp.office.sheets.ready import ReadySheet
from shopapp.office.sheets.working import WorkingSheet
from shopapp.office.tracks import FINAL
from shopapp.web import posting
from shopapp.web.desk import At, Desk, Sent
from shopapp.web.forms import Form

router = APIRouter()
TICK = re.compile(r"piece_(\d{1,9})_(\d{1,4})")
BIT = re.compile(r"bit_(\d{1,9})")
NEXT = {"1": "tomorrow", "3": "in 3 days", "7": "in a week"}
"""When to try again, in days."""


@router.get("/jobs/{no}/ready", name="handover.page")
def page(desk: At, no: int) -> Response:
    """What stands on the shelf, who was called, and what leaves."""
    return _page(desk, jobs.by_no(desk.db, no))


@router.post("/jobs/{no}/ready", name="handover.announce")
def announce(desk: At, no: int, form: Sent) -> Response:
    """Put the checked pieces on the shelf and freeze the ready notice; by mail too, where that is ticked."""
    job = jobs.by_no(desk.db, no)

    def act(db: Session, by: int) -> str:
        words = form.words("notice_words")
        form.check()
        number = handover.announce(db, job_id=job.id, words=words, now=desk.now, by=by)
        posting.with_it(db, desk, form, kind="ready", number=number, by=by)
        return desk.url("handover.page", no=no)

    return desk.submit(form, act, lambda: _page(desk, job, notice=form), notice="On the shelf. Now tell the customer.")


@router.post("/jobs/{no}/calls", name="handover.call")
def call(desk: At, no: int, form: Sent) -> Response:
    """Write down a call; the button pressed says what came of it."""
    job = jobs.by_no(desk.db, no)

    def act(db: Session, by: int) -> str:
        whom, words, day = form.words("whom"), form.words("call_words"), _next_on(desk, form)
        form.check()
        handover.call(
            db, job_id=job.id, outcome=form["outcome"], whom=whom, words=words, next_on=day, now=desk.now, by=by
        )
        return desk.url(form["from"], **({"no": no} if form["from"] == "handover.page" else {}))

    if form["from"] not in ("rail.page", "calls.page"):
        form.typed["from"] = "handover.page"
    return desk.submit(form, act, lambda: _page(desk, job, call=form), notice=f"Job {no}: the call is written down.")


@router.post("/jobs/{no}/hand-over", name="handover.give")
def give(desk: At, no: int, form: Sent) -> Response:
    """The ticked pieces leave, of this job and of others of the same customer, signed for once."""
    job, told = jobs.by_no(desk.db, no), list[HandedOver]()

    def act(db: Session, by: int) -> str:
        taken_by, leaving = form.words("taken_by"), _ticked(db, form)
        form.check()
        signed = bool(form["signature"].strip()) or not form.ticked("known")
        told.append(
            handover.hand_over_many(
                db, leaving=leaving, taken_by=taken_by, how="signed" if signed else "known",
                signature=form["signature"], bit_ids=_numbers(form, BIT), stub_back=form.ticked("stub_back"),
                now=desk.now, by=by,
            )
        )  # fmt: skip
        bill = next((job_id for job_id in leaving if invoices.to_bill(db, job_id)), None)
        if bill is None:
            return desk.url("handover.page", no=no)
        return desk.url("invoices.draft", no=jobs.by_id(db, bill).no)

    return desk.submit(form, act, lambda: _page(desk, job, give=form), notice=lambda: _left(told))


@router.post("/jobs/{no}/labels", name="handover.labels")
def labels(desk: At, no: int, form: Sent) -> Response:
    """Freeze the labels of what goes to the customer's own shelf, and show them."""
    job = jobs.by_no(desk.db, no)

    def act(db: Session, by: int) -> str:
        address = str(desk.request.base_url).rstrip("/")
        number = letters.labels(db, job_id=job.id, address=address, now=desk.now, by=by)
        return desk.url("papers.pdf", kind="label", number=number)

    return desk.submit(form, act, lambda: _page(desk, job, give=form))


def _next_on(desk: Desk, form: Form) -> date | None:
    """The day to try again: the one that was written, or so many days from today."""
    day = form.day("next_on")
    return day or (desk.today + timedelta(days=int(form["next_in"])) if form["next_in"] in NEXT else None)


def _numbers(form: Form, name: re.Pattern[str]) -> list[int]:
    return [int(hit[1]) for one in form.typed if (hit := name.fullmatch(one)) and form.ticked(one)]


def _ticked(db: Session, form: Form) -> dict[int, list[int]]:
    """The ticked pieces, by the row of their job."""
    leaving: dict[int, list[int]] = {}
    for name in form.typed:
        if (hit := TICK.fullmatch(name)) and form.ticked(name):
            piece = jobs.piece(db, int(hit[1]), int(hit[2]))
            leaving.setdefault(piece.job_id, []).append(piece.id)
    return leaving


def _left(told: list[HandedOver]) -> str:
    """What is told once the pieces have left; a sending that came twice was told before."""
    return f"They have left, receipt {told[0].number}. {told[0].warning}".strip() if told else "They have left."


def _page(
    desk: Desk, job: JobFacts, *, notice: Form | None = None, call: Form | None = None, give: Form | None = None
) -> Response:
    pieces = jobs.pieces(desk.db, job.id)
    refused = [form for form in (notice, call, give) if form]
    calls = handover.calls(desk.db, job.id)
    issued = papers.of_job(desk.db, job.id)
    return desk.page(
        "handover/page.html", sheet="Ready", job_no=job.no, here="job", job=job, pieces=pieces,
        customer=customers.one(desk.db, job.customer_id),
        unfinished=[piece for piece in pieces if piece.custody not in FINAL],
        checked=[piece for piece in pieces if piece.custody == "checked"],
        told=any(one.outcome in ("told", "someone_else") for one in calls),
        notices=[paper for paper in issued if paper.kind == "ready"],
        printed=[paper for paper in issued if paper.kind in ("hand_over", "letter", "label")],
        for_shelf=[p for p in pieces if p.goes_to == "shelf" and p.custody in ("checked", "shelf", "gone")],
        calls=calls, outcomes=list(handover.OUTCOMES.items()), next_in=list(NEXT.items()),
        message=_message(desk, issued), mailed=mail.of_job(desk.db, job.id), notice_form=notice or Form(),
        call_form=call or Form(), give_form=give or Form(), fresh=lambda: Form().once,
        problems={name: words for form in refused for name, words in form.problems.items()},
        weights=_weights(desk, pieces),
        **_door(desk, job), **_money(desk, job), **posting.offered(desk, job.customer_id),
    )  # fmt: skip


def _weights(desk: Desk, pieces: list[PieceFacts]) -> tuple[WorkingSheet, ...]:
    """The two weights of each piece that was weighed before and after, and what came off."""
    weighed = weighing.of_pieces(desk.db, pieces) if pieces else {}
    told = [(piece.number, weighed[piece.id]) for piece in pieces]
    return workings_scale.of_offs(
        (number, f"{one.before.text} − {one.after.text} = {one.removed_text}")
        for number, one in told
        if one.before and one.after
    )


def _message(desk: Desk, issued: list[papers.PaperFacts]) -> str:
    """The newest ready notice as a short message; empty where none was issued."""
    number = next((paper.number for paper in issued if paper.kind == "ready"), "")
    sheet = papers.sheet(desk.db, "ready", number)[0] if number else None
    return posting.ready_text(sheet) if isinstance(sheet, ReadySheet) else ""


def _door(desk: Desk, job: JobFacts) -> dict[str, Any]:
    """What may leave with the customer of a job: pieces of all their jobs, and what came along with them."""
    leaving: list[PieceFacts] = handover.waiting(desk.db, job.customer_id)
    bits = condition.bits_of(desk.db, [piece.id for piece in leaving])
    return {"leaving": leaving, "bits": [bit for bit in bits if bit.back_at is None]}


def _money(desk: Desk, job: JobFacts) -> dict[str, Any]:
    held = sum(payment.left_cents for payment in payments.held(desk.db, job.id))
    tracks = standing.of_job(desk.db, job.id, now=desk.now)
    bills, sign = standing.bills_of(desk.db, [job.id]).get(job.id, []), desk.shop.currency
    by_quote = None if bills or job.ended else quotes.agreed_quote(desk.db, job.id)
    due = workings_money.of_job(tracks.due_cents, bills, sign) if bills else ()
    if by_quote:
        due = workings_money.of_quoted(by_quote.revision, by_quote.total_cents, by_quote.net_cents, sign)
    return {
        "tracks": tracks, "by_quote": by_quote, "held_cents": held, "unbilled": invoices.to_bill(desk.db, job.id),
        "due_working": due,
    }  # fmt: skip
